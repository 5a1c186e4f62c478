/** Large letters, made of blocks. */
import { count } from '../listing/print.js';
import { codesOfText, QUOTE, quartersOfCode, SPACE } from '../machine/characters.js';
import { drawingsIn, GLYPH_SIZE, glyphOf } from '../machine/glyphs.js';
import { BLOCK_COLUMNS, type Blocks } from './screen.js';

/** Blocks that a letter is wide and high. */
export type LetterSize = 4 | 8;

/** Signs, digits and letters from code 11 on in 4 by 4 blocks, our own drawings. */
const SMALL = `
#..# .##. #### .... ###. ..#. .#.. .#.. ..#.
#..# .#.. ##.. .#.. ..#. .#.. ..#. ..#. .#..
.... ###. ..## .... .... .#.. ..#. .#.. ..#.
.... #### #### .#.. .#.. ..#. .#.. .... ....

.... .#.. .... #.#. ...# .#.. .... ....
#### ###. .... .#.. ..#. .... .... ....
.... .#.. ###. #.#. .#.. .#.. .#.. ....
#### .... .... .... #... #... #... .#..

.##. .#.. ###. ###. #.#. #### .### #### .##. .##.
#..# ##.. ..## .##. #.#. ###. #... ..#. .##. ####
#..# .#.. .#.. ...# #### ...# #### .#.. #..# ...#
.##. ###. #### ###. ..#. ###. ###. .#.. .##. .##.

.##. ###. .### ###. ###. ###. .### #..# ###. ..##
#..# ###. #... #..# ##.. #... #... #### .#.. ...#
#### #..# #... #..# #... ##.. #..# #..# .#.. #..#
#..# ###. .### ###. ###. #... .### #..# ###. .##.

#.#. #... #..# #..# #### ###. .##. ###. .### ###.
##.. #... #### ##.# #..# #..# #..# #..# ##.. .#..
#.#. #... #### #.## #..# ###. #.## ###. ..## .#..
#..# #### #..# #..# #### #... .### #..# ###. .#..

#..# #.#. #..# #..# #.#. ####
#..# #.#. #..# .##. #.#. ..#.
#..# #.#. #### .##. .#.. .#..
.##. .#.. .##. #..# .#.. ####
`;
const FIRST_DRAWN = QUOTE;
/** Between two small letters, and between two rows of them; large ones have room of their own. */
const GAP: Readonly<Record<LetterSize, number>> = { 4: 1, 8: 0 };

let drawn: Map<number, readonly string[]> | undefined;

function smallLetters(): Map<number, readonly string[]> {
  drawn ??= new Map(drawingsIn(SMALL).map((rows, index) => [FIRST_DRAWN + index, rows]));
  return drawn;
}

/** The rows of one letter, `#` where a block is dark. */
function letterRows(code: number, size: LetterSize): readonly string[] {
  if (size === GLYPH_SIZE) {
    return Array.from(glyphOf(code), (bits) =>
      bits.toString(2).padStart(GLYPH_SIZE, '0').replaceAll('1', '#'),
    );
  }
  const quarters = quartersOfCode(code);
  if (quarters === undefined) return smallLetters().get(code) ?? [];
  return Array.from({ length: size }, (_, row) =>
    Array.from({ length: size }, (_, column) => {
      const quarter = (row >> 1) * 2 + (column >> 1);
      return (quarters >> quarter) & 1 ? '#' : '.';
    }).join(''),
  );
}

/**
 * A text in letters of blocks: words go on to the next row where they do not fit, newlines begin
 * one, and each row stands in the middle. Throws RangeError for a character that the machine does
 * not have, and for a word wider than the screen.
 */
export function blocksOfText(text: string, size: LetterSize, width = BLOCK_COLUMNS): Blocks {
  const step = size + GAP[size];
  const inRow = Math.floor((width + GAP[size]) / step);
  const rows = text.split('\n').flatMap((row) => wrapped(row, inRow, size));
  const wide = Math.max(...rows.map((row) => row.length)) * step - GAP[size];
  const high = rows.length * step - GAP[size];
  const dark = new Uint8Array(Math.max(0, wide) * high);
  rows.forEach((codes, row) => {
    const indent = Math.floor((wide - (codes.length * step - GAP[size])) / 2);
    codes.forEach((code, index) => {
      letterRows(code, size).forEach((dots, y) => {
        for (let x = 0; x < dots.length; x++) {
          if (dots[x] === '#') dark[(row * step + y) * wide + indent + index * step + x] = 1;
        }
      });
    });
  });
  return { width: Math.max(0, wide), height: high, dark };
}

/** The rows of codes that a row of text becomes, with so many letters to a row. */
function wrapped(row: string, inRow: number, size: LetterSize): Uint8Array[] {
  const words = row.split(' ').map((word) => codesOfText(word));
  const rows: number[][] = [[]];
  for (const [index, word] of words.entries()) {
    if (word.length > inRow) {
      throw new RangeError(
        `a row takes ${count(inRow, 'letter')} of ${size} by ${size} blocks, and ${row.split(' ')[index]} has ${word.length}`,
      );
    }
    const last = rows.at(-1)!;
    if (index === 0) last.push(...word);
    else if (last.length + 1 + word.length <= inRow) last.push(SPACE, ...word);
    else rows.push([...word]);
  }
  return rows.map((codes) => Uint8Array.from(codes));
}

/** The size of letters in which a text goes onto the screen with its words whole: the larger. */
export function fittingLetters(text: string, width: number, height: number): LetterSize {
  try {
    return blocksOfText(text, 8, width).height <= height ? 8 : 4;
  } catch {
    return 4;
  }
}
