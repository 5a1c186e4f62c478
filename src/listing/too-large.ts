/** Texts that cannot be a listing, because no program is so large: found before anything is read. */
import { scanLine, skipBlank } from '../../grammar/lexer.js';
import { LineNumber, Tokens } from '../../grammar/tokens.js';
import type { Problem } from '../../grammar/tree.js';
import {
  MOST_CHARACTERS,
  MOST_LINES,
  MOST_PROGRAM_BYTES,
  MOST_ROW_CHARACTERS,
  MOST_ROWS,
} from '../machine/program-limits.js';
import { count } from './print.js';

/** The rule under which a text is refused for its size. */
export const TOO_LARGE = 'too-large';

/** Thrown by functions that give no diagnostics, for a text that is too large to be a listing. */
export class TooLarge extends RangeError {
  constructor(readonly problem: Problem) {
    super(problem.message);
  }
}

const problem = (start: number, message: string, why = NO_PROGRAM): Problem => ({
  start,
  end: start + 1,
  rule: TOO_LARGE,
  message,
  why,
  help: 'check that this is a listing, and of one program',
});

const NO_PROGRAM = 'no program is so large: no machine has more than 48K';

/** What is too large in a text, at the place where it becomes so. Takes time linear in the text. */
export function tooLarge(text: string): Problem | undefined {
  if (text.length > MOST_CHARACTERS) {
    return problem(MOST_CHARACTERS, `the text has more than ${MOST_CHARACTERS} characters`);
  }
  let rows = 0;
  for (let at = 0; at < text.length; rows++) {
    if (rows === MOST_ROWS) return problem(at, `the text has more than ${MOST_ROWS} rows`);
    const found = text.indexOf('\n', at);
    const end = found < 0 ? text.length : found;
    if (end - at > MOST_ROW_CHARACTERS) {
      return problem(
        at + MOST_ROW_CHARACTERS,
        `this row has more than ${MOST_ROW_CHARACTERS} characters`,
        'no line is so long, however its codes are written: no machine has more than 48K',
      );
    }
    at = end + 1;
  }
  return rows > MOST_LINES ? tooManyLines(text) : undefined;
}

/** Rows that may be lines; in a display others begin with a digit too. */
const NUMBERED = /^[^\S\n]*\d/gm;

function mayHaveTooManyLines(text: string): boolean {
  let lines = 0;
  NUMBERED.lastIndex = 0;
  while (NUMBERED.test(text)) if (++lines > MOST_LINES) return true;
  return false;
}

function tooManyLines(text: string): Problem | undefined {
  // Most that have so many rows have them of comments: to read them all takes longer.
  if (!mayHaveTooManyLines(text)) return undefined;
  const tokens = new Tokens(text);
  let lines = 0;
  for (let at = skipBlank(text, 0); at < text.length; at = skipBlank(text, at)) {
    tokens.restart();
    const end = scanLine(text, at, tokens);
    if (tokens.list[0].tokenType === LineNumber && ++lines > MOST_LINES) {
      return problem(
        at,
        `the program has more than ${count(MOST_LINES, 'line')}`,
        'no program has so many: numbers go to 9999, and no machine has more than 48K',
      );
    }
    at = end;
  }
  return undefined;
}

/** Said at the line with which a program has more bytes than there are addresses. */
export const tooManyBytes = (start: number): Problem =>
  problem(
    start,
    `up to here the program has more than ${count(MOST_PROGRAM_BYTES, 'byte')}, and what follows is not read`,
  );
