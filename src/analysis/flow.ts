/** Where the machine goes from each line: jumps, calls, loops, and what can be reached. */
import type { Expression, ForStatement } from '../../grammar/tree.js';
import { firstIndex } from '../listing/search.js';
import { wholeOf } from '../machine/arithmetic/operations.js';
import { compared } from './comparison.js';
import { type NumberRange, range, single } from './expression-ranges.js';
import type { Ranges } from './ranges.js';
import type { Step } from './steps.js';

export type JumpKind = 'GOTO' | 'GOSUB' | 'RUN';

export interface Jump {
  readonly kind: JumpKind;
  readonly step: Step;
  /** The expression of the line number; undefined in a RUN alone. */
  readonly node?: Expression;
  /** The line number, where the listing tells it. */
  readonly number?: number;
  /** Positions of the lines that it can lead to. Past the last line the program ends. */
  readonly targets: readonly number[];
  /** Can it lead to any line? */
  readonly anywhere: boolean;
}

export interface Loop {
  readonly variable: string;
  readonly start: Step;
  /** The first NEXT of the variable behind it; undefined where there is none. */
  readonly end?: Step;
  /** The last NEXT of it before another FOR of the same variable. */
  readonly last?: Step;
}

/** The most lines that a computed jump is followed to; one that can reach more can reach all. */
const MOST_TARGETS = 64;

export class Flow {
  readonly jumps: Jump[] = [];
  readonly loops: Loop[] = [];
  /** The loop of a FOR, by the position of its line. */
  readonly loopAt = new Map<number, Loop>();
  /** Position of the FOR before each NEXT, and of the first FOR of each variable. */
  private readonly nearestFor = new Map<number, number>();
  private readonly firstFor = new Map<string, number>();
  /** Where each line leads, calls left out; `length` is the end of the program. */
  readonly next: number[][];
  /** The lines that each GOSUB calls. */
  readonly calls: (readonly number[])[];
  /** Lines from which a computed GOTO can lead anywhere. */
  readonly anywhere: boolean[];
  /** Lines from which a computed GOSUB can call anything. */
  readonly callsAnything: boolean[];
  readonly reachable: boolean[];
  /** Does a line that was not understood, or a computed jump, leave the flow open? */
  readonly open: boolean;
  /** Position of the line that runs first. */
  readonly entry: number;

  constructor(
    readonly steps: readonly Step[],
    private readonly ranges: Ranges,
    startLine?: number,
  ) {
    this.findLoops();
    this.next = [];
    this.calls = steps.map(() => NONE);
    this.anywhere = steps.map(() => false);
    this.callsAnything = steps.map(() => false);
    for (const step of steps) this.link(step);
    this.entry = startLine === undefined ? 0 : this.indexOf(startLine);
    this.reachable = this.reach([this.entry]);
    this.open = steps.some(
      (step) =>
        this.reachable[step.index] &&
        (this.anywhere[step.index] ||
          this.callsAnything[step.index] ||
          step.statement === undefined ||
          step.statement.kind === 'unchecked'),
    );
  }

  get length(): number {
    return this.steps.length;
  }

  /** Position of the line with this number, or of the next one; `length` where there is none. */
  indexOf(number: number): number {
    const { steps } = this;
    return firstIndex(steps.length, (index) => steps[index].line.number >= number);
  }

  /** The lines that can be reached from these, calls included. */
  reach(from: readonly number[]): boolean[] {
    const seen = this.steps.map(() => false);
    const waiting = [...from];
    let all = false;
    while (waiting.length > 0) {
      const index = waiting.pop()!;
      if (index >= this.length || seen[index]) continue;
      seen[index] = true;
      waiting.push(...this.next[index], ...this.calls[index]);
      if (all || !(this.anywhere[index] || this.callsAnything[index])) continue;
      all = true;
      for (let other = 0; other < this.length; other++) if (!seen[other]) waiting.push(other);
    }
    return seen;
  }

