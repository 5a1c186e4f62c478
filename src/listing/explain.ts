/** Words for what a parser's failure means, and what to write instead. */
import { KEYWORD_TABLE } from '../../grammar/keywords.js';
import {
  Equals,
  Foreign,
  type ListingToken,
  NumberName,
  OpenString,
  StringName,
} from '../../grammar/lexer.js';
import type { Failure } from '../../grammar/parser.js';
import { named } from '../../grammar/text.js';
import type { Problem } from '../../grammar/tree.js';
import { codeOfUnicode } from '../machine/characters.js';
import { remedyFor, remedyForProblem } from './remedies/remedies.js';

/** Words and signs of other dialects of BASIC: what this machine uses instead. */
const OTHER_DIALECTS: Record<string, string> = {
  READ: 'this machine has no READ or DATA: give each value with LET, or cut it from a string with VAL and a slice',
  DATA: 'this machine has no READ or DATA: give each value with LET, or cut it from a string with VAL and a slice',
  RESTORE: 'this machine has no READ, DATA or RESTORE: keep the values in an array or a string',
  ELSE: 'this machine has no ELSE: put a GOTO after THEN, and the other case on the next line',
  ELSEIF: 'this machine has no ELSEIF: write an IF line for each case',
  ENDIF: 'IF and THEN stand on one line here and need no end: leave it out',
  ON: 'this machine has no ON … GOTO: compute the line, as in GOTO 100*N',
  DEF: 'this machine has no DEF FN: keep the expression in a string and use VAL, or write a subroutine',
  FN: 'this machine has no FN: keep the expression in a string and use VAL, or write a subroutine',
  END: 'use STOP, or let the program run past its last line',
  HOME: 'use CLS',
  LOCATE: 'use PRINT AT row,column;',
  GET: 'use LET A$=INKEY$, with a line that waits while it is ""',
  GETKEY: 'use INKEY$',
  INKEY: 'it is INKEY$ on this machine',
  GET$: 'use INKEY$',
  WHILE: 'this machine has no WHILE: use IF … THEN GOTO',
  WEND: 'this machine has no WHILE: use IF … THEN GOTO',
  REPEAT: 'this machine has no REPEAT: use IF … THEN GOTO',
  UNTIL: 'this machine has no UNTIL: use IF … THEN GOTO',
  DO: 'this machine has no DO and LOOP: use IF … THEN GOTO',
  LOOP: 'this machine has no DO and LOOP: use IF … THEN GOTO',
  PROC: 'use GOSUB',
  DRAW: 'this machine has no lines: PLOT each point',
  CIRCLE: 'this machine has no circles: PLOT each point',
  LINE: 'this machine has no lines: PLOT each point',
  SET: 'use PLOT x,y',
  RESET: 'use UNPLOT x,y',
  PSET: 'use PLOT x,y',
  INK: 'this machine has no colours',
  PAPER: 'this machine has no colours; inverse video is written [~TEXT]',
  COLOR: 'this machine has no colours; inverse video is written [~TEXT]',
  COLOUR: 'this machine has no colours; inverse video is written [~TEXT]',
  BORDER: 'this machine has no colours and no border',
  FLASH: 'this machine has no flashing characters',
  BRIGHT: 'this machine has no brightness',
  OVER: 'this machine does not print over: UNPLOT or print again',
  INVERSE: 'inverse video is written [~TEXT] inside a string',
  NORMAL: 'inverse video is written [~TEXT] inside a string; nothing has to be switched back',
  BEEP: 'this machine has no sound',
  SOUND: 'this machine has no sound',
  RANDOMIZE: 'use RAND',
  RANDOMISE: 'use RAND',
  REMARK: 'use REM',
  OPEN: 'this machine has no files: SAVE and LOAD take the program and its variables together',
  CLOSE: 'this machine has no files: SAVE and LOAD take the program and its variables together',
  FILES: 'a tape has no list of what is on it',
  CAT: 'a tape has no list of what is on it',
  DIR: 'a tape has no list of what is on it',
  KILL: 'this machine has no files to delete',
  ERASE: 'this machine has no files to delete; DIM anew empties an array',
  CLR: 'use CLEAR, which gives up all variables',
  WAIT: 'use PAUSE, which counts frames: PAUSE 50 is one second at 50 frames a second',
  DELAY: 'use PAUSE, which counts frames: PAUSE 50 is one second at 50 frames a second',
  SLEEP: 'use PAUSE, which counts frames: PAUSE 50 is one second at 50 frames a second',
  VTAB: 'use PRINT AT row,column;',
  HTAB: 'use PRINT TAB column;',
  CURSOR: 'use PRINT AT row,column;',
  HPLOT: 'this machine has no lines: PLOT each point',
  PLAY: 'this machine has no sound',
  TRACE: 'this machine has no trace: `listwright rehearse` runs a listing and says where it went',
  TRON: 'this machine has no trace: `listwright rehearse` runs a listing and says where it went',
  TROFF: 'this machine has no trace: `listwright rehearse` runs a listing and says where it went',
  SYSTEM: 'use STOP',
  QUIT: 'use STOP',
  SWAP: 'use a third variable: LET C=A, LET A=B, LET B=C, each on its line',
  INC: 'use LET A=A+1',
  DEC: 'use LET A=A-1',
  PUSH: 'keep the value in a variable, or in an element of an array',
  POP: 'this machine has no POP: leave a subroutine by RETURN',
  SCREEN: 'this machine has one kind of display and no modes',
  MODE: 'this machine has one kind of display and no modes',
  WINDOW: 'this machine has one kind of display and no windows',
  GRAPHICS: 'text and PLOT share one display: nothing has to be switched',
  TEXT: 'text and PLOT share one display: nothing has to be switched',
  RENUM: '`listwright renumber` does that to the listing',
  RENUMBER: '`listwright renumber` does that to the listing',
  DPOKE: 'use two POKEs: the low byte N-256*INT (N/256), then the high byte INT (N/256)',
  DOKE: 'use two POKEs: the low byte N-256*INT (N/256), then the high byte INT (N/256)',
  DEEK: 'use PEEK A+256*PEEK (A+1)',
  DPEEK: 'use PEEK A+256*PEEK (A+1)',
  SUB: 'use GOSUB and RETURN: a subroutine begins at a line number',
  FUNCTION: 'use GOSUB and RETURN: a subroutine begins at a line number',
  ENDPROC: 'use RETURN',
  LOCAL: 'all variables of this machine are seen everywhere: leave it out',
  GLOBAL: 'all variables of this machine are seen everywhere: leave it out',
  CONST: 'use LET',
  DEFINT: 'this machine has one kind of number: leave it out',
  OPTION: 'subscripts of this machine begin at 1: leave it out',
  MAX: 'this machine has no MAX: write an IF, as in IF B>A THEN LET A=B',
  MIN: 'this machine has no MIN: write an IF, as in IF B<A THEN LET A=B',
  CINT: 'use INT (X+.5)',
  FIX: 'use SGN X*INT ABS X',
  DOWNTO: 'use TO, with STEP -1 at the end',
  CONTINUE: 'use CONT',
  CONTINE: 'use CONT',
  BYE: 'use STOP',
  EXIT: 'use GOTO to leave a loop',
  CALL: 'use RAND USR address',
  SYS: 'use RAND USR address',
  EXEC: 'use RAND USR address',
  IN: 'this machine has no IN: it needs machine code',
  OUT: 'this machine has no OUT: it needs machine code',
  MERGE: 'this machine cannot merge programs',
  VERIFY: 'this machine cannot verify a tape: recover the recording and compare',
  AUTO: 'lines are numbered by hand here; `renumber` can do it afterwards',
  DELETE: 'a line is deleted by leaving it out of the listing',
  EDIT: 'EDIT is a key of the machine, not a command',
  MID$: 'use a slice: A$(2 TO 4) for the second to the fourth character',
  LEFT$: 'use a slice: A$( TO 3) for the first three characters',
  RIGHT$: 'use a slice: A$(LEN A$-2 TO ) for the last three characters',
  STRING$: 'this machine has no STRING$: join the string in a loop',
  SPACE$: 'write the spaces in a string, or use TAB',
  HEX$: 'this machine has no HEX$: divide by 16',
  UCASE$: 'this machine has capitals only',
  ASC: 'use CODE, and mind that the codes are the machine’s own',
  CHR: 'it is CHR$ on this machine',
  STR: 'it is STR$ on this machine',
  INSTR: 'this machine has no INSTR: compare slices in a loop',
  LOG: 'use LN, the natural logarithm; LN X/LN 10 is the one to base 10',
  LOG10: 'use LN X/LN 10',
  SQRT: 'use SQR',
  ARCSIN: 'use ASN',
  ARCCOS: 'use ACS',
  ARCTAN: 'use ATN',
  ATAN: 'use ATN',
  RANDOM: 'use RND',
  MOD: 'use A-B*INT (A/B)',
  DIV: 'use INT (A/B)',
  XOR: 'this machine has no XOR: AND, OR and NOT work on truth, not on bits',
  FRE: 'this machine has no FRE: `listwright fit` says what is free',
  MEM: 'this machine has no MEM: `listwright fit` says what is free',
  POS: 'PEEK 16441 tells the column: 33 less what it gives',
  VPOS: 'PEEK 16442 tells the row: 24 less what it gives',
  POINT: 'this machine has no POINT: PEEK the display file',
  TIME$: 'use FRAMES: PEEK 16436+256*PEEK 16437 counts down',
  TIME: 'use FRAMES: PEEK 16436+256*PEEK 16437 counts down',
  TIMER: 'use FRAMES: PEEK 16436+256*PEEK 16437 counts down',
  SPC: 'use TAB, or spaces in a string',
  USING: 'this machine has no PRINT USING: use STR$ and TAB',
  TRUE: 'use 1',
  FALSE: 'use 0',
};

