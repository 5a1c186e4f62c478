/**
 * Does to a clean listing what paper, scanner and document do to it, by a seed: wraps its lines,
 * confuses characters, loses spaces, and puts captions and page breaks between the rows.
 */

export interface Damage {
  /** Share of the characters that can be confused which are; 0.005 is half in a hundred. */
  readonly confuse: number;
  /** Share of the spaces outside strings and REM that are lost. */
  readonly loseSpaces?: number;
  /** Columns at which lines are wrapped. */
  readonly wrap?: number;
  /** Captions, running headers and page numbers between the lines? */
  readonly pages?: boolean;
}

/** A small generator of numbers from a seed (mulberry32, public domain): from 0 to below 1. */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** What each character may be printed or scanned as. */
const CONFUSIONS: Record<string, readonly string[]> = {
  O: ['0', 'o'],
  0: ['O', 'o'],
  I: ['l', '1', '|'],
  1: ['l', 'I', '|'],
  S: ['5'],
  5: ['S'],
  B: ['8'],
  8: ['B'],
  Z: ['2'],
  2: ['Z'],
  G: ['6'],
  6: ['G'],
  E: ['F'],
  '"': ['“', '”'],
  '-': ['–', '—', '−'],
  '*': ['×'],
  '/': ['÷'],
  ',': ['.'],
  '<=': ['≤'],
  '>=': ['≥'],
  '<>': ['≠'],
  FI: ['ﬁ'],
  FL: ['ﬂ'],
};

/** E to F makes another name as well: it is a misreading of words, so only keywords have it. */
const KEYWORD_E = /\b(?:LET|PRINT|NEXT|THEN|STEP|RETURN|PEEK|POKE|PAUSE)\b/g;

/** A listing's lines damaged; the comments and directives of an editor are not printed. */
export function damage(listing: string, seed: number, how: Damage): string {
  const random = randomFrom(seed);
  const lines = listing.split('\n').filter((line) => /^\s*\d/.test(line));
  const rows: string[] = [];
  let sinceBreak = 0;
  let page = 12;
  if (how.pages)
    rows.push('THE LANTERN LOFT BENCH BOOK', '', 'Listing 4. A program for the bench.', '');
  for (const line of lines) {
    const printed = confuse(loseSpaces(line, how.loseSpaces ?? 0, random), how.confuse, random);
    rows.push(...wrap(printed, how.wrap));
    if (how.pages && ++sinceBreak > 12 && random() < 0.2) {
      rows.push('', `- ${page} -`, '', 'THE LANTERN LOFT BENCH BOOK', '');
      page++;
      sinceBreak = 0;
    }
  }
  if (how.pages) rows.push('', `Page ${page}`);
  return `${rows.join('\n')}\n`;
}

function loseSpaces(line: string, share: number, random: () => number): string {
  let inString = false;
  let kept = '';
  const rem = /^\s*\d+\s+REM\b/i.exec(line)?.[0].length ?? Number.POSITIVE_INFINITY;
  for (let at = 0; at < line.length; at++) {
    if (line[at] === '"') inString = !inString;
    if (line[at] === ' ' && !inString && at < rem && random() < share) continue;
    kept += line[at];
  }
  return kept;
}

function confuse(line: string, share: number, random: () => number): string {
  const keywordE = new Set<number>();
  for (const { 0: word, index } of line.matchAll(KEYWORD_E))
    keywordE.add(index + word.indexOf('E'));
  let printed = '';
  for (let at = 0; at < line.length; at++) {
    const pair = line.slice(at, at + 2);
    const seen = CONFUSIONS[pair] === undefined ? line[at] : pair;
    const as = CONFUSIONS[seen];
    const may = as !== undefined && (seen !== 'E' || keywordE.has(at));
    printed += may && random() < share ? as[Math.floor(random() * as.length)] : seen;
    at += seen.length - 1;
  }
  return printed;
}

/** Hard wraps, as screens and line printers make them; spaces at the edge are not printed. */
function wrap(line: string, width: number | undefined): string[] {
  if (width === undefined) return [line];
  const rows: string[] = [];
  const characters = [...line];
  for (let at = 0; at < characters.length; at += width) {
    rows.push(
      characters
        .slice(at, at + width)
        .join('')
        .trimEnd(),
    );
  }
  return rows.filter((row) => row !== '');
}
