/**
 * Characters that print and scanning confuse. Common practice, no source: the pairs are those that
 * the letter shapes of line printers, screens and books share.
 */

/** Every character to the one that stands for all that look like it. */
const SHAPES = new Map<string, string>();
for (const alike of ['O0o', 'I1l|!', 'S5s', 'B8', 'Z2z', 'G6']) {
  for (const character of alike) SHAPES.set(character, alike[0]);
}

const DIGIT_OF_SHAPE = new Map([...'O0I1S5B8Z2G6'.matchAll(/(\w)(\d)/g)].map(([, a, b]) => [a, b]));

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

/** What a change of one character costs, in natural logarithms of its odds. */
export const SUBSTITUTION = 4.5;
/** What reading a character that was certainly misprinted costs: any of its readings may be meant. */
const MISPRINT = 0.7;
const IMPOSSIBLE = Number.POSITIVE_INFINITY;

/**
 * The cost of reading `seen` as `meant`. In a page of capitals a small `l` or `o`, and everywhere a
 * `|` or `!`, is a misprint in itself.
 */
export function costOfReading(seen: string, meant: string, capitals: boolean): number {
  const misprint = seen === '|' || seen === '!' || (capitals && (seen === 'l' || seen === 'o'));
  if (seen.toUpperCase() === meant) {
    if (!misprint) return 0;
    return seen === 'l' ? 3 : MISPRINT;
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

/** Signs of other type faces, outside strings: what the machine has for them. */
export const OTHER_SIGNS: ReadonlyMap<string, string> = new Map([
  ...[...'“”„‟″«»＂'].map((sign): [string, string] => [sign, '"']),
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

/** Of those, the quotes: outside and inside strings they are quotes. */
export const OTHER_QUOTES = '“”„‟″«»＂';
