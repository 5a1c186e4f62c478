/**
 * What the machine needs while it works out expressions: values on the calculator stack, strings in
 * the workspace, and what waits on the machine stack. Upper bounds; from memory of the published
 * ROM disassembly, where no other source stands.
 */
import type {
  Expression,
  PrintItem,
  Subscripted,
  ValueType,
  Variable,
} from '../../grammar/tree.js';
import { partsOf } from '../../grammar/visit.js';
import { VALUES_OF_LOOP } from '../machine/calculator-stack.js';
import { isDigitCode, NUMBER_MARKER, POINT } from '../machine/characters.js';
import { HIDDEN_SIZE } from '../machine/stored-codes.js';
import { stringVariableSize } from '../machine/variables.js';
import { stackedValues, stackedValuesShown } from './calculator-stack.js';
import { type ExpressionRanges, TYPED_LENGTH } from './expression-ranges.js';
import { LONGEST_NUMBER, lengthOfNumber } from './number-length.js';
import { expressionsOfItem, ownExpressions, type Step } from './steps.js';

/** Operators and functions that wait for what follows them. */
const WAITING_SIZE = 2;
/** A bracket is worked out by a call within the call. */
const BRACKET_SIZE = 6;

interface ExpressionCost {
  /** Bytes of the machine stack, beyond what an expression of one value needs. */
  readonly nesting: number;
  /** Bytes of strings in the workspace; they stay until the statement ends. */
  readonly strings: number;
  /** The most characters of texts put together, so that those of a long row are added up once. */
  readonly length?: number;
}

const NOTHING: ExpressionCost = { nesting: 0, strings: 0 };

/** The cost of one expression, in time linear in its size. */
function expressionCost(node: Expression, ranges: ExpressionRanges): ExpressionCost {
  switch (node.kind) {
    case 'number':
    case 'string':
    case 'variable':
      return NOTHING;
    case 'constant':
      return node.name === 'INKEY$' ? { ...NOTHING, strings: 1 } : NOTHING;
    case 'brackets': {
      const inner = expressionCost(node.inner, ranges);
      return { ...inner, nesting: inner.nesting + BRACKET_SIZE };
    }
    case 'unary': {
      const operand = expressionCost(node.operand, ranges);
      return { ...operand, nesting: operand.nesting + WAITING_SIZE };
    }
    case 'binary': {
      const left = expressionCost(node.left, ranges);
      const right = expressionCost(node.right, ranges);
      const nesting = Math.max(left.nesting, right.nesting + WAITING_SIZE);
      const strings = left.strings + right.strings;
      if (node.operator !== '+' || node.type !== 'string') return { nesting, strings };
      const length =
        (left.length ?? ranges.length(node.left).high) +
        (right.length ?? ranges.length(node.right).high);
      return { nesting, strings: strings + length, length };
    }
    case 'call':
      return callCost(node, ranges);
    case 'subscripted': {
      const parts = partsOf(node).map((part) => expressionCost(part, ranges));
      return {
        nesting: BRACKET_SIZE + Math.max(...parts.map((part) => part.nesting)),
        strings: parts.reduce((sum, part) => sum + part.strings, 0),
      };
    }
  }
}

function callCost(node: Expression & { kind: 'call' }, ranges: ExpressionRanges): ExpressionCost {
  const argument = expressionCost(node.argument, ranges);
  let { strings } = argument;
  if (node.function === 'CHR$') strings += 1;
  if (node.function === 'STR$') strings += lengthOfNumber(ranges.number(node.argument)).high;
  if (node.function === 'VAL') strings += textCost(node.argument, ranges);
  return { nesting: argument.nesting + WAITING_SIZE, strings };
}

/** VAL copies its text, adds an end, and gives each literal its hidden bytes. */
function textCost(text: Expression, ranges: ExpressionRanges): number {
  if (text.kind !== 'string') {
    const { high } = ranges.length(text);
    return high + 1 + HIDDEN_SIZE * Math.ceil(high / 2);
  }
  let literals = 0;
  let inLiteral = false;
  for (const code of text.codes) {
    // A point begins a literal too, and alone it is one.
    const isLiteral = isDigitCode(code) || code === POINT;
    if (isLiteral && !inLiteral) literals++;
    inLiteral = isLiteral;
    if (code === NUMBER_MARKER) inLiteral = false;
  }
  return text.size + 1 + HIDDEN_SIZE * literals;
}

