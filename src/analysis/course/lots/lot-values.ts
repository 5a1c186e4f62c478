/**
 * What an expression gives lot by lot, as the machine reckons it: where it is made of RND, of numbers
 * that are known lot by lot, and of what all lots have alike.
 */
import type {
  Binary,
  BinaryOperator,
  Call,
  Expression,
  FunctionName,
  Subscripted,
} from '../../../../grammar/tree.js';
import { partsOf } from '../../../../grammar/visit.js';
import { numberText } from '../../../machine/arithmetic/digits.js';
import { squareRoot } from '../../../machine/arithmetic/functions.js';
import {
  add,
  divide,
  multiply,
  subtract,
  wholeOf,
} from '../../../machine/arithmetic/operations.js';
import { nextSeed } from '../../../machine/arithmetic/random.js';
import { GLYPHS_END } from '../../../machine/characters.js';
import { comparedNumbers } from '../../comparison.js';
import { single } from '../../expression-ranges.js';
import type { State } from '../state.js';
import { drawn, type Lots, type OfLot, SEEDS, seedsAfter } from './lots.js';

// ───────────────────────────────── RND within an expression ─────────────────────────────────

const DRAWS = new WeakMap<Expression, number>();

/** How often an expression works RND out; Infinity where that is not known. */
export function drawsOf(node: Expression): number {
  let draws = DRAWS.get(node);
  if (draws === undefined) {
    draws = ownDraws(node);
    for (const part of partsOf(node)) draws += drawsOf(part);
    DRAWS.set(node, draws);
  }
  return draws;
}

export const drawsOfAll = (nodes: readonly Expression[]): number =>
  nodes.reduce((sum, node) => sum + drawsOf(node), 0);

function ownDraws(node: Expression): number {
  if (node.kind === 'constant') return node.name === 'RND' ? 1 : 0;
  if (node.kind !== 'call') return 0;
  if (node.function === 'USR') return Infinity;
  if (node.function !== 'VAL') return 0;
  const { argument } = node;
  return argument.kind === 'string' && argument.codes.every((code) => code < GLYPHS_END)
    ? 0
    : Infinity;
}

/** Does what an expression gives depend on the lot? */
export function dependsOnLots(node: Expression, lots: Lots | undefined): boolean {
  if (node.kind === 'constant') return node.name === 'RND';
  if (node.kind === 'variable') return lots?.values.has(node.name) ?? false;
  return partsOf(node).some((part) => dependsOnLots(part, lots));
}

/** Is it made of RND and of literals alone? Then SEED alone decides what it gives. */
function isOfSeed(node: Expression): boolean {
  switch (node.kind) {
    case 'constant':
      return node.name !== 'INKEY$';
    case 'number':
      return true;
    case 'brackets':
    case 'unary':
    case 'binary':
    case 'call':
      return node.type === 'number' && partsOf(node).every(isOfSeed);
    default:
      return false;
  }
}

// ───────────────────────────────── values ─────────────────────────────────

/** What a number is lot by lot; undefined where it is not known so. */
export const numberOf = (node: Expression, state: State): OfLot | undefined =>
  drawsOf(node) === Infinity ? undefined : new LotValues(state).number(node);

/** The same of the length of a string. */
export const lengthOf = (node: Expression, state: State): OfLot | undefined =>
  drawsOf(node) === Infinity ? undefined : new LotValues(state).length(node);

function random(): number {
  drawn.seed = nextSeed(drawn.seed);
  return drawn.seed / SEEDS;
}

const TABLES = new WeakMap<Expression, Float64Array>();

class LotValues {
  private readonly lots: Lots | undefined;
  /** Is what SEED alone decides to be worked out for each of its values? */
  private tables = true;

  constructor(private readonly state: State) {
    this.lots = state.lots;
  }

  number(node: Expression): OfLot | undefined {
    if (!dependsOnLots(node, this.lots)) {
      const known = this.known(node);
      return known === undefined ? undefined : () => known;
    }
    if (this.tables && drawsOf(node) > 0 && isOfSeed(node)) return this.ofSeed(node);
    switch (node.kind) {
      case 'constant':
        return random;
      case 'variable': {
        const values = this.lots!.values.get(node.name)!;
        return (lot) => values[lot];
      }
      case 'brackets':
        return this.number(node.inner);
      case 'unary': {
        const value = this.number(node.operand);
        if (value === undefined) return undefined;
        if (node.operator === 'NOT') return (lot) => (value(lot) === 0 ? 1 : 0);
        return (lot) => 0 - value(lot);
      }
      case 'binary':
        return this.binary(node);
      case 'call':
        return this.call(node);
      default:
        return undefined;
    }
  }

  /** The value that all lots have alike. */
  private known(node: Expression): number | undefined {
    return dependsOnLots(node, this.lots) ? undefined : single(this.state.number(node));
  }

