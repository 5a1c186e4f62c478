/** Statements that other dialects put otherwise, and those with a word or a sign too few or too many. */
import { asStatement, type Recogniser, type Remedy } from './mistyped.js';

/** `LET A=1:LET B=2`, and behind IF what other machines leave out with it. */
export const colon: Recogniser = (line, at) => {
  if (line.word(at) !== ':') return undefined;
  const command = line.commandOf(at);
  const statements = line.parts(command, line.length, [':']).filter((part) => part !== '');
  const message = 'one statement stands on a line';
  const isItem = line.isValue(at + 1) || ['AT', 'TAB'].includes(line.word(at + 1));
  if (/^L?PRINT$/.test(line.word(command)) && isItem && line.word(at + 2) !== '=') {
    const item = `${line.text(at + 1, at + 2)}${at + 2 < line.length ? '…' : ''}`;
    const lines = [line.put(at, at + 1, ';').replace(/ ; */, ';')];
    return { message: `; or , is missing before ${item}`, lines };
  }
  const loop = /^FOR\s*([A-Z])/i.exec(statements[0])?.[1];
  const mended = statements.map((statement) => {
    if (/^NEXT$/i.test(statement) && loop !== undefined) return `NEXT ${loop}`;
    return /^END$/i.test(statement) ? 'STOP' : asStatement(statement);
  });
  const lines = line.lines(command, mended);
  if (lines !== undefined) {
    const mind = command > 0 ? 'each needs the IF again' : undefined;
    return { message, lines, mind };
  }
  return {
    message,
    lines: [],
    mind: `write ${line.jumpOver(command)} to the line behind all of it, and each statement on a line of its own between`,
  };
};

/** `INPUT A,B`, `NEXT I,J`, `DIM A(5),B(5)`, `LET A=1,B=2`. */
export const list: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  const word = line.word(command);
  if (!['INPUT', 'NEXT', 'DIM', 'LET'].includes(word)) return undefined;
  const separator = line.word(at);
  const also = word === 'INPUT' || word === 'LET' ? [',', ';'] : [','];
  if (!also.includes(separator)) {
    if (!(word === 'DIM' || word === 'NEXT') || !line.isName(at)) return undefined;
    const lines = line.lines(command, [line.text(command, at), `${word} ${line.text(at)}`]);
    return lines && { message: `${word} takes one at a time`, lines };
  }
  const parts = line.parts(command + 1, line.length, also);
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
  return lines && { message, lines };
};

/** `LET A,B=1`. */
export const sharedValue: Recogniser = (line, at) => {
  if (line.word(0) !== 'LET' || line.word(at) !== ',') return undefined;
  const equals = line.words.indexOf('=');
  if (equals < at) return undefined;
  const names = line.parts(1, equals);
  const lines = names.map((name) => `LET ${name}=${line.text(equals + 1)}`);
  return { message: 'LET sets one variable', lines };
};

/** `PLOT (X,Y)`, `POKE (16418,0)`, `PRINT AT (1,2);`. */
export const bracketedPair: Recogniser = (line, at) => {
  const open = line.words.lastIndexOf('(', at);
  const before = line.word(open - 1);
  if (open < 1 || !['PLOT', 'UNPLOT', 'POKE', 'AT', 'LOCATE'].includes(before)) return undefined;
  const close = line.closing(open);
  if (line.word(at) !== ',') return undefined;
  const message = `${before} takes its two values without brackets`;
  const space = line.touch(open - 1) ? ' ' : '';
  const pair = close < 0 ? '' : line.text(open + 1, close);
  const lines = [line.put(open, Math.max(open, close) + 1, `${space}${pair}`)];
  return { message, span: line.span(open), lines };
};

