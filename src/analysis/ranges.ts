/**
 * What values numbers can have and how long strings can be, as far as the listing tells: intervals,
 * one for each variable over the whole run.
 */
import type { Expression } from '../../grammar/tree.js';
import { baseVariable } from '../../grammar/visit.js';
import { wholeOf } from '../machine/arithmetic/operations.js';
import { decodeNumber } from '../machine/numbers.js';
import type { SavedVariable } from '../machine/variables.js';
import {
  ANY_LENGTH,
  ANY_NUMBER,
  ExpressionRanges,
  holds,
  joined,
  type LengthRange,
  type NumberRange,
  range,
  single,
  sum,
  TYPED,
} from './expression-ranges.js';
import {
  type Name,
  type NamedVariable,
  type Names,
  nameOfVariable,
  type Setting,
} from './names.js';
import type { Step } from './steps.js';
import { upward, Worklist } from './worklist.js';

/**
 * Rounds of plain joining before bounds that still move are given up. After these each bound moves
 * once more at most, so that all is settled in time linear in what the settings read.
 */
const PATIENT_ROUNDS = 3;

export class Ranges extends ExpressionRanges {
  private readonly numbers = new Map<Name, NumberRange>();
  private readonly lengths = new Map<Name, LengthRange>();
  private readonly elements = new Map<Name, number>();
  private readonly unknownNames = new Set<Name>();
  /** May bounds that move still be joined plainly? */
  private patient = true;

  constructor(
    private readonly names: Names,
    saved: readonly SavedVariable[],
  ) {
    super();
    for (const variable of saved) this.addSaved(variable);
    this.findElementLengths();
    this.settle();
  }

  /** Takes in what the settings give their variables until nothing moves. */
  private settle(): void {
    const variables = [...this.names.all.values()];
    const settings = variables.flatMap((variable) => variable.settings);
    /** Of each line the variables that it reads, and its setting. */
    const reads = new Map<Step, NamedVariable[]>();
    const settingAt = new Map<Step, number>();
    settings.forEach(({ step }, at) => {
      settingAt.set(step, at);
      reads.set(step, []);
    });
    for (const variable of variables) {
      for (const { step, inText } of variable.readings) {
        if (!inText) reads.get(step)?.push(variable);
      }
    }
    const waiting = new Worklist<number>(upward, true);
    settings.forEach((_, at) => {
      waiting.put(at);
    });
    for (const at of waiting) {
      this.patient = waiting.round < PATIENT_ROUNDS;
      const { step, target } = settings[at];
      // What is set from a variable that is not yet set: the machine stops there (report 2).
      if (reads.get(step)!.some((variable) => !this.isKnown(variable))) continue;
      if (!this.addSetting(settings[at])) continue;
      const base = baseVariable(target)!;
      for (const name of base.type === 'number' ? [base.name, `${base.name}()`] : [base.name]) {
        for (const { step: reader } of this.names.all.get(name)?.readings ?? []) {
          const next = settingAt.get(reader);
          if (next !== undefined) waiting.put(next);
        }
      }
    }
  }

  /** Has anything set the variable already, or does nothing at all? */
  private isKnown({ name, settings }: NamedVariable): boolean {
    return (
      this.numbers.has(name) ||
      this.lengths.has(name) ||
      this.elements.has(name) ||
      this.unknownNames.has(name) ||
      !settings.some(({ kind, target }) => kind !== 'NEXT' && target.kind === 'variable')
    );
  }

  /** Is the variable an array of strings of this element length? */
  elementLength(name: Name): number | undefined {
    return this.elements.get(name);
  }

  named(name: Name): NumberRange {
    if (this.unknownNames.has(name)) return ANY_NUMBER;
    return this.numbers.get(name) ?? ANY_NUMBER;
  }

