/**
 * Characters that print and scanning confuse, and all that follows from them. Common practice, no
 * source: the pairs are those that the letter shapes of line printers, screens and books share.
 */

/** Each group looks alike; the first character, a letter, stands for all of it. */
const GROUPS: readonly string[] = ['O0o', 'I1l|!', 'S5s', 'B8', 'Z2z', 'G6'];

/** Every character to the one that stands for all that look like it. */
const SHAPES = new Map(
  GROUPS.flatMap((alike) => [...alike].map((character): [string, string] => [character, alike[0]])),
);

const DIGIT_OF_SHAPE = new Map(
  GROUPS.map((alike): [string, string] => [alike[0], /\d/.exec(alike)![0]]),
);

/** Characters that are a misprint wherever they stand, and those that are one among capitals. */
const NEVER_PRINTED = '|!';
const SMALL_MISPRINTS = 'lo';

/** The letters that a digit may have been. */
export const LETTERS_LIKE_DIGITS: readonly string[] = GROUPS.map((alike) => alike[0]);

/** What may have been a digit, as the inside of a regular expression's square brackets. */
export const LIKE_DIGITS = `0-9${GROUPS.join('')
  .replace(/[0-9!]/g, '')
  .replace(/[sz]/g, '')}`;

/** A word with every character replaced by the one that stands for its shape. */
export function shapeOf(word: string): string {
  let shape = '';
  for (const character of word) {
    shape +=
      SHAPES.get(character) ?? SHAPES.get(character.toUpperCase()) ?? character.toUpperCase();
  }
  return shape;
}

/** The digit that looks like a character, the digit itself included; undefined where none does. */
export function digitLike(character: string): string | undefined {
  if (character >= '0' && character <= '9') return character;
  const shape = SHAPES.get(character);
  return shape === undefined ? undefined : DIGIT_OF_SHAPE.get(shape);
}

/** The digits that look like all of a text; undefined where some character looks like none. */
export function digitsLike(text: string): string | undefined {
  let digits = '';
  for (const character of text) {
    const digit = digitLike(character);
    if (digit === undefined) return undefined;
    digits += digit;
  }
  return digits;
}

/** How many of the characters are no digits. */
export function letterCount(text: string): number {
  return text.length - (text.match(/[0-9]/g) ?? []).length;
}

/** Is it a misprint in itself, whatever it was meant to be? */
export function isMisprint(character: string, capitals: boolean): boolean {
  return NEVER_PRINTED.includes(character) || (capitals && SMALL_MISPRINTS.includes(character));
}

/** What a change of one character costs, in natural logarithms of its odds. */
export const SUBSTITUTION = 4.5;
/** What reading a character that was certainly misprinted costs: any of its readings may be meant. */
const MISPRINT = 0.7;
/** A small l is an L the less likely. */
const SMALL_L = 3;
const IMPOSSIBLE = Number.POSITIVE_INFINITY;

/**
 * The cost of reading `seen` as `meant`. In a page of capitals a small `l` or `o`, and everywhere a
 * `|` or `!`, is a misprint in itself.
 */
export function costOfReading(seen: string, meant: string, capitals: boolean): number {
  const misprint = isMisprint(seen, capitals);
  if (seen.toUpperCase() === meant) {
    if (!misprint) return 0;
    return seen === 'l' ? SMALL_L : MISPRINT;
  }
  if (shapeOf(seen) !== shapeOf(meant)) return IMPOSSIBLE;
  return misprint ? MISPRINT : SUBSTITUTION;
}

/** The cost of reading a whole word as another of the same length. */
export function costOfWord(seen: string, meant: string, capitals: boolean): number {
  let cost = 0;
  for (let at = 0; at < seen.length; at++) cost += costOfReading(seen[at], meant[at], capitals);
  return cost;
}

/** Quotes of other type faces: outside and inside strings they are quotes. */
export const OTHER_QUOTES = '“”„‟″«»＂';

/** Single quotes and accents, two of which stand for a quote where a keyboard had none. */
export const SINGLE_QUOTES = "'’‘‚‛′`´";

/** Signs of other type faces, outside strings: what the machine has for them. */
export const OTHER_SIGNS: ReadonlyMap<string, string> = new Map([
  ...[...OTHER_QUOTES].map((sign): [string, string] => [sign, '"']),
  ...[...'–—−‐‑‒―'].map((sign): [string, string] => [sign, '-']),
  ['×', '*'],
  ['·', '*'],
  ['÷', '/'],
  ['≤', '<='],
  ['≥', '>='],
  ['≠', '<>'],
  ['⩽', '<='],
  ['⩾', '>='],
  ['ﬁ', 'FI'],
  ['ﬂ', 'FL'],
  ['ﬀ', 'FF'],
  ['ﬃ', 'FFI'],
  ['ﬄ', 'FFL'],
  ['ﬆ', 'ST'],
  ['…', '...'],
]);
