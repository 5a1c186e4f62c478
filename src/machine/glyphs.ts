/**
 * Pictures of the characters, 8 by 8 dots, for drawings of the screen. Letters, digits and signs
 * are drawn afresh for this project; they are not the machine's own. The graphics follow from their
 * meaning (the manual, Appendix A).
 */
import { INVERSE, quartersOfCode } from './characters.js';

/** Dots in a cell, each way. */
export const GLYPH_SIZE = 8;

const WIDTH = 6;
const HEIGHT = 6;
/** Signs, digits and letters from code 11 on, seven to a band, with a column of space between; in
 * a cell one dot stays free all round. */
const FIRST_DRAWN = 11;
const DRAWN = `
.#..#. ..###. ..#... ...... .####. ...#.. ..#...
.#..#. .#.... .##### ..##.. #....# ..#... ...#..
...... ####.. #.#... ...... ....#. ..#... ...#..
...... .#.... .####. ...... ..##.. ..#... ...#..
...... .#.... ..#..# ..##.. ..#... ..#... ...#..
...... ###### #####. ...... ...... ...#.. ..#...

.#.... ....#. ...... ..#... ...... #.#.#. .....#
..##.. ..##.. .##### ..#... ...... .###.. ....#.
....#. .#.... ...... #####. .####. #####. ...#..
..##.. ..##.. .##### ..#... ...... .###.. ..#...
.#.... ....#. ...... ..#... ...... #.#.#. .#....
...... ...... ...... ...... ...... ...... #.....

...... ...... ...... .####. ...#.. .####. .####.
..##.. ...... ...... #...## ..##.. #....# #....#
...... ...... ...... #..#.# .#.#.. ...##. ..###.
..##.. ..##.. ...... #.#..# ...#.. .##... .....#
...#.. ...#.. ..##.. ##...# ...#.. #..... #....#
..#... ..#... ..##.. .####. .##### ###### .####.

...##. ###### ..###. ###### .####. .####. .####.
.#..#. #..... .#.... .....# #....# #....# #....#
#...#. #####. #####. ....#. .####. #....# #....#
###### .....# #....# ...#.. #....# .##### ######
....#. .....# #....# ..#... #....# .....# #....#
....#. .####. .####. ..#... .####. .###.. #....#

#####. .####. ####.. ###### ###### .####. #....#
#....# #....# #...#. #..... #..... #..... #....#
#....# #..... #....# #..... #..... #..### #....#
#####. #..... #....# #####. #####. #....# ######
#....# #....# #...#. #..... #..... #....# #....#
#####. .####. ####.. ###### #..... .####. #....#

.##### ....## #...#. #..... #....# #....# .####.
...#.. .....# #..#.. #..... ##..## ##...# #....#
...#.. .....# #.#... #..... #.##.# #.#..# #....#
...#.. .....# #.#... #..... #.##.# #.##.# #....#
...#.. #....# #..#.. #..... #....# #..#.# #....#
.##### .####. #...#. ###### #....# #....# .####.

#####. .####. #####. .##### .##### #....# #....#
#....# #....# #....# #..... ...#.. #....# #....#
#....# #....# #####. .####. ...#.. #....# .#..#.
#####. #..#.# #..#.. .....# ...#.. #....# .#..#.
#..... #...#. #...#. .....# ...#.. #....# ..##..
#..... .###.# #....# #####. ...#.. .####. ..##..

#....# #....# #...#. ######
#....# .#..#. .#.#.. .....#
#.##.# ..##.. ..#... ....#.
#.##.# .#..#. ..#... .#....
##..## .#..#. ..#... #.....
#....# #....# ..#... ######
`;

/** Eight bytes for each code that is drawn: a byte a row, the highest bit on the left. */
let drawn: Map<number, Uint8Array> | undefined;

/** Reads the drawing above, once. */
function drawnGlyphs(): Map<number, Uint8Array> {
  drawn ??= new Map(
    drawingsIn(DRAWN).map((rows, index) => {
      const glyph = new Uint8Array(GLYPH_SIZE);
      for (let row = 0; row < HEIGHT; row++) glyph[row + 1] = rowBits(rows[row]);
      return [FIRST_DRAWN + index, glyph];
    }),
  );
  return drawn;
}

/** The rows of each of some drawings, which stand side by side in bands with an empty row between. */
export function drawingsIn(bands: string): string[][] {
  return bands
    .trim()
    .split('\n\n')
    .flatMap((band) => {
      const rows = band.split('\n').map((row) => row.split(' '));
      return rows[0].map((_, index) => rows.map((row) => row[index]));
    });
}

/** One column stays free on each side. */
function rowBits(row: string): number {
  let bits = 0;
  for (const dot of row) bits = bits * 2 + (dot === '#' ? 1 : 0);
  return bits << (GLYPH_SIZE - 1 - WIDTH);
}

const HALF = GLYPH_SIZE / 2;
/** Two rows of dots, one in two lit, shifted against each other. */
const GREY = [0b10101010, 0b01010101];
/** Codes of the grey graphics, with the rows that are grey. */
const GREY_ROWS = new Map<number, readonly [number, number]>([
  [8, [0, GLYPH_SIZE]],
  [9, [HALF, GLYPH_SIZE]],
  [10, [0, HALF]],
]);

/**
 * The dots of a code, a byte a row from the top, the highest bit on the left. Codes from 128 are
 * those of 128 less, with lit and dark changed. Codes that no cell can show are empty.
 */
export function glyphOf(code: number): Uint8Array {
  if (code >= INVERSE) return glyphOf(code - INVERSE).map((row) => ~row);
  const quarters = quartersOfCode(code);
  if (quarters !== undefined) return blocks(quarters);
  const grey = GREY_ROWS.get(code);
  if (grey === undefined) return drawnGlyphs().get(code) ?? new Uint8Array(GLYPH_SIZE);
  const glyph = new Uint8Array(GLYPH_SIZE);
  for (let row = grey[0]; row < grey[1]; row++) glyph[row] = GREY[row % 2];
  return glyph;
}

/** Dots side by side in one row of a glyph: columns `from` to, not including, `to`. */
export interface GlyphRun {
  readonly row: number;
  readonly from: number;
  readonly to: number;
}

/** The lit dots of a code, in runs from the top left on. */
export function runsOfGlyph(code: number): GlyphRun[] {
  const runs: GlyphRun[] = [];
  glyphOf(code).forEach((bits, row) => {
    const isLit = (column: number): boolean => ((bits << column) & 0x80) !== 0;
    for (let from = 0; from < GLYPH_SIZE; from++) {
      let to = from;
      while (to < GLYPH_SIZE && isLit(to)) to++;
      if (to === from) continue;
      runs.push({ row, from, to });
      from = to;
    }
  });
  return runs;
}

/** Quarters as in quartersOfCode: 1 upper left, 2 upper right, 4 lower left, 8 lower right. */
function blocks(quarters: number): Uint8Array {
  return Uint8Array.from({ length: GLYPH_SIZE }, (_, row) => {
    const pair = row < HALF ? quarters : quarters >> 2;
    return (pair & 1 ? 0xf0 : 0) | (pair & 2 ? 0x0f : 0);
  });
}
