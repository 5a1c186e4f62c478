/** Statements that other dialects put otherwise, and those with a word or a sign too few or too many. */
import type { Mistyped, Recogniser, Remedy } from './mistyped.js';
import { reads } from './mistyped.js';

/** `LET A=1:LET B=2`, and behind IF what other machines leave out with it. */
export const colon: Recogniser = (line, at) => {
  if (line.word(at) !== ':') return undefined;
  const command = line.commandOf(at);
  const statements = line.parts(command, line.length, [':']).filter((part) => part !== '');
  const message = 'one statement stands on a line';
  const span = line.span(at);
  const mended = statements.map((statement) =>
    /^[A-Z]\w*\$?\s*(?:\([^=]*\))?\s*=/i.test(statement) ? `LET ${statement}` : statement,
  );
  const lines = line.lines(command, mended);
  if (lines !== undefined) {
    const mind = command > 0 ? 'each needs the IF again' : undefined;
    return { message, span, lines, mind };
  }
  return {
    message,
    span,
    lines: [],
    mind: `write ${jumpOver(line, command)} to the line behind all of it, and each statement on a line of its own between`,
  };
};

/** The IF that jumps past what is done where its condition is true. */
const jumpOver = (line: Mistyped, command: number): string =>
  `IF NOT (${line.text(line.words.lastIndexOf('IF', command) + 1, command - 1)}) THEN GOTO`;

export const otherwise: Recogniser = (line, at) => {
  const place = line.words.indexOf('ELSE');
  if (place < 0 || line.word(0) !== 'IF' || (at !== place && at !== place - 1 && at !== place + 1))
    return undefined;
  const then = line.words.indexOf('THEN');
  if (then < 0 || then > place) return undefined;
  const message = 'this machine has no ELSE';
  const span = line.span(place);
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
      mind: `write ${jumpOver(line, then + 1)} to the line for the other case, and a GOTO behind the first case`,
    };
  }
  return {
    message,
    span,
    lines: [`${head} ${first}`, `IF NOT (${line.text(1, then)}) THEN ${second}`],
  };
};

/** A number alone is a line to go to. */
const asStatement = (text: string): string =>
  /^\d+$/.test(text) ? `GOTO ${text}` : isAssignment(text) ? `LET ${text}` : text;
const isAssignment = (text: string): boolean => /^[A-Z]\w*\$?\s*(?:\([^=]*\))?\s*=/i.test(text);

/** `INPUT A,B`, `NEXT I,J`, `DIM A(5),B(5)`, `LET A=1,B=2`. */
export const list: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  const word = line.word(command);
  if (!['INPUT', 'NEXT', 'DIM', 'LET'].includes(word)) return undefined;
  const separator = line.word(at);
  if (separator !== ',' && !(word === 'INPUT' && separator === ';')) {
    if (!(word === 'DIM' || word === 'NEXT') || !line.isName(at)) return undefined;
    const lines = line.lines(command, [line.text(command, at), `${word} ${line.text(at)}`]);
    return lines && { message: `${word} takes one at a time`, span: line.span(at), lines };
  }
  const parts = line.parts(command + 1, line.length, word === 'INPUT' ? [',', ';'] : [',']);
  const lines = line.lines(
    command,
    parts.map((part) => `${word} ${part}`),
  );
  const one = {
    INPUT: 'reads one variable',
    NEXT: 'ends one loop',
    DIM: 'makes one array',
    LET: 'sets one variable',
  }[word];
  const message = `${word} ${one}`;
  return lines && { message, span: line.span(at), lines };
};

/** `LET A,B=1`. */
export const sharedValue: Recogniser = (line, at) => {
  if (line.word(0) !== 'LET' || line.word(at) !== ',') return undefined;
  const equals = line.words.indexOf('=');
  if (equals < at) return undefined;
  const names = line.parts(1, equals);
  const lines = names.map((name) => `LET ${name}=${line.text(equals + 1)}`);
  return { message: 'LET sets one variable', span: line.span(at), lines };
};