/** A comma, semicolon or word that is missing between two values, or another in its place. */
export const separators: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  const word = line.word(command);
  const found = line.word(at);
  if (word === 'POKE' || word === 'PLOT' || word === 'UNPLOT') {
    const message = `${word} takes two values with a comma between`;
    const comma = (from: number): Remedy => ({
      message,
      lines: [line.put(from, from + 1, ',').replace(/ *, */, ',')],
    });
    if (line.word(command + 1) === 'AT') {
      return {
        message: `${word} takes no AT`,
        lines: [line.without(command + 1, at + 1)],
      };
    }
    if (at === line.length && !line.words.slice(command).includes(',')) {
      const sign = line.words.findIndex((text, index) => index > command && /^[-=]$/.test(text));
      if (sign > 0) return comma(sign);
      const point = line.words.findIndex((text, index) => index > command && /\d\.\d/.test(text));
      if (point > 0)
        return { message, lines: [line.put(point, point + 1, line.word(point).replace('.', ','))] };
    }
    if (found === 'TO') {
      if (word !== 'POKE') return comma(at);
      return {
        message: 'POKE sets one byte',
        lines: [],
        mind: 'write a FOR loop whose variable is the address, as in FOR I=16514 TO 16520, POKE I,0, NEXT I, each on its line',
      };
    }
    if (found === ';' || found === ':' || found === '=')
      return { message, lines: [line.put(at, at + 1, ',')] };
    if (line.isValue(at) || line.tokens[at]?.payload?.kind === 'function') {
      return { message, lines: [line.put(at, at, ',').replace(/ +,/, ',')] };
    }
  }
  if (word !== 'PRINT' && word !== 'LPRINT') return undefined;
  const atPlace = line.words.lastIndexOf('AT', at);
  if (atPlace > 0 && atPlace < at && !line.words.slice(atPlace, at).includes(',')) {
    const message = 'AT takes row and column with a comma between';
    const place = line.word(at - 1);
    const parted = place.includes('.')
      ? [line.put(at - 1, at, place.replace('.', ','))]
      : [line.put(at, at, ',0')];
    const semicolon = found === ';' ? [line.put(at, at + 1, ',')] : [];
    const gap = found === ';' || found === '' ? [] : [line.put(at, at, ',').replace(/ +,/, ',')];
    const behind = found === ';' || found === '' ? [] : [line.put(at, at, ',0;')];
    return [...semicolon, ...gap, ...(found === ';' ? parted : behind)].map((text) => ({
      message,
      lines: [text],
    }));
  }
  if (at >= line.length || line.isOther(at) || line.isOther(at - 1)) return undefined;
  if (found === '.' || line.word(at - 1) === '.') return undefined;
  const items = {
    message: `; or , is missing before ${line.text(at, at + 1)}`,
    lines: [line.put(at, at, ';').replace(/ +;/, ';')],
  };
  const isItem =
    line.isValue(at) ||
    ['AT', 'TAB'].includes(found) ||
    ['function', 'constant'].includes(line.tokens[at].payload?.kind ?? '');
  return isItem ? items : undefined;
};

/** `LET LET A=5`, `IF A=1 THEN THEN STOP`. */
export const twice: Recogniser = (line, at) => {
  const word = line.word(at);
  if (word === '+' && /^(?:=|\(|,|;|[-+*/]|PRINT|LPRINT)$/.test(line.word(at - 1))) {
    const message = 'no + stands before a value';
    return { message, lines: [line.put(at, at + 1, '')] };
  }
  if (word === '' || word !== line.word(at - 1) || line.tokens[at].payload === undefined)
    return undefined;
  if (!/^[A-Z]/.test(word)) return undefined;
  const lines = [line.without(at)];
  return { message: `${word} stands twice`, lines };
};

/** `PRINT A)`, `IF A=1) THEN STOP`. */
export const extraBracket: Recogniser = (line, at) => {
  if (line.word(at) !== ')') return undefined;
  const message = 'this ) closes nothing';
  return { message, lines: [line.put(at, at + 1, '')] };
};

/** `PRINT (A;B)`, `PRINT(AT 5,5;"A")`. */
export const bracketedItems: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  if (!/^L?PRINT$/.test(line.word(command)) || line.word(command + 1) !== '(') return undefined;
  const close = line.closing(command + 1);
  if (close < 0 || at > close) return undefined;
  const inner = line.text(command + 2, close);
  if (inner === '') return undefined;
  const lines = [line.put(command + 1, close + 1, ` ${inner}`).replace(/ {2,}/, ' ')];
  const message = `${line.word(command)} takes what it shows without brackets`;
  return { message, span: line.span(command + 1), lines };
};

/** `GOSUB 100 GOTO 50`: two statements without a line number between. */
export const twoStatements: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  const kind = line.tokens[at]?.payload?.kind;
  if (at <= command || line.word(at) === 'IF' || (kind !== 'simple' && kind !== 'command'))
    return undefined;
  const joined = line.word(at - 1) === 'AND' ? at - 1 : at;
  const lines = line.lines(command, [line.text(command, joined), line.text(at)]);
  const message = 'one statement stands on a line';
  if (lines !== undefined) return { message, lines };
  return {
    message,
    lines: [],
    mind: `write ${line.jumpOver(command)} to the line behind both, and each on a line of its own between`,
  };
};

/** `POKE 16514,1,2,3`. */
export const severalBytes: Recogniser = (line, at) => {
  if (line.word(0) !== 'POKE' || line.word(at) !== ',' || !line.isNumber(1)) return undefined;
  const [address, ...bytes] = line.parts(1);
  const lines = bytes.map((byte, index) => `POKE ${Number(address) + index},${byte}`);
  return { message: 'POKE sets one byte', lines };
};

const TOO_MUCH: Record<string, string> = {
  CLEAR: 'the top of the memory is set by POKE 16388 and POKE 16389, then NEW',
  LINE: 'to begin by itself, write .start and the line on a line of the listing',
  PAUSE: 'PAUSE counts frames, 50 or 60 of them a second',
  CODE: 'SAVE and LOAD always take the program and its variables together',
};

