/**
 * Expressions, made once into functions that compute them.
 * Source: the manual, chapters 5 to 13, 21, 22 and 26, and Appendix C, from memory. Numbers
 * are reckoned as the ROM reckons them (`machine/arithmetic/`).
 */
import type {
  Binary,
  BinaryOperator,
  Call,
  Expression,
  FunctionName,
  Range,
  Subscripted,
  Variable,
} from '../../grammar/tree.js';
import { baseVariable } from '../../grammar/visit.js';
import { numberText } from '../machine/arithmetic/digits.js';
import {
  arcCosine,
  arcSine,
  arcTangent,
  besideSquare,
  cosine,
  exponential,
  logarithm,
  PI,
  power,
  sine,
  squareRoot,
  tangent,
} from '../machine/arithmetic/functions.js';
import { add, divide, multiply, subtract, wholeOf } from '../machine/arithmetic/operations.js';
import { unicodeOfCode } from '../machine/characters.js';
import { RAM_START } from '../machine/memory-map.js';
import { decodeNumber, NUMBER_SIZE } from '../machine/numbers.js';
import { timeOfProduct, timeOfQuotient, timeOfSum } from '../machine/timing.js';
import { halt, report } from './halt.js';
import { PLACES } from './memory.js';
import type { Model } from './model.js';
import { codesOf, putNumber } from './output.js';
import { parseValue } from './typed.js';
import { notFound, type Slot, type Variables } from './variables.js';

export type NumberCode = () => number;
export type StringCode = () => Uint8Array;

/**
 * A part of an expression: a variable, a value, or anything else. Most parts are of the first two
 * kinds, and reading those without calling a function of their own is what makes loops fast.
 */
export interface Operand {
  readonly slot: Slot | undefined;
  readonly code: NumberCode | undefined;
  readonly value: number;
}

/** Bytes of the calculator stack that a number or a string's place takes. */
const STACK_ENTRY = 5;
/** Entries that the functions computed by series need besides (from memory of the ROM). */
const SERIES_ENTRIES = 3;
const SERIES = new Set<FunctionName>([
  'SIN',
  'COS',
  'TAN',
  'ASN',
  'ACS',
  'ATN',
  'LN',
  'EXP',
  'SQR',
]);

/** RND and RAND: the multiplier and the modulus (manual, chapter 5). */
const RND_FACTOR = 75;
const RND_MODULUS = 65537;
const RND_RANGE = 65536;

const EMPTY = new Uint8Array(0);

/** A result, where there is one. Throws report 6. */
export function settled(value: number): number {
  if (!Number.isNaN(value)) return value;
  throw overflow('the result is larger than about 1.7E38');
}

function overflow(why: string) {
  return report('6', why, 'see what the values are here; --trace shows them');
}

/** A number as a whole one of two bytes: the nearest. Throws report B. */
export function wordOf(value: number, what: string): number {
  const whole = wholeOf(value);
  if (value >= 0 && whole <= 0xffff) return whole;
  throw report('B', `${what} is ${numberText(value)}, and must be from 0 to 65535`, SEE_VALUE);
}

/**
 * A number's size as a byte, its sign left out, as the ROM takes it. Throws report B, which names
 * the range that the manual gives, from `lowest` on.
 */
export function byteOf(value: number, what: string, lowest = 0): number {
  const whole = Math.abs(wholeOf(value));
  if (whole <= 0xff) return whole;
  const range = `from ${lowest} to 255`;
  throw report('B', `${what} is ${numberText(value)}, and must be ${range}`, SEE_VALUE);
}

const SEE_VALUE = 'see where that value comes from; --trace shows the values as they change';

/** Is a difference, or what is missing, so small that eight digits may not show it? */
const isNear = (gap: number, value: number): boolean =>
  (gap < 0 ? -gap : gap) < (value < 0 ? -value : value) * 2 ** -25;

/** Order of two strings: below 0, 0, above 0. */
function compare(left: Uint8Array, right: Uint8Array): number {
  const length = Math.min(left.length, right.length);
  for (let at = 0; at < length; at++) {
    if (left[at] !== right[at]) return left[at] - right[at];
  }
  return left.length - right.length;
}

const COMPARISONS: Partial<Record<BinaryOperator, (order: number) => boolean>> = {
  '=': (order) => order === 0,
  '<>': (order) => order !== 0,
  '<': (order) => order < 0,
  '>': (order) => order > 0,
  '<=': (order) => order <= 0,
  '>=': (order) => order >= 0,
};

