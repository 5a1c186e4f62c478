/** Functions of other dialects, and values of the wrong kind. */
import type { Problem } from '../../../grammar/tree.js';
import { sliceText } from '../slices.js';
import { type Mistyped, noSuch, type Recogniser, type Remedy } from './mistyped.js';

const FUNCTIONS: Record<string, string> = {
  CHR: 'CHR$',
  STR: 'STR$',
  ASC: 'CODE',
  ASCII: 'CODE',
  ORD: 'CODE',
  SQRT: 'SQR',
  ATAN: 'ATN',
  ARCTAN: 'ATN',
  ARCSIN: 'ASN',
  ARCCOS: 'ACS',
  LOG: 'LN',
  INKEY: 'INKEY$',
  GET$: 'INKEY$',
  KEY$: 'INKEY$',
  INTEGER: 'INT',
  TRUNC: 'INT',
  FLOOR: 'INT',
};

/** Functions that are an expression of their one value. */
const WRITTEN: Record<string, readonly [before: string, after: string]> = {
  ROUND: ['INT (', '+.5)'],
  CEIL: ['-INT -(', ')'],
  LOG10: ['LN (', ')/LN 10'],
  LOG2: ['LN (', ')/LN 2'],
  CUBE: ['(', ')**3'],
  SQUARE: ['(', ')**2'],
  DEG: ['(', ')*180/PI'],
  RAD: ['(', ')*PI/180'],
};

const JOYSTICK = 'this machine has no joystick of its own: INKEY$ reads the keys';

/** Functions that nothing here is like, called with their brackets; without them they are good names. */
const CALLED: Record<string, string> = {
  EOF: 'this machine has no files',
  FRAC: 'what is left of X behind the point is X-INT X',
  JOY: JOYSTICK,
  STICK: JOYSTICK,
  PADDLE: JOYSTICK,
};

/** Functions that are one over another. */
const OVER: Record<string, string> = {
  COT: 'TAN',
  COTAN: 'TAN',
  SEC: 'COS',
  CSC: 'SIN',
  COSEC: 'SIN',
};

const MINDS: Record<string, string> = {
  CODE: 'the codes are the machine’s own',
  LN: 'LN is the natural logarithm; LN X/LN 10 is the one to base 10',
};

/** `CHR(65)`, `ASC "A"`, `MID$(A$,2,3)`, `RND(6)`. */
export const otherFunctions: Recogniser = (line, at) => {
  for (const index of [at, at - 1, at - 2]) {
    const word = line.word(index);
    const slice = sliceOf(line, index);
    if (slice !== undefined) return slice;
    const repeated = repeatedText(line, index);
    if (repeated !== undefined) return repeated;
    const hexadecimal = hexadecimalOf(line, index);
    if (hexadecimal !== undefined) return hexadecimal;
    const random = randomOf(line, index);
    if (random !== undefined) return random;
    if (Object.hasOwn(OVER, word) && index > 0 && index + 1 < line.length) {
      const over = `1/${OVER[word]}`;
      const close = line.word(index + 1) === '(' ? line.closing(index + 1) + 1 : index + 2;
      const lines = [line.putValue(index, close, `${over} ${line.text(index + 1, close)}`)];
      return { ...noSuch(word, `${over} is it`), span: line.span(index), lines };
    }
    if (Object.hasOwn(WRITTEN, word) && index > 0 && line.word(index + 1) === '(') {
      const close = line.closing(index + 1);
      if (close < 0 || line.parts(index + 2, close).length > 1) return undefined;
      const [head, tail] = WRITTEN[word];
      const value = line.text(index + 2, close);
      const isShort = head.endsWith('(') && /^\w+$/.test(value) && tail.startsWith(')');
      const text = isShort ? `${head.slice(0, -1)}${value}${tail.slice(1)}` : head + value + tail;
      const lines = [line.putValue(index, close + 1, text)];
      return { ...noSuch(word), span: line.span(index), lines };
    }
    if (Object.hasOwn(CALLED, word) && index > 1 && line.word(index + 1) === '(') {
      return { ...noSuch(word), span: line.span(index), lines: [], mind: CALLED[word] };
    }
    if (!Object.hasOwn(FUNCTIONS, word) || index < 1) continue;
    const is = FUNCTIONS[word];
    const [space, end] = [
      /\w/.test(line.word(index + 1)[0] ?? '') ? '' : ' ',
      line.word(index + 1) === '(' && line.word(index + 2) === ')' ? index + 3 : index + 1,
    ];
    return {
      ...noSuch(word, `${is} is its own`),
      span: line.span(index),
      lines: [
        line.put(index, end, is + (is === 'INKEY$' ? '' : space)).replace(`${is}  `, `${is} `),
      ],
      mind: MINDS[is],
    };
  }
  return undefined;
};