const OTHER_SIGNS: Record<string, string> = {
  ':': 'one statement a line on this machine: give the next statement a line number of its own',
  '!': 'this machine has no "!": write REM for a remark',
  '@': 'write AT, as in PRINT AT 10,5;',
  '#': 'this machine has no channels and no "#": write <> for "not equal"',
  '^': 'write ** for "to the power of"',
  '↑': 'write ** for "to the power of"',
  '%': 'this machine has one kind of number: leave the % out',
  '&': 'write + to join strings, AND for "both"; this machine has no hexadecimal numbers',
  '\\': 'write INT (A/B) to divide whole numbers',
  '?': 'write PRINT',
  "'": "a comment of the editor stands on a line of its own, beginning with '; REM stores one in the program",
  '{': 'write round brackets',
  '}': 'write round brackets',
  '~': 'write NOT, or inverse video as [~TEXT] inside a string',
  '|': 'write OR',
  '×': 'write *',
  '÷': 'write /',
  '−': 'write a plain minus sign -',
  '–': 'write a plain minus sign -',
  '—': 'write a plain minus sign -',
  '≤': 'write <=',
  '≥': 'write >=',
  '≠': 'write <>',
  '“': 'write a plain quote "',
  '”': 'write a plain quote "',
  '„': 'write a plain quote "',
  '‘': 'write a plain quote "',
  '’': 'write a plain quote "',
  $: 'a string name is one letter and $, without a space between',
  '£': 'the pound sign can only stand in a string or REM',
  '.': 'a point stands in a number alone, as in 0.5',
  '[': 'write round brackets; square ones hold bytes, as in [F5]',
  ']': 'write round brackets; square ones hold bytes, as in [F5]',
};

