/**
 * What a page may cost beyond the reading of each line once. Whatever searches (readings of a line,
 * rows that may belong together, lines that may stand in one row) takes from it by the characters
 * that it parses, and stops where nothing is left: a page of nonsense must end too.
 */
import { LARGEST_RAM } from '../machine/ram-size.js';

/** A damaged page of a program takes some five for each of its characters. */
const OF_EACH_CHARACTER = 8;
const OF_ANY_PAGE = 200_000;
/** Print with its captions and spaces is seldom twice as long as the program in memory. */
const MOST_CHARACTERS = 2 * LARGEST_RAM;

export class Effort {
  /** Characters that may still be parsed. */
  left: number;
  /** Was anything left undone for want of it? */
  refused = false;

  constructor(source: string) {
    this.left = OF_ANY_PAGE + OF_EACH_CHARACTER * Math.min(source.length, MOST_CHARACTERS);
  }

  /** Takes so many characters off; false where they are no longer there. */
  spend(characters: number): boolean {
    if (characters > this.left) {
      this.refused = true;
      return false;
    }
    this.left -= characters;
    return true;
  }

  /** Takes off what had to be done in any case. */
  take(characters: number): void {
    this.left = Math.max(0, this.left - characters);
    if (this.left === 0) this.refused = true;
  }
}
