/** What the rest of a program says about one line: names, arrays and line numbers in use. */
import type { Expression, Range, Statement, Variable } from '../../grammar/tree.js';
import { shapeOf } from './look-alike.js';
import { parseText } from './parsing.js';

interface NameUse {
  /** How many lines have it. */
  lines: number;
  /** How many lines give it a value. */
  given: number;
}

/** The kinds of names that the machine keeps apart: numbers, strings, arrays of numbers. */
export class ProgramNames {
  private readonly uses = new Map<string, NameUse>();
  private readonly byShape = new Map<string, Set<string>>();
  readonly dimensions = new Map<string, Set<number>>();
  readonly numbers = new Set<number>();
  /** Loops that are opened by a FOR somewhere. */
  readonly loops = new Set<string>();
  /** Share of the names that nothing gives a value: high where only a part of a program is read. */
  orphans = 0;

  constructor(lines: readonly { number: number; text: string }[]) {
    for (const { number, text } of lines) {
      this.numbers.add(number);
      const { statement } = parseText(text);
      if (statement !== undefined) this.addStatement(statement);
    }
    // A name in one line only may be a misprint: it says nothing of the page.
    const often = [...this.uses.values()].filter(({ lines: count }) => count >= 2);
    const orphans = often.filter(({ given }) => given === 0).length;
    this.orphans = often.length === 0 ? 0 : orphans / often.length;
  }

  private addStatement(statement: Statement): void {
    const found = namesIn(statement);
    for (const name of found.used) {
      const use = this.uses.get(name) ?? { lines: 0, given: 0 };
      use.lines++;
      if (found.given.has(name)) use.given++;
      this.uses.set(name, use);
      const shape = shapeOf(name);
      this.byShape.set(shape, (this.byShape.get(shape) ?? new Set()).add(name));
    }
    for (const [name, count] of found.sizes) {
      this.dimensions.set(name, (this.dimensions.get(name) ?? new Set()).add(count));
    }
    if (innermost(statement).kind === 'FOR') {
      for (const name of found.given) this.loops.add(name);
    }
  }

  /** Does a line other than this one use the name? `own`: does this line's first reading? */
  isKnown(name: string, own: boolean): boolean {
    const use = this.uses.get(name);
    if (use === undefined) return false;
    const others = use.lines - (own ? 1 : 0);
    return others >= 2 || (others >= 1 && use.given > 0);
  }

  /** Is the name given a value in any line? */
  isGiven(name: string): boolean {
    return (this.uses.get(name)?.given ?? 0) > 0;
  }

  /** Names in use that look like this word, itself among them. */
  alike(word: string): ReadonlySet<string> {
    return this.byShape.get(shapeOf(word)) ?? NONE;
  }
}

const NONE: ReadonlySet<string> = new Set();

/** Names of a statement, arrays of numbers as `A(`; those that it gives a value; sizes of DIM. */
export function namesIn(statement: Statement): {
  used: Set<string>;
  given: Set<string>;
  sizes: [string, number][];
} {
  const used = new Set<string>();
  const given = new Set<string>();
  const sizes: [string, number][] = [];
  const key = (variable: Variable, isArray: boolean): string =>
    isArray && variable.type === 'number' ? `${variable.name}(` : variable.name;
  const visit = (node: unknown, isArray = false): void => {
    if (typeof node !== 'object' || node === null || ArrayBuffer.isView(node)) return;
    const one = node as { kind?: string };
    if (one.kind === 'variable') used.add(key(node as Variable, isArray));
    if (one.kind === 'subscripted') {
      const { base, subscripts } = node as { base: Expression; subscripts: unknown[] };
      visit(base, true);
      for (const part of subscripts) visit(part);
      return;
    }
    if (one.kind === 'DIM') {
      const { target, sizes: list } = node as { target: Variable; sizes: Expression[] };
      used.add(key(target, true));
      given.add(key(target, true));
      sizes.push([key(target, true), list.length]);
      for (const size of list) visit(size);
      return;
    }
    if (one.kind === 'LET' || one.kind === 'INPUT') {
      const { target } = node as { target: Expression };
      const base = baseOf(target);
      if (base !== undefined) given.add(key(base, target.kind === 'subscripted'));
    }
    if (one.kind === 'FOR') given.add((node as { variable: Variable }).variable.name);
    for (const part of Object.values(node)) {
      if (Array.isArray(part)) for (const item of part) visit(item);
      else visit(part);
    }
  };
  visit(statement);
  return { used, given, sizes };
}

function baseOf(target: Expression): Variable | undefined {
  let base = target;
  while (base.kind === 'subscripted') base = base.base;
  return base.kind === 'variable' ? base : undefined;
}

