/**
 * How names and numbers are spelt, character by character, whether in a text or in stored codes. The
 * machine reads on over spaces within them, and keeps these.
 * Source: G. Wearmouth, "An Assembly Listing of the Operating System" (2004): LOOK-VARS 111C, DEC-TO-FP
 * 14D9 (a point alone is 0, and `1E` is 1).
 */

/** Characters one after the other. */
export interface Spelling {
  /** The character at an offset as its ASCII code, letters as capitals; 0 for any other. */
  unitAt(at: number): number;
  /** Offset of the character behind it. */
  after(at: number): number;
}

const SPACE = 32;
const DOLLAR = 36;
const PLUS = 43;
const MINUS = 45;
const POINT = 46;
const E = 69;

const isDigit = (unit: number): boolean => unit >= 48 && unit <= 57;
const isLetter = (unit: number): boolean => unit >= 65 && unit <= 90;
const isWordPart = (unit: number): boolean => isLetter(unit) || isDigit(unit);

function skipSpaces(spelling: Spelling, start: number): number {
  let at = start;
  while (spelling.unitAt(at) === SPACE) at = spelling.after(at);
  return at;
}

/** One past the last of the digits from `start` on, spaces between them or not. */
function endOfDigits(spelling: Spelling, start: number): number {
  let end = start;
  let at = skipSpaces(spelling, start);
  while (isDigit(spelling.unitAt(at))) {
    end = spelling.after(at);
    at = skipSpaces(spelling, end);
  }
  return end;
}

/**
 * number: [ digits ] [ . [ digits ] ] [ E [ + | - ] [ digits ] ]
 * One past its last character, where a digit or a point stands at `start`. An E that a word begins
 * with is none of the number's.
 */
export function endOfSpeltNumber(spelling: Spelling, start: number): number {
  let end = endOfDigits(spelling, start);
  let at = skipSpaces(spelling, end);
  if (spelling.unitAt(at) === POINT) {
    end = endOfDigits(spelling, spelling.after(at));
    at = skipSpaces(spelling, end);
  }
  if (spelling.unitAt(at) !== E) return end;
  const behind = spelling.after(at);
  const next = skipSpaces(spelling, behind);
  const unit = spelling.unitAt(next);
  if (unit === PLUS || unit === MINUS) return endOfDigits(spelling, spelling.after(next));
  if (isDigit(unit)) return endOfDigits(spelling, behind);
  return isWordPart(spelling.unitAt(behind)) ? end : behind;
}

/**
 * name: letter { letter | digit } [ $ ]
 * One past its last character, where a letter stands at `start`. A word behind spaces that
 * `isOther` knows is none of the name's.
 */
export function endOfSpeltName(
  spelling: Spelling,
  start: number,
  isOther: (start: number, end: number) => boolean = () => false,
): number {
  let end = start;
  for (let at = start; isWordPart(spelling.unitAt(at)); at = skipSpaces(spelling, end)) {
    let word = at;
    while (isWordPart(spelling.unitAt(word))) word = spelling.after(word);
    const dollar = spelling.unitAt(word) === DOLLAR ? spelling.after(word) : word;
    if (at > start && isOther(at, dollar)) return end;
    if (dollar > word) return dollar;
    end = word;
  }
  const at = skipSpaces(spelling, end);
  return spelling.unitAt(at) === DOLLAR ? spelling.after(at) : end;
}

/** In the text of a name or a number there is nothing else in brackets. */
const SPACES = / |\[[^\]]*\]/g;

/** The characters of a name or a number without the spaces that are stored within it. */
export function withoutSpaces(text: string): string {
  return text.includes(' ') || text.includes('[') ? text.replace(SPACES, '') : text;
}

/** How many spaces are stored within a name or a number. */
export function countSpaces(text: string): number {
  return text.match(SPACES)?.length ?? 0;
}