/** More than the command takes: `CLEAR 100`, `GOTO 10,20`, `SAVE "A",8`. */
export const tooMuch: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  const word = line.word(command);
  const { payload } = line.tokens[command] ?? {};
  if (at <= command || at >= line.length || line.word(at) === ':') return undefined;
  if (/^(?:GOTO|GOSUB|GO TO|GO SUB|RUN|LIST)$/.test(word) && /^(?:#|LINE)$/.test(line.word(at))) {
    const lines = [line.without(at)];
    return { message: `${word} takes the number alone`, lines };
  }
  if (word === 'STOP' && line.isText(at)) {
    const lines = line.lines(command, [`PRINT ${line.text(at)}`, 'STOP']);
    return lines && { message: 'STOP takes nothing on this machine', lines };
  }
  if (line.word(at) === '=' && at === command + 1 && payload?.kind === 'simple') {
    const lines = [line.put(at, at + 1, ' ').replace(/ {2,}/, ' ')];
    return { message: `no = stands behind ${word}`, lines };
  }
  if (JUMPS.has(word) && line.word(at - 1) === 'LINE' && line.isNumber(at)) {
    const lines = [line.without(at - 1)];
    return { message: `${word} takes the number alone`, span: line.span(at - 1), lines };
  }
  if (JUMPS.has(word) && line.word(at) === ',') {
    return {
      message: `${word} goes to one line`,
      lines: [],
      mind: `write ${word} with a value that is worked out, as in ${word} 100*N, or an IF for each line`,
    };
  }
  if (/^L?LIST$/.test(word) && line.word(at) === ',' && line.isNumber(at + 1))
    return { message: `${word} takes the first line alone`, lines: [line.text(0, at)] };
  if (payload?.kind !== 'simple') return undefined;
  const takes = ['nothing', 'one value', 'two values'][payload.takes.length];
  return {
    message: `${word} takes ${takes} on this machine`,
    lines: [line.text(0, at)],
    mind: TOO_MUCH[line.word(at)] ?? (line.word(at) === 'ALL' ? undefined : TOO_MUCH[word]),
  };
};

const JUMPS = new Set(['GOTO', 'GOSUB', 'GO TO', 'GO SUB']);

/** `LET A=1,000`, `LET A=1,5`, `LET X=X+1;` */
export const numberWithComma: Recogniser = (line, at) => {
  const sign = line.word(at);
  if (/^[;,.]$/.test(sign) && at === line.length - 1)
    return { message: `no ${sign} ends a statement here`, lines: [line.text(0, at)] };
  if (sign.startsWith('.') && line.isNumber(at) && line.isNumber(at - 1) && line.touch(at - 1)) {
    const message = 'a number has one point';
    return { message, span: line.span(at - 1, at + 1), lines: [], mind: 'leave a point out' };
  }
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

/** `2A`, `PI R`: what is meant to multiply; `1O`: a letter in place of a digit. */
export const product: Recogniser = (line, at) => {
  const [left, right] = [line.word(at - 1), line.word(at)];
  const isPiFirst = left === 'PI' && (line.isValue(at) || right === '(') && !line.isString(at);
  if (isPiFirst || (right === 'PI' && isDigits(left)))
    return { message: '* is missing', lines: [line.put(at, at, '*').replace(/ +\*/, '*')] };
  if (line.isNumber(at - 1) && line.touch(at - 1) && /^[OIL][\dOIL]*$/.test(right)) {
    const number = left + right.replace(/O/g, '0').replace(/[IL]/g, '1');
    const span = line.span(at - 1, at + 1);
    const message = `a letter stands in the number ${number}`;
    const mind = `or ${left}*${right} where a variable ${right} is to multiply`;
    return { message, span, lines: [line.put(at - 1, at + 1, number)], mind };
  }
  if (!isDigits(left) || !line.isName(at) || !line.touch(at - 1)) return undefined;
  if (/^(?:[EHK]|X[\dA-F])/.test(line.word(at))) return undefined;
  return { message: '* is missing', lines: [line.put(at, at, '*')] };
};

const isDigits = (word: string): boolean => /^[\d.]*\d/.test(word);

/** A remark or comment at the end of a statement. */
export const remarkBehind: Recogniser = (line, at) => {
  const sign = line.word(at);
  if (
    at === 0 ||
    !(
      sign.startsWith('REM') ||
      sign === "'" ||
      (sign === '!' && !line.isName(at - 1) && at + 1 < line.length) ||
      (sign === '/' && line.word(at - 1) === '/' && line.word(at + 1).length > 2)
    )
  )
    return undefined;
  const from = sign === '/' ? at - 1 : at;
  if (sign === "'" && line.word(at - 1) !== '' && line.words.slice(at + 1).includes("'"))
    return undefined;
  if (sign === "'" && /^(?:L?PRINT|INPUT|SAVE|LOAD|[;,=+(])$/.test(line.word(at - 1)))
    return undefined;
  const words = line.text(from).replace(/^(?:REM|'|!|\/\/)\s*/i, '');
  if (words === '' && sign === '!') return undefined;
  const before = line.text(0, line.word(from - 1) === ':' ? from - 1 : from);
  return { message: 'a remark stands on a line of its own', lines: [before, `REM ${words}`] };
};