function raised(base: number, exponent: number): number {
  if (base === 0 && exponent < 0) throw overflow('0 to a negative power');
  if (base >= 0) return settled(power(base, exponent));
  throw report(
    'A',
    `${numberText(base)}**${numberText(exponent)}: the machine raises by logarithms, and a negative number has none`,
    'multiply instead, or take ABS and see to the sign',
  );
}

function badArgument(name: string, value: number, domain: string) {
  return report('A', `${name} ${numberText(value)}: ${domain}`, SEE_VALUE);
}

const FUNCTIONS: Partial<Record<FunctionName, (value: number) => number>> = {
  SIN: (x) => settled(sine(x)),
  COS: (x) => settled(cosine(x)),
  TAN: (x) => settled(tangent(x)),
  ASN: (x) => settled(arcSine(withinOne('ASN', x))),
  ACS: (x) => settled(arcCosine(withinOne('ACS', x))),
  ATN: (x) => settled(arcTangent(x)),
  EXP: (x) => settled(exponential(x)),
  SGN: (x) => Math.sign(x),
  ABS: (x) => Math.abs(x),
  LN(x) {
    if (x <= 0) throw badArgument('LN', x, 'only numbers above 0 have a logarithm');
    return settled(logarithm(x));
  },
  SQR(x) {
    if (x < 0) throw badArgument('SQR', x, 'a negative number has no square root');
    return settled(squareRoot(x));
  },
};

function withinOne(name: string, value: number): number {
  const beside = settled(besideSquare(value));
  if (beside < 0) throw badArgument(name, value, 'it goes from -1 to 1');
  return value;
}

interface ParsedValue {
  readonly code: NumberCode;
  readonly hidden: number;
}

/** The value of a part. */
export function readOperand(variables: Variables, { slot, code, value }: Operand): number {
  if (slot !== undefined) return variables.read(slot);
  return code === undefined ? value : code();
}

export class Evaluator {
  /** What VAL has parsed already, by its text. */
  private readonly parsed = new Map<string, ParsedValue>();

  constructor(private readonly model: Model) {}

  /** A function that computes a number. */
  number(expression: Expression): NumberCode {
    switch (expression.kind) {
      case 'number': {
        const { value } = expression;
        return () => value;
      }
      case 'variable':
        return this.variable(expression);
      case 'brackets':
        return this.number(expression.inner);
      case 'unary':
        return this.unary(expression.operator, this.number(expression.operand));
      case 'binary':
        return this.binary(expression);
      case 'call':
        return this.call(expression);
      case 'constant':
        return expression.name === 'PI' ? () => PI : this.random();
      case 'subscripted':
        return this.element(expression);
      default:
        throw new TypeError(`a ${expression.kind} is not a number`);
    }
  }

  /** A function that gives a string: perhaps a view of memory, good until something moves. */
  string(expression: Expression): StringCode {
    switch (expression.kind) {
      case 'string': {
        const { codes } = expression;
        return () => codes;
      }
      case 'variable':
        return this.stringVariable(expression);
      case 'brackets':
        return this.string(expression.inner);
      case 'binary':
        return this.stringBinary(expression);
      case 'call':
        return expression.function === 'STR$'
          ? this.numberString(this.number(expression.argument))
          : this.character(this.number(expression.argument));
      case 'constant':
        return this.inkey();
      case 'subscripted':
        return this.slice(expression);
      default:
        throw new TypeError(`a ${expression.kind} is not a string`);
    }
  }

  /** Bytes of the calculator stack that an expression needs at its deepest. */
  stackNeed(expression: Expression | undefined): number {
    return expression === undefined ? 0 : STACK_ENTRY * entries(expression);
  }

  // ───────────────────────────────── numbers ─────────────────────────────────

  private variable({ name }: Variable): NumberCode {
    const { variables } = this.model;
    const slot = variables.number(name);
    return () => variables.read(slot);
  }

  private unary(operator: '-' | 'NOT', operand: NumberCode): NumberCode {
    if (operator === 'NOT') return () => (operand() === 0 ? 1 : 0);
    return () => 0 - operand();
  }

  private binary(expression: Binary): NumberCode {
    const { operator } = expression;
    const test = COMPARISONS[operator];
    if (expression.left.type === 'string') {
      const left = this.string(expression.left);
      const right = this.string(expression.right);
      return () => (test!(compare(left(), right())) ? 1 : 0);
    }
    return this.arithmetic(operator, this.operand(expression.left), this.operand(expression.right));
  }

