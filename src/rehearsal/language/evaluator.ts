/**
 * Expressions, made once into functions that compute them.
 * Source: the manual, chapters 5 to 13, 21, 22 and 26, and Appendix C, from memory. Numbers
 * are reckoned as the ROM reckons them (`machine/arithmetic/`).
 */
import type { Binary, BinaryOperator, Call, Expression, Variable } from '../../../grammar/tree.js';
import { numberText } from '../../machine/arithmetic/digits.js';
import { PI } from '../../machine/arithmetic/functions.js';
import { add, multiply, subtract } from '../../machine/arithmetic/operations.js';
import { nextSeed, SEEDS } from '../../machine/arithmetic/random.js';
import { textOfCodes } from '../../machine/characters.js';
import { RAM_START } from '../../machine/memory-map.js';
import { timeOfProduct, timeOfQuotient, timeOfSum } from '../../machine/timing.js';
import { halt, report } from '../halt.js';
import { AT } from '../state/memory.js';
import type { Model } from '../state/model.js';
import { codesOf, putNumber } from '../state/output.js';
import { notFound, type Slot, type Variables } from '../state/variables.js';
import { Elements, wrongCount } from './elements.js';
import {
  difference,
  divided,
  FUNCTIONS,
  isNear,
  raised,
  SEE_VALUE,
  settled,
  wordOf,
} from './results.js';
import { parseValue } from './typed.js';

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

const EMPTY = new Uint8Array(0);

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
  /** Characters that may still be put there. */
  private parsedLeft = MOST_PARSED;

  readonly elements: Elements;

  constructor(private readonly model: Model) {
    this.elements = new Elements(model, this);
  }

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
        return this.elements.element(expression);
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
        return this.elements.slice(expression);
      default:
        throw new TypeError(`a ${expression.kind} is not a string`);
    }
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
    if (name === 'VAL' && argument.kind === 'string') return this.valueOfLiteral(argument.codes);
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
      const seed = nextSeed(memory.word(AT.SEED));
      memory.setWord(AT.SEED, seed);
      return seed / SEEDS;
    };
  }

  /** VAL of a text that stands in the program, as most do: it saves bytes. It is read once. */
  private valueOfLiteral(text: Uint8Array): NumberCode {
    let parsed: ParsedValue | undefined;
    return () => {
      parsed ??= this.parsedValue(text);
      return this.valueOf(text, parsed);
    };
  }

  /** VAL: its text is read as the machine reads what is typed. Throws report C. */
  private valueOf(text: Uint8Array, { code, hidden } = this.parsedValue(text)): number {
    // While it is read, the text and its NEWLINE stand in the workspace, with its literals' bytes.
    this.model.memory.askWorkspace(text.length + 1 + hidden);
    return code();
  }

  private parsedValue(text: Uint8Array): ParsedValue {
    const key = BYTES.decode(text);
    const known = this.parsed.get(key);
    if (known !== undefined) return known;
    const typed = parseValue(text);
    if (typed === undefined || typed.expression.type !== 'number') {
      throw report('C', `VAL is given a text that is not a number: ${shown(text)}`, SEE_VALUE);
    }
    const parsed = { code: this.number(typed.expression), hidden: typed.hidden };
    if (this.parsedLeft >= text.length) {
      this.parsed.set(key, parsed);
      this.parsedLeft -= text.length + 1;
    }
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
      if (press === undefined || press.isBreak || press.isOneOfSeveral) {
        model.lastEmptyInkey = model.statements;
        return EMPTY;
      }
      model.memory.askWorkspace(1);
      return Uint8Array.of(press.code);
    };
  }
}

/** Characters of texts of VAL that are read once; others are read anew each time. */
const MOST_PARSED = 60_000;
/** A character for each byte. */
const BYTES = new TextDecoder('latin1');

/** A few characters of a text, for a message. */
function shown(text: Uint8Array): string {
  if (text.length === 0) return 'it is empty';
  return `"${textOfCodes(text.subarray(0, 20))}${text.length > 20 ? '…' : ''}"`;
}
