/**
 * The printer: a strip of rows, through the buffer of 32 characters in the system variables.
 * Source: the manual, chapters 20 and 28; the published ROM disassembly; from memory.
 */
import { SPACE } from '../../machine/characters.js';
import { DISPLAY_COLUMNS } from '../../machine/memory-map.js';
import { CHARACTER_PRINTED } from '../../machine/timing.js';
import { AT, type Memory } from './memory.js';
import type { Device } from './output.js';
import { checkPlace } from './screen.js';

/** PR_CC counts from the buffer's own low byte, with the top bit set. */
const FIRST_COLUMN = (AT.PRBUFF & 0xff) | 0x80;
/** Rows of the screen that COPY prints. */
const COPY_ROWS = 22;

export class Printer implements Device {
  /** What has been printed: 32 codes a row. */
  readonly rows: Uint8Array[] = [];

  constructor(readonly memory: Memory) {}

  private get column(): number {
    const column = this.memory.bytes[AT.PR_CC] - FIRST_COLUMN;
    // A program may have poked anything: then the buffer is taken from its start.
    return column >= 0 && column <= DISPLAY_COLUMNS ? column : 0;
  }

  private set column(column: number) {
    this.memory.bytes[AT.PR_CC] = FIRST_COLUMN + column;
  }

  put(code: number): void {
    if (this.column === DISPLAY_COLUMNS) this.flush();
    const { column } = this;
    this.memory.clock.spend(CHARACTER_PRINTED);
    this.memory.bytes[AT.PRBUFF + column] = code;
    this.column = column + 1;
  }

  newline(): void {
    this.flush();
  }

  private flush(): void {
    const start = AT.PRBUFF;
    this.print(this.memory.bytes.slice(start, start + DISPLAY_COLUMNS));
    this.memory.bytes.fill(SPACE, start, start + DISPLAY_COLUMNS);
    this.column = 0;
  }

  private print(row: Uint8Array): void {
    if (this.rows.length < MOST_ROWS) this.rows.push(row);
    else this.dropped++;
  }

  /** Rows that were printed after so many that no more are kept. */
  dropped = 0;

  /** A printer has one row: AT moves along it, back too, and sends nothing (08F5). */
  at(row: number, column: number): void {
    checkPlace(row, column, this.memory.bytes[AT.DF_SZ]);
    this.column = column;
  }

  /**
   * The zeros behind a point are printed by a loop that keeps the 0 in a register, which the printing
   * of the one before leaves with the low bits of PR_CC (15DB, LPRINT-CH 0851).
   */
  spoiltZero(): number {
    return (FIRST_COLUMN & 0x7f) + this.column - 1;
  }

  tab(column: number): void {
    if (column < this.column) this.flush();
    this.column = column;
    this.memory.isSpaced = true;
  }

  /** Sent with the next character when it leads to the end of the row. */
  comma(): void {
    this.put(SPACE);
    const half = DISPLAY_COLUMNS / 2;
    this.column = this.column <= half ? half : DISPLAY_COLUMNS;
    this.memory.isSpaced = true;
  }

  /** COPY: the rows of the screen above the lower ones. */
  copy(): void {
    if (this.rows.length >= MOST_ROWS) {
      this.dropped += COPY_ROWS;
      return;
    }
    for (const row of this.memory.displayRows().slice(0, COPY_ROWS)) {
      const whole = new Uint8Array(DISPLAY_COLUMNS);
      whole.set(row);
      this.print(whole);
    }
  }

  /** Everything printed, with what still waits in the buffer. */
  strip(): Uint8Array[] {
    if (this.column === 0) return this.rows;
    const start = AT.PRBUFF;
    return [...this.rows, this.memory.bytes.slice(start, start + DISPLAY_COLUMNS)];
  }
}

/** A strip of about forty metres: an endless LPRINT must not fill the computer's own memory. */
const MOST_ROWS = 10_000;
