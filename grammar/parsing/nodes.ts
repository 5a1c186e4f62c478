/**
 * The nodes of the syntax tree, each made of its tokens and parts, with what is wrong with its
 * types and names. Source: as for the parser.
 */
import { decodeNumber } from '../../src/machine/numbers.js';
import { isComparison } from '../operators.js';
import { countSpaces, withoutSpaces } from '../spelling.js';
import { Codes, readGivenBytes } from '../text.js';
import type { Tokeniser } from '../tokenise.js';
import {
  ConstantToken,
  type ListingToken,
  NumberToken,
  StringName,
  StringToken,
} from '../tokens.js';
import type {
  BinaryOperator,
  Constant,
  Expression,
  FunctionName,
  NumberLiteral,
  PrintItem,
  Problem,
  Range,
  RemStatement,
  SimpleKeyword,
  SimpleStatement,
  Span,
  Statement,
  StringLiteral,
  Subscripted,
  Unary,
  ValueType,
  Variable,
} from '../tree.js';
import { baseVariable } from '../visit.js';

/** What stands in a pair of brackets after a value. */
export interface Subscripts extends Span {
  readonly list: (Expression | Range)[];
}

/** Makes the nodes of one statement after the other. */
export class Nodes {
  /** What is wrong with the statement's types and names. */
  problems: Problem[] = [];
  /** What the statement stores; its literals are met in the order in which they were stored. */
  private stored: Tokeniser | undefined;
  private literal = 0;
  private place = 0;

  /** Begins a statement. */
  restart(stored: Tokeniser): void {
    this.problems = [];
    this.stored = stored;
    this.literal = 0;
    this.place = 0;
  }

  // ───────────────────────────────── statements ─────────────────────────────────

  let(start: number, target: Variable | Subscripted, value: Expression): Statement {
    if (target.type !== value.type) {
      this.wrongType(value, target.type, `${nameOf(target)} holds a ${target.type}`);
    }
    return { kind: 'LET', target, value, start, end: value.end };
  }

  input(start: number, target: Variable | Subscripted): Statement {
    return { kind: 'INPUT', target, start, end: target.end };
  }

  print(command: ListingToken, items: PrintItem[]): Statement {
    return {
      kind: command.payload!.word as 'PRINT' | 'LPRINT',
      items,
      start: command.startOffset,
      end: items.length > 0 ? items[items.length - 1].end : command.end,
    };
  }

  separator({ image, startOffset: start, end }: ListingToken): PrintItem {
    return { kind: 'separator', text: image as ',' | ';', start, end };
  }

  at(start: number, row: Expression, column: Expression): PrintItem {
    this.asNumber(row);
    this.asNumber(column);
    return { kind: 'AT', row, column, start, end: column.end };
  }

  tab(start: number, column: Expression): PrintItem {
    this.asNumber(column);
    return { kind: 'TAB', column, start, end: column.end };
  }

  if(start: number, condition: Expression, then: Statement): Statement {
    this.asNumber(condition);
    return { kind: 'IF', condition, then, start, end: then.end };
  }

  for(
    start: number,
    name: ListingToken,
    from: Expression,
    to: Expression,
    step: Expression | undefined,
  ): Statement {
    this.asNumber(from);
    this.asNumber(to);
    if (step !== undefined) this.asNumber(step);
    const variable = this.loopVariable(name);
    return { kind: 'FOR', variable, from, to, step, start, end: (step ?? to).end };
  }

  next(start: number, name: ListingToken): Statement {
    const variable = this.loopVariable(name);
    return { kind: 'NEXT', variable, start, end: variable.end };
  }

  dim(start: number, target: Variable, sizes: Expression[], { end }: ListingToken): Statement {
    for (const size of sizes) this.asNumber(size);
    this.checkArrayName(target);
    return { kind: 'DIM', target, sizes, start, end };
  }

  rem({ startOffset, end }: ListingToken): Statement {
    const { places, codes } = this.stored!;
    return new RemNode(codes.bytes, places[this.place++], places[this.place++], startOffset, end);
  }

  simple(command: ListingToken, args: Expression[]): SimpleStatement {
    const { word, takes } = command.payload!;
    args.forEach((argument, index) => {
      if (argument.type !== takes[index]) {
        this.wrongType(argument, takes[index], `${word} takes a ${takes[index]} here`);
      }
    });
    return {
      kind: word as SimpleKeyword,
      args,
      start: command.startOffset,
      end: args.at(-1)?.end ?? command.end,
    };
  }

  // ───────────────────────────────── values ─────────────────────────────────

  /** A value of one token. */
  value(token: ListingToken): Expression {
    switch (token.tokenType) {
      case NumberToken:
        return this.number(token);
      case StringToken:
        return this.string(token);
      case ConstantToken:
        return this.constant(token);
      default:
        return this.variable(token);
    }
  }