  /** An expression as a part of another, or of a statement. */
  operand(expression: Expression): Operand {
    if (expression.kind === 'brackets') return this.operand(expression.inner);
    if (expression.kind === 'number') {
      return { slot: undefined, code: undefined, value: expression.value };
    }
    if (expression.kind === 'variable') {
      const slot = this.model.variables.number(expression.name);
      return { slot, code: undefined, value: 0 };
    }
    return { slot: undefined, code: this.number(expression), value: 0 };
  }

  private arithmetic(operator: BinaryOperator, a: Operand, b: Operand): NumberCode {
    const { variables, clock } = this.model;
    const left = (): number => readOperand(variables, a);
    const right = (): number => readOperand(variables, b);
    switch (operator) {
      case '+':
        return () => {
          const first = readOperand(variables, a);
          const second = readOperand(variables, b);
          const sum = settled(add(first, second));
          clock.spend(timeOfSum(first, second, sum));
          return sum;
        };
      case '-':
        return () => {
          const first = readOperand(variables, a);
          const second = readOperand(variables, b);
          const sum = settled(subtract(first, second));
          clock.spend(timeOfSum(first, second, sum));
          return sum;
        };
      case '*':
        return () => {
          const first = readOperand(variables, a);
          const second = readOperand(variables, b);
          clock.spend(timeOfProduct(second));
          return settled(multiply(first, second));
        };
      case '/':
        return () => {
          const first = readOperand(variables, a);
          const second = readOperand(variables, b);
          clock.spend(timeOfQuotient(first));
          return divided(first, second);
        };
      case '**':
        return () => raised(left(), right());
      case 'AND':
        return () => {
          const value = left();
          return right() === 0 ? 0 : value;
        };
      case 'OR':
        return () => {
          const value = left();
          return right() === 0 ? value : 1;
        };
      default:
        return this.comparison(operator, a, b);
    }
  }

  /** A comparison is a subtraction, whose order counts: see `difference`. */
  private comparison(operator: BinaryOperator, a: Operand, b: Operand): NumberCode {
    const { variables, clock } = this.model;
    // The ROM exchanges the two for < and >=.
    const isExchanged = operator === '<' || operator === '>=';
    const gap = (): number => {
      const first = readOperand(variables, a);
      const second = readOperand(variables, b);
      const left = isExchanged ? second : first;
      const right = isExchanged ? first : second;
      const found = difference(left, right);
      clock.spend(timeOfSum(left, right, found));
      return found;
    };
    switch (operator) {
      case '=':
      case '<>':
        return this.equality(a, b, operator === '=' ? 1 : 0);
      case '<':
      case '>':
        return () => (gap() > 0 ? 1 : 0);
      default:
        return () => (gap() > 0 ? 0 : 1);
    }
  }

  /** Are two numbers equal? Gives `whenEqual`, or the other of 1 and 0; remarks on what nearly is. */
  private equality(a: Operand, b: Operand, whenEqual: number): NumberCode {
    const { model } = this;
    const { variables, clock } = model;
    return () => {
      const first = readOperand(variables, a);
      const second = readOperand(variables, b);
      const found = difference(first, second);
      clock.spend(timeOfSum(first, second, found));
      if (found === 0) return whenEqual;
      if (isNear(found, first)) this.remarkOnEquality(first, second, whenEqual === 1);
      return 1 - whenEqual;
    };
  }

  /** Says so where numbers that print alike differ: the machine does as is done here. */
  private remarkOnEquality(first: number, second: number, asksEqual: boolean): void {
    if (this.model.remarks.has('equality') || numberText(first) !== numberText(second)) return;
    this.model.remark(
      'equality',
      `two numbers that both print as ${numberText(first)} differ in their last bits, so that ${asksEqual ? '= is false' : '<> is true'}: ask whether they are near, as in ABS (A-B)<.001`,
    );
  }

  /** INT; remarks on what is nearly the next whole number. */
  private integer(value: NumberCode): NumberCode {
    const { model } = this;
    return () => {
      const number = value();
      const whole = Math.floor(number);
      if (whole !== number && isNear(whole + 1 - number, number) && !model.remarks.has('integer')) {
        const shown = numberText(number);
        if (shown === numberText(whole + 1)) {
          model.remark(
            'integer',
            `INT of a number that prints as ${shown} is ${numberText(whole)}: it is a little less; add .5 before INT to round`,
          );
        }
      }
      return whole;
    };
  }

