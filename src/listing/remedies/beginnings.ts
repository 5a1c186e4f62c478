/** Statements that begin with something that is no command of this machine. */
import { asStatement, noSuch, type Recogniser } from './mistyped.js';

/** `A(1)=5`, `A++`, `AB=…` without LET. */
export const letMissing: Recogniser = (line, at) => {
  if (at !== 0 || !line.isName(0)) return undefined;
  const run = /^IF\s*(\S.*?)\s*THEN\s*(\d+|\S.*)$/i.exec(line.text(0));
  if (run !== null) {
    const [, condition, then] = run;
    const lines = [`IF ${condition} THEN ${asStatement(then)}`];
    return { message: 'words are run together here', lines };
  }
  const isElement = line.word(1) === '(';
  const behind = isElement ? line.closing(1) + 1 : 1;
  if (line.word(behind) === '=' && (isElement || !line.isOther(0))) {
    return {
      rule: 'let-missing',
      message: `LET is missing before ${line.text(0, behind)}`,
      why: 'every assignment begins with LET on this machine',
      lines: [`LET ${line.text(0)}`],
    };
  }
  return undefined;
};

/** `USR 16514`, `AT 5,6`, `"HELLO"`: what is part of a statement, without its command. */
export const commandMissing: Recogniser = (line, at) => {
  if (at !== 0) return undefined;
  const word = line.word(0);
  const text = line.text(0);
  const none = noSuch(word);
  if (word === 'USR')
    return { message: 'USR gives a number: a command takes it', lines: [`RAND ${text}`] };
  if (word === 'AT' || word === 'TAB')
    return { message: `${word} is part of a PRINT`, lines: [`PRINT ${text};`] };
  if (word === 'GO') {
    const message = 'GO alone is no command';
    const mind = 'write GOTO 100 to go to a line, GOSUB 100 to come back from there by RETURN';
    if (line.length === 1) return { message, lines: [], mind };
    return { message, lines: [`GOTO ${line.text(line.word(1) === 'TOO' ? 2 : 1)}`] };
  }
  if (['CALL', 'SYS', 'EXEC'].includes(word) && line.length > 1)
    return { ...none, lines: [`RAND USR ${line.text(line.word(1) === 'USR' ? 2 : 1)}`] };
  if ((word === 'RANDOMIZE' || word === 'RANDOMISE') && line.word(1) !== 'TIMER')
    return { ...none, lines: [`RAND ${line.text(1)}`.trim()] };
  if (/^(?:\/|\/\*|!|#|'|;|\*|-|NOTE|COMMENT|REMARK)$/.test(word) && line.length > 1) {
    const words = text
      .replace(/^(?:\/\*|\/\/|--|[!#';*]|NOTE\b|COMMENT\b|REMARK\b)[\s:]*/i, '')
      .replace(/\s*\*\/$/, '');
    if (word === '-' && line.word(1) !== '-') return undefined;
    return {
      message: 'a remark begins with REM',
      lines: [`REM ${words}`],
      mind: "or on a line of its own without number, beginning with ', which the machine does not store",
    };
  }
  if (/^(?:SET|VAR|CONST|INT|DEFINT|DIM)$/.test(word) && line.word(2) === '=')
    return { message: `this machine sets a variable with LET`, lines: [`LET ${line.text(1)}`] };
  if (['WAIT', 'DELAY', 'SLEEP'].includes(word))
    return {
      ...none,
      lines: [`PAUSE ${word === 'SLEEP' && line.length > 1 ? '50*' : ''}${line.text(1)}`.trim()],
      mind: 'PAUSE counts frames, 50 or 60 of them a second',
    };
  if (word === 'LOCATE' && line.words.includes(','))
    return {
      ...none,
      lines: line
        .parts(1, line.length, [':'])
        .map((part, index) => (index === 0 ? `PRINT AT ${part};` : part)),
      mind: 'rows are 0 to 21, columns 0 to 31, both counted from 0',
    };
  const plot = { SET: 'PLOT', PSET: 'PLOT', RESET: 'UNPLOT', PRESET: 'UNPLOT' }[word];
  if (plot !== undefined && line.word(1) === '(')
    return {
      ...none,
      lines: [`${plot} ${line.text(2, line.closing(1))}`],
      mind: 'PLOT counts y upwards from the bottom, 0 to 43',
    };
  return undefined;
};

const BLOCKS = /^(?:IF|FOR|WHILE|SUB|PROC|FUNCTION|SELECT|DO|DEF)$/;
const SHOWS = /^(?:WRITE|DISPLAY|DISP|ECHO|SAY|TYPE|PUT|OUTPUT|PRINTF|PRINTLN|PRINTL|SHOW|TEXT)$/;
const TAPE: Record<string, string> = {
  CSAVE: 'SAVE',
  BSAVE: 'SAVE',
  DSAVE: 'SAVE',
  CLOAD: 'LOAD',
  BLOAD: 'LOAD',
  DLOAD: 'LOAD',
  CHAIN: 'LOAD',
};

/** `PEEK 16514`, `"HELLO"`, `WRITE "A"`, `CSAVE "A"`, `UNLESS A=1 THEN STOP`, `THEN STOP`, `END IF`. */
export const commandOfOthers: Recogniser = (line, at) => {
  if (at !== 0) return undefined;
  const word = line.word(0);
  const rest = line.text(1);
  const none = noSuch(word);
  if (Object.hasOwn(TAPE, word)) {
    const name = rest === '' ? '"OAK"' : rest;
    const mind = rest === '' ? 'OAK stands for the name' : undefined;
    return { ...none, lines: [`${TAPE[word]} ${name}`], mind };
  }
  if (SHOWS.test(word) && rest !== '') {
    const inner = line.word(1) === '(' && line.closing(1) === line.length - 1;
    return { ...none, lines: [`PRINT ${inner ? rest.slice(1, -1) : rest}`] };
  }
  if (word === 'UNLESS' && line.words.includes('THEN')) {
    const then = line.words.indexOf('THEN');
    return { ...none, lines: [`IF NOT (${line.text(1, then)}) ${line.text(then)}`] };
  }
  if (word === 'ARRAY') return { ...none, lines: [`DIM ${rest}`] };
  if (word === 'RANDOM' && rest === '') return { ...none, lines: ['RAND'] };
  if (word === 'END' && BLOCKS.test(line.word(1))) {
    const mind =
      line.word(1) === 'FOR' ? 'write NEXT and the letter of the FOR' : 'leave the line out';
    return { ...noSuch(`END ${line.word(1)}`), span: line.span(0, 2), lines: [], mind };
  }
  if (['THEN', 'TO', 'STEP', 'AND', 'OR'].includes(word)) {
    const of = { THEN: 'an IF', TO: 'a FOR', STEP: 'a FOR' }[word] ?? 'a value';
    const message = `${word} is part of ${of}, and cannot begin a line`;
    return { message, lines: [], mind: 'write the whole statement on one line' };
  }
  if (line.isNumber(0) && line.length > 1) {
    const message = 'a number stands before the command';
    return { message, lines: [asStatement(rest)] };
  }
  const { kind } = line.tokens[0].payload ?? {};
  if (word === 'RND' && line.isNumber(1) && line.length === 2) {
    return { message: 'RND gives a number: RAND takes one', lines: [`RAND ${rest}`] };
  }
  if (kind === 'function' || kind === 'constant' || line.isText(0) || line.isNumber(0)) {
    const message = `${line.isText(0) || line.isNumber(0) ? 'a value' : word} alone is no command`;
    const mind = line.isText(0) || line.isNumber(0) ? undefined : 'or give it to a name with LET';
    return { message, lines: [`PRINT ${line.text(0)}`], mind };
  }
  return undefined;
};
