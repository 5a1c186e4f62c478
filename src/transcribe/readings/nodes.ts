/** The nodes of a statement's tree. */
import type { Expression, Statement, Variable } from '../../../grammar/tree.js';

type Node = { readonly kind: string } & Record<string, unknown>;

/** Calls `visit` for every node, each before those within it. */
export function eachNode(statement: Statement, visit: (node: Node) => void): void {
  const walk = (node: unknown): void => {
    if (typeof node !== 'object' || node === null || ArrayBuffer.isView(node)) return;
    if (Array.isArray(node)) {
      for (const one of node) walk(one);
      return;
    }
    if ('kind' in node) visit(node as Node);
    for (const part of Object.values(node)) walk(part);
  };
  walk(statement);
}

/** What a target with or without subscripts is made of. */
export function baseOf(target: Expression): Variable | undefined {
  let base = target;
  while (base.kind === 'subscripted') base = base.base;
  return base.kind === 'variable' ? base : undefined;
}

/** What an IF leads to. */
export function innermost(statement: Statement): Statement {
  let inner = statement;
  while (inner.kind === 'IF') inner = inner.then;
  return inner;
}
