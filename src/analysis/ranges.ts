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
import { type Name, type Names, nameOfVariable, type Setting } from './names.js';
import type { Step } from './steps.js';
import { upward, Worklist } from './worklist.js';

/**
 * Rounds of plain joining before bounds that still move are given up. After these each bound moves
 * once more at most, so that all is settled in time linear in what the settings read.
 */
const PATIENT_ROUNDS = 3;

/** A variable while its bounds are found. */
interface Settled {
  readonly name: Name;
  /** Does anything set it that is no NEXT, and all of it? */
  readonly setAtAll: boolean;
  readonly readers: Readers;
}

const setsWhole = ({ kind, target }: Setting): boolean =>
  kind !== 'NEXT' && target.kind === 'variable';

/** The settings that read a variable. */
class Readers {
  /** Upward. */
  settings: readonly number[] = [];
  private round = -1;
  /** How many of them were woken since the last change in this round stood before them. */
  private passed = 0;

  /**
   * Lets all wait, once the setting `at` has changed the variable. A variable that many lines set and
   * read may change with each of them: those that already wait in this round are not gone through again.
   */
  wake(waiting: Worklist<number>, at: number): void {
    const { settings } = this;
    if (this.round !== waiting.round) {
      this.round = waiting.round;
      this.passed = 0;
      for (const setting of settings) waiting.put(setting);
    }
    for (; settings[this.passed] <= at; this.passed++) waiting.put(settings[this.passed]);
  }
}

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
    const settings: Setting[] = [];
    /** Of each setting the variable that it sets, and those that it reads. */
    const sets: Settled[] = [];
    const reads: Settled[][] = [];
    const settingAt = new Map<Step, number>();
    const all = variables.map(({ name, settings: own }): Settled => {
      const variable = { name, setAtAll: own.some(setsWhole), readers: new Readers() };
      for (const setting of own) {
        settingAt.set(setting.step, settings.push(setting) - 1);
        sets.push(variable);
        reads.push([]);
      }
      return variable;
    });
    variables.forEach(({ readings }, of) => {
      const reading: number[] = [];
      for (const { step, inText } of readings) {
        const at = inText ? undefined : settingAt.get(step);
        if (at !== undefined && reading.at(-1) !== at) reading.push(at);
      }
      for (const at of reading.sort(upward)) reads[at].push(all[of]);
      all[of].readers.settings = reading;
    });
    const waiting = new Worklist<number>(upward, true);
    for (const at of settings.keys()) waiting.put(at);
    for (const at of waiting) {
      this.patient = waiting.round < PATIENT_ROUNDS;
      // What is set from a variable that is not yet set: the machine stops there (report 2).
      if (!reads[at].every((variable) => this.isKnown(variable))) continue;
      if (this.addSetting(settings[at])) sets[at].readers.wake(waiting, at);
    }
  }

  /** Has anything set the variable already, or does nothing at all? */
  private isKnown({ name, setAtAll }: Settled): boolean {
    return (
      !setAtAll ||
      this.numbers.has(name) ||
      this.lengths.has(name) ||
      this.elements.has(name) ||
      this.unknownNames.has(name)
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