const isForeign = (word: string): boolean => Object.hasOwn(OTHER_DIALECTS, word);

/** What this machine uses instead of a word or sign of another dialect; undefined for others. */
export function insteadOf(word: string): string | undefined {
  const upper = word.toUpperCase();
  return Object.hasOwn(OTHER_DIALECTS, upper)
    ? OTHER_DIALECTS[upper]
    : Object.hasOwn(OTHER_SIGNS, word)
      ? OTHER_SIGNS[word]
      : undefined;
}

/**
 * What is wrong with the names and types of a statement. A function of another dialect, such as
 * MID$, explains whatever else is wrong after it.
 */
export function explainProblems(
  problems: readonly Problem[],
  text: string,
  tokens: readonly ListingToken[],
): readonly Problem[] {
  for (const problem of problems) {
    const remedy = remedyForProblem(tokens, problem, isForeign);
    if (remedy !== undefined) return [...problems.filter(({ end }) => end <= remedy.start), remedy];
    if (problem.rule !== 'string-name' && problem.rule !== 'array-name') continue;
    const word = text.slice(problem.start, problem.end).toUpperCase();
    const help = insteadOf(word);
    if (help === undefined) continue;
    const { start, end } = problem;
    const before = problems.filter((other) => other.end <= start);
    return [
      ...before,
      { start, end, rule: 'other-dialect', message: `this machine has no ${word}`, help },
    ];
  }
  return problems;
}

