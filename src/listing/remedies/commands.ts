/** Commands that other dialects name otherwise, and those whose words lead astray here. */
import { noSuch, type Recogniser } from './mistyped.js';

/** Commands that are one of this machine's by another name, and take what it takes. */
const SAME: Record<string, string> = {
  JUMP: 'GOTO',
  BRANCH: 'GOTO',
  PERFORM: 'GOSUB',
  LINPUT: 'INPUT',
  ACCEPT: 'INPUT',
  ENTER: 'INPUT',
  REDIM: 'DIM',
  WHEN: 'IF',
  HCOPY: 'COPY',
  HALT: 'STOP',
  BREAK: 'STOP',
  CLEARSCREEN: 'CLS',
};

/** `JUMP 100`, `ACCEPT A`, `HALT`, `CLEAR SCREEN`. */
export const sameCommand: Recogniser = (line) => {
  const word = line.word(0);
  if (word === 'CLEAR' && /^(?:SCREEN|DISPLAY)$/.test(line.word(1)) && line.length === 2) {
    return { message: 'CLEAR gives up the variables: CLS clears the screen', lines: ['CLS'] };
  }
  if (!Object.hasOwn(SAME, word) || line.word(1) === '=') return undefined;
  const lines = [`${SAME[word]} ${line.text(1)}`.trim()];
  const mind = word === 'BREAK' ? 'GOTO leaves a loop' : undefined;
  return { ...noSuch(word, `${SAME[word]} is its own`), lines, mind };
};

const LINES = 'this machine has no lines: PLOT each point';
const SHAPES =
  'this machine fills no shapes: PLOT each point, or PRINT rows of spaces in inverse video';
const SILENT = 'this machine has no sound';
const REPORTED = 'a mistake stops the program with a report: ask before it, by IF';
const EVERYWHERE = 'all variables of this machine are seen everywhere: leave it out';

/** Commands of others whose words are good names of variables here: what to do in their place. */
const NONE: Record<string, string> = {
  MOVE: LINES,
  FORWARD: LINES,
  PAINT: SHAPES,
  FILL: SHAPES,
  BOX: SHAPES,
  RECTANGLE: SHAPES,
  TONE: SILENT,
  NOISE: SILENT,
  MUSIC: SILENT,
  VOLUME: SILENT,
  TRAP: REPORTED,
  ERROR: REPORTED,
  COMMON: EVERYWHERE,
  STATIC: EVERYWHERE,
  LABEL: 'a line is named by its number: leave it out',
  MAT: 'this machine works on one element at a time: write a FOR loop',
  SORT: 'compare and exchange elements in two loops',
  WIDTH: 'the rows of this machine always have 32 columns: leave it out',
  PRINTER: 'LPRINT, LLIST and COPY print',
  SPEED: 'FAST and SLOW are the speeds of this machine',
};

/** `MOVE 5,6`, `SPEED 5`, and not `SPEED=5`. */
export const noCommand: Recogniser = (line) => {
  const word = line.word(0);
  if (!Object.hasOwn(NONE, word) || line.word(1) === '=') return undefined;
  const span = line.span(0);
  return { ...noSuch(word), rule: 'other-dialect', span, lines: [], mind: NONE[word] };
};

/** `CALL DRAW`, `DEF PROC X`: a subroutine by its name. */
export const namedSubroutine: Recogniser = (line) => {
  const isCall = /^(?:CALL|EXEC|PERFORM)$/.test(line.word(0)) && line.isName(1);
  if (isCall && line.word(1).length > 2) {
    const mind = 'write GOSUB and the number of the line where it begins; it ends with RETURN';
    return { message: 'a subroutine of this machine has no name', lines: [], mind };
  }
  if (!/^(?:DEF|DEFINE)$/.test(line.word(0)) || !/^(?:PROC|SUB)/.test(line.word(1))) return;
  const mind = 'it begins at a line number, which GOSUB names, and ends with RETURN';
  return { message: 'a subroutine of this machine has no name', lines: [], mind };
};