function innermost(statement: Statement): Statement {
  let inner = statement;
  while (inner.kind === 'IF') inner = inner.then;
  return inner;
}

/**
 * How much a statement disagrees with the program, in the same measure as the cost of a change: a
 * jump to no line, subscripts that no DIM has, fractions and sizes where they make no sense.
 */
export function disagreement(statement: Statement, names: ProgramNames): number {
  let cost = 0;
  const visit = (node: unknown): void => {
    if (typeof node !== 'object' || node === null || ArrayBuffer.isView(node)) return;
    const { kind } = node as { kind?: string };
    if (kind === 'GOTO' || kind === 'GOSUB') {
      const [target] = (node as { args: Expression[] }).args;
      if (target.kind === 'number' && !names.numbers.has(target.value)) cost += 3;
      if (target.kind === 'variable') cost += 1;
    }
    if (kind === 'subscripted') cost += oddSubscripts(node as never, names);
    if (kind === 'AT') {
      const { row, column } = node as { row: Expression; column: Expression };
      cost += oddWhole(row, 21) + oddWhole(column, 31);
    }
    if (kind === 'PLOT' || kind === 'UNPLOT') {
      const [x, y] = (node as { args: Expression[] }).args;
      cost += oddWhole(x, 63) + oddWhole(y, 43);
    }
    if (kind === 'TAB') cost += oddWhole((node as { column: Expression }).column, 65535);
    if (kind === 'POKE') cost += oddWhole((node as { args: Expression[] }).args[1], 255);
    if (kind === 'NEXT') {
      const { variable } = node as { variable: Variable };
      if (!names.loops.has(variable.name)) cost += 3;
    }
    if (kind === 'DIM') {
      // A size is never a fraction: it is a comma that was misprinted.
      for (const size of (node as { sizes: Expression[] }).sizes) {
        const odd = oddWhole(size, 65535);
        cost += odd === 0 ? 0 : odd + 2;
      }
    }
    if (kind === 'binary') cost += oddComparison(node as never);
    if (kind === 'FOR') cost += oddLoop(node as never);
    if (kind === 'PRINT' || kind === 'LPRINT') cost += oddItems(node as never);
    for (const part of Object.values(node)) {
      if (Array.isArray(part)) for (const item of part) visit(item);
      else visit(part);
    }
  };
  visit(statement);
  return cost;
}

function oddWhole(value: Expression, most: number): number {
  if (value.kind !== 'number') return 0;
  return (Number.isInteger(value.value) ? 0 : 4.5) + (value.value > most ? 2 : 0);
}

function oddSubscripts(
  node: { base: Expression; subscripts: (Expression | Range)[] },
  names: ProgramNames,
): number {
  const { base, subscripts } = node;
  let cost = 0;
  for (const subscript of subscripts) {
    if (subscript.kind === 'number' && !Number.isInteger(subscript.value)) cost += 4.5;
    if (subscript.kind === 'number' && subscript.value === 0) cost += 2;
  }
  if (base.kind !== 'variable') return cost;
  const sizes = names.dimensions.get(base.type === 'number' ? `${base.name}(` : base.name);
  // A string array may be given one subscript less, or one more for a slice.
  if (sizes === undefined) return cost + (base.type === 'number' ? 1 : 0);
  const counts = base.type === 'number' ? [0] : [0, -1, 1];
  const fits = [...sizes].some((size) => counts.some((more) => size + more === subscripts.length));
  return cost + (fits ? 0 : 4);
}

const COMPARISONS = new Set(['=', '<', '>', '<=', '>=', '<>']);

/** `8=2048`, `3*1`, `G>G`: what nobody needs to work out. */
function oddComparison(node: { operator: string; left: Expression; right: Expression }): number {
  const { left, right } = node;
  const same = left.kind === 'variable' && right.kind === 'variable' && left.name === right.name;
  if (same) return COMPARISONS.has(node.operator) || node.operator === '-' ? 3 : 0;
  if (left.kind !== 'number' || right.kind !== 'number') return 0;
  return COMPARISONS.has(node.operator) ? 6 : 2;
}

/** `FOR I=I TO 9`, `FOR I=1 TO I`: a limit that is the loop's own variable. */
function oddLoop(node: { variable: Variable; from: Expression; to: Expression }): number {
  const own = (limit: Expression): boolean =>
    limit.kind === 'variable' && limit.name === node.variable.name;
  return own(node.from) || own(node.to) ? 3 : 0;
}

/** `PRINT 1.5` stands in few programs: a comma between two whole numbers is as likely. */
function oddItems(node: { items: readonly { kind: string; text?: string }[] }): number {
  return node.items.some(({ kind, text }) => kind === 'number' && /^\d+\.\d+$/.test(text ?? ''))
    ? 2
    : 0;
}