/** Changes of one character (in, out, other, two exchanged) that part two words, up to `most`. */
export function wordDistance(left: string, right: string, most: number): number {
  if (Math.abs(left.length - right.length) > most) return most + 1;
  let before: number[] = [];
  let row = Array.from({ length: right.length + 1 }, (_, at) => at);
  for (let i = 1; i <= left.length; i++) {
    const next = [i];
    for (let j = 1; j <= right.length; j++) {
      const same = left[i - 1] === right[j - 1] ? 0 : 1;
      next[j] = Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + same);
      if (i > 1 && j > 1 && left[i - 1] === right[j - 2] && left[i - 2] === right[j - 1]) {
        next[j] = Math.min(next[j], before[j - 2] + 1);
      }
    }
    before = row;
    row = next;
  }
  return row[right.length];
}

/** The keywords that a misspelt word was most likely meant to be, nearest first. */
export function nearestKeywords(word: string): string[] {
  const upper = word.toUpperCase();
  const most = upper.length < 4 ? 1 : 2;
  if (upper.length < 2 || upper.length > 10) return [];
  return KEYWORD_TABLE.filter(({ word: known }) => /^[A-Z]/.test(known) && known.length > 1)
    .map(({ word: known }) => ({ known, distance: wordDistance(upper, known, most) }))
    .filter(({ distance }) => distance <= most)
    .sort((a, b) => a.distance - b.distance)
    .filter(({ distance }, _, [nearest]) => distance === nearest.distance)
    .map(({ known }) => known)
    .slice(0, 2);
}

function suggestion(word: string, commandsOnly: boolean): string | undefined {
  const near = nearestKeywords(word).filter(
    (known) =>
      !commandsOnly ||
      KEYWORD_TABLE.some(
        ({ word: row, kind }) => row === known && (kind === 'simple' || kind === 'command'),
      ),
  );
  return near.length === 0 ? undefined : `did you mean ${near.join(' or ')}?`;
}

const shown = (token: ListingToken): string =>
  token.image.length > 24 ? `${token.image.slice(0, 20)}…` : token.image.trim();

/** What is wrong with a token that the language never uses; undefined for the others. */
export function foreignProblem(token: ListingToken): Problem | undefined {
  const start = token.startOffset;
  const span = { start, end: start + token.image.length };
  if (token.tokenType === OpenString) {
    return {
      ...span,
      rule: 'open-string',
      message: 'this string has no closing quote',
      help: 'put a " at its end; a quote inside a string is written ""',
    };
  }
  if (token.tokenType !== Foreign && token.image !== '.') return undefined;
  return {
    ...span,
    rule: 'no-such-sign',
    message: `${named(token.image)} has no meaning in a statement`,
    help: insteadOf(token.image) ?? foreignHelp(token.image),
  };
}

function foreignHelp(character: string): string {
  if (codeOfUnicode(character) !== undefined) {
    return 'graphics can only stand in a string or REM, as in PRINT "▚"';
  }
  return /\p{L}/u.test(character)
    ? 'write it with the letters A to Z, or leave it out'
    : 'leave it out';
}

