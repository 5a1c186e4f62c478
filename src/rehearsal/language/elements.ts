/** Elements of arrays, and slices of strings: where they are, made once into functions that find them. */

import type { Expression, Range, Subscripted, Variable } from '../../../grammar/tree.js';
import { baseVariable } from '../../../grammar/visit.js';
import { count } from '../../listing/print.js';
import { decodeNumber, NUMBER_SIZE } from '../../machine/numbers.js';
import { report } from '../halt.js';
import type { Model } from '../state/model.js';
import { notFound, type Slot } from '../state/variables.js';
import type { Evaluator, NumberCode, StringCode } from './evaluator.js';
import { SEE_VALUE, wordOf } from './results.js';

const EMPTY = new Uint8Array(0);

export class Elements {
  constructor(
    private readonly model: Model,
    private readonly evaluator: Evaluator,
  ) {}

  /** An element of an array of numbers. */
  element(expression: Subscripted): NumberCode {
    const { bytes } = this.model.memory;
    const address = this.elementAddress(expression);
    return () => decodeNumber(bytes, address());
  }

  /** A function that gives the address of an element of an array of numbers. */
  elementAddress({ base, subscripts }: Subscripted): NumberCode {
    const { name } = base as Variable;
    const { variables } = this.model;
    const slot = variables.array(name);
    const codes = subscripts.map((each) => this.evaluator.number(each as Expression));
    if (codes.length === 1) return () => this.oneDimension(slot, codes[0]());
    const values = new Array<number>(codes.length);
    return () => {
      for (let at = 0; at < codes.length; at++) values[at] = codes[at]();
      const count = this.dimensions(slot, name);
      if (count !== values.length) throw wrongCount(name, values.length, count);
      return (
        slot.start + 4 + 2 * count + NUMBER_SIZE * this.offset(slot, values, count, values.length)
      );
    };
  }

  private oneDimension(slot: Slot, subscript: number): number {
    const count = this.dimensions(slot, slot.name);
    if (count !== 1) throw wrongCount(slot.name, 1, count);
    const { start } = slot;
    const index = wordOf(subscript, 'a subscript');
    const size = this.model.memory.word(start + 4);
    if (index < 1 || index > size) throw outOfRange(slot.name, index, size);
    return start + 6 + NUMBER_SIZE * (index - 1);
  }

  /** How many dimensions the array has that the slot finds. Throws report 2. */
  private dimensions(slot: Slot, name: string): number {
    if (!this.model.variables.find(slot)) throw notFound(`${name}()`);
    return this.model.memory.bytes[slot.start + 3];
  }

  /** Elements before the one with these subscripts, of which the first `used` are given. */
  private offset(slot: Slot, values: readonly number[], count: number, used: number): number {
    let offset = 0;
    for (let at = 0; at < count; at++) {
      const size = this.model.memory.word(slot.start + 4 + 2 * at);
      offset *= size;
      if (at >= used) continue;
      const index = wordOf(values[at], 'a subscript');
      if (index < 1 || index > size) throw outOfRange(slot.name, index, size);
      offset += index - 1;
    }
    return offset;
  }

  /** A slice of a string, or an element of an array of characters. */
  slice({ base, subscripts }: Subscripted): StringCode {
    if (base.kind === 'variable') return this.variableSlice(base.name, subscripts);
    const whole = this.evaluator.string(base);
    const cut = this.cutter(subscripts, nameOf(base));
    return () => cut(whole());
  }

  private variableSlice(name: string, subscripts: Subscripted['subscripts']): StringCode {
    const { memory, variables } = this.model;
    const { bytes } = memory;
    const slot = variables.string(name);
    const last = subscripts.at(-1);
    const leading = subscripts
      .slice(0, -1)
      .map((each) => this.evaluator.number(each as Expression));
    const lastNumber =
      last === undefined || last.kind === 'range' ? undefined : this.evaluator.number(last);
    const cut = this.cutter(subscripts.slice(-1), name);
    return () => {
      if (!variables.find(slot)) throw notFound(name);
      const { start } = slot;
      if (!variables.isArray(slot)) {
        if (leading.length > 0) throw wrongCount(name, subscripts.length, 1);
        return cut(bytes.subarray(start + 3, start + 3 + memory.word(start + 1)));
      }
      const count = bytes[start + 3];
      const values = leading.map((each) => each());
      const whole = subscripts.length === count - 1 && lastNumber !== undefined;
      if (whole) values.push(lastNumber());
      else if (Math.max(1, subscripts.length) !== count) {
        throw wrongCount(name, subscripts.length, count);
      }
      const length = memory.word(start + 4 + 2 * (count - 1));
      const from = start + 4 + 2 * count + this.offset(slot, values, count, count - 1);
      const element = bytes.subarray(from, from + length);
      return whole ? element : cut(element);
    };
  }

  /** Cuts a string by its one subscript: a place, a range, or nothing. */
  private cutter(
    subscripts: Subscripted['subscripts'],
    name: string,
  ): (whole: Uint8Array) => Uint8Array {
    const [subscript] = subscripts;
    if (subscripts.length > 1) {
      return () => {
        throw wrongCount(name, subscripts.length, 1);
      };
    }
    if (subscript === undefined) return (whole) => whole;
    if (subscript.kind === 'range') return this.rangeCutter(subscript, name);
    const place = this.evaluator.number(subscript);
    return (whole) => {
      const index = wordOf(place(), 'a subscript');
      if (index < 1 || index > whole.length) throw outOfRange(name, index, whole.length);
      return whole.subarray(index - 1, index);
    };
  }

  private rangeCutter(range: Range, name: string): (whole: Uint8Array) => Uint8Array {
    const from = range.from === undefined ? () => 1 : this.evaluator.number(range.from);
    const to = range.to === undefined ? undefined : this.evaluator.number(range.to);
    return (whole) => {
      const first = wordOf(from(), 'the start of a slice');
      const last = to === undefined ? whole.length : wordOf(to(), 'the end of a slice');
      if (first > last) return EMPTY;
      if (first < 1) throw outOfRange(name, first, whole.length);
      if (last > whole.length) throw outOfRange(name, last, whole.length);
      return whole.subarray(first - 1, last);
    };
  }
}

function nameOf(expression: Expression): string {
  return baseVariable(expression)?.name ?? 'the string';
}

function outOfRange(name: string, index: number, size: number) {
  const sizes = size === 0 ? 'it is empty' : `it goes from 1 to ${size}`;
  return report('3', `${name} has no place ${index}: ${sizes}`, SEE_VALUE);
}

export function wrongCount(name: string, given: number, needed: number) {
  const words = `${count(given, 'subscript')} ${given === 1 ? 'is' : 'are'} given`;
  return report(
    '3',
    `${name} has ${count(needed, 'dimension')}, and ${words}`,
    'see how it was DIMmed',
  );
}