  private call({ function: name, argument }: Call): NumberCode {
    if (name === 'INT') return this.integer(this.number(argument));
    const computed = FUNCTIONS[name];
    if (computed !== undefined) {
      const value = this.number(argument);
      return () => computed(value());
    }
    if (name === 'PEEK') return this.peek(this.number(argument));
    if (name === 'USR') return this.usr(this.number(argument));
    const text = this.string(argument);
    if (name === 'LEN') return () => text().length;
    if (name === 'CODE') return () => text()[0] ?? 0;
    return () => this.valueOf(text());
  }

  private peek(address: NumberCode): NumberCode {
    const { memory } = this.model;
    return () => {
      const at = wordOf(address(), 'the address of PEEK');
      if (at < RAM_START) {
        this.model.remark(
          'peek-rom',
          `PEEK ${at} reads the ROM, which is not here: 0 is given instead`,
        );
        return 0;
      }
      if (at >= memory.ramEnd) {
        this.model.remark(
          'peek-nothing',
          `PEEK ${at} is above the RAM that is fitted: 0 is given; a machine may show its RAM again there`,
        );
        return 0;
      }
      return memory.peek(at);
    };
  }

  private usr(address: NumberCode): NumberCode {
    const { model } = this;
    return () => {
      const at = wordOf(address(), 'the address of USR');
      const { usr } = model.options;
      if (usr === undefined) {
        throw halt(
          'usr',
          `USR ${at} runs machine code, which a rehearsal does not`,
          'to go on with a given result, say --usr VALUE',
        );
      }
      model.remark('usr', `USR ${at} was not run: ${usr} is given as its result`);
      return usr;
    };
  }

  private random(): NumberCode {
    const { memory } = this.model;
    return () => {
      const seed = memory.word(PLACES.seed);
      const next = ((RND_FACTOR * (seed + 1)) % RND_MODULUS) - 1;
      memory.setWord(PLACES.seed, next);
      return next / RND_RANGE;
    };
  }

  /** VAL: its text is read as the machine reads what is typed. Throws report C. */
  private valueOf(text: Uint8Array): number {
    const { code, hidden } = this.parsedValue(text);
    // While it is read, the text and its NEWLINE stand in the workspace, with its literals' bytes.
    this.model.memory.askWorkspace(text.length + 1 + hidden);
    return code();
  }

  private parsedValue(text: Uint8Array): ParsedValue {
    const isShort = text.length <= LONGEST_VAL;
    const key = isShort ? String.fromCharCode(...text) : '';
    const known = isShort ? this.parsed.get(key) : undefined;
    if (known !== undefined) return known;
    const typed = parseValue(text);
    if (typed === undefined || typed.expression.type !== 'number') {
      throw report('C', `VAL is given a text that is not a number: ${shown(text)}`, SEE_VALUE);
    }
    const parsed = { code: this.number(typed.expression), hidden: typed.hidden };
    if (isShort && this.parsed.size < MOST_PARSED) this.parsed.set(key, parsed);
    return parsed;
  }

  // ───────────────────────────────── strings ─────────────────────────────────

  private stringVariable({ name }: Variable): StringCode {
    const { memory, variables } = this.model;
    const slot = variables.string(name);
    return () => {
      if (!variables.find(slot)) throw notFound(name);
      const { start } = slot;
      const { bytes } = memory;
      if (!variables.isArray(slot)) {
        return bytes.subarray(start + 3, start + 3 + memory.word(start + 1));
      }
      if (bytes[start + 3] !== 1) throw wrongCount(name, 0, bytes[start + 3]);
      return bytes.subarray(start + 6, start + 6 + memory.word(start + 4));
    };
  }

  private stringBinary({ operator, left, right }: Binary): StringCode {
    const first = this.string(left);
    if (operator === 'AND') {
      const condition = this.number(right);
      return () => {
        const value = first();
        return condition() === 0 ? EMPTY : value;
      };
    }
    const second = this.string(right);
    const { memory } = this.model;
    return () => {
      const start = first();
      const end = second();
      memory.askWorkspace(start.length + end.length);
      const joined = new Uint8Array(start.length + end.length);
      joined.set(start);
      joined.set(end, start.length);
      return joined;
    };
  }

  private numberString(value: NumberCode): StringCode {
    const { model } = this;
    const { memory } = model;
    return () => {
      const number = value();
      if (model.toPrinter) {
        // Within LPRINT the digits go to the printer, and the string stays empty (STR$ 1536).
        putNumber(model.printer, number);
        return EMPTY;
      }
      const codes = codesOf(numberText(number));
      memory.askWorkspace(codes.length);
      return codes;
    };
  }

  private character(value: NumberCode): StringCode {
    const { memory } = this.model;
    return () => {
      const number = value();
      const code = wordOf(number, 'CHR$');
      if (code > 0xff) {
        throw report('B', `CHR$ ${numberText(number)}: codes go from 0 to 255`, SEE_VALUE);
      }
      memory.askWorkspace(1);
      return Uint8Array.of(code);
    };
  }

