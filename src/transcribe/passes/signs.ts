/**
 * Signs of other type faces, and what stands in strings and REM: dashes, ligatures, graphics that
 * are printed as descriptions. Nothing in a string or REM is changed without a note.
 */
import { ByteBuffer, readCodes } from '../../../grammar/text.js';
import type { Problem } from '../../../grammar/tree.js';
import type { Edit } from '../../listing/edits.js';
import { charactersText } from '../../listing/print.js';
import {
  codeOfUnicode,
  GRAPHIC_NAMES,
  isGraphic,
  KEYWORD_CODES,
} from '../../machine/characters.js';
import { KEYS } from '../../machine/keyboard.js';
import { CERTAINTY } from '../certainties.js';
import { type Found, found } from '../note.js';
import { Mapped } from '../page/mapped.js';
import { matchesOutside, textSpans } from '../page/text-spans.js';
import {
  digitsLike,
  LIKE_DIGITS,
  letterCount,
  OTHER_QUOTES,
  OTHER_SIGNS,
  SINGLE_QUOTES,
  shapeOf,
} from '../readings/look-alike.js';
import type { Pass } from '../work.js';

/** Stands where a character of a string cannot be read: an inverse question mark. */
export const MARK = '[~?]';

/** Replaces other type faces' signs throughout, and reads what is printed in strings. */
export const readAllSigns: Pass = (work) => {
  const words = wordsOfTexts(work.lines.map(({ body }) => body.text));
  for (const line of work.lines) {
    const { body, notes } = readSigns(line.body, words, work.sure);
    for (const note of notes) work.add(line, note);
    line.body = body;
  }
};

function readSigns(body: Mapped, words: ReadonlySet<string>, sure: number): Signs {
  const quotes = replaceQuotes(body);
  const { text } = quotes.body;
  const parts: Mapped[] = [];
  const notes = [...quotes.notes];
  for (const { start, end, isText } of textSpans(text)) {
    const part = quotes.body.slice(start, end);
    const isValue = /\bVAL\s*"$/i.test(text.slice(Math.max(0, start - 12), start));
    const signs = isText ? readText(part, { words, sure, isValue }) : readPlain(part);
    parts.push(signs.body);
    for (const note of signs.notes) notes.push(note);
  }
  return { body: Mapped.joined(parts), notes };
}

/** A text with its signs read, and what was found in it. */
interface Signs {
  readonly body: Mapped;
  readonly notes: readonly Found[];
}

/** What a sign is read as; a sign of another type face, unless it is said what it is. */
interface Sign extends Edit {
  readonly more?: Partial<Found>;
}

const FOREIGN = {
  kind: 'sign',
  certainty: CERTAINTY.sign,
  why: 'a sign of another type face',
} as const;

/** The text with those signs in place that are to be put, and a note of each. */
function put(body: Mapped, signs: readonly Sign[], isPut = (_: Found) => true): Signs {
  const notes = signs.map(({ start, end, text, more }) =>
    found(body, start, end, text, { ...FOREIGN, ...more }),
  );
  return { body: body.edited(signs.filter((_, index) => isPut(notes[index]))), notes };
}

const QUOTES = new RegExp(`[${OTHER_QUOTES}]`, 'g');
const DOUBLED = new RegExp(`[${SINGLE_QUOTES}]{2}`, 'g');

/** Curly quotes, and outside strings two single quotes for one. */
function replaceQuotes(body: Mapped): Signs {
  const quotes = (matches: readonly RegExpExecArray[], more: Partial<Found>): Sign[] =>
    matches.map(({ 0: { length }, index }) => ({
      ...{ start: index, end: index + length, text: '"', more },
    }));
  const isCurly = { certainty: CERTAINTY.quote, why: 'a curly quote' };
  const curly = put(body, quotes([...body.text.matchAll(QUOTES)], isCurly));
  const doubled = matchesOutside(curly.body.text, DOUBLED);
  // Where one opens a string and none closes it, it is something else.
  if (doubled.length === 0 || doubled.length % 2 === 1) return curly;
  const isDoubled = { certainty: CERTAINTY.doubledQuote, why: 'two single quotes for a quote' };
  const straight = put(curly.body, quotes(doubled, isDoubled));
  return { body: straight.body, notes: [...curly.notes, ...straight.notes] };
}

/** Comparisons that are printed as two signs with a space between them, or the wrong way round. */
const COMPARISON = /<\s+[=>]|>\s+=|=\s*[<>]|>\s*</g;

const THE_RIGHT_WAY: ReadonlyMap<string, string> = new Map([
  ['=<', '<='],
  ['=>', '>='],
  ['><', '<>'],
]);

/** Outside strings and REM. */
function readPlain(body: Mapped): Signs {
  const signs: Sign[] = [];
  for (const { 0: printed, index } of body.text.matchAll(COMPARISON)) {
    const plain = printed.replace(/\s/g, '');
    const text = THE_RIGHT_WAY.get(plain) ?? plain;
    const more = { certainty: CERTAINTY.comparison, why: `the comparison is ${text}` };
    signs.push({ start: index, end: index + printed.length, text, more });
  }
  for (let at = 0; at < body.length; at++) {
    const sign = body.text[at];
    const wide = sign >= '！' && sign <= '～' ? sign.normalize('NFKC') : undefined;
    const text = OTHER_SIGNS.get(sign) ?? wide;
    if (text !== undefined) signs.push({ start: at, end: at + 1, text });
  }
  signs.sort((a, b) => a.start - b.start);
  return put(body, signs);
}

