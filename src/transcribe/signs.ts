/**
 * Signs of other type faces, and what stands in strings and REM: dashes, ligatures, graphics that
 * are printed as descriptions. Nothing in a string or REM is changed without a note.
 */
import { endOfString } from '../../grammar/lexer.js';
import { ByteBuffer, readCodes } from '../../grammar/text.js';
import type { Problem } from '../../grammar/tree.js';
import { charactersText } from '../listing/print.js';
import { codeOfUnicode, GRAPHIC_NAMES, KEYWORD_CODES } from '../machine/characters.js';
import { KEYS } from '../machine/keyboard.js';
import { digitLike, OTHER_QUOTES, OTHER_SIGNS, shapeOf } from './look-alike.js';
import type { Mapped } from './mapped.js';
import type { Note } from './note.js';

/** Stands where a character of a string cannot be read: an inverse question mark. */
export const MARK = '[~?]';

type Found = Omit<Note, 'line' | 'made'>;

interface Span {
  readonly start: number;
  readonly end: number;
  readonly isText: boolean;
}

/** The parts of a statement: its strings' and REM's text, and what is neither. */
export function textSpans(text: string): Span[] {
  const spans: Span[] = [];
  let from = 0;
  const add = (start: number, end: number, isText: boolean): void => {
    if (end > start) spans.push({ start, end, isText });
  };
  for (let at = 0; at < text.length; ) {
    if (text[at] === '"') {
      const end = endOfString(text, at);
      add(from, at + 1, false);
      from = end < 0 ? text.length : end - 1;
      add(at + 1, from, true);
      at = end < 0 ? text.length : end;
    } else if (/[A-Za-z]/.test(text[at])) {
      const word = /^[A-Za-z][A-Za-z0-9]*\$?/.exec(text.slice(at))![0];
      at += word.length;
      if (!/^REM$/i.test(word)) continue;
      const start = at + (text[at] === ' ' ? 1 : 0);
      add(from, start, false);
      add(start, text.length, true);
      return spans;
    } else at++;
  }
  add(from, text.length, false);
  return spans;
}

/** Replaces other type faces' signs throughout, and reads what is printed in strings. */
export function readSigns(
  body: Mapped,
  words: ReadonlySet<string>,
  sure: number,
): { body: Mapped; notes: Found[] } {
  const notes: Found[] = [];
  let read = replaceQuotes(body, notes);
  // From the end, so that what is replaced does not move what is still to be read.
  for (const { start, end, isText } of textSpans(read.text).reverse()) {
    read = isText
      ? readText(read, start, end, words, sure, notes)
      : readPlain(read, start, end, notes);
  }
  return { body: read, notes };
}

function note(body: Mapped, start: number, end: number, to: string, more: Partial<Found>): Found {
  return {
    kind: 'sign',
    from: body.text.slice(start, end),
    start: body.sourceOf(start),
    end: body.sourceOf(end - 1) + 1,
    to,
    candidates: [to],
    certainty: 0.98,
    why: 'a sign of another type face',
    ...more,
  };
}

function replaceQuotes(body: Mapped, notes: Found[]): Mapped {
  let read = body;
  for (let at = body.length - 1; at >= 0; at--) {
    if (!OTHER_QUOTES.includes(body.text[at])) continue;
    notes.push(note(read, at, at + 1, '"', { certainty: 0.99, why: 'a curly quote' }));
    read = read.replace(at, at + 1, '"');
  }
  return read;
}

/** Outside strings and REM. */
function readPlain(body: Mapped, start: number, end: number, notes: Found[]): Mapped {
  let read = body;
  for (let at = end - 1; at >= start; at--) {
    const sign = read.text[at];
    const wide = sign >= '！' && sign <= '～' ? sign.normalize('NFKC') : undefined;
    const meant = OTHER_SIGNS.get(sign) ?? wide;
    if (meant === undefined) continue;
    notes.push(note(read, at, at + 1, meant, {}));
    read = read.replace(at, at + 1, meant);
  }
  return read;
}

