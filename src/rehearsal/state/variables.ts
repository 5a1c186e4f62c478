/**
 * Variables, found, made and changed in the machine's memory.
 * Source: the manual, chapter 27; that LET makes a string anew at the end, and then closes the old
 * one, and that FOR turns a number into a loop variable where it stands: the published ROM
 * disassembly; all from memory.
 *
 * The ROM looks a variable up by going through all of them. Here what was found is kept in a slot
 * until anything moves.
 */
import { count } from '../../listing/print.js';
import { codeOfUnicode, INVERSE } from '../../machine/characters.js';
import { VARIABLES_END } from '../../machine/memory-map.js';
import { decodeNumber, NUMBER_SIZE, writeNumber } from '../../machine/numbers.js';
import { VARIABLE_PASSED } from '../../machine/timing.js';
import {
  arraySize,
  elementSize,
  endOfVariable,
  FOR_VARIABLE_SIZE,
  firstByte,
  KIND_BITS,
  numberVariableSize,
  stringVariableSize,
} from '../../machine/variables.js';
import { halt, report } from '../halt.js';
import type { Memory } from './memory.js';

/** Where the limit, the step and the looping line of a loop stand behind its value. */
const LIMIT = NUMBER_SIZE;
const STRIDE = 2 * NUMBER_SIZE;
const LINE = 3 * NUMBER_SIZE;

/** What a name refers to. */
export interface Slot {
  readonly name: string;
  /** The memory's stamp when it was looked up. */
  stamp: number;
  /** Address of its first byte, or 0 where there is no such variable. */
  start: number;
  /** Numbers: address of the five bytes, and what they hold. */
  value: number;
  number: number;
  /** T-states that the ROM takes to pass over the variables before it. */
  reach: number;
  /** Did FOR make it? Then it has a limit, a step, and the line that NEXT goes back to. */
  isLoop: boolean;
  limit: number;
  stride: number;
  line: number;
}

type Matches = (bytes: Uint8Array, at: number) => boolean;

export class Variables {
  private readonly slots = new Map<string, Slot>();
  private readonly matchers = new Map<Slot, Matches>();

  constructor(private readonly memory: Memory) {}

  /** The slot of a number's name: plain, or of a loop. */
  number(name: string): Slot {
    return this.slot(name, () => {
      if (name.length > 1) return longNameMatcher(longNameBytes(name));
      const plain = firstByte('number', name);
      const loop = firstByte('for', name);
      return (bytes, at) => bytes[at] === plain || bytes[at] === loop;
    });
  }

  /** The slot of a string's name (with its $): plain, or an array of characters. */
  string(name: string): Slot {
    return this.slot(name, () => {
      const plain = firstByte('string', name);
      const array = firstByte('characters', name);
      return (bytes, at) => bytes[at] === plain || bytes[at] === array;
    });
  }

  /** The slot of an array of numbers. */
  array(name: string): Slot {
    return this.slot(`${name}()`, () => {
      const first = firstByte('numbers', name);
      return (bytes, at) => bytes[at] === first;
    });
  }

  private slot(name: string, matcher: () => Matches): Slot {
    const known = this.slots.get(name);
    if (known !== undefined) return known;
    const slot: Slot = {
      name,
      stamp: 0,
      start: 0,
      value: 0,
      reach: 0,
      isLoop: false,
      line: 0,
      // Fractions, for the engine to take all three for such from the beginning.
      number: 0.5,
      limit: 0.5,
      stride: 0.5,
    };
    this.slots.set(name, slot);
    this.matchers.set(slot, matcher());
    return slot;
  }

  /** Looks a slot's variable up if anything has moved. Gives false where there is none. */
  find(slot: Slot): boolean {
    if (slot.stamp !== this.memory.stamp) this.search(slot);
    this.memory.clock.spend(slot.reach);
    return slot.start !== 0;
  }

  private search(slot: Slot): void {
    const { bytes, vars } = this.memory;
    const matches = this.matchers.get(slot)!;
    slot.stamp = this.memory.stamp;
    slot.start = 0;
    slot.reach = 0;
    for (let at = vars; bytes[at] !== VARIABLES_END; ) {
      const end = this.endOf(at);
      if (matches(bytes, at)) {
        slot.start = at;
        slot.isLoop = bytes[at] >> 5 === KIND_BITS.for;
        slot.value = slot.isLoop ? at + 1 : end - NUMBER_SIZE;
        slot.number = decodeNumber(bytes, slot.value);
        if (slot.isLoop) this.readLoop(slot);
        return;
      }
      slot.reach += VARIABLE_PASSED;
      at = end;
    }
  }

  private readLoop(slot: Slot): void {
    const { memory } = this;
    slot.limit = decodeNumber(memory.bytes, slot.value + LIMIT);
    slot.stride = decodeNumber(memory.bytes, slot.value + STRIDE);
    slot.line = memory.word(slot.value + LINE);
  }

  private endOf(at: number): number {
    // The byte that ends the variables is none of theirs.
    const end = endOfVariable(this.memory.bytes, at, this.memory.eLine - 1);
    if (end !== undefined) return end;
    throw halt(
      'memory',
      `the variables cannot be read any more: the bytes at ${at} are not a variable`,
      'a POKE changed them; try it on the machine itself',
    );
  }

  /** A number's value. Throws report 2. */
  read(slot: Slot): number {
    if (slot.stamp !== this.memory.stamp) this.search(slot);
    if (slot.start === 0) throw notFound(slot.name);
    this.memory.clock.spend(slot.reach);
    return slot.number;
  }

