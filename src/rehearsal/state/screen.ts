/**
 * The display file, written as the ROM writes it: where the next character goes, rows that grow,
 * AT, TAB, SCROLL, CLS, PLOT.
 * Source: the manual, chapters 17, 18 and 27; the published ROM disassembly; from memory.
 *
 * S_POSN counts down: a column of 33 is the left edge, a row of 24 the top. A column of 1 is the
 * place after the 32nd character, where only the end of the row stands.
 */
import { codeOfQuarters, NEWLINE, quartersOfCode, SPACE } from '../../machine/characters.js';
import {
  DISPLAY_COLUMNS,
  DISPLAY_ROWS,
  PLOT_COLUMNS,
  PLOT_ROWS,
} from '../../machine/memory-map.js';
import { CHARACTER_PRINTED, DOT, PLACE_FOUND } from '../../machine/timing.js';
import { halt, report } from '../halt.js';
import { AT, type Memory } from './memory.js';
import type { Device } from './output.js';

/** S_POSN's column at the left edge, and its row at the top. */
const LEFT = DISPLAY_COLUMNS + 1;
const TOP = DISPLAY_ROWS;

export class Screen implements Device {
  constructor(readonly memory: Memory) {}

  private get column(): number {
    return this.memory.bytes[AT.S_POSN];
  }

  private get row(): number {
    return this.memory.bytes[AT.S_POSN + 1];
  }

  private move(row: number, column: number): void {
    this.memory.bytes[AT.S_POSN + 1] = row;
    this.memory.bytes[AT.S_POSN] = column;
  }

  /** Rows at the bottom that belong to INPUT and reports. */
  private get lowerRows(): number {
    return this.memory.bytes[AT.DF_SZ];
  }

  put(code: number): void {
    const { memory } = this;
    memory.clock.spend(CHARACTER_PRINTED);
    if (this.column === LEFT) this.checkRow();
    while (memory.bytes[memory.dfCc] === NEWLINE) {
      if (this.column > 1) {
        memory.insert(memory.dfCc, 1, 'a character on the screen');
        break;
      }
      // The row is full: go on at the start of the next.
      memory.dfCc++;
      this.move(this.row - 1, LEFT);
      this.checkRow();
      if (memory.dfCc >= memory.vars) throw this.lost();
    }
    memory.bytes[memory.dfCc] = code;
    memory.dfCc++;
    if (memory.dfCc >= memory.vars) throw this.lost();
    memory.bytes[AT.S_POSN]--;
  }

  newline(): void {
    if (this.column === LEFT) this.checkRow();
    this.locate(this.row - 1, LEFT);
    this.memory.isSpaced = true;
  }

  private checkRow(): void {
    if (this.row === this.lowerRows || this.row === 0) throw noScreen(TOP - this.lowerRows);
  }

  at(row: number, column: number): void {
    checkPlace(row, column, this.lowerRows);
    this.locate(TOP - row, LEFT - column);
  }

  tab(column: number): void {
    const now = LEFT - this.column;
    const row = TOP - this.row + (column < now ? 1 : 0);
    if (row >= TOP - this.lowerRows) throw noScreen(TOP - this.lowerRows);
    this.locate(TOP - row, LEFT - column);
    this.memory.isSpaced = true;
  }

  /** A space, and on to the middle of the row, or to its end, where the next character finds the next row. */
  comma(): void {
    this.put(SPACE);
    const half = DISPLAY_COLUMNS / 2;
    const column = LEFT - this.column <= half ? half : DISPLAY_COLUMNS;
    this.locate(this.row, LEFT - column);
    this.memory.isSpaced = true;
  }

