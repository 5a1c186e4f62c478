/** What is to be shown: the 24 rows of the display as codes, and blocks, of which a cell has four. */
import { codeOfQuarters, quartersOfCode, SPACE } from '../machine/characters.js';
import { DISPLAY_COLUMNS, DISPLAY_ROWS } from '../machine/memory-map.js';

/** 24 rows of 32 codes. */
export type Screen = readonly Uint8Array[];

/** Rows that PRINT and PLOT reach: the last two belong to the machine. */
export const REACHED_ROWS = DISPLAY_ROWS - 2;
/** Blocks of the display, two by two in a cell. */
export const BLOCK_COLUMNS = 2 * DISPLAY_COLUMNS;
export const BLOCK_ROWS = 2 * DISPLAY_ROWS;
export const REACHED_BLOCK_ROWS = 2 * REACHED_ROWS;

/** A rectangle of blocks, row by row from the top left: 1 is a dark one. */
export interface Blocks {
  readonly width: number;
  readonly height: number;
  readonly dark: Uint8Array;
}

/** A rectangle of cells: rows of codes, all of one length. */
export type Cells = readonly Uint8Array[];

/** What does not go onto the screen, and how large it may be. */
export class OffScreen extends RangeError {}

export const emptyScreen = (): Uint8Array[] =>
  Array.from({ length: DISPLAY_ROWS }, () => new Uint8Array(DISPLAY_COLUMNS));

/** Where something stands: its left upper corner, or in the middle. */
export interface Corner {
  readonly row: number;
  readonly column: number;
}

/**
 * The screen with cells on it, in the middle of the rows unless a place is given. Throws OffScreen
 * where they do not go on.
 */
export function screenOfCells(cells: Cells, rows: number, place?: Corner): Screen {
  const width = Math.max(0, ...cells.map((codes) => codes.length));
  const at = placed(width, cells.length, DISPLAY_COLUMNS, rows, place, 'characters');
  const screen = emptyScreen();
  cells.forEach((codes, row) => {
    screen[at.row + row].set(codes, at.column);
  });
  return screen;
}

/**
 * The screen with blocks on it, in the middle of the rows unless a place (in blocks) is given.
 * Throws OffScreen where they do not go on.
 */
export function screenOfBlocks(
  { width, height, dark }: Blocks,
  rows: number,
  place?: Corner,
): Screen {
  const at = placed(width, height, BLOCK_COLUMNS, 2 * rows, place, 'blocks');
  const screen = emptyScreen();
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (dark[y * width + x] === 0) continue;
      const [row, column] = [at.row + y, at.column + x];
      const codes = screen[row >> 1];
      const quarters = quartersOfCode(codes[column >> 1])!;
      codes[column >> 1] = codeOfQuarters(quarters | (1 << ((row & 1) * 2 + (column & 1))));
    }
  }
  return screen;
}

function placed(
  width: number,
  height: number,
  columns: number,
  rows: number,
  place: Corner | undefined,
  things: string,
): Corner {
  const row = place?.row ?? Math.floor((rows - height) / 2);
  const column = place?.column ?? Math.floor((columns - width) / 2);
  if (row < 0 || column < 0 || row + height > rows || column + width > columns) {
    const where = place === undefined ? '' : `, at row ${row} and column ${column}`;
    throw new OffScreen(
      `${width} by ${height} ${things}${where} do not go onto ${columns} by ${rows}`,
    );
  }
  return { row, column };
}

/** Are all of a screen's cells made of blocks, which PLOT can draw? */
export function isBlocks(screen: Screen): boolean {
  return screen.every((codes) => codes.every((code) => quartersOfCode(code) !== undefined));
}

/** The blocks of a screen that `isBlocks`. */
export function blocksOfScreen(screen: Screen): Blocks {
  const dark = new Uint8Array(BLOCK_COLUMNS * BLOCK_ROWS);
  screen.forEach((codes, row) => {
    codes.forEach((code, column) => {
      const quarters = quartersOfCode(code) ?? 0;
      for (let quarter = 0; quarter < 4; quarter++) {
        const at = (2 * row + (quarter >> 1)) * BLOCK_COLUMNS + 2 * column + (quarter & 1);
        dark[at] = (quarters >> quarter) & 1;
      }
    });
  });
  return { width: BLOCK_COLUMNS, height: BLOCK_ROWS, dark };
}

/** How many codes of a row stand before its last spaces. */
export function shownLength(codes: Uint8Array): number {
  let length = codes.length;
  while (length > 0 && codes[length - 1] === SPACE) length--;
  return length;
}

/** The rows from the first to the last with something on them; both 0 where nothing is. */
export function usedRows(screen: Screen): { first: number; end: number } {
  const used = screen.flatMap((codes, row) => (shownLength(codes) > 0 ? [row] : []));
  return used.length === 0 ? { first: 0, end: 0 } : { first: used[0], end: used.at(-1)! + 1 };
}

/** The first cell, in the rows up to `end`, in which two screens differ. */
export function firstDifference(
  wanted: readonly Uint8Array[],
  shown: readonly Uint8Array[],
  end: number,
): Corner | undefined {
  for (let row = 0; row < end; row++) {
    for (let column = 0; column < DISPLAY_COLUMNS; column++) {
      if ((wanted[row][column] ?? SPACE) !== (shown[row][column] ?? SPACE)) return { row, column };
    }
  }
  return undefined;
}
