/** IF, THEN, ELSE and conditions as other dialects write them. */
import { asStatement, type Recogniser } from './mistyped.js';

export const otherwise: Recogniser = (line, at) => {
  const place = line.words.indexOf('ELSE');
  if (place < 0 || line.word(0) !== 'IF' || (at !== place && at !== place - 1 && at !== place + 1))
    return undefined;
  const then = line.words.indexOf('THEN');
  if (then < 0 || then > place) return undefined;
  const message = 'this machine has no ELSE';
  const span = line.span(place);
  if (line.words.lastIndexOf('IF', place) > 0) {
    const mind =
      'write a line for each case, with the whole condition of each: IF A=1 AND B=2 THEN …';
    return { message, span, lines: [], mind };
  }
  const to = line.word(place - 1) === ':' ? place - 1 : place;
  const first = asStatement(line.text(then + 1, to));
  const second = asStatement(line.text(place + 1));
  const head = line.text(0, then + 1);
  if (/^(?:GOTO|RETURN|STOP|RUN)\b/i.test(first))
    return { message, span, lines: [`${head} ${first}`, second] };
  const lines = line.lines(then + 1, [first, 'STOP']);
  if (lines === undefined) {
    return {
      message,
      span,
      lines: [],
      mind: `write ${line.jumpOver(then + 1)} to the line for the other case, and a GOTO behind the first case`,
    };
  }
  return {
    message,
    span,
    lines: [`${head} ${first}`, `IF NOT (${line.text(1, then)}) THEN ${second}`],
  };
};

/** `IF A=1 GOTO 10`, `IF A=1 THEN 100`, `IF A=1 THEN B=2`. */
export const thenParts: Recogniser = (line, at) => {
  if (!line.words.slice(0, at).includes('IF')) return undefined;
  if (line.word(at - 1) === 'THEN') {
    if (line.isNumber(at) && at === line.length - 1) {
      const lines = [line.put(at, at, 'GOTO ')];
      return { message: 'GOTO is missing after THEN', lines };
    }
    if (line.isName(at) && line.words.indexOf('=', at) > 0) {
      const lines = [line.put(at, at, 'LET ')];
      const why = 'every assignment begins with LET on this machine';
      return { message: 'LET is missing after THEN', why, lines };
    }
    const goes = ['LINE', 'GO'].includes(line.word(at)) && line.isNumber(at + 1);
    if (goes) {
      const lines = [line.put(at, at + 1, 'GOTO')];
      return { message: 'GOTO is missing after THEN', lines };
    }
    if (line.isText(at)) {
      const message = 'PRINT is missing after THEN';
      return { message, lines: [line.put(at, at, 'PRINT ')] };
    }
    if (/^[,;:]$/.test(line.word(at))) {
      const lines = [line.put(at, at + 1, ' ').replace(/ {2,}/, ' ')];
      return { message: `no ${line.word(at)} stands after THEN`, lines };
    }
    return undefined;
  }
  if (at >= line.length || line.words.slice(line.words.lastIndexOf('IF', at), at).includes('THEN'))
    return undefined;
  const message = 'THEN is missing';
  if (/^[,;]$/.test(line.word(at)) && line.word(at + 1) === 'THEN') {
    return {
      message: `no ${line.word(at)} stands before THEN`,
      lines: [line.put(at, at + 1, ' ')],
    };
  }
  const from = /^[,;]$/.test(line.word(at)) ? at + 1 : at;
  const sign = line.words.findIndex((word, index) => index >= from && COMPARES.test(word));
  const then = line.words.indexOf('THEN', at);
  if (then > sign && sign === from + 1 && line.isName(from)) {
    const lines = [`${line.text(0, at)} AND ${line.text(from)}`];
    return { message: 'AND or OR is missing between two conditions', lines };
  }
  const words = ['DO', 'THAN', 'THE', 'THNE', 'TEHN', 'HTEN', 'THN', 'THEM'].includes(line.word(at))
    ? at + 1
    : from;
  return { message, lines: [`${line.text(0, at)} THEN ${line.text(words)}`] };
};