  /** LET for a number; makes the variable where there is none. */
  write(slot: Slot, value: number): void {
    if (slot.stamp !== this.memory.stamp) this.search(slot);
    if (slot.start === 0) this.makeNumber(slot);
    this.memory.clock.spend(slot.reach);
    this.put(slot, value);
  }

  /** A number put where its slot was found. */
  put(slot: Slot, value: number): void {
    slot.number = value;
    writeNumber(value, this.memory.bytes, slot.value);
  }

  private makeNumber(slot: Slot): void {
    const { memory } = this;
    const { name } = slot;
    const size = numberVariableSize(name);
    const start = memory.eLine - 1;
    memory.insert(start, size, `the new variable ${name}`);
    memory.noteLargest({ name, kind: 'number', bytes: size });
    if (name.length === 1) memory.bytes[start] = firstByte('number', name);
    else memory.bytes.set(longNameBytes(name), start);
    this.search(slot);
  }

  /** Makes a number that was found a loop's variable where it stands. */
  makeLoop(slot: Slot, limit: number, stride: number, line: number): void {
    const { memory } = this;
    if (!slot.isLoop) this.growToLoop(slot);
    writeNumber(limit, memory.bytes, slot.value + LIMIT);
    writeNumber(stride, memory.bytes, slot.value + STRIDE);
    memory.setWord(slot.value + LINE, line);
    this.readLoop(slot);
  }

  private growToLoop(slot: Slot): void {
    const { memory } = this;
    const growth = FOR_VARIABLE_SIZE - numberVariableSize(slot.name);
    // The letter is marked before room is asked for: it stays marked where there is none.
    memory.bytes[slot.start] = firstByte('for', slot.name);
    slot.isLoop = true;
    this.readLoop(slot);
    memory.insert(slot.value + NUMBER_SIZE, growth, `the loop variable ${slot.name}`);
    memory.noteLargest({ name: slot.name, kind: 'for', bytes: FOR_VARIABLE_SIZE });
    this.search(slot);
  }

  /** A number, or a loop's limit or step, that the memory does not hold as its slot says: for tests. */
  fault(): string | undefined {
    const { bytes, stamp } = this.memory;
    const holds = (at: number, number: number): boolean => decodeNumber(bytes, at) === number;
    return [...this.slots.values()].find(
      ({ name, stamp: found, start, value, number, isLoop, limit, stride }) =>
        found === stamp &&
        start > 0 &&
        !/[$)]$/.test(name) &&
        !(
          holds(value, number) &&
          (!isLoop || (holds(value + LIMIT, limit) && holds(value + STRIDE, stride)))
        ),
    )?.name;
  }

  /** Is the string that was found an array of characters? */
  isArray(slot: Slot): boolean {
    return this.memory.bytes[slot.start] >> 5 === KIND_BITS.characters;
  }

  /** LET for a plain string: the new one first, then the old one goes. */
  writeString(slot: Slot, codes: Uint8Array): void {
    const { memory } = this;
    const { name } = slot;
    const old = this.find(slot) ? slot.start : 0;
    const size = stringVariableSize(codes.length);
    const start = memory.eLine - 1;
    memory.insert(start, size, `${name} with ${count(codes.length, 'character')}`);
    memory.noteLargest({ name, kind: 'string', bytes: size });
    memory.bytes[start] = firstByte('string', name);
    memory.setWord(start + 1, codes.length);
    memory.bytes.set(codes, start + 3);
    if (old !== 0) memory.reclaim(old, this.endOf(old) - old);
  }

  /** Gives up what a slot's name refers to, if anything. */
  drop(slot: Slot): void {
    if (!this.find(slot)) return;
    this.memory.reclaim(slot.start, this.endOf(slot.start) - slot.start);
  }

  /** DIM, once what had the name is gone; numbers are 0, characters are spaces. */
  makeArray(slot: Slot, isString: boolean, dimensions: readonly number[]): void {
    const { memory } = this;
    const letter = slot.name[0];
    const name = isString ? `${letter}$` : letter;
    const shown = `DIM ${name}(${dimensions.join(',')})`;
    const size = arraySize(dimensions, elementSize(isString ? 'string' : 'number'));
    if (size > 0xffff) {
      throw report('4', `${shown} needs ${size} bytes, more than any machine has`, SMALLER);
    }
    const start = memory.eLine - 1;
    const kind = isString ? 'characters' : 'numbers';
    memory.insert(start, size, shown);
    memory.noteLargest({ name: `${name}()`, kind, bytes: size });
    memory.bytes.fill(0, start, start + size);
    memory.bytes[start] = firstByte(kind, letter);
    memory.setWord(start + 1, size - 3);
    memory.bytes[start + 3] = dimensions.length;
    dimensions.forEach((each, index) => {
      memory.setWord(start + 4 + 2 * index, each);
    });
  }
}

const SMALLER = 'use smaller dimensions';

export function notFound(name: string) {
  const array = name.endsWith('()');
  return report(
    '2',
    array ? `there is no array ${name.slice(0, -2)}` : `${name} has no value yet`,
    array ? 'DIM it first' : `give it one with LET before this line is run; RUN clears variables`,
  );
}

/** The bytes of a long name: the first with its kind, the last with bit 7 set. */
function longNameBytes(name: string): Uint8Array {
  const codes = Uint8Array.from(name, (letter) => codeOfUnicode(letter)!);
  codes[0] = firstByte('longNumber', name);
  codes[codes.length - 1] |= INVERSE;
  return codes;
}

function longNameMatcher(wanted: Uint8Array): Matches {
  return (bytes, at) => {
    for (let index = 0; index < wanted.length; index++) {
      if (bytes[at + index] !== wanted[index]) return false;
    }
    return true;
  };
}