/** `IF A=1 GOTO 10`, `IF A=1 THEN 100`, `IF A=1 THEN B=2`. */
export const thenParts: Recogniser = (line, at) => {
  if (!line.words.slice(0, at).includes('IF')) return undefined;
  if (line.word(at - 1) === 'THEN') {
    if (line.isNumber(at) && at === line.length - 1) {
      const lines = [line.put(at, at, 'GOTO ')];
      return { message: 'GOTO is missing after THEN', span: line.span(at), lines };
    }
    if (line.isName(at) && line.words.indexOf('=', at) > 0) {
      const lines = [line.put(at, at, 'LET ')];
      const why = 'every assignment begins with LET on this machine';
      return { message: 'LET is missing after THEN', span: line.span(at), why, lines };
    }
    if (line.word(at) === 'THEN')
      return { message: 'THEN stands twice', lines: [line.put(at, at + 1, '')] };
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
  const words = ['THE', 'THNE', 'TEHN', 'HTEN', 'THN', 'THEM'].includes(line.word(at))
    ? at + 1
    : from;
  return {
    message,
    span: line.span(at),
    lines: [line.put(at, words, words > at ? 'THEN ' : 'THEN ').replace(/THEN {2,}/, 'THEN ')],
  };
};

/** `PLOT (X,Y)`, `POKE (16418,0)`, `PRINT AT (1,2);`. */
export const bracketedPair: Recogniser = (line, at) => {
  const open = line.words.lastIndexOf('(', at);
  const before = line.word(open - 1);
  if (open < 1 || !['PLOT', 'UNPLOT', 'POKE', 'AT', 'LOCATE'].includes(before)) return undefined;
  const close = line.closing(open);
  if (close < 0 || line.word(at) !== ',') return undefined;
  const space = line.touch(open - 1) ? ' ' : '';
  const lines = [line.put(open, close + 1, `${space}${line.text(open + 1, close)}`)];
  return {
    message: `${before} takes its two values without brackets`,
    span: line.span(open),
    lines,
  };
};

/** A comma, semicolon or word that is missing between two values, or another in its place. */
export const separators: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  const word = line.word(command);
  const found = line.word(at);
  const span = at < line.length ? line.span(at) : undefined;
  if (word === 'POKE' || word === 'PLOT' || word === 'UNPLOT') {
    const message = `${word} takes two values with a comma between`;
    if (found === ';' || found === ':' || found === '=')
      return { message, span, lines: [line.put(at, at + 1, ',')] };
    if (line.isValue(at) || line.tokens[at]?.payload?.kind === 'function') {
      return { message, span, lines: [line.put(at, at, ',').replace(/ +,/, ',')] };
    }
  }
  if (word === 'FOR') return forParts(line, at);
  if (word !== 'PRINT' && word !== 'LPRINT') return undefined;
  const atPlace = line.words.lastIndexOf('AT', at);
  if (found === ';' && atPlace > 0 && !line.words.slice(atPlace, at).includes(',')) {
    return {
      message: 'AT takes row and column with a comma between',
      span,
      lines: [line.put(at, at + 1, ',')],
    };
  }
  if (at >= line.length || line.isOther(at) || line.isOther(at - 1)) return undefined;
  const items = {
    message: `; or , is missing before ${line.text(at, at + 1)}`,
    span,
    lines: [line.put(at, at, ';').replace(/ +;/, ';')],
  };
  const isItem =
    line.isValue(at) ||
    ['AT', 'TAB'].includes(found) ||
    ['function', 'constant'].includes(line.tokens[at].payload?.kind ?? '');
  return isItem ? items : undefined;
};

