/** Words that stand where a name belongs and are none, and names that other dialects take. */
import type { Mistyped, Recogniser, Remedy } from './mistyped.js';

const isWord = (line: Mistyped, at: number): boolean =>
  /^[A-Z]/.test(line.word(at)) && line.tokens[at]?.payload !== undefined;

/** `LET TO=5`, `DIM AT(5)`, `LET PI=3.14`. */
export const keywordAsName: Recogniser = (line, at) => {
  const command = line.word(at - 1);
  if (!['LET', 'FOR', 'NEXT', 'INPUT', 'DIM'].includes(command) || !isWord(line, at)) return;
  const after = line.word(at + 1);
  if (!(after === '' || after === '=' || (after === '(' && command !== 'INPUT'))) return;
  const word = line.word(at);
  if (line.tokens[at].payload?.kind === 'constant') {
    const message = `${word} is a value that the machine gives, and cannot be set`;
    return { message, lines: [], mind: 'use another name, or leave the line out' };
  }
  const name = command === 'LET' || command === 'INPUT' ? `${word.replace(/\W/g, '')}1` : word[0];
  return {
    message: `${word} is a keyword, and cannot be a name`,
    why: 'the machine has one key and one code for it, wherever it stands',
    lines: [line.put(at, at + 1, name)],
    mind: EVERYWHERE,
  };
};

const EVERYWHERE = 'and the same name in every other line that means it';

const notInName = (sign: string, text: string): Remedy => ({
  message: `no ${sign} stands in a name: letters and digits do`,
  lines: [text],
  mind: EVERYWHERE,
});

/** `LET A_B=1`, `LET A-B=5`, `LET A$1="X"`, `LET 2A=5`. */
export const namesOfOthers: Recogniser = (line, at) => {
  if (line.word(at).startsWith('_') || line.word(at - 1) === '_') {
    const text = line.text(0);
    return text.includes('"') ? undefined : notInName('_', text.replace(/_/g, ''));
  }
  if (line.word(0) !== 'LET') return;
  const equals = line.words.indexOf('=');
  if (at === 2 && /^[.'’]$/.test(line.word(2)) && line.isName(1) && equals > 2 && equals < 5) {
    return notInName(line.word(2), line.put(2, 3, ''));
  }
  if (at === 1 && line.isNumber(1) && line.isName(2) && equals === 3) {
    const lines = [line.put(1, 3, line.word(2) + line.word(1))];
    return { message: 'a name begins with a letter', span: line.span(1, 3), lines };
  }
  const isHyphen = at === 2 && line.word(2) === '-' && line.isName(1) && line.isName(3);
  if (isHyphen && equals === 4) {
    return {
      ...notInName('-', line.put(1, 4, line.word(1) + line.word(3))),
      span: line.span(1, 4),
    };
  }
  if (at === 2 && line.isNumber(2) && /^[A-Z]\$$/.test(line.word(1)) && equals === 3) {
    const why = 'the name of a string is one letter and $';
    const lines = [line.put(2, 3, '')];
    return { message: `nothing stands behind ${line.word(1)} in its name`, why, lines };
  }
  return;
};

/** `LET FN A(X)=X`, `LET A=FN A(3)`: a function that the program makes. */
export const functionOfOne: Recogniser = (line, at) => {
  if (line.word(at) !== 'FN' && line.word(at - 1) !== 'FN') return;
  const mind = 'keep the expression in a string and use VAL, or write a subroutine';
  const span = line.span(line.words.indexOf('FN'));
  return { message: 'this machine has no FN', rule: 'other-dialect', span, lines: [], mind };
};

/** `LET 5=A`, `LET "A"=5`, `LET (A)=5`, `LET USR 16514`, `LET PEEK 16514=5`. */
export const notSet: Recogniser = (line, at) => {
  if (line.word(0) !== 'LET' || at !== 1) return;
  const equals = line.words.indexOf('=');
  if (line.word(1) === 'USR') {
    return { message: 'USR gives a number: RAND takes it', lines: [`RAND ${line.text(1)}`] };
  }
  if (line.word(1) === 'PEEK' && equals > 2) {
    const lines = [`POKE ${line.text(2, equals)},${line.text(equals + 1)}`];
    return { message: 'PEEK looks at a byte: POKE sets it', lines };
  }
  if (equals < 2) return;
  if (line.word(1) === '(' && line.closing(1) === equals - 1) {
    const lines = [`LET ${line.text(2, equals - 1)}=${line.text(equals + 1)}`];
    return { message: 'the name of LET stands without brackets', lines };
  }
  if (line.isText(1) && equals === 2) {
    const lines = [`LET ${line.text(1, 2).slice(1, -1)}=${line.text(3)}`];
    return { message: 'a name stands without quotes', lines };
  }
  if (line.isNumber(1) && equals === 2 && line.isName(3) && line.length === 4) {
    const message = 'LET names the variable first';
    return { message, span: line.span(1, 4), lines: [`LET ${line.text(3)}=${line.text(1, 2)}`] };
  }
  return;
};

/** `DIM "A"(5)`. */
export const quotedArray: Recogniser = (line, at) => {
  if (line.word(at - 1) !== 'DIM' || !line.isText(at) || line.word(at + 1) !== '(') return;
  const lines = [line.put(at, at + 1, line.text(at, at + 1).slice(1, -1))];
  return { message: 'a name stands without quotes', lines };
};

/** `LET A 5`, `LET A TO 5`, `LET A,5`, `LET A<-5`. */
export const equalsMissing: Recogniser = (line, at) => {
  if (line.word(line.commandOf(at)) !== 'LET' || at >= line.length) return;
  const command = line.commandOf(at);
  if (line.words.slice(command, at).includes('=') || !line.isName(command + 1)) return;
  if (/^[+*/]$/.test(line.word(at)) || (line.word(at) === '-' && line.word(at + 1) !== '>')) return;
  if (line.words.slice(at).includes('=')) return;
  const to = /^(?:TO|BE|IS|AS|,|;|:|<|>)$/.test(line.word(at)) ? at + 1 : at;
  const arrow = /^(?:<-|->)$/.test(line.word(at) + line.word(at + 1)) ? at + 2 : to;
  const lines = [line.put(at, arrow, '=').replace(/ *= */, '=')];
  return { message: '= is missing in this LET', lines };
};

/** `LET A=INPUT`, `LET A$=INPUT("NAME")`. */
export const inputAsValue: Recogniser = (line, at) => {
  if (line.word(0) !== 'LET' || !/^INPUT\$?$/.test(line.word(at)) || line.word(at - 1) !== '=')
    return;
  const message = 'INPUT is a command of its own';
  const input = `INPUT ${line.text(1, at - 1)}`;
  const text = line.words.findIndex((_, index) => index > at && line.isText(index));
  const lines = text < 0 ? [input] : [`PRINT ${line.text(text, text + 1)};`, input];
  return { message, lines };
};