/** MID$, LEFT$ and RIGHT$ as slices. */
function sliceOf(line: Mistyped, at: number): Remedy | undefined {
  const word = line.word(at);
  const kind = /^(MID|LEFT|RIGHT|SUBSTR)\$?$/.exec(word)?.[1];
  if (kind === undefined || line.word(at + 1) !== '(') return undefined;
  const close = line.closing(at + 1);
  if (close < 0) return undefined;
  const slice = sliceText(kind, line.parts(at + 2, close));
  if (slice === undefined) return undefined;
  const lines = [line.put(at, close + 1, slice)];
  return { ...noSuch(word, 'a slice does it'), span: line.span(at), lines };
}

/** The longest text that is written out in place of what repeats a character. */
const LONGEST_WRITTEN = 32;

/** `SPACE$(5)`, `STRING$(5,"*")`. */
function repeatedText(line: Mistyped, at: number): Remedy | undefined {
  const word = line.word(at);
  if (!/^(?:SPACE|STRING|REPT|REPEAT)\$$/.test(word) || line.word(at + 1) !== '(') return undefined;
  const close = line.closing(at + 1);
  if (close < 0) return undefined;
  const parts = line.parts(at + 2, close);
  const count = parts.find(isWhole);
  const text = word === 'SPACE$' ? ' ' : parts.find((part) => /^"[^"]"$/.test(part))?.[1];
  if (count === undefined || text === undefined || Number(count) > LONGEST_WRITTEN)
    return undefined;
  const lines = [line.put(at, close + 1, `"${text.repeat(Number(count))}"`)];
  return { ...noSuch(word, 'write the string'), span: line.span(at), lines };
}

/** `HEX "FF"`, `HEX("FF")`. */
function hexadecimalOf(line: Mistyped, at: number): Remedy | undefined {
  if (!/^(?:HEX|HEX\$|DEC|VAL)$/.test(line.word(at)) || at < 1) return undefined;
  const isBracketed = line.word(at + 1) === '(';
  const place = isBracketed ? at + 2 : at + 1;
  const prefix = line.word(at) === 'VAL' ? '&H' : '(?:&H)?';
  const digits = new RegExp(`^"${prefix}([\\dA-F]{1,8})"$`, 'i').exec(line.text(place, place + 1));
  if (digits === null) return undefined;
  const end = isBracketed ? line.closing(at + 1) + 1 : place + 1;
  const value = String(Number.parseInt(digits[1], 16));
  const lines = [line.put(at, end, value)];
  return {
    message: `this machine has no hexadecimal numbers: ${digits[1].toUpperCase()} is ${value}`,
    span: line.span(at, end),
    lines,
  };
}

const isWhole = (text: string): boolean => /^\d+$/.test(text);

/** RND(1) of a dialect that gives 0 to 1, RND(6) of one that gives 1 to 6. */
function randomOf(line: Mistyped, at: number): Remedy | undefined {
  if (!/^(?:RND|RAND|RANDOM)$/.test(line.word(at)) || at < 1) return undefined;
  const bracket = line.word(at + 1) === '(';
  const close = bracket ? line.closing(at + 1) : at + 1;
  if (close < 0 || (!bracket && !line.isNumber(at + 1))) return undefined;
  const value = bracket ? line.text(at + 2, close) : line.text(at + 1, at + 2);
  const span = line.span(at, close + 1);
  if (line.word(at) !== 'RND' && !bracket) return undefined;
  const message =
    line.word(at) !== 'RND'
      ? 'RND gives the random numbers of this machine, from 0 up to, not including, 1'
      : 'RND takes no value: it gives a number from 0 up to, not including, 1';
  if (['', '0', '1', '-1'].includes(value))
    return { message, span, lines: [line.put(at, close + 1, 'RND')] };
  const range = bracket ? line.parts(at + 2, close) : [];
  const [low, high] = range.map(Number);
  if (range.length === 2 && Number.isInteger(low) && Number.isInteger(high)) {
    const lines = [
      line.put(at, close + 1, `INT (RND*${high - low + 1})${low === 0 ? '' : `+${low}`}`),
    ];
    return { message, span, lines, mind: `that gives ${low} to ${high}` };
  }
  const most = /^[\w.]+$/.test(value) ? value : `(${value})`;
  const lines = [line.putValue(at, close + 1, `INT (RND*${most})+1`, 'sum')];
  return { message, span, lines, mind: `that gives 1 to ${value}` };
}