  length(node: Expression): OfLot | undefined {
    if (!dependsOnLots(node, this.lots)) {
      const { low, high } = this.state.length(node);
      return low === high ? () => low : undefined;
    }
    switch (node.kind) {
      case 'brackets':
        return this.length(node.inner);
      case 'variable': {
        const values = this.lots!.values.get(node.name)!;
        return (lot) => values[lot];
      }
      case 'call': {
        const value = this.number(node.argument);
        if (value === undefined) return undefined;
        return node.function === 'CHR$'
          ? (lot) => value(lot) * 0 + 1
          : (lot) => charactersOf(value(lot));
      }
      case 'binary': {
        const left = this.length(node.left);
        if (left === undefined) return undefined;
        if (node.operator === 'AND') {
          const chosen = this.number(node.right);
          return chosen && ((lot) => either(left(lot), chosen(lot)));
        }
        const right = this.length(node.right);
        return right && ((lot) => left(lot) + right(lot));
      }
      case 'subscripted':
        return this.slice(node);
      default:
        return undefined;
    }
  }

  /** What SEED alone decides is worked out once for each of its values. */
  private ofSeed(node: Expression): OfLot | undefined {
    let values = TABLES.get(node);
    if (values === undefined) {
      this.tables = false;
      const value = this.number(node);
      this.tables = true;
      if (value === undefined) return undefined;
      values = new Float64Array(SEEDS);
      for (let seed = 0; seed < SEEDS; seed++) {
        drawn.seed = seed;
        values[seed] = value(seed);
      }
      TABLES.set(node, values);
    }
    const table = values;
    const after = seedsAfter(drawsOf(node));
    return () => {
      const value = table[drawn.seed];
      drawn.seed = after[drawn.seed];
      return value;
    };
  }

  private binary(node: Binary): OfLot | undefined {
    if (node.left.type === 'string') return undefined;
    const left = this.number(node.left);
    const right = this.number(node.right);
    if (left === undefined || right === undefined) return undefined;
    const of = OPERATIONS[node.operator];
    if (of === undefined) return undefined;
    const [a, b] = [node.left, node.right].map((part) => this.known(part));
    if (b !== undefined) return (lot) => of(left(lot), b);
    if (a !== undefined) return (lot) => of(a, right(lot));
    // The left is worked out first: it has the first RND.
    return (lot) => {
      const first = left(lot);
      return of(first, right(lot));
    };
  }

  private call(node: Call): OfLot | undefined {
    if (node.function === 'LEN') return this.length(node.argument);
    const of = FUNCTIONS[node.function];
    if (of === undefined) return undefined;
    const argument = this.number(node.argument);
    return argument && ((lot) => of(argument(lot)));
  }

  /** A slice of a plain string. Where it reaches beyond the string the machine stops. */
  private slice(node: Subscripted): OfLot | undefined {
    const { base, subscripts } = node;
    const [part] = subscripts;
    const name = base.kind === 'variable' ? base.name : undefined;
    if (subscripts.length !== 1 || (name && this.state.elementLength(name))) return undefined;
    const whole = this.length(base);
    if (whole === undefined || part === undefined) return undefined;
    if (part.kind !== 'range') {
      const at = this.number(part);
      return at && ((lot) => whole(lot) * 0 + at(lot) * 0 + 1);
    }
    const from = part.from === undefined ? () => 1 : this.number(part.from);
    const to = part.to === undefined ? undefined : this.number(part.to);
    if (from === undefined || (part.to !== undefined && to === undefined)) return undefined;
    return (lot) => {
      const all = whole(lot);
      const first = wholeOf(from(lot));
      const last = to === undefined ? all : wholeOf(to(lot));
      return Math.min(all, Math.max(0, last - first + 1));
    };
  }
}

/** Characters in which a number is printed. */
export const charactersOf = (value: number): number =>
  value >= 0 && value < 10 && Number.isInteger(value) ? 1 : numberText(value).length;

const either = (value: number, chosen: number): number => (chosen === 0 ? 0 : value);
const isSmall = (a: number, b: number): boolean => (a | 0) === a && (b | 0) === b;
/** A comparison; whole numbers need no subtracting. */
const comparison =
  (
    operator: BinaryOperator,
    whole: (a: number, b: number) => boolean,
  ): ((a: number, b: number) => number) =>
  (a, b) =>
    isSmall(a, b) ? (whole(a, b) ? 1 : 0) : comparedNumbers(operator, a, b);

/** Without those by series, of which our last bits may not be the machine's. */
const OPERATIONS: Partial<Record<BinaryOperator, (a: number, b: number) => number>> = {
  '+': add,
  '-': subtract,
  '*': multiply,
  '/': divide,
  AND: either,
  OR: (a, b) => (b === 0 ? a : 1),
  '=': comparison('=', (a, b) => a === b),
  '<>': comparison('<>', (a, b) => a !== b),
  '<': comparison('<', (a, b) => a < b),
  '>': comparison('>', (a, b) => a > b),
  '<=': comparison('<=', (a, b) => a <= b),
  '>=': comparison('>=', (a, b) => a >= b),
};

const FUNCTIONS: Partial<Record<FunctionName, (value: number) => number>> = {
  INT: Math.floor,
  ABS: Math.abs,
  SGN: Math.sign,
  SQR: (value) => (value >= 0 ? squareRoot(value) : Number.NaN),
};
