/** Words for what a parser's failure means, and what to write instead. */
import { KEYWORD_TABLE } from '../../grammar/keywords.js';
import type { Failure } from '../../grammar/parser.js';
import { named } from '../../grammar/text.js';
import { Equals, Foreign, isName, type ListingToken, OpenString } from '../../grammar/tokens.js';
import type { Problem } from '../../grammar/tree.js';
import { codeOfUnicode } from '../machine/characters.js';
import { insteadOf } from './other-dialects.js';
import { remedyFor, remedyForProblem } from './remedies/remedies.js';

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
    const remedy = remedyForProblem(tokens, problem);
    if (remedy !== undefined) return [...problems.filter(({ end }) => end <= remedy.start), remedy];
    if (problem.rule !== 'string-name' && problem.rule !== 'array-name') continue;
    const { start, end } = problem;
    const foreign = otherDialect(text.slice(start, end));
    if (foreign === undefined) continue;
    return [...problems.filter((other) => other.end <= start), { start, end, ...foreign }];
  }
  return problems;
}

/** What is said of a word of another dialect; undefined for others. */
function otherDialect(word: string): Omit<Problem, 'start' | 'end'> | undefined {
  const advice = insteadOf(word);
  if (advice === undefined) return undefined;
  const missing = word.toUpperCase();
  // The message says already that there is none.
  const help = advice.replace(/^this machine has no ([^:]*): /, (said, words: string) =>
    words.split(/[ ,]+/).includes(missing) ? '' : said,
  );
  return { rule: 'other-dialect', message: `this machine has no ${missing}`, help };
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

const COMMANDS = KEYWORD_TABLE.filter(({ kind }) => kind === 'simple' || kind === 'command').map(
  ({ word }) => word,
);

/** The commands that begin so, for a word that is cut short; none where too many do. */
function commandsBeginning(word: string): string[] {
  const upper = word.toUpperCase();
  if (upper.length < 2) return [];
  const found = COMMANDS.filter((known) => known.length > 3 && known.startsWith(upper));
  return found.length > 2 ? [] : found;
}

function suggestion(word: string, commandsOnly: boolean): string | undefined {
  const begun = commandsOnly ? commandsBeginning(word) : [];
  if (begun.length > 0) return `did you mean ${begun.join(' or ')}?`;
  const near = nearestKeywords(word).filter((known) => !commandsOnly || COMMANDS.includes(known));
  return near.length === 0 ? undefined : `did you mean ${near.join(' or ')}?`;
}

const shown = (token: ListingToken): string =>
  token.image.length > 24 ? `${token.image.slice(0, 20)}…` : token.image.trim();

/** What is wrong with a token that the language never uses; undefined for the others. */
export function foreignProblem(token: ListingToken): Problem | undefined {
  const span = { start: token.startOffset, end: token.end };
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
 * `tokens` are the statement's, `end` the offset where its line ends; `thorough`: put several
 * mistakes right together, which takes some milliseconds.
 */
export function explainFailure(
  { token: found, wanted }: Failure,
  tokens: readonly ListingToken[],
  end: number,
  thorough = true,
): Problem {
  const index = found === undefined ? tokens.length : tokens.indexOf(found);
  const span =
    found === undefined
      ? { start: end, end: end + 1 }
      : { start: found.startOffset, end: found.end };
  const remedy = remedyFor(tokens, index, thorough);
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
  if (!isName(token)) return undefined;
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
  const name = isName(found);
  if (name) {
    const foreign = otherDialect(found.image);
    if (foreign !== undefined) return foreign;
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
    if (!isName(token)) continue;
    const foreign = otherDialect(token.image);
    // Two-letter words such as IN and ON are likely to be names where a name can stand.
    if (foreign === undefined || (token !== tokens[index] && token.image.length < 3)) continue;
    return { start: token.startOffset, end: token.end, ...foreign };
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
  const help = HELP[wanted] ?? formBefore(tokens, index);
  if (wanted !== '","') return { message, help };
  return { message, why: 'it takes two values with a comma between', help };
}

const HELP: Record<string, string> = {
  'a statement': 'THEN is followed by one statement, such as GOTO 100',
  THEN: 'IF takes a condition, THEN, and one statement',
  TO: 'FOR is written FOR I=1 TO 9, or FOR I=1 TO 9 STEP 2',
  '")"': 'count the brackets: each ( needs its )',
  '"="': 'LET and FOR need = after the name',
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
  if (found.payload?.kind === 'operator' && previous.payload !== undefined) {
    return {
      message: `no value stands before ${shown(found)}`,
      help: `write a value before ${shown(found)}, or leave ${shown(found)} out`,
    };
  }
  return {
    message: `the statement is complete before ${shown(found)}`,
    why: 'one statement stands on a line, and no operator or separator joins this to what is before it',
    help: 'put an operator, a comma or a semicolon between, or begin a new line',
  };
}
