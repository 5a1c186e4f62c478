/** The keys that a person presses during a rehearsal, and when. */
import { codeOfUnicode } from '../../machine/characters.js';
import { KEYS, type Key } from '../../machine/keyboard.js';

/** A key held from one frame up to, not including, another. */
export interface KeyPress {
  readonly from: number;
  readonly to: number;
  /** What INKEY$ gives: the key's code where the cursor is L. */
  readonly code: number;
  /** SPACE is BREAK while a program runs. */
  readonly isBreak: boolean;
  /** Is it one of several that are held at once? Then INKEY$ gives nothing. */
  readonly isOneOfSeveral?: boolean;
}

/** A key without a time is pressed so many frames after the one before it is let go… */
const PAUSE_BETWEEN = 25;
/** …and held so long. */
const HELD = 25;

export class BadKeys extends Error {}

/**
 * Reads `A SHIFT+P 200:NEWLINE 300-340:Z A+B`: keys by their names, or by the sign that they give,
 * with spaces between, and `+` between those that are held at once; before a key, perhaps the frame at which it is pressed, or the first and the last
 * frame. Throws BadKeys with words for a person.
 */
export function readKeys(text: string): KeyPress[] {
  const presses: KeyPress[] = [];
  let free = 0;
  for (const word of text.trim().split(/\s+/).filter(Boolean)) {
    const timed = /^(\d+)(?:-(\d+))?:(.+)$/.exec(word);
    const from = timed === null ? free + PAUSE_BETWEEN : Number(timed[1]);
    const to = timed?.[2] === undefined ? from + HELD : Number(timed[2]) + 1;
    if (from < free)
      throw new BadKeys(`${word} is pressed before the key in front of it is let go`);
    if (to <= from) throw new BadKeys(`${word} is let go before it is pressed`);
    presses.push({ from, to, ...keysOf(timed?.[3] ?? word) });
    free = to;
  }
  return presses;
}

/** One key, or several at once: of these BREAK is still seen, and no other. */
function keysOf(word: string): Omit<KeyPress, 'from' | 'to'> {
  const several = /^(?!SHIFT\+)([^+]+)\+(.+)$/i.exec(word);
  if (several === null) return keyOf(word);
  const held = [keyOf(several[1]), keysOf(several[2])];
  return { code: 0, isBreak: held.some(({ isBreak }) => isBreak), isOneOfSeveral: true };
}

function keyOf(word: string): Pick<KeyPress, 'code' | 'isBreak'> {
  const name = word.toUpperCase();
  if (name === 'BREAK') return { code: 0, isBreak: true };
  const shifted = /^SHIFT\+(.+)$/.exec(name);
  const key = find((each) => each.name === (shifted?.[1] ?? name));
  const code = shifted === null ? key?.plain : key?.shifted;
  if (code !== undefined) return { code, isBreak: key!.name === 'SPACE' };
  const sign = [...word].length === 1 ? codeOfUnicode(word) : undefined;
  if (sign !== undefined && find((each) => each.shifted === sign) !== undefined) {
    return { code: sign, isBreak: false };
  }
  throw new BadKeys(
    `${word} is no key: write A to Z, 0 to 9, a full stop, NEWLINE, SPACE (which is BREAK), SHIFT+ and a key, or the sign itself`,
  );
}

const find = (test: (key: Key) => boolean): Key | undefined => KEYS.find(test);

/** What a run asks of its keyboard. Frames never go back. */
export interface Keys {
  /** The key that is held at this frame. */
  heldAt(frame: number): Omit<KeyPress, 'from' | 'to'> | undefined;
  /** The first frame from this one on at which a key is down, or undefined where none will be. */
  nextDown(frame: number): number | undefined;
  /** The first frame from this one on at which BREAK is down. */
  nextBreak(frame: number): number | undefined;
  /** Are there keys still to come, or down? */
  hasMore(frame: number): boolean;
}

/** A key as a person holds it now. */
export class HeldKeys implements Keys {
  private held: Pick<KeyPress, 'code' | 'isBreak'> | undefined;

  /** The key that is down from now on; undefined where none is. Several keys at once are none. */
  hold(key: Pick<KeyPress, 'code' | 'isBreak'> | undefined): void {
    this.held = key;
  }

  heldAt(): Pick<KeyPress, 'code' | 'isBreak'> | undefined {
    return this.held;
  }

  nextDown(frame: number): number | undefined {
    return this.held && frame;
  }

  nextBreak(frame: number): number | undefined {
    return this.held?.isBreak ? frame : undefined;
  }

  hasMore(): boolean {
    return true;
  }
}

/** Keys whose times are known beforehand. */
export class Keyboard implements Keys {
  /** Presses before this one are over. */
  private next = 0;

  constructor(private readonly presses: readonly KeyPress[]) {}

  heldAt(frame: number): KeyPress | undefined {
    const { presses } = this;
    while (this.next < presses.length && presses[this.next].to <= frame) this.next++;
    const press = presses[this.next];
    return press !== undefined && press.from <= frame ? press : undefined;
  }

  nextDown(frame: number): number | undefined {
    if (this.heldAt(frame) !== undefined) return frame;
    return this.presses[this.next]?.from;
  }

  nextBreak(frame: number): number | undefined {
    const press = this.presses.find((each) => each.isBreak && each.to > frame);
    return press === undefined ? undefined : Math.max(press.from, frame);
  }

  hasMore(frame: number): boolean {
    return this.nextDown(frame) !== undefined;
  }
}