/** What a command looks like when it is whole. */
const FORMS: Record<string, string> = {
  LET: 'LET A=5',
  PRINT: 'PRINT "OAK";A',
  LPRINT: 'LPRINT "OAK";A',
  INPUT: 'INPUT A',
  DIM: 'DIM A(10)',
  FOR: 'FOR I=1 TO 9',
  NEXT: 'NEXT I',
  IF: 'IF A=1 THEN GOTO 100',
  GOTO: 'GOTO 100',
  GOSUB: 'GOSUB 500',
  RUN: 'RUN 100',
  LIST: 'LIST 100',
  LLIST: 'LLIST 100',
  RAND: 'RAND 5',
  PAUSE: 'PAUSE 50',
  PLOT: 'PLOT 10,20',
  UNPLOT: 'UNPLOT 10,20',
  POKE: 'POKE 16514,255',
  SAVE: 'SAVE "OAK"',
  LOAD: 'LOAD "OAK"',
  AT: 'PRINT AT 10,5;"OAK"',
  TAB: 'PRINT TAB 5;"OAK"',
  USR: 'RAND USR 16514',
};

/** The right form of the last command, AT, TAB or USR before the token at `index`. */
function formBefore(tokens: readonly ListingToken[], index: number): string | undefined {
  for (let at = Math.min(index, tokens.length) - 1; at >= 0; at--) {
    const word = tokens[at].payload?.word ?? '';
    if (Object.hasOwn(FORMS, word)) return `write it as in ${FORMS[word]}`;
  }
  return undefined;
}

/** What to write where a value is missing after the token at `index` - 1. */
function valueHelp(tokens: readonly ListingToken[], index: number): string | undefined {
  const { payload, image } = tokens[index - 1];
  if (payload?.kind === 'function' && image !== 'USR') {
    return `write what it is of, as in ${image} ${payload.takes[0] === 'string' ? '"OAK"' : '5'}`;
  }
  const joins = payload?.kind === 'operator' && !(image === '=' && isAssigning(tokens, index - 1));
  if (joins) return `write a value after ${image}, or leave ${image} out`;
  if (image === ',' && isInBrackets(tokens, index)) {
    return 'write a value after the comma, or leave the comma out';
  }
  if (image === '(') return 'write a value in the brackets, as in (A+1)';
  return formBefore(tokens, index);
}

/** Is a bracket still open before the token at `index`? */
function isInBrackets(tokens: readonly ListingToken[], index: number): boolean {
  let open = 0;
  for (const { image } of tokens.slice(0, index))
    open += Number(image === '(') - Number(image === ')');
  return open > 0;
}

/** Is this = that of LET or FOR, the first of the line? */
const isAssigning = (tokens: readonly ListingToken[], index: number): boolean =>
  ['LET', 'FOR'].includes(tokens[0].image) &&
  tokens.findIndex(({ image }) => image === '=') === index;

/**
 * Words for the place where a statement stops being one.
 * `tokens` are the statement's, `end` the offset where its line ends.
 */
export function explainFailure(
  { token: found, wanted }: Failure,
  tokens: readonly ListingToken[],
  end: number,
): Problem {
  const index = found === undefined ? tokens.length : tokens.indexOf(found);
  const span =
    found === undefined
      ? { start: end, end: end + 1 }
      : { start: found.startOffset, end: found.startOffset + found.image.length };
  const remedy = remedyFor(tokens, index, isForeign);
  if (remedy !== undefined) return remedy;
  const foreign = found && foreignProblem(found);
  if (foreign !== undefined) return foreign;
  if (index === 0) return { ...span, ...explainStart(found, tokens) };
  const dialect = dialectAround(tokens, index);
  if (dialect !== undefined) return dialect;
  const misspelt = found && misspeltWord(found);
  return { ...span, rule: 'syntax', ...explainInside(wanted, found, tokens, index), ...misspelt };
}

function misspeltWord(token: ListingToken): { help: string } | undefined {
  if (token.tokenType !== NumberName && token.tokenType !== StringName) return undefined;
  // A name of one or two characters is near to some keyword by chance.
  if (token.image.length < 3) return undefined;
  const help = suggestion(token.image, false);
  return help === undefined ? undefined : { help };
}

