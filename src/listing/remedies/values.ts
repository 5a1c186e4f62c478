/** Functions of other dialects, and values of the wrong kind. */
import type { Problem } from '../../../grammar/tree.js';
import type { Mistyped, Recogniser, Remedy } from './mistyped.js';

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
    const random = randomOf(line, index);
    if (random !== undefined) return random;
    if (!Object.hasOwn(FUNCTIONS, word) || index < 1) continue;
    const is = FUNCTIONS[word];
    const [space, end] = [
      /\w/.test(line.word(index + 1)[0] ?? '') ? '' : ' ',
      line.word(index + 1) === '(' && line.word(index + 2) === ')' ? index + 3 : index + 1,
    ];
    return {
      message: `this machine has no ${word}: ${is} is its own`,
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
  if (!['MID$', 'LEFT$', 'RIGHT$'].includes(word) || line.word(at + 1) !== '(') return undefined;
  const close = line.closing(at + 1);
  if (close < 0) return undefined;
  const [text, first, length] = line.parts(at + 2, close);
  if (text === undefined || first === undefined) return undefined;
  const string = /^(?:[A-Z]\$|"[^"]*")$/i.test(text) ? text : `(${text})`;
  const message = `this machine has no ${word}: a slice does it`;
  const span = line.span(at);
  const put = (slice: string): readonly string[] => [
    line.put(at, close + 1, `${string}(${slice})`),
  ];
  if (word === 'LEFT$') return { message, span, lines: put(` TO ${first}`) };
  if (word === 'RIGHT$') return { message, span, lines: put(`LEN ${string}-${less(first)} TO `) };
  if (length === undefined) return { message, span, lines: put(`${first} TO `) };
  return { message, span, lines: put(`${first} TO ${lastOf(first, length)}`) };
}

const isWhole = (text: string): boolean => /^\d+$/.test(text);
const less = (count: string): string =>
  isWhole(count) ? (Number(count) === 1 ? '0' : String(Number(count) - 1)) : `(${count})+1`;
function lastOf(first: string, length: string): string {
  if (isWhole(first) && isWhole(length)) return String(Number(first) + Number(length) - 1);
  if (isWhole(length)) return length === '1' ? first : `${first}+${Number(length) - 1}`;
  return `${first}+${length}-1`;
}

/** RND(1) of a dialect that gives 0 to 1, RND(6) of one that gives 1 to 6. */
function randomOf(line: Mistyped, at: number): Remedy | undefined {
  if (line.word(at) !== 'RND' || at < 1) return undefined;
  const bracket = line.word(at + 1) === '(';
  const close = bracket ? line.closing(at + 1) : at + 1;
  if (close < 0 || (!bracket && !line.isNumber(at + 1))) return undefined;
  const value = bracket ? line.text(at + 2, close) : line.text(at + 1, at + 2);
  const span = line.span(at, close + 1);
  const message = 'RND takes no value: it gives a number from 0 up to, not including, 1';
  if (['', '0', '1', '-1'].includes(value))
    return { message, span, lines: [line.put(at, close + 1, 'RND')] };
  const most = /^[\w.]+$/.test(value) ? value : `(${value})`;
  const text = `INT (RND*${most})+1`;
  const alone =
    /^(?:=|PRINT|LPRINT|,|;|\(|TO|[<>]|<=|>=|<>)$/.test(line.word(at - 1)) &&
    !/^[*/]$/.test(line.word(close + 1));
  const lines = [line.put(at, close + 1, alone ? text : `(${text})`)];
  return { message, span, lines, mind: `that gives 1 to ${value}` };
}

/** PI(), and other values with brackets behind them. */
export const emptyBrackets: Recogniser = (line, at) => {
  if (line.word(at + 1) !== '(' || line.word(at + 2) !== ')') return undefined;
  if (line.tokens[at]?.payload?.kind !== 'constant') return undefined;
  const message = `${line.word(at)} takes no brackets`;
  return { message, span: line.span(at, at + 3), lines: [line.put(at + 1, at + 3, '')] };
};

/** What may be meant by a value of the wrong kind; the likeliest that reads is taken. */
export function kindRemedies(
  line: Mistyped,
  { start, end, message, why }: Problem,
): readonly Remedy[] {
  const from = line.tokens.findIndex(({ startOffset }) => startOffset >= start);
  const to = line.tokens.findLastIndex((token) => token.end <= end) + 1;
  if (from < 1 || to <= from) return [];
  const text = line.text(from, to);
  const single = to === from + 1;
  const before = line.word(from - 1);
  const put = (words: string): string => line.put(from, to, words);
  const remedies: Remedy[] = [];
  const offer = (lines: readonly string[], mind?: string): void => {
    remedies.push({ message, why, lines, mind, span: { start, end } });
  };
  const isString = !message.startsWith('a number');
  const setsName =
    line.word(from - 1) === '=' && line.word(from - 3) === 'LET' && line.isName(from - 2);
  if (isString) {
    if ((before === 'STR$' || before === 'CHR$') && single) offer([line.put(from - 1, to, text)]);
    if (setsName) offer([line.put(from - 2, from - 1, `${line.word(from - 2)[0]}$`)]);
    if (/^"\d+"$/.test(text)) offer([put(text.slice(1, -1))]);
    if (before === '=' && line.isName(from - 2) && line.words.includes('THEN')) {
      if (line.word(from - 2) === 'INKEY') offer([line.put(from - 2, from - 1, 'INKEY$')]);
      offer([line.put(from - 2, from - 1, `${line.word(from - 2)[0]}$`)]);
    }
    if (line.word(0) === 'POKE' && /^"[^"]"$/.test(text)) offer([put(`CODE ${text}`)]);
    if (single && line.word(from + 1) === 'THEN') offer([put(`${text}<>""`)]);
    const isPart =
      before === 'AND' || /^[-*/]$/.test(line.word(from + 1)) || /^[-*/]$/.test(before);
    if (single && !isPart && !line.isText(from))
      offer([put(`VAL ${text}`)], 'the string has to spell a number');
    return remedies;
  }
  if (text.toUpperCase() === 'INKEY') offer([put('INKEY$')]);
  if (before === 'CODE' && single && line.isNumber(from))
    offer(
      [line.put(from - 1, to, `CHR$ ${text}`)],
      'CODE takes a character and gives its number; CHR$ the other way round',
    );
  if (before === 'VAL' && single) offer([line.put(from - 1, to, text)]);
  if ((before === 'SAVE' || before === 'LOAD') && single && line.isName(from))
    offer([put(`"${text}"`)]);
  if (before === '+' && (line.word(0) === 'PRINT' || line.word(0) === 'LPRINT'))
    offer([line.put(from - 1, from, ';')]);
  if (before === '=' && line.isNumber(from) && single) offer([put(`"${text}"`)]);
  if (before === 'LEN' && single && line.isName(from)) offer([put(`${line.word(from)[0]}$`)]);
  if (single && line.isName(from))
    offer(
      [put(`${line.word(from)[0]}$`)],
      `or STR$ ${text} for the characters of the number ${text}`,
    );
  if (single) offer([put(`STR$ ${text}`)]);
  return remedies;
}