  private string({ startOffset, end }: ListingToken): Expression {
    const { places, codes } = this.stored!;
    return new StringNode(
      codes.bytes,
      places[this.place++],
      places[this.place++],
      startOffset,
      end,
    );
  }

  private number(token: ListingToken): Expression {
    const { image, startOffset: start, end } = token;
    const bracket = image.indexOf('[=');
    const written = bracket < 0 ? image : image.slice(0, bracket);
    const text = withoutSpaces(written);
    const value = this.stored!.values[this.literal++];
    if (bracket < 0) {
      if (Number.isNaN(value)) this.report({ start, end }, tooLarge(text));
      const node = { kind: 'number', type: 'number', text, value, stored: 'digits', start, end };
      return withSpaces(node as NumberLiteral, written);
    }
    const given = readGivenBytes(image.slice(bracket + 2, -1));
    if (given === undefined) {
      this.report({ start: start + bracket, end }, notFiveBytes(image.slice(bracket)));
    }
    const stored = given?.length === 0 ? 'nothing' : 'given';
    const decoded = given === undefined || stored === 'nothing' ? 0 : decodeNumber(given);
    const node = { kind: 'number', type: 'number', text, value: decoded, stored, start, end };
    return withSpaces(node as NumberLiteral, written);
  }

  variable(token: ListingToken): Variable {
    const { startOffset: start, end } = token;
    const name = nameIn(token);
    const type = token.tokenType === StringName ? 'string' : 'number';
    if (type === 'string' && name.length > 2) {
      this.report(
        { start, end },
        {
          rule: 'string-name',
          message: `${name} is not a name for a string`,
          why: 'the name of a string, or of an array of strings, is one letter and $',
          help: `use a name such as ${name[0]}$`,
        },
      );
    }
    return { kind: 'variable', type, name, start, end };
  }

  private constant({ payload, startOffset: start, end }: ListingToken): Expression {
    const { word, gives } = payload!;
    return { kind: 'constant', type: gives!, name: word as Constant['name'], start, end };
  }

  brackets({ startOffset }: ListingToken, inner: Expression, { end }: ListingToken): Expression {
    return { kind: 'brackets', type: inner.type, inner, start: startOffset, end };
  }

  subscripts(
    { startOffset: start }: ListingToken,
    list: (Expression | Range)[],
    { end }: ListingToken,
  ): Subscripts {
    return { list, start, end };
  }

  range(from: Expression | undefined, word: ListingToken, to: Expression | undefined): Range {
    if (from !== undefined) this.asNumber(from);
    if (to !== undefined) this.asNumber(to);
    const start = from?.start ?? word.startOffset;
    return { kind: 'range', from, to, start, end: to?.end ?? word.end };
  }

  subscripted(base: Expression, subscripts: Subscripts): Subscripted {
    const { list, end } = subscripts;
    if (base.type === 'number') this.checkElement(base, subscripts);
    else this.checkSlice(list);
    return { kind: 'subscripted', type: base.type, base, subscripts: list, start: base.start, end };
  }

  // ───────────────────────────────── operators ─────────────────────────────────

  unary({ payload, startOffset: start }: ListingToken, operand: Expression): Expression {
    this.asNumber(operand);
    const operator = payload!.word as Unary['operator'];
    return { kind: 'unary', type: 'number', operator, operand, start, end: operand.end };
  }

  call({ payload, startOffset: start }: ListingToken, argument: Expression): Expression {
    const { word, takes, gives } = payload!;
    if (argument.type !== takes[0])
      this.wrongType(argument, takes[0], `${word} takes a ${takes[0]}`);
    const name = word as FunctionName;
    return { kind: 'call', type: gives!, function: name, argument, start, end: argument.end };
  }

  binary(left: Expression, { payload }: ListingToken, right: Expression): Expression {
    const operator = payload!.word as BinaryOperator;
    const type = this.typeOf(operator, left, right);
    return { kind: 'binary', type, operator, left, right, start: left.start, end: right.end };
  }

  private typeOf(operator: BinaryOperator, left: Expression, right: Expression): ValueType {
    if (left.type === 'number') {
      if (right.type !== 'number') {
        this.wrongType(right, 'number', `the left side of ${operator} is a number`);
      }
      return 'number';
    }
    if (operator === 'AND') {
      if (right.type !== 'number') {
        this.wrongType(right, 'number', 'a string AND a number gives a string');
      }
      return 'string';
    }
    const joins = operator === '+';
    if (!joins && !isComparison(operator)) {
      const why = `strings are joined by +, compared, or chosen by AND; not by ${operator}`;
      this.wrongType(left, 'number', why);
      return 'number';
    }
    if (right.type !== 'string') {
      this.wrongType(right, 'string', `the left side of ${operator} is a string`);
    }
    return joins ? 'string' : 'number';
  }