  private inkey(): StringCode {
    const { model } = this;
    return () => {
      const press = model.keyboard.heldAt(model.frame);
      if (press === undefined || press.isBreak) {
        model.lastEmptyInkey = model.statements;
        return EMPTY;
      }
      model.memory.askWorkspace(1);
      return Uint8Array.of(press.code);
    };
  }

  // ───────────────────────────────── subscripts ─────────────────────────────────

  /** An element of an array of numbers. */
  private element(expression: Subscripted): NumberCode {
    const { bytes } = this.model.memory;
    const address = this.elementAddress(expression);
    return () => decodeNumber(bytes, address());
  }

  /** A function that gives the address of an element of an array of numbers. */
  elementAddress({ base, subscripts }: Subscripted): NumberCode {
    const { name } = base as Variable;
    const { variables } = this.model;
    const slot = variables.array(name);
    const codes = subscripts.map((each) => this.number(each as Expression));
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
  private slice({ base, subscripts }: Subscripted): StringCode {
    if (base.kind === 'variable') return this.variableSlice(base.name, subscripts);
    const whole = this.string(base);
    const cut = this.cutter(subscripts, nameOf(base));
    return () => cut(whole());
  }

  private variableSlice(name: string, subscripts: Subscripted['subscripts']): StringCode {
    const { memory, variables } = this.model;
    const { bytes } = memory;
    const slot = variables.string(name);
    const last = subscripts.at(-1);
    const leading = subscripts.slice(0, -1).map((each) => this.number(each as Expression));
    const lastNumber = last === undefined || last.kind === 'range' ? undefined : this.number(last);
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
    const place = this.number(subscript);
    return (whole) => {
      const index = wordOf(place(), 'a subscript');
      if (index < 1 || index > whole.length) throw outOfRange(name, index, whole.length);
      return whole.subarray(index - 1, index);
    };
  }

  private rangeCutter(range: Range, name: string): (whole: Uint8Array) => Uint8Array {
    const from = range.from === undefined ? () => 1 : this.number(range.from);
    const to = range.to === undefined ? undefined : this.number(range.to);
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

/** Texts of VAL longer than this are read anew each time; so are those after so many. */
const LONGEST_VAL = 64;
const MOST_PARSED = 1000;

function divided(left: number, right: number): number {
  if (right === 0) throw overflow(`${numberText(left)}/0: a division by zero`);
  return settled(divide(left, right));
}

/**
 * What the ROM looks at to compare two numbers (NO-L-EQL 1803): the first less the second. For < and
 * >= it exchanges them first.
 */
export function difference(left: number, right: number): number {
  return left === right ? 0 : settled(subtract(left, right));
}

function nameOf(expression: Expression): string {
  return baseVariable(expression)?.name ?? 'the string';
}

function outOfRange(name: string, index: number, size: number) {
  const sizes = size === 0 ? 'it is empty' : `it goes from 1 to ${size}`;
  return report('3', `${name} has no place ${index}: ${sizes}`, SEE_VALUE);
}

function wrongCount(name: string, given: number, needed: number) {
  const words = given === 1 ? '1 subscript is given' : `${given} subscripts are given`;
  return report('3', `${name} has ${needed} dimensions, and ${words}`, 'see how it was DIMmed');
}

/** A few characters of a text, for a message. */
function shown(text: Uint8Array): string {
  if (text.length === 0) return 'it is empty';
  const start = Array.from(text.subarray(0, 20), (code) => unicodeOfCode(code) ?? '?').join('');
  return `"${start}${text.length > 20 ? '…' : ''}"`;
}

/** Entries of the calculator stack at the deepest point of an expression. */
function entries(expression: Expression | Range): number {
  switch (expression.kind) {
    case 'brackets':
      return entries(expression.inner);
    case 'unary':
      return entries(expression.operand);
    case 'binary':
      return Math.max(entries(expression.left), 1 + entries(expression.right));
    case 'call':
      return entries(expression.argument) + (SERIES.has(expression.function) ? SERIES_ENTRIES : 0);
    case 'range':
      return Math.max(
        expression.from === undefined ? 0 : entries(expression.from),
        expression.to === undefined ? 0 : entries(expression.to),
      );
    case 'subscripted':
      return Math.max(
        entries(expression.base),
        ...expression.subscripts.map((each) => 1 + entries(each)),
      );
    default:
      return 1;
  }
}
