/**
 * Ways over the syntax tree: what a node holds, everything within one, and what lies beneath
 * brackets, subscripts and IFs.
 */
import { isComparison } from './operators.js';
import type { Binary, Expression, PrintItem, Range, Statement, Variable } from './tree.js';

/** A node of a statement's tree: the statement, what it prints, an expression or a part of one. */
export type Node = Statement | PrintItem | Range;
export type NodeOfKind<Kind extends Node['kind']> = Node & { readonly kind: Kind };

const NONE: readonly never[] = [];

/** The nodes directly in one, in the order of the text. */
export function childrenOf(node: Node): readonly Node[] {
  switch (node.kind) {
    case 'LET':
      return [node.target, node.value];
    case 'INPUT':
      return [node.target];
    case 'DIM':
      return [node.target, ...node.sizes];
    case 'FOR':
      return present(node.variable, node.from, node.to, node.step);
    case 'NEXT':
      return [node.variable];
    case 'IF':
      return [node.condition, node.then];
    case 'PRINT':
    case 'LPRINT':
      return node.items;
    case 'AT':
      return [node.row, node.column];
    case 'TAB':
      return [node.column];
    case 'range':
      return present(node.from, node.to);
    case 'subscripted':
      return [node.base, ...node.subscripts];
    case 'brackets':
    case 'unary':
    case 'call':
    case 'binary':
    case 'number':
    case 'string':
    case 'variable':
    case 'constant':
      return partsOf(node);
    case 'REM':
    case 'separator':
    case 'unchecked':
      return NONE;
    default:
      return node.args;
  }
}

/** Calls `enter` for a node and everything within it, each before what it holds. */
export function visit(node: Node, enter: (node: Node) => void): void {
  enter(node);
  for (const child of childrenOf(node)) visit(child, enter);
}

/** The expressions that an expression is made of, in the order of the text; of a slice, its ends. */
export function partsOf(node: Expression): readonly Expression[] {
  switch (node.kind) {
    case 'number':
    case 'string':
    case 'variable':
    case 'constant':
      return NONE;
    case 'brackets':
      return [node.inner];
    case 'unary':
      return [node.operand];
    case 'call':
      return [node.argument];
    case 'binary':
      return [node.left, node.right];
    case 'subscripted':
      return [node.base, ...node.subscripts.flatMap(endsOf)];
  }
}

function endsOf(subscript: Expression | Range): Expression[] {
  return subscript.kind === 'range' ? present(subscript.from, subscript.to) : [subscript];
}

function present<Part>(...parts: readonly (Part | undefined)[]): Part[] {
  return parts.filter((part) => part !== undefined);
}

/** What stands before the subscripts of a target or a value, if it has any: `A$` of `A$(2 TO )(1)`. */
export function baseOf(node: Expression): Expression {
  let base = node;
  while (base.kind === 'subscripted') base = base.base;
  return base;
}

/** The variable at the base of a target or of a subscripted expression, if it is one. */
export function baseVariable(node: Expression): Variable | undefined {
  const base = baseOf(node);
  return base.kind === 'variable' ? base : undefined;
}

/** An expression without the brackets around it. */
export function withoutBrackets(node: Expression): Expression {
  let inner = node;
  while (inner.kind === 'brackets') inner = inner.inner;
  return inner;
}

/** What an IF leads to; any other statement is that itself. */
export function innermost(statement: Statement): Statement {
  let inner = statement;
  while (inner.kind === 'IF') inner = inner.then;
  return inner;
}

/** Does it compare two values, so that it gives 1 or 0? */
export const compares = (node: Expression): node is Binary =>
  node.kind === 'binary' && isComparison(node.operator);