/** `ON ERR GOTO 10`, `ON ERROR GOTO 10`, `ON KEY GOTO 10`. */
export const onEvent: Recogniser = (line) => {
  const what = line.word(1);
  if (line.word(0) !== 'ON' || !/^(?:ERR|ERROR|BREAK|KEY|TIMER|INTERRUPT)$/.test(what)) return;
  const mind = what.startsWith('ERR')
    ? REPORTED
    : what === 'BREAK'
      ? 'BREAK always stops the program; CONT goes on'
      : 'nothing happens by itself here: ask for it in a loop, as in IF INKEY$="A" THEN GOTO 100';
  return { ...noSuch(`ON ${what}`), span: line.span(0, 2), lines: [], mind };
};

/** `WAIT KEY`, `WAIT 2 SECONDS`, `PAUSE 1 SECOND`. */
export const waiting: Recogniser = (line) => {
  const word = line.word(0);
  if (!/^(?:WAIT|DELAY|SLEEP|PAUSE)$/.test(word)) return undefined;
  if (/^(?:KEY|INKEY\$|ANYKEY|FOR)$/.test(line.word(1)) && !line.isNumber(2)) {
    const mind = 'from 32768 up PAUSE waits for a key';
    return { message: 'PAUSE waits for a key here', lines: ['PAUSE 40000'], mind };
  }
  if (!line.isNumber(1) || !/^(?:S|SEC|SECS|SECONDS?)$/.test(line.word(2))) return undefined;
  const lines = [`PAUSE ${line.text(1, 2) === '1' ? '50' : `50*${line.text(1, 2)}`}`];
  return { message: 'PAUSE counts frames, 50 or 60 of them a second', lines };
};

/** `++I`, `--I`, `ADD 5 TO A`, `SUBTRACT 5 FROM A`, `@5,5`. */
export const otherBeginnings: Recogniser = (line) => {
  const [word, next] = [line.word(0), line.word(1)];
  if (/^[-+]$/.test(word) && next === word && line.isName(2) && line.length === 3) {
    const name = line.text(2);
    const message = 'LET names the variable and gives it a whole expression';
    return { message, lines: [`LET ${name}=${name}${word}1`] };
  }
  const joint = { ADD: 'TO', SUBTRACT: 'FROM' }[word];
  const at = joint === undefined ? -1 : line.words.indexOf(joint);
  if (at > 1 && line.isName(at + 1) && line.length === at + 2) {
    const [name, value] = [line.text(at + 1), line.text(1, at)];
    const none = noSuch(word, 'LET gives a variable its value');
    return { ...none, lines: [`LET ${name}=${name}${word === 'ADD' ? '+' : '-'}${value}`] };
  }
  if (word !== '@') return undefined;
  const lines = [`PRINT AT ${line.text(1)}${line.words.includes(';') ? '' : ';'}`];
  return { message: 'this machine writes PRINT AT for @', lines };
};

/** `PLOT INK 2;5,6`: colours within a statement that has none. */
export const coloursWithin: Recogniser = (line, at) => {
  const colour = line.words.findIndex((word) =>
    /^(?:INK|PAPER|BRIGHT|FLASH|OVER|INVERSE)$/.test(word),
  );
  const end = line.words.indexOf(';', colour);
  if (!/^(?:UN)?PLOT$/.test(line.word(0)) || colour !== 1 || end < 0 || at > end) return undefined;
  const lines = [line.without(1, end + 1)];
  return { ...noSuch(line.word(1)), span: line.span(1, end), lines };
};

/** `INKEY$ A$`, `KEY A$`. */
export const keyIntoName: Recogniser = (line) => {
  if (!/^(?:INKEY\$?|KEY|GETKEY|GETKEY\$|GET)$/.test(line.word(0)) || line.length !== 2)
    return undefined;
  if (!/^[A-Z]\$?$/.test(line.word(1))) return undefined;
  const lines = [`LET ${line.word(1)[0]}$=INKEY$`];
  const mind = 'where no key is down that is "": a line behind it goes back until one is';
  return { message: 'INKEY$ gives the key that is down', lines, mind };
};