function explainStart(
  found: ListingToken | undefined,
  tokens: readonly ListingToken[],
): Omit<Problem, 'start' | 'end'> {
  if (found === undefined) {
    return {
      rule: 'no-statement',
      message: 'there is no statement after the line number',
      why: 'on the machine a number alone deletes the line',
      help: 'write the statement, or leave the line out',
    };
  }
  const name = found.tokenType === NumberName || found.tokenType === StringName;
  if (name) {
    const instead = insteadOf(found.image);
    if (instead !== undefined) {
      return {
        rule: 'other-dialect',
        message: `this machine has no ${found.image.toUpperCase()}`,
        help: instead,
      };
    }
    if (tokens[1]?.tokenType === Equals) {
      return {
        rule: 'let-missing',
        message: `LET is missing before ${shown(found)}`,
        why: 'every assignment begins with LET on this machine',
        help: `write LET ${shown(found)}=…`,
      };
    }
  }
  return {
    rule: 'no-such-command',
    message: `no statement begins with ${shown(found)}`,
    why: 'a statement begins with a command such as PRINT, LET, IF or GOTO',
    help:
      (name ? suggestion(found.image, true) : undefined) ??
      'put the command before it, as in PRINT A or LET A=5',
  };
}

/** A word of another dialect at the failure or just before it explains more than the shape does. */
function dialectAround(tokens: readonly ListingToken[], index: number): Problem | undefined {
  for (const token of [tokens[index], tokens[index - 1], tokens[index - 2]]) {
    if (token === undefined) continue;
    if (token.tokenType !== NumberName && token.tokenType !== StringName) continue;
    const instead = insteadOf(token.image);
    // Two-letter words such as IN and ON are likely to be names where a name can stand.
    if (instead === undefined || (token !== tokens[index] && token.image.length < 3)) continue;
    return {
      start: token.startOffset,
      end: token.startOffset + token.image.length,
      rule: 'other-dialect',
      message: `this machine has no ${token.image.toUpperCase()}`,
      help: instead,
    };
  }
  return undefined;
}

/** `wanted` is what belongs in the place of `found`: see Failure. */
function explainInside(
  wanted: string,
  found: ListingToken | undefined,
  tokens: readonly ListingToken[],
  index: number,
): { message: string; why?: string; help?: string } {
  const previous = tokens[index - 1];
  const here = found === undefined ? 'the line ends' : `${shown(found)} stands`;
  const after = shown(previous);
  if (found !== undefined && wanted === 'the end') return explainRest(found, previous);
  const message = `${here} where ${wanted} belongs, after ${after}`;
  if (wanted === 'a value') {
    return {
      message,
      why: 'a value is a number, a name, a string, a function or something in brackets',
      help: valueHelp(tokens, index),
    };
  }
  return { message, help: HELP[wanted] ?? formBefore(tokens, index) };
}

const HELP: Record<string, string> = {
  'a statement': 'THEN is followed by one statement, such as GOTO 100',
  THEN: 'IF takes a condition, THEN, and one statement',
  TO: 'FOR is written FOR I=1 TO 9, or FOR I=1 TO 9 STEP 2',
  '")"': 'count the brackets: each ( needs its )',
  '"="': 'LET and FOR need = after the name',
  '","': 'AT, PLOT, UNPLOT and POKE take two values with a comma between',
};

/** The statement is whole before the token `found`. */
function explainRest(
  found: ListingToken,
  previous: ListingToken,
): { message: string; why?: string; help: string } {
  if (previous.image.endsWith('"') && found.image.startsWith('"')) {
    return {
      message: 'two strings stand side by side',
      help: 'join them with +, or put ; between them in PRINT',
    };
  }
  if (found.image === '"' || found.image === ')') {
    return {
      message: `this ${found.image} closes nothing`,
      help: 'leave it out, or write the one that opens',
    };
  }
  return {
    message: `the statement is complete before ${shown(found)}`,
    why: 'one statement stands on a line, and no operator or separator joins this to what is before it',
    help: 'put an operator, a comma or a semicolon between, or begin a new line',
  };
}