/** `LET A=(B=1)?2:3`, `LET A=B>C ? B : C`. */
export const chosenValue: Recogniser = (line, at) => {
  const mark = line.words.indexOf('?');
  const colon = line.words.indexOf(':', mark);
  if (line.word(0) !== 'LET' || line.word(2) !== '=' || mark < 3 || colon < mark || at > colon)
    return undefined;
  const name = line.text(1, 2);
  const test = line.text(3, mark);
  if (line.words.slice(3, mark).includes(line.word(1))) return undefined;
  const set = (value: string): string => `LET ${name}=${value}`;
  const lines = [set(line.text(colon + 1)), `IF ${test} THEN ${set(line.text(mark + 1, colon))}`];
  return { message: 'no ? chooses between two values here', span: line.span(mark), lines };
};

/** `IF A IN (1,2) THEN STOP`. */
export const oneOf: Recogniser = (line) => {
  const at = line.words.indexOf('IN');
  const close = line.closing(at + 1);
  if (line.word(0) !== 'IF' || at < 2 || line.word(at + 1) !== '(' || close < 0) return undefined;
  if (!line.isName(at - 1) || /^[-+*/]$/.test(line.word(at - 2))) return undefined;
  const name = line.text(at - 1, at);
  const tests = line.parts(at + 2, close).map((value) => `${name}=${value}`);
  const lines = [
    line.put(at - 1, close + 1, at === 2 ? tests.join(' OR ') : `(${tests.join(' OR ')})`),
  ];
  return { message: 'each value of a list is compared by itself', span: line.span(at), lines };
};

/** `LET A=5 IF B=6`, `PRINT A IF B`. */
export const conditionBehind: Recogniser = (line, at) => {
  if (line.word(at) !== 'IF' || at === 0 || line.commandOf(at) !== 0) return undefined;
  if (/^(?:AND|OR|THEN)$/.test(line.word(at - 1)) && line.word(0) === 'IF') {
    const lines = [line.without(at)];
    return { message: 'one IF takes the whole condition', lines };
  }
  const [head, condition] = [line.text(0, at), line.text(at + 1)];
  if (line.word(at - 1) !== '=') {
    const message = 'the condition stands before its statement';
    return { message, lines: [`IF ${condition} THEN ${head}`] };
  }
  const then = line.words.indexOf('THEN', at);
  const name = line.text(1, at - 1);
  if (line.word(0) !== 'LET' || then < 0 || line.words.slice(at).includes(name)) return undefined;
  const otherwise = line.words.indexOf('ELSE', then);
  const test = line.text(at + 1, then);
  const value = line.text(then + 1, otherwise < 0 ? line.length : otherwise);
  const first = otherwise < 0 ? [] : [`LET ${name}=${line.text(otherwise + 1)}`];
  const lines = [...first, `IF ${test} THEN LET ${name}=${value}`];
  return { message: 'IF begins a statement, and gives no value', lines };
};

const COMPARES = /^(?:[<>=]|<=|>=|<>)$/;

/** `PRINT A THEN STOP`, `PRINT "OAK" THEN`: THEN without an IF. */
export const thenWithoutIf: Recogniser = (line, at) => {
  if (at === 0 || line.word(at) !== 'THEN') return undefined;
  if (line.words.slice(0, at).includes('IF') || line.isNumber(at + 1)) return undefined;
  const message = 'THEN stands behind the condition of an IF, and here is no IF';
  const lines = [line.text(0, at), line.text(at + 1)].filter((text) => text !== '');
  return { message, lines };
};

/** `IF A<=1 AND <5 THEN STOP`. */
export const comparedTwice: Recogniser = (line, at) => {
  if (!/^(?:AND|OR)$/.test(line.word(at - 1)) || !COMPARES.test(line.word(at))) return undefined;
  const sign = line.words.findLastIndex((word, index) => index < at - 1 && COMPARES.test(word));
  if (!line.isValue(sign - 1)) return undefined;
  const what = line.text(sign - 1, sign);
  const message = `both sides of ${line.word(at - 1)} are whole conditions`;
  return { message, lines: [line.put(at, at, what)] };
};
