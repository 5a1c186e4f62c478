/** The line that is typed at INPUT: keys, cursor, modes, and how it stands on the screen. */
import { codeOfUnicode, INVERSE, KEYWORDS, QUOTE } from '../../machine/characters.js';
import {
  CURSOR_LEFT,
  CURSOR_RIGHT,
  EDIT,
  FUNCTION,
  GRAPHICS,
  type Key,
  NEWLINE_KEY,
  RUBOUT,
} from '../../machine/keyboard.js';
import { DISPLAY_COLUMNS, DISPLAY_ROWS } from '../../machine/memory-map.js';

type Mode = 'L' | 'F' | 'G';

export class TypedLine {
  private codes: number[] = [];
  private cursor = 0;
  private mode: Mode = 'L';

  clear(): void {
    this.codes = [];
    this.cursor = 0;
    this.mode = 'L';
  }

  /** A key of the machine, in the mode of the cursor. Gives the codes where it was NEWLINE. */
  press(key: Key, isShifted: boolean): readonly number[] | undefined {
    const { mode } = this;
    if (mode === 'F') {
      this.mode = 'L';
      if (!isShifted && key.function !== undefined) return this.put(key.function);
    }
    if (mode === 'G' && key.plain !== NEWLINE_KEY) {
      const code = isShifted ? key.graphic : key.inverse;
      if (code !== undefined && !isControl(code)) return this.put(code);
    }
    const code = isShifted ? key.shifted : key.plain;
    return code === undefined ? undefined : this.put(code);
  }

  /** A code as it is, such as a sign from a keyboard of today. Gives all where it was NEWLINE. */
  put(code: number): readonly number[] | undefined {
    switch (code) {
      case NEWLINE_KEY:
        return this.codes;
      case CURSOR_LEFT:
        this.cursor = Math.max(0, this.cursor - 1);
        return undefined;
      case CURSOR_RIGHT:
        this.cursor = Math.min(this.codes.length, this.cursor + 1);
        return undefined;
      case RUBOUT:
        if (this.cursor > 0) this.codes.splice(--this.cursor, 1);
        return undefined;
      case FUNCTION:
        this.mode = 'F';
        return undefined;
      case GRAPHICS:
        this.mode = this.mode === 'G' ? 'L' : 'G';
        return undefined;
      case EDIT:
        this.clear();
        return undefined;
    }
    if (!isControl(code)) this.codes.splice(this.cursor++, 0, code);
    return undefined;
  }

  /** Puts the line, with its cursor, at the foot of 24 rows of 32 codes. */
  onto(screen: Uint8Array, what: 'number' | 'string', isRefused: boolean): Uint8Array {
    const cursor = (codeOfUnicode(isRefused ? 'S' : this.mode) ?? 0) + INVERSE;
    const shown = [
      ...this.codes.slice(0, this.cursor).flatMap(letters),
      cursor,
      ...this.codes.slice(this.cursor).flatMap(letters),
    ];
    const line = what === 'string' ? [QUOTE, ...shown, QUOTE] : shown;
    const rows = Math.min(DISPLAY_ROWS, Math.ceil(line.length / DISPLAY_COLUMNS));
    const whole = screen.slice();
    const start = (DISPLAY_ROWS - rows) * DISPLAY_COLUMNS;
    whole.fill(0, start);
    whole.set(line.slice(-rows * DISPLAY_COLUMNS), start);
    return whole;
  }
}

/** What edits and does not stand in a line (Appendix A). */
const isControl = (code: number): boolean => code >= 112 && code <= 127;

/** A keyword shows its letters, with a space about them. */
function letters(code: number): number[] {
  const word = KEYWORDS.get(code);
  if (word === undefined) return [code];
  return Array.from(` ${word} `, (letter) => codeOfUnicode(letter) ?? 0);
}
