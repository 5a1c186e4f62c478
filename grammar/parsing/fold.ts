/** Operators by their priorities: a flat run of prefixes, values and operators to one expression. */
import { PRIORITY } from '../operators.js';
import { FunctionToken, type ListingToken, Minus } from '../tokens.js';
import type { Expression } from '../tree.js';
import type { Nodes } from './nodes.js';

/** Brackets within brackets, and statements in statements, that are taken. */
export const DEEPEST_NESTING = 100;
/** Operators in one expression that are taken. */
export const MOST_OPERATORS = 1000;

/** Thrown for what would make a tree too deep to walk. */
export class NestingTooDeep extends Error {
  constructor(readonly token: ListingToken) {
    super();
  }
}

export const TOO_DEEP = {
  rule: 'too-deep',
  message: 'this statement is nested too deeply, or has too many operators, to be read',
  help: `use a variable for a part of it: at most ${DEEPEST_NESTING} brackets deep and ${MOST_OPERATORS} operators`,
};

/**
 * Folds as the machine's own calculator does: an operator waits until one that binds no tighter
 * follows it. Operators of one priority bind left to right, `**` too; a prefix reaches as far as
 * tighter operators go.
 */
export class Fold {
  private readonly values: Expression[] = [];
  /** What waits, in step: its token, how tightly it binds, and whether it is a prefix. */
  private readonly waiting: ListingToken[] = [];
  private readonly priorities: number[] = [];
  private readonly prefixes: boolean[] = [];
  private count = 0;

  constructor(private readonly make: Nodes) {}

  begin(): this {
    // An expression that broke off leaves something behind; to set a length takes long.
    if (this.values.length > 0) this.values.length = 0;
    if (this.waiting.length > 0) this.waiting.length = 0;
    this.count = 0;
    return this;
  }

  prefix(token: ListingToken): void {
    const isMinus = token.tokenType === Minus;
    this.wait(token, isMinus ? PRIORITY.negate : token.payload!.priority, true);
  }

  operator(token: ListingToken): void {
    const { priority } = token.payload!;
    this.foldFrom(priority);
    this.wait(token, priority, false);
  }

  value(value: Expression): void {
    this.values.push(value);
  }

  finish(): Expression {
    this.foldFrom(0);
    return this.values.pop()!;
  }

  private wait(token: ListingToken, priority: number, isPrefix: boolean): void {
    if (++this.count > MOST_OPERATORS) throw new NestingTooDeep(token);
    this.priorities[this.waiting.length] = priority;
    this.prefixes[this.waiting.length] = isPrefix;
    this.waiting.push(token);
  }

  /** Folds whatever waits and binds at least so tightly, the last first. */
  private foldFrom(priority: number): void {
    const { waiting, values, make } = this;
    while (waiting.length > 0 && this.priorities[waiting.length - 1] >= priority) {
      const token = waiting.pop()!;
      const last = values.pop()!;
      if (!this.prefixes[waiting.length]) values.push(make.binary(values.pop()!, token, last));
      else if (token.tokenType === FunctionToken) values.push(make.call(token, last));
      else values.push(make.unary(token, last));
    }
  }
}
