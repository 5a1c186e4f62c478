/** The machine's keys: those of this computer's keyboard, and forty drawn ones that take several fingers. */
import { keywordName, shiftedName } from '../../keys/key-names.js';
import { codeOfUnicode } from '../../machine/characters.js';
import {
  CURSOR_DOWN,
  CURSOR_LEFT,
  CURSOR_RIGHT,
  CURSOR_UP,
  KEYS,
  type Key,
  NEWLINE_KEY,
  RUBOUT,
} from '../../machine/keyboard.js';
import { make } from '../dom.js';
import type { HeldKey } from '../workers/machine.js';

export interface KeyEvents {
  /** The key that is held is another now; undefined: none, or several at once. */
  held(key: HeldKey | undefined): void;
  /** A drawn key went down. */
  pressed(key: Key, isShifted: boolean): void;
  /** A key of this computer went down that is this code on the machine. */
  typed(code: number): void;
}

/** Keys of this computer that edit. */
const EDITING: Record<string, number> = {
  Enter: NEWLINE_KEY,
  Backspace: RUBOUT,
  ArrowLeft: CURSOR_LEFT,
  ArrowRight: CURSOR_RIGHT,
  ArrowUp: CURSOR_UP,
  ArrowDown: CURSOR_DOWN,
};

const SHIFT = 'SHIFT';
const byName = new Map(KEYS.map((key) => [key.name, key]));
const shiftedCodes = new Set(KEYS.map(({ shifted }) => shifted));

export class MachineKeys {
  /** What is down: pointers and keys by an id, with what each gives. */
  private readonly down = new Map<string, HeldKey>();
  private readonly shifts = new Set<string>();
  /** The drawn key that each pointer holds. */
  private readonly drawnDown = new Map<string, HTMLButtonElement>();
  /** Was SHIFT tapped, to count for the next key? */
  private isLatched = false;
  private readonly buttons = new Map<string, HTMLButtonElement>();

  constructor(
    board: HTMLElement,
    glass: HTMLElement,
    private readonly events: KeyEvents,
  ) {
    for (const row of [1, 2, 3, 4]) {
      const keys = KEYS.filter((key) => key.row === row).map((key) => this.draw(key));
      board.append(make('div', {}, ...keys));
    }
    this.listenToBoard(board);
    this.listenToGlass(glass);
  }

  private draw(key: Key): HTMLButtonElement {
    const { name } = key;
    const sign = shiftedName(key);
    const drawn = make(
      'button',
      {
        type: 'button',
        className: name.length > 1 ? 'long' : '',
        tabIndex: this.buttons.size === 0 ? 0 : -1,
        'data-key': name,
      },
      // The key's own name comes first where it is read out; the sign over it is put there by style.
      make('b', {}, ...(name === 'NEWLINE' ? ['NEW', make('wbr'), 'LINE'] : [name])),
      make('i', {}, keywordName(key)),
      make('small', { className: sign.length > 4 ? 'tight' : '' }, sign),
    );
    if (name === SHIFT) drawn.setAttribute('aria-pressed', 'false');
    this.buttons.set(name, drawn);
    return drawn;
  }

  // ───────────────────────────── drawn keys ─────────────────────────────

  private listenToBoard(board: HTMLElement): void {
    const nameAt = (target: EventTarget | null): string | undefined =>
      (target as HTMLElement | null)?.closest<HTMLElement>('[data-key]')?.dataset.key;
    board.addEventListener('pointerdown', (event) => {
      const name = nameAt(event.target);
      if (name === undefined || event.button !== 0) return;
      // The focus stays where it is, and the finger may slide off the key.
      event.preventDefault();
      (event.target as HTMLElement).setPointerCapture?.(event.pointerId);
      this.press(`pointer ${event.pointerId}`, name);
    });
    for (const end of ['pointerup', 'pointercancel', 'lostpointercapture'] as const) {
      board.addEventListener(end, (event) => this.release(`pointer ${event.pointerId}`));
    }
    // Keyboards and screen readers press buttons by a click without a pointer.
    board.addEventListener('click', (event) => {
      const name = nameAt(event.target);
      if (name === undefined || event.detail !== 0) return;
      this.press('click', name);
      setTimeout(() => this.release('click'), HELD);
    });
    board.addEventListener('keydown', (event) => this.walk(event));
    board.addEventListener('contextmenu', (event) => event.preventDefault());
  }