/** PI(), and other values with brackets behind them. */
export const emptyBrackets: Recogniser = (line, at) => {
  if (line.word(at + 1) !== '(' || line.word(at + 2) !== ')') return undefined;
  if (line.tokens[at]?.payload?.kind !== 'constant') return undefined;
  const message = `${line.word(at)} takes no brackets`;
  return { message, span: line.span(at, at + 3), lines: [line.put(at + 1, at + 3, '')] };
};

/** A value of the wrong kind, from one token up to another, and what offers to put it right. */
interface WrongKind {
  readonly line: Mistyped;
  readonly from: number;
  readonly to: number;
  readonly text: string;
  /** Is it one token? */
  readonly single: boolean;
  /** The word before it. */
  readonly before: string;
  readonly offer: (lines: readonly string[], mind?: string) => Remedy;
  /** Offers other words in its place. */
  readonly put: (words: string, mind?: string) => Remedy;
}

/** What may be meant by a value of the wrong kind; the likeliest that reads is taken. */
export function kindRemedies(
  line: Mistyped,
  { start, end, message, why }: Problem,
): readonly Remedy[] {
  const from = line.tokens.findIndex(({ startOffset }) => startOffset >= start);
  const to = line.tokens.findLastIndex((token) => token.end <= end) + 1;
  if (from < 1 || to <= from) return [];
  const offer: WrongKind['offer'] = (lines, mind) => ({
    ...{ message, why, lines, mind },
    span: { start, end },
  });
  const wrong: WrongKind = {
    ...{ line, from, to, offer },
    text: line.text(from, to),
    single: to === from + 1,
    before: line.word(from - 1),
    put: (words, mind) => offer([line.put(from, to, words)], mind),
  };
  const offers = message.startsWith('a number') ? forNumber(wrong) : forString(wrong);
  return offers.filter((one) => one !== false);
}

/** A string where a number belongs. */
function forString(wrong: WrongKind): readonly (Remedy | false)[] {
  const { line, from, to, text, single, before, offer, put } = wrong;
  const command = line.word(0);
  const own = line.word(line.commandOf(from));
  const isText = line.isText(from);
  const left = line.word(from - 2);
  const isPart = before === 'AND' || /^[-*/]$/.test(line.word(from + 1)) || /^[-*/]$/.test(before);
  const meets = isText || line.isString(to + 1) || line.isString(from - 2);
  const isCompared = /^(?:AND|OR)$/.test(before) && /^(?:=|<>)$/.test(line.word(from - 3));
  const isOfString = /^(?:LEN|VAL|CODE)$/.test(line.word(from - 3)) && line.isString(from - 2);
  const isSummed = own === 'LET' && line.isValue(from - 2) && line.word(from - 3) === '=';
  const isSet = before === '=' && line.word(from - 3) === 'LET' && line.isName(from - 2);
  const isCondition = before === '=' && line.isName(from - 2) && line.words.includes('THEN');
  const asString = () => offer([line.put(from - 2, from - 1, `${left[0]}$`)]);
  return [
    before === 'AND' &&
      own === 'LET' &&
      line.isString(from - 2) &&
      line.word(from - 3) === '=' &&
      offer([line.put(from - 1, from, '+').replace(/ *\+ */, '+')]),
    line.word(to) === 'OR' &&
      own === 'LET' &&
      line.isString(to + 1) &&
      offer([], 'LET takes one of them: an IF chooses between two strings'),
    before === 'PAUSE' &&
      isText &&
      offer([`PRINT ${text}`, 'PAUSE 40000'], 'from 32768 up PAUSE waits for a key'),
    isCompared && line.isString(from - 4) && put(`${line.text(from - 4, from - 2)}${text}`),
    command === 'RUN' && offer([`LOAD ${text}`]),
    isText &&
      left !== '' &&
      before === ',' &&
      line.word(from - 3) === 'AT' && {
        ...put(`0;${text}`, 'AT takes a row, from 0, and a column'),
        message: 'the column of AT is missing',
      },
    command === 'LLIST' && offer([`LPRINT ${text}`]),
    /^GO ?(?:TO|SUB)$/.test(before) &&
      isText &&
      !/^"\d+"$/.test(text) &&
      offer([], 'lines have numbers and no names: write the number of the line'),
    before === '+' && isOfString && offer([line.put(from - 2, to, `(${line.text(from - 2, to)})`)]),
    before === '+' && /^L?PRINT$/.test(own) && offer([line.put(from - 1, from, ';')]),
    before === '+' &&
      isSummed &&
      offer([line.put(from - 2, from - 1, `STR$ ${line.text(from - 2, from - 1)}`)]),
    command === 'POKE' &&
      from === 3 &&
      line.isNumber(1) &&
      /^"[^"]{2,8}"$/.test(text) &&
      offer(
        [...text.slice(1, -1)].map(
          (character, index) => `POKE ${Number(line.word(1)) + index},CODE "${character}"`,
        ),
      ),
    command === 'POKE' &&
      single &&
      from > 1 &&
      line.isName(from) &&
      put(`CODE ${text}`, `or VAL ${text} where the string spells a number`),
    /^(?:STR|CHR)\$$/.test(before) && single && offer([line.put(from - 1, to, text)]),
    isSet && asString(),
    /^"\d+"$/.test(text) && put(text.slice(1, -1)),
    isCondition && left === 'INKEY' && offer([line.put(from - 2, from - 1, 'INKEY$')]),
    isCondition && asString(),
    command === 'POKE' && /^"[^"]"$/.test(text) && put(`CODE ${text}`),
    single && line.word(from + 1) === 'THEN' && put(`${text}<>""`),
    before === 'USR' &&
      isText &&
      offer([], 'USR takes an address: this machine has no characters of one’s own'),
    isPart &&
      before !== 'AND' &&
      single &&
      meets &&
      offer([], 'strings are joined by + and cut by slices, as in A$(2 TO 4), and nothing else'),
    single && !isPart && !isText && put(`VAL ${text}`, 'the string has to spell a number'),
  ];
}

