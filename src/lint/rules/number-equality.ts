// Valid: IF A=5, IF A/2=INT (A/2), IF ABS (SQR X-5)<.001, INT (SQR X+.5), INT (RND*6).
// Also valid: IF .5=1/2, INT (.07*10): what the machine gets right, where the listing tells the values.
// Not valid: IF SQR X=5, IF X**2=9, IF 1/2=.5, IF .1*N=1, INT SQR 361, INT (.57*100).

import type { Binary, Call, Expression } from '../../../grammar/tree.js';
import { withoutBrackets } from '../../../grammar/visit.js';
import { numberText } from '../../machine/arithmetic/digits.js';
import { subtract } from '../../machine/arithmetic/operations.js';
import { roundNumber } from '../../machine/numbers.js';
import {
  meantAlike,
  meantWhole,
  passesOf,
  type Reckoned,
  reckon,
  SERIES_DOUBT,
} from '../reckoned.js';
import type { LintContext, Rule } from '../rule.js';

/** What makes a value that is a little less or more than the one meant. */
interface Inexact {
  readonly message: string;
  readonly instead: string;
}

/** What is known of variables, by name. */
type Known = Map<string, Inexact | undefined>;

const ROOT: Inexact = {
  message: 'SQR works by EXP and LN: SQR 25 prints 5 and is not 5',
  instead: 'square the other side',
};
const POWER: Inexact = {
  message: '** works by EXP and LN: 3**2 prints 9 and is not 9',
  instead: 'multiply, as in X*X',
};
const DECIMAL: Inexact = {
  message: 'a decimal is stored a little off: .1*10 is not 1',
  instead: 'divide by a whole number, or count in tenths or hundredths',
};
const QUOTIENT: Inexact = {
  message: 'a quotient and a decimal differ in their last bit: 1/2=.5 is false',
  instead: 'multiply, so that both sides are whole numbers',
};

export const numberEquality: Rule = {
  name: 'number-equality',
  kind: 'mistake',
  severity: 'note',
  summary: 'a computed number against `=` or `<>`, or cut off by INT, that is a little off',
  page: 'The numbers of the ROM are not correctly rounded. `SQR` and `**` work by `EXP` and `LN`, decimals are stored a little off and a division cuts off its last bit: `INT SQR 361` is 18, `INT (.57*100)` is 56, and `1/2=.5` is false. Where the listing tells every value, this reckons them as the machine does and speaks only of what comes out otherwise than meant. Compare with room to spare, as in `ABS (A-B)<.001`; round with `INT (X+.5)`; multiply in place of `**2`; keep money in pence. Whole numbers, and quotients of whole numbers that are whole, are exact.',
  check(context, report) {
    const known: Known = new Map();
    for (const { node } of context.program.uses) {
      const isInt = isInteger(node);
      if (!isInt && !isEquality(node)) continue;
      const tried = isInt ? tryInteger(node, context) : tryEquality(node, context);
      if (tried === 'right') continue;
      const pattern = isInt
        ? ofInteger(node.argument, context, known)
        : ofEquality(node, context, known);
      // Where the listing tells the values, the machine's own arithmetic says; elsewhere, the form.
      const found = pattern ?? BY_FORM[typeof tried === 'string' ? tried : 'wrong'];
      if (found === undefined) continue;
      const what = typeof tried === 'string' ? (isInt ? MAY_CUT : mayDiffer(node)) : tried.message;
      report(node, {
        message: `${what}: ${found.message}`,
        why: 'the numbers of the ROM are not correctly rounded, and PRINT hides it',
        help: isInt
          ? `add .5 before INT, as in INT (X+.5); or ${found.instead}`
          : `ask whether they are near, as in ABS (A-B)<.001; or ${found.instead}`,
      });
    }
  },
};

const MAY_CUT = 'INT may give 1 less than is meant';
const mayDiffer = ({ operator }: Binary): string =>
  `this may be ${operator === '=' ? 'false' : 'true'} where the numbers look alike`;

/**
 * What the machine's own arithmetic says: it comes out as meant, it does not, it hangs on the last
 * bits of a series, or nothing tells.
 */
type Tried = 'right' | 'near' | 'open' | { readonly message: string };

/** As the series come out here, and then moved by each number of units that they may be off. */
const DOUBTS = [0, ...Array.from({ length: SERIES_DOUBT }, (_, at) => [at + 1, -at - 1]).flat()];

/** Asks about each pass of a loop, with each of those. */
function tryAll(
  nodes: readonly Expression[],
  { program }: LintContext,
  differs: (values: readonly Reckoned[]) => string | undefined,
): Tried {
  const told: (string | undefined)[] = [];
  for (const doubt of DOUBTS) {
    const passes = passesOf(nodes, { program, doubt });
    if (passes === undefined) return 'open';
    let message: string | undefined;
    for (const values of passes) {
      const found = nodes.map((node) => reckon(node, values, { program, doubt }));
      if (!found.every((each) => each !== undefined)) return 'open';
      message ??= differs(found);
    }
    told.push(message);
  }
  const [message] = told;
  if (message !== undefined && told.every((each) => each !== undefined)) return { message };
  return told.every((each) => each === undefined) ? 'right' : 'near';
}

