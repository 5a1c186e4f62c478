/** Signs of other dialects and of typesetters, and operators whose two signs are apart or turned. */
import { numberText } from '../../machine/arithmetic/digits.js';
import { roundNumber } from '../../machine/numbers.js';
import { type Mistyped, noSuch, type Recogniser, type Remedy } from './mistyped.js';

const OPERATORS: Record<string, string> = {
  '<>': '<>',
  '><': '<>',
  '=<': '<=',
  '<=': '<=',
  '=>': '>=',
  '>=': '>=',
  '==': '=',
  '!=': '<>',
  '~=': '<>',
  '^=': '<>',
  '/=': '<>',
  '===': '=',
  '!==': '<>',
};

/** `< >`, `=<`, `==`, `!=`. */
export const twoSigns: Recogniser = (line, at) => {
  for (const from of [at - 1, at, at - 2]) {
    for (const size of [3, 2]) {
      if (from < 1 || from + size > line.length) continue;
      const signs = line.words.slice(from, from + size).join('');
      const operator = OPERATORS[signs];
      if (operator === undefined) continue;
      const text = line.text(from, from + size);
      const message =
        signs === operator
          ? `the signs of ${operator} stand apart`
          : `${text} is no operator of this machine: ${operator} is`;
      const span = line.span(from, from + size);
      return { message, span, lines: [line.put(from, from + size, operator)] };
    }
  }
  return undefined;
};

const SIGNS: Record<string, { readonly is: string; readonly says?: string }> = {
  '^': { is: '**', says: '"to the power of"' },
  '↑': { is: '**', says: '"to the power of"' },
  '×': { is: '*', says: '"times"' },
  '÷': { is: '/', says: '"divided by"' },
  '−': { is: '-' },
  '–': { is: '-' },
  '—': { is: '-' },
  '≤': { is: '<=' },
  '≥': { is: '>=' },
  '≠': { is: '<>' },
};

export const otherSigns: Recogniser = (line, at) => {
  const sign = line.word(at);
  if (!Object.hasOwn(SIGNS, sign)) return undefined;
  const { is, says } = SIGNS[sign];
  const lines = [
    line.words.reduceRight((text, word, index) => {
      if (!Object.hasOwn(SIGNS, word)) return text;
      const first = line.tokens[0].startOffset;
      const { startOffset, end } = line.tokens[index];
      return text.slice(0, startOffset - first) + SIGNS[word].is + text.slice(end - first);
    }, line.text(0)),
  ];
  return { message: `this machine writes ${is} for ${says ?? sign}`, lines };
};

/** `&` joins strings in one dialect and means AND in others; two of them, and `||`, in a third. */
export const ampersand: Recogniser = (line, at) => {
  const sign = line.word(at);
  if (sign !== '&' && sign !== '|') return undefined;
  const to = line.word(at + 1) === sign ? at + 2 : at + 1;
  const word = ` ${sign === '|' ? 'OR' : 'AND'} `;
  const spaced = line
    .put(at, to, word)
    .replace(/ {2,}(AND|OR) {2,}| {2,}(AND|OR) | (AND|OR) {2,}/, (m) => ` ${m.trim()} `);
  const inCondition = line.words.indexOf('THEN') > at;
  const joins = !inCondition && sign === '&' && line.isString(at - 1) && line.isString(to);
  if (joins) return { message: 'strings are joined by +', lines: [line.put(at, to, '+')] };
  const shows = !inCondition && sign === '&' && /^L?PRINT$/.test(line.word(line.commandOf(at)));
  if (shows && (line.isString(at - 1) || line.isString(to))) {
    return { message: 'PRINT joins what it shows by ;', lines: [line.put(at, to, ';')] };
  }
  return { message: `this machine writes${word}for ${line.text(at, to)}`, lines: [spaced] };
};