  lengthOf(name: Name): LengthRange {
    const element = this.elements.get(name);
    const plain = this.unknownNames.has(name) ? ANY_LENGTH : this.lengths.get(name);
    if (element === undefined) return plain ?? ANY_LENGTH;
    if (plain === undefined) return { low: element, high: element };
    return { low: Math.min(plain.low, element), high: Math.max(plain.high, element) };
  }

  // ───────────────────────────────── how variables are set ─────────────────────────────────

  private addSaved(variable: SavedVariable): void {
    if (variable.kind === 'number' || variable.kind === 'for') {
      const value = decodeNumber(variable.value);
      this.joinNumber(variable.name, range(value, value, Number.isInteger(value)));
      if (variable.kind === 'for') this.unknownNames.add(variable.name);
    } else if (variable.kind === 'string') {
      const { length } = variable.codes;
      this.joinLength(variable.name, { low: length, high: length });
    } else
      this.unknownNames.add(variable.kind === 'numbers' ? `${variable.name}()` : variable.name);
  }

  /** All strings of an array have the length of its last dimension. */
  private findElementLengths(): void {
    for (const { name, settings } of this.names.all.values()) {
      if (!name.endsWith('$')) continue;
      for (const { kind, step } of settings) {
        if (kind !== 'DIM' || step.statement?.kind !== 'DIM') continue;
        const last = step.statement.sizes.at(-1)!;
        const size = last.kind === 'number' ? last.value : single(this.constant(last));
        if (size === undefined) this.unknownNames.add(name);
        else this.elements.set(name, Math.max(wholeOf(size), this.elements.get(name) ?? 0));
      }
    }
  }

  /** A size of DIM, before any variable is known. */
  private constant(node: Expression): NumberRange {
    return this.number(node);
  }

  /** Did that move what is known of the variable? */
  private addSetting({ kind, step, target }: Setting): boolean {
    const { statement } = step;
    const base = baseVariable(target);
    if (base === undefined || statement === undefined) return false;
    const name = nameOfVariable(base, target.kind === 'subscripted' || kind === 'DIM');
    if (base.type === 'string') {
      if (kind === 'DIM' || target.kind === 'subscripted') return false;
      return this.joinLength(name, statement.kind === 'LET' ? this.length(statement.value) : TYPED);
    }
    if (statement.kind === 'LET') return this.joinNumber(name, this.number(statement.value));
    if (statement.kind === 'INPUT') return this.joinNumber(name, ANY_NUMBER);
    if (statement.kind === 'DIM') return this.joinNumber(name, range(0));
    if (statement.kind === 'FOR') {
      const step_ = statement.step === undefined ? range(1) : this.number(statement.step);
      const from = this.number(statement.from);
      const past = sum(this.number(statement.to), step_);
      // Counting up, the variable never falls below where it began; counting down, never above.
      return this.joinNumber(name, {
        low: step_.low > 0 ? from.low : Math.min(from.low, past.low),
        high: step_.high < 0 ? from.high : Math.max(from.high, past.high),
        whole: from.whole && step_.whole,
        moves: from.moves,
      });
    }
    return false;
  }

  private joinNumber(name: Name, found: NumberRange): boolean {
    const known = this.numbers.get(name);
    if (known !== undefined && holds(known, found)) return false;
    const next = known === undefined ? found : joined(known, found);
    this.numbers.set(
      name,
      known === undefined || this.patient
        ? next
        : {
            ...next,
            low: next.low < known.low ? -Infinity : next.low,
            high: next.high > known.high ? Infinity : next.high,
          },
    );
    return true;
  }

  private joinLength(name: Name, found: LengthRange): boolean {
    const known = this.lengths.get(name);
    let low = Math.min(known?.low ?? Infinity, found.low);
    let high = Math.max(known?.high ?? 0, found.high);
    if (known !== undefined && known.low === low && known.high === high) return false;
    if (known !== undefined && !this.patient) {
      if (low < known.low) low = 0;
      if (high > known.high) high = Infinity;
    }
    this.lengths.set(name, { low, high });
    return true;
  }
}
