/** Text that reaches a program while it runs: what VAL is given, and what is typed at INPUT. */
import { ByteBuffer, readCodes } from '../../../grammar/text.js';
import type { Expression, Problem } from '../../../grammar/tree.js';
import { hasErrors } from '../../listing/diagnostics.js';
import { charactersText, hexBytes } from '../../listing/print.js';
import { readListing } from '../../listing/read.js';
import { numberOfDecimal } from '../../machine/arithmetic/decimal.js';
import {
  isDigitCode,
  isLetterCode,
  KEYWORD_CODES,
  KEYWORDS,
  QUOTE,
  SPACE,
  textOfCodes,
  unicodeOfCode,
} from '../../machine/characters.js';
import { encodeNumber } from '../../machine/numbers.js';
import { closingQuote } from '../../machine/stored-codes.js';
import { notFound } from '../state/variables.js';

export interface TypedExpression {
  readonly expression: Expression;
  /** Bytes that the machine puts in behind its literals: a marker and five for each. */
  readonly hidden: number;
}

/** What a person types as an expression; undefined where the machine would not take it. */
export function parseTyped(text: string): TypedExpression | undefined {
  if (/[\r\n]/.test(text) || text.trim() === '') return undefined;
  const { listing, diagnostics } = readListing(`1 PRINT (${text})`);
  if (hasErrors(diagnostics)) return undefined;
  const [line] = listing.lines;
  if (line?.statement?.kind !== 'PRINT' || line.statement.items.length !== 1) return undefined;
  const [item] = line.statement.items;
  return item.kind === 'brackets' ? { expression: item.inner, hidden: line.hidden } : undefined;
}

/** What a person types as the text of a string: its codes, or what is wrong with it. */
export function typedCodes(text: string): Uint8Array | string {
  const out = new ByteBuffer();
  const problems: Problem[] = [];
  readCodes(text, 0, text.length, false, out, problems);
  return problems.length > 0 ? problems[0].message : out.from(0);
}

/**
 * The expression in a string's codes; undefined where it is none. Here the machine does not see
 * words in letters: S, I, N is a variable's name, and only the one code of SIN is the function.
 * Throws report 2 for such a name.
 */
export function parseValue(codes: Uint8Array): TypedExpression | undefined {
  if (hasSplitOperator(codes)) return undefined;
  let text = '';
  for (let at = 0; at < codes.length; at++) {
    const code = codes[at];
    const word = KEYWORDS.get(code);
    if (code === QUOTE) {
      const end = closingQuote(codes, at);
      if (end < 0) return undefined;
      text += `"${charactersText(codes.subarray(at + 1, end), true)}"`;
      at = end;
    } else if (isLetterCode(code)) {
      const name = nameAt(codes, at);
      text += ` ${checkedName(name.text)}`;
      at = name.end - 1;
    } else if (word !== undefined) text += ` ${word} `;
    else if (code === SPACE) text += ' ';
    else {
      // A number keeps its E: what follows digits is not a name.
      const number = numberAt(codes, at);
      if (number !== undefined) {
        text += number.text;
        at = number.end - 1;
      } else {
        const sign = unicodeOfCode(code);
        if (sign === undefined || !'()><=+-*/,'.includes(sign)) return undefined;
        text += sign;
      }
    }
  }
  return parseTyped(text);
}

/** `**`, `<=`, `>=` and `<>` in two signs each: VAL knows their single codes alone. */
const SPLIT_OPERATORS = /\*\s*\*|<\s*[=>]|>\s*=/;

function hasSplitOperator(codes: Uint8Array): boolean {
  let text = '';
  let isQuoted = false;
  for (const code of codes) {
    if (code === QUOTE) isQuoted = !isQuoted;
    const isSign = !isQuoted && !KEYWORDS.has(code);
    text += isSign ? (unicodeOfCode(code) ?? '?') : 'A';
  }
  return SPLIT_OPERATORS.test(text);
}

interface Piece {
  readonly text: string;
  readonly end: number;
}

/** A name, its spaces left out, with its $. */
function nameAt(codes: Uint8Array, start: number): Piece {
  let text = '';
  let at = start;
  while (isLetterCode(codes[at]) || isDigitCode(codes[at]) || codes[at] === SPACE) {
    if (codes[at] !== SPACE) text += unicodeOfCode(codes[at]);
    at++;
  }
  if (unicodeOfCode(codes[at]) !== '$') return { text, end: at };
  return { text: `${text}$`, end: at + 1 };
}

function checkedName(name: string): string {
  if (KEYWORD_CODES.has(name)) throw notFound(`${name} (in letters, which is a variable's name)`);
  return name;
}

/** A literal that a listing would not take, by its bytes. */
function unusual(text: string): string {
  const value = numberOfDecimal(text);
  return Number.isNaN(value) ? '1E39' : `0[=${hexBytes(encodeNumber(value))}]`;
}

const DIGITS_AND_E = /^(\d*\.?\d*)(?:E[+-]*\d*)?/;
/** What a listing takes as a literal; a point alone and `1E` it does not, and the machine does. */
const USUAL = /^(\d+\.?\d*|\.\d+)(E[+-]?\d+)?$/;

function numberAt(codes: Uint8Array, start: number): Piece | undefined {
  const rest = textOfCodes(codes.subarray(start, start + 60));
  const [text] = DIGITS_AND_E.exec(rest.replaceAll(/[^\x20-\x7e]/gu, '?'))!;
  if (text === '' || text.startsWith('E')) return undefined;
  const end = start + text.length;
  return { text: USUAL.test(text) ? text : unusual(text), end };
}