/** `#` for "not equal"; `PRINT #1,A` and `INPUT #1,A` for files and channels. */
export const hash: Recogniser = (line, at) => {
  if (line.word(at) !== '#') return undefined;
  const command = line.word(at - 1);
  if (['SAVE', 'LOAD'].includes(command)) {
    const mind = `write the name of the program, as in ${command} "OAK"`;
    return { message: 'this machine has no files and no channels', lines: [], mind };
  }
  if (/^(?:GOTO|GOSUB|GO TO|GO SUB|RUN|LIST|LLIST)$/.test(command)) {
    const lines = [line.put(at, at + 1, '')];
    return { message: `${command} takes the number alone`, lines };
  }
  if (['PRINT', 'LPRINT', 'INPUT'].includes(command)) {
    const separator = line.words.findIndex((word, index) => index > at && /^[,;]$/.test(word));
    const message = 'this machine has no files and no channels';
    const mind = command !== 'PRINT' ? undefined : 'LPRINT in place of PRINT goes to the printer';
    if (separator < 0) return { message, lines: [command], mind };
    return { message, lines: [line.put(at, separator + 1, '')], mind };
  }
  if (line.isName(at - 1) && line.word(at + 1) === '=') {
    return { message: 'this machine has one kind of number', lines: [line.put(at, at + 1, '')] };
  }
  if (!line.isValue(at - 1) && line.word(at - 1) !== ')') return undefined;
  return { message: '"not equal" is <> on this machine', lines: [line.put(at, at + 1, '<>')] };
};

/** `A%`, `A!`: kinds of numbers that other machines have. `5%2` is a remainder. */
export const kindOfNumber: Recogniser = (line, at) => {
  const sign = line.word(at);
  if (sign !== '%' && sign !== '!') return undefined;
  if (sign === '%' && line.isValue(at - 1) && line.isValue(at + 1) && !line.isString(at - 1)) {
    return remainder(line, at);
  }
  if (!line.isName(at - 1) && !(sign === '!' && line.isNumber(at - 1))) return undefined;
  const lines = [line.put(at, at + 1, '')];
  const where = line.isName(at - 1) ? `its names have no ${sign}` : `no ${sign} stands behind it`;
  return { message: `this machine has one kind of number: ${where}`, lines };
};

/** `B<<2`, `B>>1`. */
export const shifts: Recogniser = (line, at) => {
  const sign = line.word(at);
  if (!/^[<>]$/.test(sign) || line.word(at - 1) !== sign || !line.isNumber(at + 1))
    return undefined;
  const places = Number(line.word(at + 1));
  if (!line.isValue(at - 2) || !(places > 0 && places < 16)) return undefined;
  const value = line.text(at - 2, at - 1);
  const shifted = sign === '<' ? `${value}*${2 ** places}` : `INT (${value}/${2 ** places})`;
  const message = 'this machine shifts no bits: a place to the left is times 2';
  return { message, span: line.span(at - 1, at + 1), lines: [line.put(at - 2, at + 2, shifted)] };
};

function remainder(line: Mistyped, at: number): Remedy {
  const [left, right] = [line.text(at - 1, at), line.text(at + 1, at + 2)];
  const none = noSuch(line.word(at), 'a remainder is worked out');
  const value = `${left}-${right}*INT (${left}/${right})`;
  return { ...none, span: line.span(at), lines: [line.putValue(at - 1, at + 2, value, 'sum')] };
}

export const wordOperators: Recogniser = (line, at) => {
  const product = times(line, at);
  if (product !== undefined) return product;
  for (const index of [at, at - 1]) {
    const word = line.word(index);
    if (!['MOD', 'DIV', '\\'].includes(word)) continue;
    if (!line.isValue(index - 1) || !line.isValue(index + 1)) continue;
    if (word === 'MOD') return remainder(line, index);
    const [left, right] = [line.text(index - 1, index), line.text(index + 1, index + 2)];
    return {
      ...noSuch(word, 'INT cuts a quotient off'),
      span: line.span(index),
      lines: [line.put(index - 1, index + 2, `INT (${left}/${right})`)],
    };
  }
  return undefined;
};