/** A number where a string belongs. */
function forNumber(wrong: WrongKind): readonly (Remedy | false)[] {
  const { line, from, to, text, single, before, offer, put } = wrong;
  const isName = single && line.isName(from);
  const isNumber = single && line.isNumber(from);
  const string = `${line.word(from)[0]}$`;
  // (A) where A is meant.
  const bare = /^\(\s*([A-Z])\w*\s*\)$/i.exec(text)?.[1];
  const turned = 'CODE takes a character and gives its number; CHR$ the other way round';
  const isSetToCode = line.word(from - 2) === '=' && line.word(from - 4) === 'LET';
  return [
    /^(?:INKEY|GET)$/i.test(text) && put('INKEY$'),
    before === 'CODE' && isNumber && offer([line.put(from - 1, to, `CHR$ ${text}`)], turned),
    before === 'CODE' &&
      isNumber &&
      isSetToCode &&
      offer([line.put(from - 3, to, `${line.word(from - 3)[0]}$=CHR$ ${text}`)], turned),
    before === 'VAL' &&
      (bare !== undefined || /^\(\d[\d.]*\)$/.test(text)) &&
      offer([line.put(from - 1, to, text.slice(1, -1))]),
    bare !== undefined && /^(?:LEN|CODE)$/.test(before) && put(`(${bare.toUpperCase()}$)`),
    before === 'VAL' && single && offer([line.put(from - 1, to, text)]),
    /^(?:SAVE|LOAD)$/.test(before) && isName && put(`"${text}"`),
    before === '+' && /^L?PRINT$/.test(line.word(0)) && offer([line.put(from - 1, from, ';')]),
    before === '=' && isNumber && put(`"${text}"`),
    before === 'LEN' && isName && put(string),
    // LET A$=A cannot mean A$ itself; a word of letters is likelier a text than a name.
    isName &&
      before === '=' &&
      line.word(from - 2) === string &&
      put(`STR$ ${text}`, `or "${text}" for these letters`),
    isName &&
      text.length > 1 &&
      /^(?:=|<>|[<>])$/.test(before) &&
      put(
        `"${text}"`,
        `${string} for a string of that name, or STR$ ${text} for the characters of a number`,
      ),
    isName &&
      text.length === 1 &&
      /^(?:=|<>)$/.test(before) &&
      line.word(from - 2) === 'INKEY$' &&
      put(`"${text.toUpperCase()}"`, `or ${string} for a string of that name`),
    isName && put(string, `or STR$ ${text} for the characters of the number ${text}`),
    single && put(`STR$ ${text}`),
  ];
}
