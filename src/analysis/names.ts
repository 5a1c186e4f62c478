/**
 * The variables of a program: where each is set and read. A number and an array of one letter are
 * two variables; a string and an array of strings share their name (the manual, chapter 27).
 */
import type { Subscripted, Variable } from '../../grammar/tree.js';
import { baseVariable } from '../../grammar/visit.js';
import type { Step, Use } from './steps.js';

export type SettingKind = 'LET' | 'INPUT' | 'FOR' | 'NEXT' | 'DIM';

export interface Setting {
  readonly kind: SettingKind;
  readonly step: Step;
  readonly target: Variable | Subscripted;
}

export interface Reading {
  readonly step: Step;
  readonly node: Variable;
  /** Is it a name within the text of a VAL? */
  readonly inText: boolean;
  /** What has the variable as its base: the element or slice. */
  readonly whole?: Subscripted;
}

/** `A`, `SCORE`, `A$`, or `A()` for an array of numbers. */
export type Name = string;

export interface NamedVariable {
  readonly name: Name;
  readonly settings: Setting[];
  readonly readings: Reading[];
}

export interface Names {
  readonly all: ReadonlyMap<Name, NamedVariable>;
  /** Steps in which VAL reads a text that only the run makes: any name may be read there. */
  readonly unknownReads: readonly Step[];
}

/** The name under which a target or a variable with or without subscripts is kept. */
export function nameOfVariable(node: Variable, subscripted: boolean): Name {
  return subscripted && node.type === 'number' ? `${node.name}()` : node.name;
}

class Collector {
  readonly all = new Map<Name, NamedVariable>();
  readonly unknownReads: Step[] = [];

  variable(name: Name): NamedVariable {
    let found = this.all.get(name);
    if (found === undefined) {
      found = { name, settings: [], readings: [] };
      this.all.set(name, found);
    }
    return found;
  }

  set(kind: SettingKind, step: Step, target: Variable | Subscripted): void {
    const base = baseVariable(target);
    if (base === undefined) return;
    const name = nameOfVariable(base, target.kind === 'subscripted' || kind === 'DIM');
    this.variable(name).settings.push({ kind, step, target });
  }

  read(reading: Reading): void {
    const name = nameOfVariable(reading.node, reading.whole !== undefined);
    this.variable(name).readings.push(reading);
  }
}

/** Finds all names; `readText` reads the texts of VAL. */
export function namesOf(
  steps: readonly Step[],
  uses: readonly Use[],
  textUses: (codes: Uint8Array, step: Step) => readonly Use[] | undefined,
): Names {
  const collector = new Collector();
  for (const step of steps) collectSettings(step, collector);
  for (const use of uses) {
    collectReading(use, collector, false);
    const { node } = use;
    if (node.kind !== 'call' || node.function !== 'VAL') continue;
    const inner =
      node.argument.kind === 'string' ? textUses(node.argument.codes, use.step) : undefined;
    if (inner === undefined) collector.unknownReads.push(use.step);
    else for (const textUse of inner) collectReading(textUse, collector, true);
  }
  return collector;
}

function collectSettings(step: Step, collector: Collector): void {
  const { statement } = step;
  if (statement === undefined) return;
  if (statement.kind === 'LET' || statement.kind === 'INPUT') {
    collector.set(statement.kind, step, statement.target);
  } else if (statement.kind === 'DIM') collector.set('DIM', step, statement.target);
  else if (statement.kind === 'FOR' || statement.kind === 'NEXT') {
    collector.set(statement.kind, step, statement.variable);
  }
}

function collectReading({ node, parent, step }: Use, collector: Collector, inText: boolean): void {
  if (node.kind !== 'variable') return;
  const whole =
    parent?.node.kind === 'subscripted' && parent.node.base === node ? parent.node : undefined;
  // An element that is set is no reading of it; of a string's slice it is, since the rest stays.
  const { statement } = step;
  const isTarget =
    whole !== undefined &&
    (statement?.kind === 'LET' || statement?.kind === 'INPUT') &&
    statement.target === whole;
  if (isTarget) return;
  collector.read({ step, node, inText, whole });
}