  /** Finds a place in the display file; a row that is too short for it is filled with spaces. */
  private locate(row: number, column: number): void {
    const { memory } = this;
    const { bytes } = memory;
    this.move(row, column);
    memory.clock.spend(PLACE_FOUND);
    if (row <= 0) {
      // Below the last row, which a DF_SZ of 0 allows: nothing can be printed there.
      memory.dfCc = memory.vars - 1;
      return;
    }
    let at = memory.vars;
    for (let ends = row + 1; ends > 0; ends--) {
      do at--;
      while (at > memory.dFile && bytes[at] !== NEWLINE);
      if (at <= memory.dFile && ends > 1) throw this.lost();
    }
    if (bytes[at] !== NEWLINE) throw this.lost();
    const start = at + 1;
    const wanted = LEFT - column;
    let length = 0;
    while (length < wanted && bytes[start + length] !== NEWLINE) length++;
    const missing = wanted - length;
    if (missing > 0 && column > 1) {
      memory.insert(start + length, missing, 'the spaces before a place on the screen');
      bytes.fill(SPACE, start + length, start + length + missing);
    }
    memory.dfCc = start + length + (column > 1 ? missing : 0);
  }

  private lost() {
    return halt(
      'memory',
      'the display file has lost the ends of its rows',
      'a POKE changed them, or the image is damaged: poke only where characters stand',
    );
  }

  /** CLS: a clear display, full or collapsed as RAMTOP says. */
  clear(): void {
    this.memory.clearDisplay();
    this.locate(TOP, LEFT);
  }

  /** SCROLL: the top row goes, and an empty one comes above the lower rows; printing goes on there. */
  scroll(): void {
    const { memory } = this;
    this.locate(this.lowerRows, LEFT);
    const at = memory.dfCc;
    memory.insert(at, 1, 'SCROLL');
    memory.bytes[at] = NEWLINE;
    const top = memory.dFile + 1;
    const end = memory.bytes.indexOf(NEWLINE, top);
    if (end < 0 || end >= memory.vars) throw this.lost();
    memory.reclaim(top, end + 1 - top);
    memory.dfCc = at - (end + 1 - top);
    this.move(this.lowerRows + 1, LEFT);
  }

  /** PLOT and UNPLOT: lights or clears one quarter of a cell. */
  plot(x: number, y: number, light: boolean): void {
    const { memory } = this;
    memory.bytes[AT.COORDS] = x;
    memory.bytes[AT.COORDS + 1] = y;
    const across = x >> 1;
    if (y >= PLOT_ROWS || x >= PLOT_COLUMNS) {
      throw report(
        'B',
        `there is no block ${x},${y}: x goes from 0 to ${PLOT_COLUMNS - 1} and y from 0 to ${PLOT_ROWS - 1}`,
        `see what ${light ? 'PLOT' : 'UNPLOT'} is given here`,
      );
    }
    memory.clock.spend(DOT);
    const fromTop = PLOT_ROWS - 1 - y;
    this.at(fromTop >> 1, across);
    const quarter = 1 << ((x & 1) + 2 * (fromTop & 1));
    const before = quartersOfCode(memory.bytes[memory.dfCc]) ?? 0;
    this.put(codeOfQuarters(light ? before | quarter : before & ~quarter));
  }
}

/** AT: the row is looked at first. Throws reports 5 and B. */
export function checkPlace(row: number, column: number, lowerRows: number): void {
  if (row < DISPLAY_ROWS && TOP - row <= lowerRows) {
    throw report(
      '5',
      `row ${row} is kept for INPUT and reports: PRINT has rows 0 to ${TOP - lowerRows - 1}`,
      'use a row further up',
    );
  }
  if (row < DISPLAY_ROWS && column < DISPLAY_COLUMNS) return;
  throw report(
    'B',
    `there is no place ${row},${column}: rows go from 0 to 21 and columns from 0 to 31`,
    'see what AT is given here',
  );
}

function noScreen(rows: number) {
  return report(
    '5',
    `the screen is full: PRINT has ${rows} rows`,
    'use SCROLL before each PRINT, or CLS where a new page begins',
  );
}