const DESCRIPTION = /\[([^\]"]{1,40})\]|\{([^}"]{1,40})\}|\(([^()"]{1,40})\)|<([^<>"]{3,40})>/g;

interface Within {
  /** Words that the program has elsewhere, spelt with letters alone. */
  readonly words: ReadonlySet<string>;
  readonly sure: number;
  /** Is it a string that VAL reads? */
  readonly isValue: boolean;
}

type Replace = (from: number, to: number, meant: string, more: Partial<Found>) => void;
type Reader = (text: string, within: Within, replace: Replace) => void;

/** Inside a string or a REM: each reader sees what the one before it left. */
function readText(body: Mapped, within: Within): Signs {
  const notes: Found[] = [];
  let read = body;
  for (const reader of [readDescriptions, readCharacters, readWords, readNumbers]) {
    const signs: Sign[] = [];
    reader(read.text, within, (start, end, text, more) => signs.push({ start, end, text, more }));
    // What cannot be read is marked; what can be read, but not surely, stays as it is.
    const isPut = ({ kind, certainty }: Found) => certainty >= within.sure || kind === 'unreadable';
    const made = put(read, signs, isPut);
    for (const note of made.notes) notes.push(note);
    read = made.body;
  }
  return { body: read, notes };
}

const unreadable = (why: string, candidates: readonly string[] = []): Partial<Found> => ({
  kind: 'unreadable',
  certainty: CERTAINTY.open,
  candidates,
  why,
});

const readDescriptions: Reader = (text, _, replace) => {
  for (const match of text.matchAll(DESCRIPTION)) {
    const { 0: printed, index } = match;
    if (printed.startsWith('[') && isNotation(printed)) continue;
    const words = match.slice(1).find((group) => group !== undefined)!;
    const meant = describe(words) ?? (match[1] === undefined ? undefined : misprinted(words));
    const end = index + printed.length;
    if (meant !== undefined) {
      const certainty = /^[(<]/.test(printed) ? CERTAINTY.descriptionInText : CERTAINTY.description;
      replace(index, end, meant, { kind: 'graphic', certainty, why: 'a printed description' });
    } else if (/^[[{]/.test(printed)) {
      const why = 'a description of something that this tool does not know';
      replace(index, end, MARK, unreadable(why));
    }
  }
};

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

function isNotation(bracket: string): boolean {
  const problems: Problem[] = [];
  readCodes(bracket, 0, bracket.length, true, new ByteBuffer(), problems);
  return problems.length === 0;
}

/** Characters that the machine has not. */
const readCharacters: Reader = (text, _, replace) => {
  for (const { 0: character, index } of text.matchAll(/\[[^\][]*\]|[^[]/gu)) {
    if (character.startsWith('[') || character === '"' || codeOfUnicode(character) !== undefined)
      continue;
    const end = index + character.length;
    const meant = OTHER_SIGNS.get(character);
    if (meant !== undefined)
      replace(index, end, meant, { kind: 'text', certainty: CERTAINTY.signInText });
    else if (/\s/.test(character))
      replace(index, end, ' ', { kind: 'text', why: 'a space of another kind' });
    else if (character === '|')
      replace(index, end, MARK, unreadable('the machine has no such sign', ['I', '1']));
    else replace(index, end, MARK, unreadable('the machine has no such character'));
  }
};

/** Digits within words that the program spells with letters elsewhere. */
const readWords: Reader = (text, { words }, replace) => {
  for (const { 0: printed, index } of text.matchAll(/[A-Z0-9|]{3,}/gi)) {
    if (!/[0-9|]/.test(printed) || (printed.match(/[A-Z]/gi) ?? []).length < 2) continue;
    const meant = lettersOf(printed);
    if (meant === undefined) continue;
    const known = words.has(meant);
    if (!known && !/^[A-Z]+$/i.test(printed.replace(/[0-9|]/, ''))) continue;
    if (!known && printed.length < 4) continue;
    replace(index, index + printed.length, meant, {
      kind: 'text',
      certainty: known ? CERTAINTY.knownWord : CERTAINTY.mixedWord,
      why: known
        ? 'the program has this word elsewhere'
        : 'a digit stands among letters, inside a string or REM',
    });
  }
};

const LIKE_NUMBERS = new RegExp(`[${LIKE_DIGITS}]{2,}`, 'g');

/** Letters within numbers: those in a string that VAL reads are surely digits. */
const readNumbers: Reader = (text, { isValue }, replace) => {
  for (const { 0: printed, index } of text.matchAll(LIKE_NUMBERS)) {
    const digits = digitsLike(printed)!;
    const odd = letterCount(printed);
    if (odd === 0 || digits.length - odd < (isValue ? 1 : 2)) continue;
    const end = index + printed.length;
    if (/[A-Z0-9]/i.test((text[index - 1] ?? '') + (text[end] ?? ''))) continue;
    const whole = isValue && printed.length === text.length;
    replace(index, end, digits, {
      kind: 'text',
      certainty: whole ? CERTAINTY.knownWord : CERTAINTY.mixedWord,
      why: whole ? 'VAL reads a number' : 'a letter stands among digits, inside a string or REM',
    });
  }
};

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
  if (code === undefined || !isGraphic(code)) return undefined;
  return charactersText(Uint8Array.of(code), true);
}