/** The cost of expressions that are worked out one after another. */
export interface StepCost extends ExpressionCost {
  /** Values on the calculator stack at once. */
  readonly values: number;
}

/** The cost of expressions of which each leaves its value until all are worked out. */
function costOf(expressions: readonly Expression[], ranges: ExpressionRanges): StepCost {
  let [values, nesting, strings] = [0, 0, 0];
  expressions.forEach((node, kept) => {
    const cost = expressionCost(node, ranges);
    values = Math.max(values, kept + stackedValues(node));
    nesting = Math.max(nesting, cost.nesting);
    strings += cost.strings;
  });
  return { values, nesting, strings };
}

/** The cost of an item of PRINT: of a number its digits are worked out too. */
export function itemCost(item: PrintItem, ranges: ExpressionRanges): StepCost {
  const cost = costOf(expressionsOfItem(item), ranges);
  if (item.kind === 'AT' || item.kind === 'TAB' || item.kind === 'separator') return cost;
  return { ...cost, values: stackedValuesShown(item) };
}

/** One cost after another: of what they take of the stacks the more counts, and strings stay. */
export function either(a: StepCost, b: StepCost): StepCost {
  return {
    values: Math.max(a.values, b.values),
    nesting: Math.max(a.nesting, b.nesting),
    strings: a.strings + b.strings,
  };
}

/** The cost of the conditions before a statement: each is decided before the next one. */
export function conditionsCost({ conditions }: Step, ranges: ExpressionRanges): StepCost {
  return conditions.map((condition) => costOf([condition], ranges)).reduce(either, NO_EXPRESSION);
}

/** The cost of the statement alone; its values stay until it is carried out (FOR keeps three). */
export function statementCost({ statement }: Step, ranges: ExpressionRanges): StepCost {
  if (statement === undefined) return NO_EXPRESSION;
  if (statement.kind === 'PRINT' || statement.kind === 'LPRINT') {
    return statement.items.map((item) => itemCost(item, ranges)).reduce(either, NO_EXPRESSION);
  }
  const cost = costOf(ownExpressions(statement), ranges);
  if (statement.kind !== 'FOR' && statement.kind !== 'NEXT') return cost;
  return { ...cost, values: Math.max(cost.values, VALUES_OF_LOOP) };
}

const NO_EXPRESSION: StepCost = { values: 0, nesting: 0, strings: 0 };

/** Cursor and NEWLINE around what is typed at an INPUT; of a string its quotes too. */
const INPUT_FRAME = { number: 2, string: 4 };

/**
 * What is typed at an INPUT takes so many bytes at most, with its frame: a person is taken to type a
 * string of a row, or a number as long as the longest that PRINT writes.
 */
export function typedSize(type: ValueType): number {
  return INPUT_FRAME[type] + (type === 'string' ? TYPED_LENGTH : LONGEST_NUMBER);
}

/**
 * What a statement needs beyond its expressions: in the workspace, and on the display below its
 * rows.
 */
export function workOfStatement(
  { statement }: Step,
  ranges: ExpressionRanges,
): { workspace: number; display: number } {
  if (statement?.kind === 'INPUT') {
    const { target } = statement;
    const typed = typedSize(target.type);
    const workspace =
      target.type === 'string' ? Math.max(typed, fixedLength(target, ranges)) : typed + HIDDEN_SIZE;
    // The row's end is there already.
    return { workspace, display: typed - 1 };
  }
  if (statement?.kind !== 'LET' || statement.target.type !== 'string') return NO_WORK;
  const { target, value } = statement;
  const fixed = fixedLength(target, ranges);
  const plain = target.kind === 'variable' ? stringVariableSize(ranges.length(value).high) : 0;
  return { workspace: Math.max(fixed, plain), display: 0 };
}

/**
 * Characters of a string of fixed length, an element or a slice: what is put there is made anew in
 * the workspace, as long as it will be. Source: G. Wearmouth, "An Assembly Listing of the Operating
 * System" (2004): L-EXISTS 137A. 0 where the target is a plain string.
 */
function fixedLength(target: Variable | Subscripted, ranges: ExpressionRanges): number {
  if (target.kind === 'variable') return ranges.elementLength(target.name) ?? 0;
  return ranges.length(target).high;
}

const NO_WORK = { workspace: 0, display: 0 };
