/**
 * The table of keywords: what each is in the grammar. A keyword is added here and nowhere else;
 * its code is in src/machine/characters.ts. Source: the manual, Appendices A and C, from memory.
 */
import { codeOfUnicode, KEYWORD_CODES } from '../src/machine/characters.js';
import { FUNCTION_PRIORITY, PRIORITY } from './operators.js';
import type { ValueType } from './tree.js';

export type KeywordKind =
  /** Takes only expressions, as many as `takes` says: the statement rule reads it from this table. */
  | 'simple'
  /** A command with a rule of its own. */
  | 'command'
  | 'function'
  | 'constant'
  | 'operator'
  /** THEN, TO, STEP, AT, TAB: part of a statement. */
  | 'part';

export interface Keyword {
  readonly word: string;
  readonly code: number;
  readonly kind: KeywordKind;
  /** Types of what follows a simple command, or of a function's argument. */
  readonly takes: readonly ValueType[];
  /** May a simple command stand alone, without what it takes? */
  readonly optional: boolean;
  /** Type of what a function or constant gives. */
  readonly gives?: ValueType;
  /** How tightly an operator or a function binds what follows it. */
  readonly priority: number;
}

const table: Keyword[] = [];

function add(
  kind: KeywordKind,
  words: string,
  takes: readonly ValueType[] = [],
  more: { optional?: boolean; gives?: ValueType } = {},
): void {
  for (const word of words.split(' ')) {
    const code = KEYWORD_CODES.get(word);
    if (code === undefined) throw new Error(`${word} has no code`);
    const priority = PRIORITY[word] ?? FUNCTION_PRIORITY;
    table.push({ word, code, kind, takes, optional: false, gives: undefined, priority, ...more });
  }
}

add('simple', 'STOP SLOW FAST NEW SCROLL CONT CLS CLEAR RETURN COPY');
add('simple', 'GOTO GOSUB PAUSE', ['number']);
add('simple', 'RUN LIST LLIST RAND', ['number'], { optional: true });
add('simple', 'PLOT UNPLOT POKE', ['number', 'number']);
add('simple', 'SAVE LOAD', ['string']);
add('command', 'LET INPUT DIM FOR NEXT IF PRINT LPRINT REM');
add('function', 'SIN COS TAN ASN ACS ATN LN EXP INT SQR SGN ABS PEEK USR', ['number'], {
  gives: 'number',
});
add('function', 'CODE VAL LEN', ['string'], { gives: 'number' });
add('function', 'STR$ CHR$', ['number'], { gives: 'string' });
add('constant', 'RND PI', [], { gives: 'number' });
add('constant', 'INKEY$', [], { gives: 'string' });
add('operator', '** <= >= <> AND OR NOT');
add('part', 'THEN TO STEP AT TAB');

export const KEYWORD_TABLE: readonly Keyword[] = table;

/** Rows for the operators of one sign, which are characters of the machine and no keywords. */
export const SIGN_TABLE: readonly Keyword[] = [...'+-*/=<>'].map((word) => ({
  word,
  code: codeOfUnicode(word)!,
  kind: 'operator',
  takes: [],
  optional: false,
  priority: PRIORITY[word],
}));

const BY_WORD = new Map(table.map((keyword) => [keyword.word, keyword]));

/** The keyword of this spelling, in capitals, or undefined. */
export function keyword(word: string): Keyword | undefined {
  return BY_WORD.get(word);
}
