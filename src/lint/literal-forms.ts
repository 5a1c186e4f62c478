/**
 * Shorter spellings of a number literal. A literal costs its digits, a marker and five bytes;
 * `VAL "5"` costs its digits and three (common practice). Every form gives exactly the same number:
 * whole numbers below 2**32 are exact in the machine's arithmetic, whichever way they are made, and
 * VAL reads the characters of any number as the machine does when the line is typed.
 */
import { PRIORITY } from '../../grammar/operators.js';
import type { NumberLiteral } from '../../grammar/tree.js';
import type { Use } from '../analysis/steps.js';
import { charactersText } from '../listing/print.js';
import { numberOfDecimal } from '../machine/arithmetic/decimal.js';
import { KEYWORD_CODES, NUMBER_MARKER, QUOTE, QUOTE_IMAGE } from '../machine/characters.js';
import { HIDDEN_SIZE } from '../machine/stored-codes.js';

export interface LiteralForm {
  readonly text: string;
  readonly bytes: number;
}

const LARGEST_EXACT = 2 ** 32;
/** Commands have no key within a string, so that such a form could be loaded but not typed. */
const FIRST_COMMAND = KEYWORD_CODES.get('NEW')!;
const UNUSED_CODE = 195;

/** Bytes that a literal takes in its line. */
export function literalBytes(literal: NumberLiteral): number {
  const characters = literal.text.length + (literal.spaces ?? 0);
  return characters + (literal.stored === 'nothing' ? 0 : HIDDEN_SIZE);
}

/** Can the characters of this literal be spelt otherwise without any change of its value? */
export function isExactLiteral(literal: NumberLiteral): boolean {
  const { value, stored } = literal;
  return stored === 'digits' && Number.isInteger(value) && value >= 0 && value < LARGEST_EXACT;
}

/** The characters of a number without those that say nothing; undefined where that changes its bytes. */
export function shortestText({ text, value }: NumberLiteral): string | undefined {
  const match = /^(\d*)(?:\.(\d*))?(E[+-]?\d*)?$/i.exec(text);
  if (match === null) return undefined;
  const whole = match[1].replace(/^0+/, '');
  const fraction = (match[2] ?? '').replace(/0+$/, '');
  const digits = fraction === '' ? whole : `${whole}.${fraction}`;
  const exponent = /\d/.test(match[3] ?? '') ? match[3].toUpperCase() : '';
  const short = digits === '' ? '0' : digits + exponent;
  return numberOfDecimal(short) === value ? short : undefined;
}

/** The shortest form for a literal where it stands, or undefined where none is shorter. */
export function shorterForm(use: Use, literal: NumberLiteral): LiteralForm | undefined {
  const { value, stored } = literal;
  if (stored !== 'digits') return undefined;
  const written = shortestText(literal);
  if (!isExactLiteral(literal)) {
    return written === undefined
      ? undefined
      : { text: `VAL "${written}"`, bytes: 3 + written.length };
  }
  // NOT binds loosely: an operator behind it must bind more loosely still.
  return wholeNumberForm(value, written, priorityBehind(use) <= PRIORITY.NOT);
}

/**
 * The form of fewest bytes for a whole number from 0 to below 2**32.
 *
 * @param written its characters, where they are shorter than its digits
 * @param mayEndInNot may NOT stand there, which binds loosely?
 */
export function wholeNumberForm(
  value: number,
  written: string = String(value),
  mayEndInNot = true,
): LiteralForm {
  if (value === 0) {
    return mayEndInNot ? { text: 'NOT PI', bytes: 2 } : { text: 'CODE ""', bytes: 3 };
  }
  if (value === 1) return { text: 'SGN PI', bytes: 2 };
  if (value === 3) return { text: 'INT PI', bytes: 2 };
  const whole = String(value);
  const digits = written.length < whole.length ? written : whole;
  if (whole.length > 1 && isTypedCode(value)) {
    const character = charactersText(Uint8Array.of(value), true);
    return { text: `CODE "${character}"`, bytes: 4 };
  }
  return { text: `VAL "${digits}"`, bytes: 3 + digits.length };
}

/** How tightly the operator behind an expression binds, within the same brackets; 0 where none is. */
export function priorityBehind({ node, parent }: Use): number {
  if (parent === undefined) return 0;
  const above = parent.node;
  if (above.kind === 'brackets' || above.kind === 'subscripted') return 0;
  const isLeft = above.kind === 'binary' && above.left === node;
  return isLeft ? PRIORITY[above.operator] : priorityBehind(parent);
}

/** Can a key write this code between quotes, and does it stay one character there? */
function isTypedCode(code: number): boolean {
  const isCharacter = code <= 66 && code !== QUOTE;
  const isHigh =
    code >= 128 && code < FIRST_COMMAND && code !== QUOTE_IMAGE && code !== UNUSED_CODE;
  return (isCharacter || isHigh) && code !== NUMBER_MARKER;
}
