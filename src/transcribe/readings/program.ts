/** What the rest of a program says about one line: names, arrays and line numbers in use. */
import type { Statement, Variable } from '../../../grammar/tree.js';
import { baseVariable, innermost, visit } from '../../../grammar/visit.js';
import { matchesOutside } from '../page/text-spans.js';
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
      else this.addBroken(text);
    }
    // A name in one line only may be a misprint: it says nothing of the page.
    const often = [...this.uses.values()].filter(({ lines: count }) => count >= 2);
    const orphans = often.filter(({ given }) => given === 0).length;
    this.orphans = often.length === 0 ? 0 : orphans / often.length;
  }

  private addStatement(statement: Statement): void {
    const found = namesIn(statement);
    for (const name of found.used) this.addName(name, found.given.has(name));
    for (const [name, count] of found.sizes) {
      this.dimensions.set(name, (this.dimensions.get(name) ?? new Set()).add(count));
    }
    if (innermost(statement).kind === 'FOR') {
      for (const name of found.given) this.loops.add(name);
    }
  }

  /** Of a line that is no statement as it stands: what it plainly gives a value. */
  private addBroken(text: string): void {
    for (const { name, isLoop } of targetsIn(text)) {
      this.addName(name, true);
      if (isLoop) this.loops.add(name);
    }
  }

  private addName(name: string, given: boolean): void {
    const use = this.uses.get(name) ?? { lines: 0, given: 0 };
    use.lines++;
    if (given) use.given++;
    this.uses.set(name, use);
    const shape = shapeOf(name);
    this.byShape.set(shape, (this.byShape.get(shape) ?? new Set()).add(name));
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

const TARGET = /\b(?:LET\s+([A-Z]+\$?)\s*=|FOR\s+([A-Z])\s*=|(?:INPUT|READ)\s+([A-Z]+\$?)\s*$)/gi;

/** Names of letters alone that a line sets, whatever else of it is misprinted. */
export function targetsIn(text: string): { name: string; isLoop: boolean }[] {
  return matchesOutside(text, TARGET).map(([, target, loop, input]) => ({
    name: (target ?? loop ?? input).toUpperCase(),
    isLoop: loop !== undefined,
  }));
}

/** Names of a statement, arrays of numbers as `A(`; those that it gives a value; sizes of DIM. */
export function namesIn(statement: Statement): {
  used: Set<string>;
  given: Set<string>;
  sizes: [string, number][];
} {
  const used = new Set<string>();
  const given = new Set<string>();
  const sizes: [string, number][] = [];
  const arrays = new Set<unknown>();
  const key = (variable: Variable, isArray: boolean): string =>
    isArray && variable.type === 'number' ? `${variable.name}(` : variable.name;
  visit(statement, (node) => {
    switch (node.kind) {
      case 'variable':
        used.add(key(node, arrays.has(node)));
        break;
      case 'subscripted':
        arrays.add(node.base);
        break;
      case 'DIM':
        arrays.add(node.target);
        given.add(key(node.target, true));
        sizes.push([key(node.target, true), node.sizes.length]);
        break;
      case 'LET':
      case 'INPUT': {
        const base = baseVariable(node.target);
        if (base !== undefined) given.add(key(base, node.target.kind === 'subscripted'));
        break;
      }
      case 'FOR':
        given.add(node.variable.name);
    }
  });
  return { used, given, sizes };
}