/** `5 x 6`, `A TIMES 2`. */
function times(line: Mistyped, at: number): Remedy | undefined {
  if (!/^(?:X|TIMES)$/.test(line.word(at)) || !line.isValue(at - 1) || line.isString(at - 1)) {
    return undefined;
  }
  if (!line.isValue(at + 1) || line.isString(at + 1)) return undefined;
  const lines = [line.put(at, at + 1, '*').replace(/ *\* */, '*')];
  return { message: `this machine writes * for ${line.text(at, at + 1)}`, lines };
}

/** `&H40`, `$4000`, `#FF`, `0x40`, `40H`, `%1010`. */
export const otherBases: Recogniser = (line, at) => {
  const rest = line.text(line.isNumber(at - 1) ? at - 1 : at);
  const spelt = /^BIN +([01]+)(?![\w$])/i.exec(rest);
  const match =
    /^(?:&H|&|\$|#|0x)([\dA-F]+)(?![\w$])/i.exec(rest) ?? /^(\d[\dA-F]*)H(?![\w$])/i.exec(rest);
  const binary = /^%([01]+)(?![\w$])/.exec(rest) ?? spelt;
  const found = match ?? binary;
  if (found === null) return undefined;
  const from = line.isNumber(at - 1) ? at - 1 : at;
  const before = line.word(from - 1);
  if (!/^(?:[=(,;<>+*/-]|<=|>=|<>|[A-Z]{2,}\$?)$/.test(before)) return undefined;
  const end = line.tokens[from].startOffset + found[0].length;
  const to = line.tokens.findIndex((token) => token.end >= end) + 1;
  const value = Number.parseInt(found[1], match === null ? 2 : 16);
  if (Number.isNaN(roundNumber(value))) return undefined;
  // Whole numbers that the machine does not have exactly are written in a form that it takes.
  const text = value < 2 ** 32 ? String(value) : numberText(roundNumber(value));
  const kind = match === null ? 'binary' : 'hexadecimal';
  const none = noSuch(`${kind} numbers`, `${found[0]} is ${text}`);
  return { ...none, span: line.span(from, to), lines: [line.put(from, to, text)] };
};

const WORDS: Record<string, string> = {
  EQ: '=',
  EQUALS: '=',
  IS: '=',
  NE: '<>',
  GT: '>',
  LT: '<',
  GE: '>=',
  LE: '<=',
};

/** `IF A EQ B`, `IF A IS 1`, `IF !A`. */
export const comparingWords: Recogniser = (line, at) => {
  const word = line.word(at);
  if ((word === '!' || word === '~') && !line.isValue(at - 1) && at > 0) {
    const lines = [line.put(at, at + 1, ' NOT ').replace(/ {2,}/g, ' ')];
    return { message: `this machine writes NOT for ${word}`, lines };
  }
  if (word === 'NOT' && line.isValue(at - 1)) {
    const to = line.word(at + 1) === '=' ? at + 2 : at + 1;
    const lines = [line.put(at, to, '<>').replace(/ *<> */, '<>')];
    return { message: `this machine writes <> for ${line.text(at, to)}`, lines };
  }
  if (!Object.hasOwn(WORDS, word) || !(line.isValue(at - 1) || line.word(at - 1) === ')'))
    return undefined;
  const sign = WORDS[word];
  const lines = [line.put(at, at + 1, sign).replace(/ *(<>|<=|>=|[<>=]) */, '$1')];
  return { message: `this machine writes ${sign} for ${word}`, lines };
};

/** `PRINT ""HELLO""`, `PRINT "HE SAID "HELLO""`. */
export const innerQuotes: Recogniser = (line, at) => {
  if (!line.isText(at - 1) || !line.touch(at - 1) || !line.isName(at)) return undefined;
  const text = line.text(0);
  const [from, to] = [text.indexOf('"'), text.lastIndexOf('"')];
  const inner = text.slice(from + 1, to);
  const message = 'a quote within a string is written twice';
  const [head, tail] = [text.slice(0, from), text.slice(to + 1)];
  const doubled = /^"[^"]*"$/.test(inner) ? inner.slice(1, -1) : inner.replace(/"/g, '""');
  return { message, lines: [`${head}"${doubled}"${tail}`] };
};