  private findLoops(): void {
    const open = new Map<string, { start: Step; end?: Step; last?: Step }>();
    const close = (variable: string): void => {
      const loop = open.get(variable);
      if (loop === undefined) return;
      const found = { variable, ...loop };
      this.loops.push(found);
      this.loopAt.set(loop.start.index, found);
      open.delete(variable);
    };
    for (const step of this.steps) {
      const { statement } = step;
      if (statement?.kind === 'FOR') {
        close(statement.variable.name);
        if (!this.firstFor.has(statement.variable.name)) {
          this.firstFor.set(statement.variable.name, step.index);
        }
        open.set(statement.variable.name, { start: step });
      } else if (statement?.kind === 'NEXT') {
        const loop = open.get(statement.variable.name);
        if (loop === undefined) continue;
        loop.end ??= step;
        loop.last = step;
        this.nearestFor.set(step.index, loop.start.index);
      }
    }
    for (const variable of [...open.keys()]) close(variable);
    this.loops.sort((a, b) => a.start.index - b.start.index);
  }

  private link(step: Step): void {
    const { index, statement } = step;
    // Not pushed into an empty list, which would make room for many.
    const next = fallsThrough(step) ? [index + 1] : [];
    this.next[index] = next;
    if (statement === undefined) return;
    switch (statement.kind) {
      case 'GOTO':
      case 'GOSUB':
      case 'RUN':
        this.linkJump(step, statement.kind, statement.args[0]);
        break;
      case 'CONT':
        this.anywhere[index] = true;
        break;
      case 'FOR': {
        const end = this.loopAt.get(index)?.end;
        if (end === undefined) break;
        const skipped = this.isSkipped(statement);
        // The machine finds a NEXT behind IF too, and goes on behind it: that far nothing is certain.
        if (skipped.low === 1 && step.conditions.length + end.conditions.length === 0) next.pop();
        if (skipped.high === 1) next.push(end.index + 1);
        break;
      }
      case 'NEXT':
        this.linkNext(index, statement.variable.name);
    }
  }

  /** The steps that a jump to a number between these can lead to; undefined where it is too many. */
  targetsBetween({ low, high }: { readonly low: number; readonly high: number }) {
    const first = this.indexOf(wholeOf(low));
    const count = this.indexOf(wholeOf(high)) - first + 1;
    return count <= MOST_TARGETS ? Array.from({ length: count }, (_, at) => first + at) : undefined;
  }

  private linkJump(step: Step, kind: JumpKind, node: Expression | undefined): void {
    const found = node === undefined ? { low: 0, high: 0 } : this.ranges.number(node);
    const number = node === undefined ? 0 : single(this.ranges.number(node));
    const followed = this.targetsBetween(found);
    const anywhere = followed === undefined;
    const targets = followed ?? [];
    this.jumps.push({
      kind,
      step,
      node,
      number: number === undefined ? undefined : wholeOf(number),
      targets,
      anywhere,
    });
    if (kind === 'GOSUB') {
      this.calls[step.index] = targets;
      this.callsAnything[step.index] = anywhere;
    } else {
      this.next[step.index].push(...targets);
      this.anywhere[step.index] = anywhere;
    }
  }

  /** 1 where the first value of a loop lies past its limit, so that it makes no pass; 0, or either. */
  isSkipped({ from, to, step }: ForStatement): NumberRange {
    const by = step === undefined ? range(1) : this.ranges.number(step);
    if (by.low < 0 && by.high >= 0) return range(0, 1);
    return compared(by.low < 0 ? '<' : '>', this.ranges.number(from), this.ranges.number(to));
  }

  /** NEXT leads behind the nearest FOR of its variable before it, else behind the first one. */
  private linkNext(index: number, variable: string): void {
    const start = this.nearestFor.get(index) ?? this.firstFor.get(variable);
    if (start !== undefined) this.next[index].push(start + 1);
  }
}

const NONE: readonly number[] = [];
const ENDS = new Set(['GOTO', 'RETURN', 'STOP', 'NEW', 'RUN', 'LOAD', 'CONT']);

/** Does the line after this one come next, if nothing jumps? */
export function fallsThrough({ conditions, statement }: Step): boolean {
  return conditions.length > 0 || statement === undefined || !ENDS.has(statement.kind);
}