const DESCRIPTION = /\[([^\]"]{1,40})\]|\{([^}"]{1,40})\}|\(([^()"]{1,40})\)|<([^<>"]{3,40})>/g;

/** Inside a string or a REM. */
function readText(
  body: Mapped,
  start: number,
  end: number,
  words: ReadonlySet<string>,
  sure: number,
  notes: Found[],
): Mapped {
  let read = body;
  let stop = end;
  const text = body.text.slice(start, end);
  const replace = (from: number, to: number, meant: string, more: Partial<Found>): void => {
    const found = note(read, from, to, meant, more);
    notes.push(found);
    // What cannot be read is marked; what can be read, but not surely, stays as it is.
    if (found.certainty < sure && found.kind !== 'unreadable') return;
    read = read.replace(from, to, meant);
    stop += meant.length - (to - from);
  };
  for (const match of [...text.matchAll(DESCRIPTION)].reverse()) {
    const at = start + match.index;
    if (match[0].startsWith('[') && isNotation(match[0])) continue;
    const words = match.slice(1).find((group) => group !== undefined)!;
    const meant = describe(words) ?? (match[1] === undefined ? undefined : misprinted(words));
    const why = 'a printed description';
    if (meant !== undefined) {
      const certainty = match[0].startsWith('(') || match[0].startsWith('<') ? 0.9 : 0.95;
      replace(at, at + match[0].length, meant, { kind: 'graphic', certainty, why });
    } else if (/^[[{]/.test(match[0])) {
      replace(at, at + match[0].length, MARK, {
        kind: 'unreadable',
        certainty: 0,
        candidates: [],
        why: 'a description of something that this tool does not know',
      });
    }
  }
  readCharacters(read, start, stop, replace);
  readWords(read, start, stop, words, replace);
  readNumbers(read, start, stop, replace);
  return read;
}

/** A form of our own notation in which a sign or a letter was misprinted: `[≤]`, `[LPR1NT]`. */
function misprinted(words: string): string | undefined {
  const plain = [...words].map((sign) => OTHER_SIGNS.get(sign) ?? sign).join('');
  if (isNotation(`[${plain}]`)) return `[${plain}]`;
  const shape = shapeOf(plain);
  const alike = [...KEYWORD_CODES.keys(), ...GRAPHIC_NAMES.keys()].filter(
    (word) => shapeOf(word) === shape,
  );
  return alike.length === 1 ? `[${alike[0]}]` : undefined;
}

type Replace = (from: number, to: number, meant: string, more: Partial<Found>) => void;

function isNotation(bracket: string): boolean {
  const problems: Problem[] = [];
  readCodes(bracket, 0, bracket.length, true, new ByteBuffer(), problems);
  return problems.length === 0;
}

/** Characters that the machine has not. */
function readCharacters(body: Mapped, start: number, end: number, replace: Replace): void {
  const spans = [...body.text.slice(start, end).matchAll(/\[[^\]]*\]|[^[]/gu)].reverse();
  for (const match of spans) {
    const [character] = match;
    const at = start + match.index;
    if (character.startsWith('[') || codeOfUnicode(character) !== undefined || character === '"')
      continue;
    const meant = OTHER_SIGNS.get(character);
    if (meant !== undefined)
      replace(at, at + character.length, meant, { kind: 'text', certainty: 0.95 });
    else if (character === '|') {
      replace(at, at + 1, MARK, {
        kind: 'unreadable',
        certainty: 0,
        candidates: ['I', '1'],
        why: 'the machine has no such sign',
      });
    } else if (/\s/.test(character)) {
      replace(at, at + character.length, ' ', { kind: 'text', why: 'a space of another kind' });
    } else {
      replace(at, at + character.length, MARK, {
        kind: 'unreadable',
        certainty: 0,
        candidates: [],
        why: 'the machine has no such character',
      });
    }
  }
}

/** Digits within words that the program spells with letters elsewhere. */
function readWords(
  body: Mapped,
  start: number,
  end: number,
  words: ReadonlySet<string>,
  replace: Replace,
): void {
  for (const match of [...body.text.slice(start, end).matchAll(/[A-Z0-9|]{3,}/gi)].reverse()) {
    const [printed] = match;
    if (!/[0-9|]/.test(printed) || (printed.match(/[A-Z]/gi) ?? []).length < 2) continue;
    const meant = lettersOf(printed);
    if (meant === undefined) continue;
    const at = start + match.index;
    const known = words.has(meant);
    if (!known && !/^[A-Z]+$/i.test(printed.replace(/[0-9|]/, ''))) continue;
    if (!known && printed.length < 4) continue;
    replace(at, at + printed.length, meant, {
      kind: 'text',
      certainty: known ? 0.95 : 0.6,
      why: known
        ? 'the program has this word elsewhere'
        : 'a digit stands among letters, inside a string or REM',
    });
  }
}

/** Letters within numbers: those in a string that VAL reads are surely digits. */
function readNumbers(body: Mapped, start: number, end: number, replace: Replace): void {
  const isValue = /\bVAL\s*"$/i.test(body.text.slice(0, start));
  const text = body.text.slice(start, end);
  for (const match of [...text.matchAll(/[0-9OoIl|SBZG]{2,}/g)].reverse()) {
    const [printed] = match;
    const digits = [...printed].map((character) => digitLike(character)).join('');
    const odd = [...printed].filter((character) => character < '0' || character > '9').length;
    if (odd === 0 || digits.length - odd < (isValue ? 1 : 2)) continue;
    const touches = /[A-Z0-9]/i;
    const at = start + match.index;
    const after = text[match.index + printed.length] ?? '';
    if (touches.test(text[match.index - 1] ?? '') || touches.test(after)) continue;
    const whole = isValue && printed.length === text.length;
    replace(at, at + printed.length, digits, {
      kind: 'text',
      certainty: whole ? 0.95 : 0.6,
      why: whole ? 'VAL reads a number' : 'a letter stands among digits, inside a string or REM',
    });
  }
}

/** The word with each digit as the letter that looks like it; undefined where one looks like none. */
function lettersOf(printed: string): string | undefined {
  let meant = '';
  for (const character of printed) {
    const letter = /[0-9|]/.test(character) ? shapeOf(character) : character.toUpperCase();
    if (letter < 'A' || letter > 'Z') return undefined;
    meant += letter;
  }
  return meant;
}

/** Words of the program's strings and REM that are spelt with letters alone. */
export function wordsOfTexts(bodies: readonly string[]): Set<string> {
  const words = new Set<string>();
  for (const body of bodies) {
    for (const { start, end, isText } of textSpans(body)) {
      if (!isText) continue;
      for (const [word] of body.slice(start, end).matchAll(/[A-Z]{3,}/gi)) {
        words.add(word.toUpperCase());
      }
    }
  }
  return words;
}

// ───────────────────────────────── printed descriptions ─────────────────────────────────

/** What a printed description such as `graphic 1`, `inverse S` or `8 spaces` stands for. */
export function describe(description: string): string | undefined {
  const text = description.trim().replace(/\s+/g, ' ').toUpperCase();
  const many = /^(\d{1,2}) ?(?:\*|X|OF|TIMES)? ?(.+)$/.exec(text);
  const single = describeOne(text);
  if (single !== undefined) return single;
  if (many === null) return undefined;
  const one = describeOne(many[2].replace(/(?<=[A-Z]{3})S$/, ''));
  return one?.repeat(Number(many[1]));
}

function describeOne(text: string): string | undefined {
  if (/^(?:SPACE|SPC|SP|BLANK)S?$/.test(text)) return ' ';
  if (/^(?:QUOTE|QUOTES|QUOTE IMAGE|DOUBLE QUOTE)$/.test(text)) return '""';
  if (/^POUND(?: SIGN)?$/.test(text)) return '£';
  if (
    /^(?:(?:SOLID|BLACK|FULL|INVERSE) (?:SQUARE|BLOCK|SPACE)|(?:INVERSE|INV) (?:SPACE|SPC|SP))$/.test(
      text,
    )
  )
    return '█';
  if (/^(?:GREY|GRAY)(?: SQUARE| BLOCK)?$/.test(text)) return '▒';
  const inverse = /^(?:INVERSE|INV|INVERTED|REVERSE|REVERSED|INVERSE VIDEO) (.+)$/.exec(text);
  if (inverse !== null && isNotation(`[~${inverse[1]}]`)) return `[~${inverse[1]}]`;
  const name = GRAPHIC_NAMES.get(text.toLowerCase());
  if (name !== undefined) return charactersText(Uint8Array.of(name), true);
  return describeKey(text) ?? (KEYWORD_CODES.has(text) ? `[${text}]` : undefined);
}

/** `GRAPHIC 1`, `GRAPHICS SHIFT A`, `SHIFT A IN GRAPHICS`, `GRAPHIC SHIFTED Q`, `SHIFT 5 GRAPHIC`. */
function describeKey(text: string): string | undefined {
  const shift = '(?:SHIFT|SHIFTED|SH)[ -]?';
  const graphic = '(?:GRAPHICS?|GRAPH|GR)';
  const front = new RegExp(`^${graphic}(?: MODE)?[ ,-]?(${shift})?([A-Z0-9])$`).exec(text);
  const back = new RegExp(`^(${shift})?([A-Z0-9]) (?:IN )?${graphic}(?: MODE)?$`).exec(text);
  const key = front?.[2] ?? back?.[2];
  if (key === undefined) return undefined;
  const code = KEYS.find(({ name }) => name === key)?.graphic;
  // Keys without a graphic give the inverse of a sign: those are described as inverse.
  if (code === undefined || (code > 10 && code < 128) || code > 138) return undefined;
  return charactersText(Uint8Array.of(code), true);
}