  // ───────────────────────────────── what is wrong with them ─────────────────────────────────

  private report({ start, end }: Span, problem: Omit<Problem, 'start' | 'end'>): void {
    this.problems.push({ start, end, ...problem });
  }

  /** An expression that must be a number. */
  asNumber(value: Expression): Expression {
    if (value.type !== 'number') this.wrongType(value, 'number');
    return value;
  }

  private wrongType(span: Span, wanted: ValueType, why?: string): void {
    const found = wanted === 'number' ? 'string' : 'number';
    this.report(span, {
      rule: 'type',
      message: `a ${found} stands where a ${wanted} belongs`,
      why,
      help:
        wanted === 'number'
          ? 'VAL gives the number that a string spells, CODE the code of its first character'
          : 'STR$ gives the characters of a number; quotes make a string',
    });
  }

  private loopVariable(token: ListingToken): Variable {
    const variable = this.variable(token);
    if (variable.name.length > 1) {
      this.report(variable, {
        rule: 'loop-name',
        message: `${variable.name} cannot count a loop`,
        why: 'the variable of FOR and NEXT has a name of one letter',
        help: `use ${variable.name[0]}, if nothing else does`,
      });
    }
    return variable;
  }

  private checkArrayName(base: Variable): void {
    if (base.type === 'string' || base.name.length === 1) return;
    this.report(base, {
      rule: 'array-name',
      message: `${base.name} cannot be the name of an array`,
      why: 'the name of an array is one letter',
      help: `use ${base.name[0]}, if no other array does`,
    });
  }

  private checkElement(base: Expression, subscripts: Subscripts): void {
    if (base.kind === 'variable') this.checkArrayName(base);
    else this.report(subscripts, NOT_SUBSCRIPTED);
    if (subscripts.list.length === 0) {
      this.report(subscripts, {
        rule: 'subscripts',
        message: 'a subscript is missing here',
        help: 'write the number of the element, as in A(3)',
      });
    }
    for (const subscript of subscripts.list) {
      if (subscript.kind !== 'range') continue;
      this.report(subscript, {
        rule: 'slice-of-number',
        message: 'TO makes a slice, and only strings have slices',
        help: 'write one number for each dimension, as in A(2,3)',
      });
    }
  }

  private checkSlice(list: readonly (Expression | Range)[]): void {
    for (const subscript of list.slice(0, -1)) {
      if (subscript.kind !== 'range') continue;
      this.report(subscript, {
        rule: 'slice-not-last',
        message: 'a slice can only be the last of the subscripts',
        help: 'write the slice last, as in C$(2,1 TO 3)',
      });
    }
  }
}

const NOT_SUBSCRIPTED = {
  rule: 'subscripts',
  message: 'only an array or a string has subscripts',
  help: 'if this was meant to multiply, write * before the bracket',
};

const tooLarge = (text: string) => ({
  rule: 'number-too-large',
  message: `${text.length > 24 ? `${text.slice(0, 20)}…` : text} is too large for the machine`,
  why: 'its five bytes hold numbers up to about 1.7E38; larger ones give report 6',
  help: 'use a smaller number',
});

const notFiveBytes = (text: string) => ({
  rule: 'stored-value',
  message: `${text} does not give five bytes`,
  help: 'write [=82 40 00 00 00], or [=] for a literal that stores no value',
});

/** What an INPUT, a LET or a DIM sets always has a name. */
const nameOf = (target: Variable | Subscripted): string => baseVariable(target)!.name;

/** Hardly a number has spaces in it: to count none in each would make the tree larger. */
function withSpaces(node: NumberLiteral, written: string): NumberLiteral {
  return written === node.text ? node : { ...node, spaces: countSpaces(written) };
}

const LETTERS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];

/** The name in capitals. Most have one letter, and are not made anew. */
function nameIn({ text, startOffset, end }: ListingToken): string {
  if (end === startOffset + 1) return LETTERS[(text.charCodeAt(startOffset) & 31) - 1];
  return withoutSpaces(text.slice(startOffset, end)).toUpperCase();
}

/** Codes that stand somewhere in the text. */
class CodesNode extends Codes implements Span {
  constructor(
    block: Uint8Array,
    from: number,
    to: number,
    readonly start: number,
    readonly end: number,
  ) {
    super(block, from, to);
  }
}

class StringNode extends CodesNode implements StringLiteral {
  readonly kind = 'string';
  readonly type = 'string';
}

class RemNode extends CodesNode implements RemStatement {
  readonly kind = 'REM';
}
