/**
 * What can be a program at all: what is larger is refused at once, before any work on it. Generous
 * on purpose; whether a program fits the RAM that is fitted is another question. All but the last follow from the
 * memory: no machine of this kind has more than 48K. A recording is read piece by piece, and may be
 * of any length.
 */
import { LARGEST_RAM } from './ram-size.js';

/** Lines of a program: numbers go to 9999, and the shortest line, of 6 bytes, has room 8,192 times. */
export const MOST_LINES = 10_000;
/** Bytes that a line stores. */
export const MOST_LINE_BYTES = LARGEST_RAM;
/** Bytes of all lines together, and of an image with what follows it in its file: all addresses there are. */
export const MOST_PROGRAM_BYTES = 0x1_0000;
/** Characters that a code takes at most in a listing: those of `[ul+ur+grey-bottom]`, and a space. */
const CODE_CHARACTERS = 20;
/** Characters of a row of text: a line of 48K, all of it in the longest names. */
export const MOST_ROW_CHARACTERS = CODE_CHARACTERS * LARGEST_RAM;
/** Rows of text, with comments, blank ones and directives: one for each address. */
export const MOST_ROWS = 0x1_0000;
/** Characters (UTF-16 units) of a text: four times a row of the longest, for comments. */
export const MOST_CHARACTERS = 4 * 1024 * 1024;
/** Bytes of a file with a picture: a page scanned in colour at 300 dots an inch, and packed but little. */
export const MOST_PICTURE_BYTES = 32 * 1024 * 1024;
