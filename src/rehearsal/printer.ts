/**
 * The printer: a strip of rows, through the buffer of 32 characters in the system variables.
 * Source: the manual, chapters 20 and 28; the published ROM disassembly; from memory.
 */
import { SPACE } from '../machine/characters.js';
import { DISPLAY_COLUMNS } from '../machine/memory-map.js';
import { report } from './halt.js';
import { type Memory, PLACES } from './memory.js';
import type { Device } from './output.js';

/** PR_CC counts from the buffer's own low byte, with the top bit set. */
const FIRST_COLUMN = (PLACES.printerBuffer & 0xff) | 0x80;
/** Rows of the screen that COPY prints. */
const COPY_ROWS = 22;

export class Printer implements Device {
  spaced = true;
  /** What has been printed: 32 codes a row. */
  readonly rows: Uint8Array[] = [];

  constructor(private readonly memory: Memory) {}

  private get column(): number {
    const column = this.memory.bytes[PLACES.printerColumn] - FIRST_COLUMN;
    // A program may have poked anything: then the buffer is taken from its start.
    return column >= 0 && column <= DISPLAY_COLUMNS ? column : 0;
  }

  private set column(column: number) {
    this.memory.bytes[PLACES.printerColumn] = FIRST_COLUMN + column;
  }

  put(code: number): void {
    if (this.column === DISPLAY_COLUMNS) this.flush();
    const { column } = this;
    this.memory.bytes[PLACES.printerBuffer + column] = code;
    this.column = column + 1;
  }

  newline(): void {
    this.flush();
    this.spaced = true;
  }

  private flush(): void {
    const start = PLACES.printerBuffer;
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

  /** A printer has one row: AT moves along it. */
  at(_row: number, column: number): void {
    if (column >= DISPLAY_COLUMNS) {
      throw report(
        'B',
        `there is no column ${column}: they go from 0 to 31`,
        'see what AT is given',
      );
    }
    this.tab(column);
  }

  tab(column: number): void {
    if (column < this.column) this.flush();
    this.column = column;
    this.spaced = true;
  }

  comma(): void {
    const half = DISPLAY_COLUMNS / 2;
    this.tab(this.column < half ? half : 0);
  }

  /** COPY: the rows of the screen above the lower ones. */
  copy(rows: readonly Uint8Array[]): void {
    for (const row of rows.slice(0, COPY_ROWS)) {
      const whole = new Uint8Array(DISPLAY_COLUMNS);
      whole.set(row);
      this.print(whole);
    }
  }

  /** Everything printed, with what still waits in the buffer. */
  strip(): Uint8Array[] {
    if (this.column === 0) return this.rows;
    const start = PLACES.printerBuffer;
    return [...this.rows, this.memory.bytes.slice(start, start + DISPLAY_COLUMNS)];
  }
}

/** A strip of about forty metres: an endless LPRINT must not fill the computer's own memory. */
const MOST_ROWS = 10_000;
