/** DIM, subscripts and slices as other dialects write them. */
import type { Mistyped, Recogniser } from './mistyped.js';

/** `DIM A(0 TO 10)`, `DIM A 10`, `DIM A$*10`, `DIM A(5) AS INTEGER`, `DIM A(10)(5)`, `DIM A=5`. */
export const dimShapes: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  if (line.word(command) !== 'DIM' || !line.isName(command + 1)) return;
  const name = line.text(command + 1, command + 2);
  const found = line.word(at);
  const put = (from: number, to: number, words: string) => [line.put(from, to, words)];
  if (at === command + 2) {
    if (found === '=') {
      const message = 'DIM makes an array; LET sets a variable';
      return { message, lines: put(command, command + 1, 'LET') };
    }
    const from = found === '*' || found === ',' ? at + 1 : at;
    const size = line.text(from);
    // DIM A,B names what other dialects need not size.
    if (found === ',' && line.isName(from)) {
      const mind = 'write a DIM with its sizes for each array; a number and a string need none';
      return { message: 'DIM takes its sizes in brackets', lines: [], mind };
    }
    if (/^[\w.]+(?: *, *[\w.]+)*$/.test(size)) {
      const message = 'DIM takes its sizes in brackets';
      return { message, lines: put(at, line.length, `(${size})`).map(closeUp) };
    }
    return;
  }
  const open = command + 2;
  const close = line.closing(open);
  if (line.word(open) !== '(') return;
  if ((found === 'TO' || found === ':') && (close < 0 || at < close)) {
    const first = line.text(at - 1, at);
    const last = line.text(at + 1, at + 2);
    const isWhole = /^\d+$/.test(first) && /^\d+$/.test(last);
    const size = isWhole ? Number(last) - Number(first) + 1 : Number.NaN;
    const lines = put(at - 1, at + 2, first === '1' || !(size > 0) ? last : String(size));
    const mind =
      first === '1' ? undefined : `subscripts begin at 1, so each subscript of ${name} changes too`;
    return { message: 'DIM takes the last subscript alone', lines, mind };
  }
  if (found === ';' && at < close) {
    return { message: 'a comma stands between sizes', lines: put(at, at + 1, ',') };
  }
  if (close < 0 || at !== close + 1) return;
  const head = line.text(0, at);
  if (found === '(' && line.closing(at) > 0) {
    const message = 'all sizes of an array stand in one pair of brackets';
    return { message, lines: put(close, at + 1, ',') };
  }
  if (found === '*' && line.isNumber(at + 1)) {
    const lines = [`${line.text(0, close)},${line.text(at + 1, at + 2)})`];
    return { message: 'the length of an array’s strings is its last size', lines };
  }
  if (found === '=' && name.endsWith('$') && line.isText(at + 1) && at + 2 === line.length) {
    const lines = [head, `LET ${name}=${line.text(at + 1)}`];
    return { message: 'nothing stands behind the sizes of DIM', lines };
  }
  if (found === 'AS' || found === '=' || found === 'OF') {
    const mind =
      found === '='
        ? 'numbers begin as 0 and strings as spaces'
        : 'a name with $ holds text, any other holds numbers';
    return { message: 'nothing stands behind the sizes of DIM', lines: [head], mind };
  }
  return;
};

const closeUp = (text: string): string => text.replace(/ +\(/, '(');

/** `PRINT A(1)(2)`, `A$(2;4)`, `A$(2..4)`. */
export const subscriptShapes: Recogniser = (line, at) => {
  const parted = line.pointsAsTo(at);
  if (parted !== undefined) return { message: 'a slice is written with TO', lines: [parted] };
  if (line.word(at) !== ';') return;
  const open = openBefore(line, at);
  if (open < 1 || !line.isName(open - 1)) return;
  return line.word(open - 1).endsWith('$')
    ? { message: 'a slice is written with TO', lines: [line.put(at, at + 1, ' TO ')] }
    : { message: 'a comma stands between subscripts', lines: [line.put(at, at + 1, ',')] };
};

function openBefore(line: Mistyped, at: number): number {
  let depth = 0;
  for (let index = at - 1; index >= 0; index--) {
    if (line.word(index) === ')') depth++;
    if (line.word(index) === '(' && depth-- === 0) return index;
  }
  return -1;
}

/** A second pair of brackets behind an array, or brackets behind a number. */
export const secondBrackets: Recogniser = (line, at) => {
  if (line.word(at) !== '(') return;
  if (line.word(at - 1) === ')') {
    const open = line.words.findLastIndex(
      (word, index) => word === '(' && line.closing(index) === at - 1,
    );
    if (/^[A-Z]$/.test(line.word(open - 1))) {
      const message = 'all subscripts of an element stand in one pair of brackets';
      return { message, lines: [line.put(at - 1, at + 1, ',')] };
    }
  }
  const message = 'only an array or a string has subscripts';
  const mind = 'if this was meant to multiply';
  return { message, lines: [line.put(at, at, '*')], mind };
};

/** `LET A=(1+2`, `LET A(1=5`, `IF (A=1 THEN STOP`. */
export const openBracket: Recogniser = (line, at) => {
  const open =
    line.words.filter((word) => word === '(').length -
    line.words.filter((word) => word === ')').length;
  if (open <= 0) return;
  const message = open === 1 ? 'a bracket is not closed' : `${open} brackets are not closed`;
  const close = ')'.repeat(open);
  const equals = line.words.indexOf('=');
  const isTarget = line.word(0) === 'LET' && line.words.indexOf('(') < equals;
  const target = isTarget ? [`${line.text(0, equals)}${close}${line.text(equals)}`] : [];
  const behind = `${line.text(0, at)}${close}${line.text(at) === '' ? '' : ' '}${line.text(at)}`;
  const tight = line.put(at, at, close);
  return [...target, /\s\)/.test(tight) ? behind : tight, behind, `${line.text(0)}${close}`].map(
    (text) => ({ message, lines: [text] }),
  );
};