  /** The board is one stop of the Tab key; arrows go about in it. */
  private walk(event: KeyboardEvent): void {
    const names = [...this.buttons.keys()];
    const at = names.indexOf((document.activeElement as HTMLElement).dataset.key ?? '');
    const step = { ArrowLeft: -1, ArrowRight: 1, ArrowUp: -10, ArrowDown: 10 }[event.key];
    if (at < 0 || step === undefined) return;
    event.preventDefault();
    const next = this.buttons.get(names[(at + step + names.length) % names.length])!;
    for (const one of this.buttons.values()) one.tabIndex = -1;
    next.tabIndex = 0;
    next.focus();
  }

  private press(id: string, name: string): void {
    const drawn = this.buttons.get(name)!;
    drawn.classList.add('down');
    this.drawnDown.set(id, drawn);
    if (name === SHIFT) {
      this.shifts.add(id);
      this.latch(!this.isLatched);
      return;
    }
    const key = byName.get(name)!;
    const isShifted = this.shifts.size > 0 || this.isLatched;
    const code = isShifted ? key.shifted : key.plain;
    // The ROM looks at SPACE alone for BREAK, whatever SHIFT does.
    if (code !== undefined) this.down.set(id, { code, isBreak: name === 'SPACE' });
    this.events.pressed(key, isShifted);
    this.latch(false);
    this.tell();
  }

  private release(id: string): void {
    this.shifts.delete(id);
    if (this.down.delete(id)) this.tell();
    this.drawnDown.get(id)?.classList.remove('down');
    this.drawnDown.delete(id);
  }

  private latch(isLatched: boolean): void {
    this.isLatched = isLatched;
    this.buttons.get(SHIFT)!.setAttribute('aria-pressed', String(isLatched));
  }

  // ───────────────────────────── this computer's keys ─────────────────────────────

  private listenToGlass(glass: HTMLElement): void {
    glass.addEventListener('keydown', (event) => {
      const code = codeOfEvent(event);
      if (code === undefined) return;
      event.preventDefault();
      if (!event.repeat || event.key === 'Backspace') this.events.typed(code);
      if (event.repeat) return;
      this.down.set(event.code, { code, isBreak: code === 0 });
      this.tell();
    });
    glass.addEventListener('keyup', (event) => {
      if (this.down.delete(event.code)) this.tell();
    });
    glass.addEventListener('blur', () => {
      this.down.clear();
      this.tell();
    });
    glass.addEventListener('pointerdown', () => glass.focus());
  }

  /** The machine knows two keys at once only as none. */
  private tell(): void {
    const [first, second] = this.down.values();
    this.events.held(second === undefined ? first : undefined);
  }
}

/** Milliseconds that a click holds a key: some frames. */
const HELD = 120;

/** What a key of this computer is on the machine; signs count as they are, wherever they stand there. */
function codeOfEvent({ key, ctrlKey, metaKey, altKey }: KeyboardEvent): number | undefined {
  if (Object.hasOwn(EDITING, key)) return ctrlKey || metaKey || altKey ? undefined : EDITING[key];
  if (ctrlKey !== altKey || metaKey || [...key].length !== 1) return undefined;
  const code = codeOfUnicode(key.toUpperCase());
  if (code === undefined) return undefined;
  return KEYS.some(({ plain }) => plain === code) || shiftedCodes.has(code) ? code : undefined;
}