function forParts(line: Mistyped, at: number): readonly Remedy[] | Remedy | undefined {
  const found = line.word(at);
  const span = at < line.length ? line.span(at) : undefined;
  const hasTo = line.words.slice(0, at).includes('TO');
  const put = (to: number, words: string): string =>
    line.put(at, to, ` ${words} `).replace(/ {2,}/g, ' ').trim();
  if (!line.words.slice(0, at).includes('=')) {
    return found === '('
      ? undefined
      : {
          message: '= is missing in this FOR',
          span,
          lines: [line.put(at, /^(?:IN|:|,)$/.test(found) ? at + 1 : at, '=').replace(/ +=/, '=')],
        };
  }
  if (found === 'DO' || found === ':' || found === ';') {
    return {
      message: `nothing stands behind the last value of FOR`,
      span,
      lines: [line.put(at, line.length, '')],
    };
  }
  if (found === 'DOWNTO') {
    return {
      message: 'this machine counts down with STEP -1',
      span,
      lines: [`${put(at + 1, 'TO')} STEP -1`],
    };
  }
  if (!hasTo && found === 'STEP') return undefined;
  if (!hasTo)
    return {
      message: `TO is missing in this FOR`,
      span,
      lines: [put(at + 1, 'TO'), put(at, 'TO')].filter(reads).slice(0, 1),
    };
  if (found === ',' || found === 'BY' || found === ';') {
    return {
      message: 'this machine writes STEP before the size of a step',
      span,
      lines: [put(at + 1, 'STEP')],
    };
  }
  return undefined;
}

/** `INPUT "NAME";A$`, `INPUT LINE A$`, `INPUT AT 1,2;A`. */
export const prompt: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  if (line.word(0) === 'LINE' && line.word(1) === 'INPUT') {
    return { message: 'this machine has no LINE INPUT', lines: [line.text(1)] };
  }
  if (line.word(command) !== 'INPUT') return undefined;
  const first = line.word(command + 1);
  if (first === 'LINE')
    return {
      message: 'this machine has no INPUT LINE',
      span: line.span(command + 1),
      lines: [line.put(command + 1, command + 2, '').replace(/ {2,}/g, ' ')],
    };
  if (!line.isText(command + 1) && first !== 'AT' && first !== 'TAB') return undefined;
  const name = line.words.findLastIndex((word) => word === ';' || word === ',') + 1;
  const message = 'INPUT shows no text of its own on this machine';
  const span = line.span(command + 1);
  if (name === 0 || name >= line.length) {
    const lines = line.lines(command, [`PRINT ${line.text(command + 1)};`, 'INPUT A$']);
    return lines && { message, span, lines, mind: 'INPUT needs a variable: A$ stands for yours' };
  }
  const lines = line.lines(command, [
    `PRINT ${line.text(command + 1, name - 1)};`,
    `INPUT ${line.text(name)}`,
  ]);
  return lines && { message, span, lines };
};

/** `GOSUB 100 GOTO 50`: two statements without a line number between. */
export const twoStatements: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  const kind = line.tokens[at]?.payload?.kind;
  if (at <= command || line.word(at) === 'IF' || (kind !== 'simple' && kind !== 'command'))
    return undefined;
  const lines = line.lines(command, [line.text(command, at), line.text(at)]);
  const message = 'one statement stands on a line';
  const span = line.span(at);
  if (lines !== undefined) return { message, span, lines };
  return {
    message,
    span,
    lines: [],
    mind: `write ${jumpOver(line, command)} to the line behind both, and each on a line of its own between`,
  };
};

/** `POKE 16514,1,2,3`. */
export const severalBytes: Recogniser = (line, at) => {
  if (line.word(0) !== 'POKE' || line.word(at) !== ',' || !line.isNumber(1)) return undefined;
  const [address, ...bytes] = line.parts(1);
  const lines = bytes.map((byte, index) => `POKE ${Number(address) + index},${byte}`);
  return { message: 'POKE sets one byte', span: line.span(at), lines };
};

const TOO_MUCH: Record<string, string> = {
  CLEAR: 'the top of the memory is set by POKE 16388 and POKE 16389, then NEW',
  LINE: 'to begin by itself, write .start and the line on a line of the listing',
  CODE: 'SAVE and LOAD always take the program and its variables together',
};