const VALUES: Record<string, string> = {
  π: 'PI',
  '½': '(1/2)',
  '¼': '(1/4)',
  '¾': '(3/4)',
  '²': '**2',
  '³': '**3',
  '√': 'SQR ',
};

/** `π`, `½`, `A²`, `√A`. */
export const typesetValues: Recogniser = (line, at) => {
  const sign = line.word(at).normalize() === 'Π' ? 'π' : line.word(at);
  if (!Object.hasOwn(VALUES, sign)) return undefined;
  const is = VALUES[sign];
  const lines = [line.put(at, at + 1, is)];
  return {
    message: `this machine writes ${is.replace(/^\((.*)\)$/, '$1').trim()} for ${sign}`,
    lines,
  };
};

/** `PRINT "A"."B"`. */
export const joiningPoint: Recogniser = (line, at) => {
  if (line.word(at) !== '.' || !line.isString(at - 1)) return undefined;
  const sign = /^L?PRINT$/.test(line.word(line.commandOf(at))) ? ';' : '+';
  return { message: `strings are joined by ${sign}`, lines: [line.put(at, at + 1, sign)] };
};

const QUOTES = /[“”„‟«»‘’'´`]/;

/** Quotes as typesetters set them, or single ones. */
export const otherQuotes: Recogniser = (line, at) => {
  if (!QUOTES.test(line.word(at))) return undefined;
  const text = line.text(0);
  const from = line.tokens[at].startOffset - line.tokens[0].startOffset;
  const plain = text.slice(0, from) + text.slice(from).replace(new RegExp(QUOTES, 'g'), '"');
  return { message: 'a string stands between two plain quotes, "', lines: [plain] };
};

export const otherBrackets: Recogniser = (line, at) => {
  if (!/^[{[]/.test(line.word(at))) return undefined;
  if (line.word(at) === '{' && line.word(0) === 'IF' && line.word(line.length - 1) === '}') {
    const condition = line.text(1, line.word(at - 1) === 'THEN' ? at - 1 : at);
    const lines = [`IF ${condition} THEN ${line.text(at + 1, line.length - 1)}`];
    return { message: 'this machine has no { }: THEN takes one statement', lines };
  }
  const lines = [line.text(0).replace(/[{[]/g, '(').replace(/[}\]]/g, ')')];
  return { message: 'subscripts and brackets are round on this machine', lines };
};

/** `?` and `PR.` for PRINT, `P.`, `G.`: what other machines write short. */
export const shortWords: Recogniser = (line, at) => {
  const word = line.word(0);
  const short = line.word(1) === '.' ? `${word}.` : word;
  const whole = {
    '?': 'PRINT',
    'P.': 'PRINT',
    'PR.': 'PRINT',
    'G.': 'GOTO',
    'GOS.': 'GOSUB',
    'N.': 'NEXT',
    'F.': 'FOR',
    'L.': 'LIST',
  }[short];
  if (whole === undefined || at > 1) return undefined;
  const rest = line.text(short.length > word.length ? 2 : 1);
  return { message: `this machine writes ${whole} in full`, lines: [`${whole} ${rest}`.trim()] };
};

/** `PRINT @ 10,5;"A"`. */
export const atSign: Recogniser = (line, at) => {
  if (line.word(at) !== '@' || !/^(?:L?PRINT|[;,])$/.test(line.word(at - 1))) return undefined;
  const comma = line.words.indexOf(',', at);
  const semicolon = line.words.indexOf(';', at);
  const lines = [line.put(at, at + 1, line.touch(at) ? 'AT ' : 'AT')];
  if (comma < 0 || (semicolon >= 0 && semicolon < comma) || line.isText(comma + 1)) {
    return {
      message: 'PRINT @ counts places from the top left; PRINT AT names row and column',
      lines: [],
      mind: 'write PRINT AT row,column; and what is printed: the row is the place divided by the width of the other machine’s rows, the column what is left over',
    };
  }
  return { message: 'this machine writes AT for @', lines };
};

/** `LET A:=5`, `A$(2:3)`, `LET A+=1`. */
export const otherAssignments: Recogniser = (line, at) => {
  const sign = line.word(at);
  if (sign === ':' && line.word(at + 1) === '=') {
    return { message: 'this machine writes = for :=', lines: [line.put(at, at + 1, '')] };
  }
  if (
    sign === ':' &&
    line.words.slice(0, at).includes('(') &&
    line.closing(line.words.lastIndexOf('(', at)) > at
  ) {
    return { message: 'a slice is written with TO', lines: [line.put(at, at + 1, ' TO ')] };
  }
  const from = line.word(0) === 'LET' ? 1 : 0;
  const last = line.length - 1;
  if (
    /^[-+]$/.test(line.word(last)) &&
    line.word(last - 1) === line.word(last) &&
    line.word(from + 1) === '=' &&
    last === from + 4 &&
    line.word(from) === line.word(from + 2)
  ) {
    const sum = `${line.text(from, last)}1`;
    return { message: 'one is added by +1, and taken by -1', lines: [`LET ${sum}`] };
  }
  if (at !== from + 1 && !(from === 0 && at === 0)) return undefined;
  const operator = /^[-+*/]$/.test(line.word(from + 1)) ? line.word(from + 1) : undefined;
  if (operator === undefined || !line.isName(from)) return undefined;
  const name = line.text(from, from + 1);
  const message = 'LET names the variable and gives it a whole expression';
  if (line.word(from + 2) === '=') {
    const rest = line.text(from + 3);
    const value = isSimple(rest) ? rest : `(${rest})`;
    return { message, lines: [`LET ${name}=${name}${operator}${value}`] };
  }
  if (line.word(from + 2) === operator && line.length === from + 3)
    return { message, lines: [`LET ${name}=${name}${operator}1`] };
  // LET SCORE +1
  if (from === 0 || !line.isValue(from + 2) || line.length !== from + 3) return undefined;
  return { message, lines: [`LET ${name}=${name}${operator}${line.text(from + 2)}`] };
};

const isSimple = (text: string): boolean => /^(?:"[^"]*"|[\w$.]+)$/.test(text);

/** `PRINT HELLO"`, and a string that its line cuts off. */
export const openString: Recogniser = (line, at) => {
  const token = line.tokens[at];
  if (token?.tokenType.name !== 'OpenString') return undefined;
  const text = line.text(at, at + 1);
  const rule = 'open-string';
  if (token.image.trim() === '"' && line.isName(at - 1)) {
    const from = line.words.findLastIndex((_, index) => index < at && !line.isName(index)) + 1;
    const quoted = `"${line.text(from, at)}"`;
    const lines = [line.put(from, at + 1, quoted)];
    return { rule, message: 'this string has no opening quote', lines };
  }
  // IF A$="Y THEN STOP: the rest of the statement is no part of the string.
  const then = text.search(/\s+THEN\b/i);
  const message = 'this string has no closing quote';
  const mind = 'a quote inside a string is written ""';
  return [then, text.length]
    .filter((end) => end >= 0)
    .map((end) => line.put(at, at + 1, `${text.slice(0, end)}"${text.slice(end)}`))
    .map((whole) => ({ rule, message, lines: [whole], mind }));
};
