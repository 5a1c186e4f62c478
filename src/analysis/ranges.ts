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

/** Rounds of plain joining before bounds that still move are given up. */
const PATIENT_ROUNDS = 3;
const MOST_ROUNDS = 12;

export class Ranges extends ExpressionRanges {
  private readonly numbers = new Map<Name, NumberRange>();
  private readonly lengths = new Map<Name, LengthRange>();
  private readonly elements = new Map<Name, number>();
  private readonly unknownNames = new Set<Name>();
  private changed = false;
  private round = 0;

  constructor(
    private readonly names: Names,
    saved: readonly SavedVariable[],
  ) {
    super();
    for (const variable of saved) this.addSaved(variable);
    this.findElementLengths();
    const settings = [...names.all.values()].flatMap((variable) => variable.settings);
    do {
      this.changed = false;
      for (const setting of settings) this.addSetting(setting);
      this.round++;
    } while (this.changed && this.round < MOST_ROUNDS);
    if (this.changed) this.giveUp();
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

  private addSetting({ kind, step, target }: Setting): void {
    const { statement } = step;
    const base = baseVariable(target);
    if (base === undefined || statement === undefined) return;
    const name = nameOfVariable(base, target.kind === 'subscripted' || kind === 'DIM');
    if (base.type === 'string') {
      if (kind === 'DIM' || target.kind === 'subscripted') return;
      this.joinLength(name, statement.kind === 'LET' ? this.length(statement.value) : TYPED);
    } else if (statement.kind === 'LET') this.joinNumber(name, this.number(statement.value));
    else if (statement.kind === 'INPUT') this.joinNumber(name, ANY_NUMBER);
    else if (statement.kind === 'DIM') this.joinNumber(name, range(0));
    else if (statement.kind === 'FOR') {
      const step_ = statement.step === undefined ? range(1) : this.number(statement.step);
      const from = this.number(statement.from);
      const past = sum(this.number(statement.to), step_);
      // Counting up, the variable never falls below where it began; counting down, never above.
      this.joinNumber(name, {
        low: step_.low > 0 ? from.low : Math.min(from.low, past.low),
        high: step_.high < 0 ? from.high : Math.max(from.high, past.high),
        whole: from.whole && step_.whole,
        moves: from.moves,
      });
    }
  }

  private joinNumber(name: Name, found: NumberRange): void {
    const known = this.numbers.get(name);
    if (known !== undefined && holds(known, found)) return;
    const next = known === undefined ? found : joined(known, found);
    this.changed = true;
    this.numbers.set(
      name,
      known === undefined || this.round < PATIENT_ROUNDS
        ? next
        : {
            ...next,
            low: next.low < known.low ? -Infinity : next.low,
            high: next.high > known.high ? Infinity : next.high,
          },
    );
  }

  private joinLength(name: Name, found: LengthRange): void {
    const known = this.lengths.get(name);
    const low = Math.min(known?.low ?? Infinity, found.low);
    let high = Math.max(known?.high ?? 0, found.high);
    if (known !== undefined && known.low === low && known.high === high) return;
    this.changed = true;
    if (known !== undefined && high > known.high && this.round >= PATIENT_ROUNDS) high = Infinity;
    this.lengths.set(name, { low, high });
  }

  private giveUp(): void {
    for (const name of this.numbers.keys()) this.unknownNames.add(name);
    for (const name of this.lengths.keys()) this.unknownNames.add(name);
  }
}