/** More than the command takes: `CLEAR 100`, `GOTO 10,20`, `SAVE "A",8`. */
export const tooMuch: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  const word = line.word(command);
  const { payload } = line.tokens[command] ?? {};
  if (at <= command || at >= line.length) return undefined;
  const span = line.span(at);
  if ((word === 'GOTO' || word === 'GOSUB') && line.word(at) === 'IF' && command === 0) {
    const lines = [`${line.text(at)} THEN ${line.text(0, at)}`];
    return { message: 'the condition stands before its statement', span, lines };
  }
  if ((word === 'GOTO' || word === 'GOSUB') && line.word(at) === ',') {
    return {
      message: `${word} goes to one line`,
      span,
      lines: [],
      mind: `write ${word} with a value that is worked out, as in ${word} 100*N, or an IF for each line`,
    };
  }
  if (['LET', 'LIST', 'LLIST'].includes(word) && line.word(at) === ',' && line.isNumber(at + 1)) {
    if (word !== 'LET')
      return { message: `${word} takes the first line alone`, span, lines: [line.text(0, at)] };
    return undefined;
  }
  if (payload?.kind !== 'simple') return undefined;
  const takes = ['nothing', 'one value', 'two values'][payload.takes.length];
  return {
    message: `${word} takes ${takes} on this machine`,
    span,
    lines: [line.text(0, at)],
    mind: TOO_MUCH[line.word(at)] ?? TOO_MUCH[word],
  };
};

/** `LET A=1,000`, `LET A=1,5`, `LET X=X+1;` */
export const numberWithComma: Recogniser = (line, at) => {
  const sign = line.word(at);
  if (sign === ';' && at === line.length - 1)
    return { message: 'no ; ends a statement here', lines: [line.text(0, at)] };
  if (
    sign !== ',' ||
    !line.isNumber(at - 1) ||
    !line.isNumber(at + 1) ||
    line.word(at - 2) !== '=' ||
    line.word(line.commandOf(at)) !== 'LET'
  )
    return undefined;
  const [left, right] = [line.text(at - 1, at), line.text(at + 1, at + 2)];
  const span = line.span(at - 1, at + 2);
  if (/^\d{1,3}$/.test(left) && /^\d{3}$/.test(right)) {
    return {
      message: 'no comma stands within a number',
      span,
      lines: [line.put(at - 1, at + 2, left + right)],
      mind: `${left}.${right} if the comma is the point of decimals`,
    };
  }
  return {
    message: 'the point of decimals is a full stop',
    span,
    lines: [line.put(at - 1, at + 2, `${left}.${right}`)],
  };
};

/** `2A`, `2(A+1)`: what is meant to multiply. */
export const product: Recogniser = (line, at) => {
  if (!line.isNumber(at - 1) || !line.isName(at) || !line.touch(at - 1)) return undefined;
  if (/^[EHKX]/.test(line.word(at))) return undefined;
  return { message: '* is missing', span: line.span(at), lines: [line.put(at, at, '*')] };
};

/** `LET A=(1+2`, `PRINT A$(1 TO`. */
export const openBracket: Recogniser = (line, at) => {
  const open =
    line.words.filter((word) => word === '(').length -
    line.words.filter((word) => word === ')').length;
  if (open <= 0) return undefined;
  const message = open === 1 ? 'a bracket is not closed' : `${open} brackets are not closed`;
  const close = ')'.repeat(open);
  return [line.put(at, at, close), `${line.text(0)}${close}`].map((text) => ({
    message,
    lines: [text],
  }));
};