function tryInteger({ argument }: Call, context: LintContext): Tried {
  return tryAll([argument], context, ([{ machine, meant }]) => {
    const [given, wanted] = [Math.floor(machine), meantWhole(meant)];
    return given === wanted
      ? undefined
      : `INT gives ${numberText(given)} here and not ${numberText(roundNumber(wanted))}`;
  });
}

function tryEquality({ operator, left, right }: Binary, context: LintContext): Tried {
  return tryAll([left, right], context, ([a, b]) => {
    const given = subtract(a.machine, b.machine) === 0;
    if (given === meantAlike(a.meant, b.meant)) return undefined;
    const truth = given === (operator === '=') ? 'true' : 'false';
    const [one, other] = [numberText(a.machine), numberText(b.machine)];
    if (given) return `this is ${truth}, for both are ${one} here, where they are meant to differ`;
    return one === other
      ? `this is ${truth} where both print as ${one}`
      : `this is ${truth}, for one is ${one} and the other ${other}, where they are meant to be the same`;
  });
}

const QUOTIENT_ROUNDED: Inexact = {
  message: 'the last bit of a quotient or a product is cut off or rounded',
  instead: 'multiply first and divide last, so that whole numbers stay whole',
};

const SERIES: Inexact = {
  message: 'the functions are sums of series, a little off in their last bits',
  instead: 'allow for that',
};

/** Of what no form of the expression tells: why it is a little off all the same. */
const BY_FORM = { wrong: QUOTIENT_ROUNDED, near: SERIES, open: undefined };

const isInteger = (node: Expression): node is Call =>
  node.kind === 'call' && node.function === 'INT';

function isEquality(node: Expression): node is Binary {
  return (
    node.kind === 'binary' &&
    (node.operator === '=' || node.operator === '<>') &&
    node.left.type === 'number'
  );
}

function ofEquality(
  { left, right }: Binary,
  context: LintContext,
  known: Known,
): Inexact | undefined {
  // X/Y=INT (X/Y) asks for a remainder, and is exact: both sides are the same quotient.
  if (isIntOf(left, right, context) || isIntOf(right, left, context)) return undefined;
  const found = inexact(left, context, known) ?? inexact(right, context, known);
  if (found !== undefined) return found;
  const [a, b] = [withoutBrackets(left), withoutBrackets(right)];
  const meets = (one: Expression, other: Expression): boolean =>
    isQuotient(one) && (isDecimal(other) || isQuotient(other));
  return meets(a, b) || meets(b, a) ? QUOTIENT : undefined;
}

function ofInteger(argument: Expression, context: LintContext, known: Known): Inexact | undefined {
  const value = withoutBrackets(argument);
  const rounds =
    value.kind === 'binary' &&
    value.operator === '+' &&
    [value.left, value.right].some((part) => isHalf(withoutBrackets(part)));
  return rounds ? undefined : inexact(value, context, known);
}

const isDecimal = (node: Expression): boolean =>
  node.kind === 'number' && node.stored === 'digits' && !Number.isInteger(node.value);
const isHalf = (node: Expression): boolean =>
  node.kind === 'number' && Math.abs(node.value - 0.5) < 1e-6;
const isQuotient = (node: Expression): boolean => node.kind === 'binary' && node.operator === '/';

function isIntOf(whole: Expression, value: Expression, { text }: LintContext): boolean {
  const call = withoutBrackets(whole);
  if (call.kind !== 'call' || call.function !== 'INT') return false;
  const source = (node: Expression): string => {
    const { start, end } = withoutBrackets(node);
    return text.slice(start, end).replace(/\s+/g, '').toUpperCase();
  };
  return source(call.argument) === source(value);
}

/** Why a value may be a little off; undefined for what is exact, or where nothing tells. */
function inexact(node: Expression, context: LintContext, known: Known): Inexact | undefined {
  const value = withoutBrackets(node);
  const of = (part: Expression): Inexact | undefined => inexact(part, context, known);
  switch (value.kind) {
    case 'unary':
      return value.operator === '-' ? of(value.operand) : undefined;
    case 'call':
      if (value.function === 'SQR') return ROOT;
      return value.function === 'ABS' ? of(value.argument) : undefined;
    case 'binary': {
      if (value.operator === '**') return POWER;
      if (!'+-*/'.includes(value.operator) || value.type === 'string') return undefined;
      const parts = [value.left, value.right].map(withoutBrackets);
      // What is drawn at random is no less random for being a little off.
      if (parts.some((part) => part.kind === 'constant' && part.name === 'RND')) return undefined;
      return of(value.left) ?? of(value.right) ?? (parts.some(isDecimal) ? DECIMAL : undefined);
    }
    case 'variable':
      return ofVariable(value.name, context, known);
    default:
      return undefined;
  }
}

/** What the lines that set a variable say of its value. */
function ofVariable(name: string, context: LintContext, known: Known): Inexact | undefined {
  if (known.has(name)) return known.get(name);
  // One that is set from itself is asked for again while it is worked out.
  known.set(name, undefined);
  for (const { step } of context.program.names.all.get(name)?.settings ?? []) {
    const { statement } = step;
    let found: Inexact | undefined;
    if (statement?.kind === 'LET' && statement.target.kind === 'variable') {
      found = inexact(statement.value, context, known);
    } else if (statement?.kind === 'FOR' && statement.step !== undefined) {
      found = isDecimal(withoutBrackets(statement.step)) ? DECIMAL : undefined;
    }
    if (found === undefined) continue;
    known.set(name, found);
    return found;
  }
  return undefined;
}