/** `A(1)=5`, `A++`, `AB=…` without LET. */
export const letMissing: Recogniser = (line, at) => {
  if (at !== 0 || !line.isName(0)) return undefined;
  const run = /^IF\s*(\S.*?)\s*THEN\s*(\d+|\S.*)$/i.exec(line.text(0));
  if (run !== null) {
    const [, condition, then] = run;
    const lines = [`IF ${condition} THEN ${asStatement(then)}`];
    return { message: 'words are run together here', lines };
  }
  if (line.word(1) === '(' && line.word(line.closing(1) + 1) === '=') {
    return {
      message: `LET is missing before ${line.text(0, line.closing(1) + 1)}`,
      why: 'every assignment begins with LET on this machine',
      span: line.span(0),
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
  if (word === 'USR')
    return {
      message: 'USR gives a number: a command takes it',
      span: line.span(0),
      lines: [`RAND ${text}`],
    };
  if (word === 'AT' || word === 'TAB')
    return { message: `${word} is part of a PRINT`, span: line.span(0), lines: [`PRINT ${text};`] };
  if (word === 'GO' && line.isNumber(1))
    return {
      message: 'GO alone is no command',
      span: line.span(0),
      lines: [`GOTO ${line.text(1)}`],
    };
  if (['CALL', 'SYS', 'EXEC'].includes(word) && line.length > 1)
    return {
      message: `this machine has no ${word}`,
      span: line.span(0),
      lines: [`RAND USR ${line.text(1)}`],
    };
  if ((word === 'RANDOMIZE' || word === 'RANDOMISE') && line.word(1) !== 'TIMER')
    return {
      message: `this machine has no ${word}`,
      span: line.span(0),
      lines: [`RAND ${line.text(1)}`.trim()],
    };
  if (/^(?:\/|\/\*|!|#|')$/.test(word)) {
    const words = text.replace(/^(?:\/\*|\/\/|!|#|')\s*/, '').replace(/\s*\*\/$/, '');
    return {
      message: 'a remark begins with REM',
      span: line.span(0),
      lines: [`REM ${words}`],
      mind: "or on a line of its own without number, beginning with ', which the machine does not store",
    };
  }
  if (/^(?:SET|VAR|CONST|INT|DEFINT|DIM)$/.test(word) && line.word(2) === '=')
    return {
      message: `this machine sets a variable with LET`,
      span: line.span(0),
      lines: [`LET ${line.text(1)}`],
    };
  if (['WAIT', 'DELAY', 'SLEEP'].includes(word))
    return {
      message: `this machine has no ${word}`,
      span: line.span(0),
      lines: [`PAUSE ${word === 'SLEEP' && line.length > 1 ? '50*' : ''}${line.text(1)}`.trim()],
      mind: 'PAUSE counts frames, 50 or 60 of them a second',
    };
  if (word === 'LOCATE' && line.words.includes(','))
    return {
      message: 'this machine has no LOCATE',
      span: line.span(0),
      lines: line
        .parts(0, line.length, [':'])
        .map((part, index) =>
          index === 0 ? `PRINT AT ${part.slice('LOCATE'.length).trim()};` : part,
        ),
      mind: 'rows are 0 to 21, columns 0 to 31, both counted from 0',
    };
  const plot = { SET: 'PLOT', PSET: 'PLOT', RESET: 'UNPLOT', PRESET: 'UNPLOT' }[word];
  if (plot !== undefined && line.word(1) === '(')
    return {
      message: `this machine has no ${word}`,
      span: line.span(0),
      lines: [`${plot} ${line.text(2, line.closing(1))}`],
      mind: 'PLOT counts y upwards from the bottom, 0 to 43',
    };
  return undefined;
};

/** A remark or comment at the end of a statement. */
export const remarkBehind: Recogniser = (line, at) => {
  const sign = line.word(at);
  if (
    at === 0 ||
    !(sign.startsWith('REM') || sign === "'" || (sign === '!' && !line.isName(at - 1)))
  )
    return undefined;
  if (sign === "'" && line.word(at - 1) !== '' && line.words.slice(at + 1).includes("'"))
    return undefined;
  const words = line.text(at).replace(/^(?:REM|'|!)\s*/i, '');
  if (words === '' && sign === '!') return undefined;
  const before = line.text(0, line.word(at - 1) === ':' ? at - 1 : at);
  return {
    message: 'a remark stands on a line of its own',
    span: line.span(at),
    lines: [before, `REM ${words}`],
  };
};
