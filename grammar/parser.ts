/**
 * The parser: the tokens of one statement to its syntax tree.
 * Source of the language: the manual, chapters 4 to 26 and Appendix C, from memory.
 *
 * Every choice is made by one token of lookahead. Operators are gathered flat and folded by their
 * priorities afterwards, which spares a rule for each priority. Chevrotain runs each rule once to
 * learn its shape; what computes with tokens stands behind `recording`.
 */
import {
  EmbeddedActionsParser,
  EOF,
  type ILookaheadStrategy,
  type IRecognitionException,
  type ISerializedGast,
  LLkLookaheadStrategy,
  type TokenType,
} from 'chevrotain';
import { numberOfDecimal } from '../src/machine/arithmetic/decimal.js';
import { decodeNumber } from '../src/machine/numbers.js';
import { PRIORITY } from './keywords.js';
import type { ListingToken } from './lexer.js';
import * as T from './lexer.js';
import { ByteBuffer, Codes, type Include, readGivenBytes, readRem, readString } from './text.js';
import type {
  BinaryOperator,
  Constant,
  Expression,
  FunctionName,
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
} from './tree.js';

/** Operators in one expression, and brackets within brackets, that this parser takes. */
export const MOST_OPERATORS = 1000;
export const DEEPEST_NESTING = 100;

function tableOf(...types: { tokenTypeIdx?: number }[]): Uint8Array {
  const table = new Uint8Array(256);
  for (const type of types) table[type.tokenTypeIdx!] = 1;
  return table;
}

/** What a part of an expression can begin with, by the index of the token's type. */
const IS_PREFIX = tableOf(T.FunctionToken, T.Minus, T.Not);
const IS_OPERATOR = tableOf(T.OperatorToken, T.Equals, T.Minus);
const IS_BRACKET = tableOf(T.OpenBracket);

/** Works out what a choice looks ahead for when it first comes to it: a start need not wait for all. */
class LookaheadWhenNeeded extends LLkLookaheadStrategy {
  override buildLookaheadForAlternation: Strategy['buildLookaheadForAlternation'] = (options) =>
    whenNeeded(() => super.buildLookaheadForAlternation(options));

  override buildLookaheadForOptional: Strategy['buildLookaheadForOptional'] = (options) =>
    whenNeeded(() => super.buildLookaheadForOptional(options));
}

type Strategy = ILookaheadStrategy;

function whenNeeded<F extends (this: never, alternatives: never) => unknown>(build: () => F): F {
  let built: F | undefined;
  return function (this: never, alternatives: never) {
    built ??= build();
    return built.call(this, alternatives);
  } as F;
}

class StatementParser extends EmbeddedActionsParser {
  problems: Problem[] = [];
  include: Include | undefined;
  depth = 0;
  private readonly folds: Fold[] = [];

  constructor() {
    super(T.PARSER_TOKENS, {
      maxLookahead: 1,
      skipValidations: true,
      recoveryEnabled: false,
      lookaheadStrategy: new LookaheadWhenNeeded({ maxLookahead: 1 }),
    });
    this.performSelfAnalysis();
  }

  protected override CONSUME(type: TokenType): ListingToken {
    return super.CONSUME(type) as ListingToken;
  }

  protected override CONSUME2(type: TokenType): ListingToken {
    return super.CONSUME2(type) as ListingToken;
  }

  /** statement: one command of the machine. */
  readonly statement = this.RULE('statement', (): Statement => {
    this.statements ??= [
      { ALT: () => this.SUBRULE(this.letStatement) },
      { ALT: () => this.SUBRULE(this.printStatement) },
      { ALT: () => this.SUBRULE(this.ifStatement) },
      { ALT: () => this.SUBRULE(this.oneCommand) },
      { ALT: () => this.SUBRULE(this.forStatement) },
      { ALT: () => this.SUBRULE(this.nextStatement) },
      { ALT: () => this.SUBRULE(this.twoCommand) },
      { ALT: () => this.SUBRULE(this.bareCommand) },
      { ALT: () => this.SUBRULE(this.optionalCommand) },
      { ALT: () => this.SUBRULE(this.inputStatement) },
      { ALT: () => this.SUBRULE(this.dimStatement) },
      { ALT: () => this.SUBRULE(this.remStatement) },
    ];
    return this.OR(this.statements);
  });
  private statements?: { ALT: () => Statement }[];

  /** LET target = expression */
  private readonly letStatement = this.RULE('letStatement', (): Statement => {
    const start = this.CONSUME(T.Let).startOffset;
    const target = this.SUBRULE(this.target);
    this.CONSUME(T.Equals);
    const value = this.SUBRULE(this.expression);
    if (this.RECORDING_PHASE) return value as never;
    if (target.type !== value.type) {
      this.wrongType(value, target.type, `${nameOf(target)} holds a ${target.type}`);
    }
    return { kind: 'LET', target, value, start, end: value.end };
  });

  /** INPUT target */
  private readonly inputStatement = this.RULE('inputStatement', (): Statement => {
    const start = this.CONSUME(T.Input).startOffset;
    const target = this.SUBRULE(this.target);
    return this.RECORDING_PHASE
      ? (target as never)
      : { kind: 'INPUT', target, start, end: target.end };
  });

  /** target: name [ subscripts ] */
  private readonly target = this.RULE('target', (): Variable | Subscripted => {
    this.names ??= [
      { ALT: () => this.CONSUME(T.NumberName) },
      { ALT: () => this.CONSUME(T.StringName) },
    ];
    let target: Variable | Subscripted = this.variable(this.OR(this.names));
    if (this.RECORDING_PHASE || this.next(IS_BRACKET)) {
      this.MANY(() => {
        const subscripts = this.SUBRULE(this.subscripts);
        if (!this.RECORDING_PHASE) target = this.subscripted(target, subscripts) as Subscripted;
      });
    }
    return target;
  });

  private names?: { ALT: () => ListingToken }[];

  /** PRINT [ item ] { separator [ item ] }… */
  private readonly printStatement = this.RULE('printStatement', (): Statement => {
    const command = this.CONSUME(T.PrintCommand);
    const items: PrintItem[] = [];
    this.OPTION(() => items.push(this.SUBRULE(this.printItem)));
    this.MANY(() => {
      items.push(this.SUBRULE(this.separator));
      this.OPTION2(() => items.push(this.SUBRULE2(this.printItem)));
    });
    if (this.RECORDING_PHASE) return items as never;
    return {
      kind: command.payload!.word as 'PRINT' | 'LPRINT',
      items,
      start: command.startOffset,
      end: items.length > 0 ? items[items.length - 1].end : command.end,
    };
  });

  private readonly separator = this.RULE('separator', (): PrintItem => {
    this.separators ??= [
      { ALT: () => this.CONSUME(T.Semicolon) },
      { ALT: () => this.CONSUME(T.Comma) },
    ];
    const { image, startOffset } = this.OR(this.separators);
    return {
      kind: 'separator',
      text: image as ',' | ';',
      start: startOffset,
      end: startOffset + 1,
    };
  });
  private separators?: { ALT: () => ListingToken }[];

  /** item: AT row , column | TAB column | expression */
  private readonly printItem = this.RULE('printItem', (): PrintItem => {
    this.printItems ??= [
      {
        ALT: (): PrintItem => {
          const start = this.CONSUME(T.At).startOffset;
          const row = this.asNumber(this.SUBRULE(this.expression));
          this.CONSUME(T.Comma);
          const column = this.asNumber(this.SUBRULE2(this.expression));
          return this.ACTION(() => ({ kind: 'AT', row, column, start, end: column.end }));
        },
      },
      {
        ALT: (): PrintItem => {
          const start = this.CONSUME(T.Tab).startOffset;
          const column = this.asNumber(this.SUBRULE3(this.expression));
          return this.ACTION(() => ({ kind: 'TAB', column, start, end: column.end }));
        },
      },
      { ALT: () => this.SUBRULE4(this.expression) },
    ];
    return this.OR(this.printItems);
  });
  private printItems?: { ALT: () => PrintItem }[];

  /** IF number THEN statement */
  private readonly ifStatement = this.RULE('ifStatement', (): Statement => {
    const start = this.CONSUME(T.If).startOffset;
    const condition = this.asNumber(this.SUBRULE(this.expression));
    const word = this.CONSUME(T.Then);
    if (!this.RECORDING_PHASE) this.goDeeper(word);
    const then = this.SUBRULE(this.statement);
    if (this.RECORDING_PHASE) return then;
    this.depth--;
    return { kind: 'IF', condition, then, start, end: then.end };
  });

  /** FOR name = number TO number [ STEP number ] */
  private readonly forStatement = this.RULE('forStatement', (): Statement => {
    const start = this.CONSUME(T.For).startOffset;
    const name = this.CONSUME(T.NumberName);
    this.CONSUME(T.Equals);
    const from = this.asNumber(this.SUBRULE(this.expression));
    this.CONSUME(T.To);
    const to = this.asNumber(this.SUBRULE2(this.expression));
    const step = this.OPTION(() => {
      this.CONSUME(T.Step);
      return this.asNumber(this.SUBRULE3(this.expression));
    });
    return this.ACTION(() => {
      const variable = this.loopVariable(name);
      return { kind: 'FOR', variable, from, to, step, start, end: (step ?? to).end };
    });
  });

  /** NEXT name */
  private readonly nextStatement = this.RULE('nextStatement', (): Statement => {
    const start = this.CONSUME(T.Next).startOffset;
    const name = this.CONSUME(T.NumberName);
    return this.ACTION(() => {
      const variable = this.loopVariable(name);
      return { kind: 'NEXT', variable, start, end: variable.end };
    });
  });

  /** DIM name ( number [ , number ]… ) */
  private readonly dimStatement = this.RULE('dimStatement', (): Statement => {
    const start = this.CONSUME(T.Dim).startOffset;
    const name = this.OR([
      { ALT: () => this.CONSUME(T.NumberName) },
      { ALT: () => this.CONSUME(T.StringName) },
    ]);
    this.CONSUME(T.OpenBracket);
    const sizes: Expression[] = [];
    this.AT_LEAST_ONE_SEP({
      SEP: T.Comma,
      DEF: () => {
        sizes.push(this.asNumber(this.SUBRULE(this.expression)));
      },
    });
    const close = this.CONSUME(T.CloseBracket);
    return this.ACTION(() => {
      const target = this.variable(name);
      this.checkArrayName(target);
      return { kind: 'DIM', target, sizes, start, end: close.end };
    });
  });

  private readonly remStatement = this.RULE('remStatement', (): Statement => {
    const token = this.CONSUME(T.Rem);
    return this.ACTION(() => new RemNode(token, this.include));
  });

  /** Commands that take nothing. */
  private readonly bareCommand = this.RULE('bareCommand', (): Statement => {
    const command = this.CONSUME(T.BareCommand);
    return this.ACTION(() => this.simple(command, []));
  });

  /** RUN, LIST, LLIST, RAND: perhaps one value. */
  private readonly optionalCommand = this.RULE('optionalCommand', (): Statement => {
    const command = this.CONSUME(T.OptionalCommand);
    const value = this.OPTION(() => this.SUBRULE(this.expression));
    return this.ACTION(() => this.simple(command, value === undefined ? [] : [value]));
  });

  /** GOTO, GOSUB, PAUSE, SAVE, LOAD: one value. */
  private readonly oneCommand = this.RULE('oneCommand', (): Statement => {
    const command = this.CONSUME(T.OneCommand);
    const value = this.SUBRULE(this.expression);
    return this.ACTION(() => this.simple(command, [value]));
  });

  /** PLOT, UNPLOT, POKE: two values. */
  private readonly twoCommand = this.RULE('twoCommand', (): Statement => {
    const command = this.CONSUME(T.TwoCommand);
    const first = this.SUBRULE(this.expression);
    this.CONSUME(T.Comma);
    const second = this.SUBRULE2(this.expression);
    return this.ACTION(() => this.simple(command, [first, second]));
  });

  /** An expression that must be a number. */
  private asNumber(value: Expression): Expression {
    if (!this.RECORDING_PHASE && value.type !== 'number') this.wrongType(value, 'number');
    return value;
  }

  /**
   * expression: [ prefix ]… primary { operator [ prefix ]… primary }…
   *
   * The loops of the rule stand twice: as Chevrotain records them, for the lookahead of other rules
   * and for the diagram, and written out, because most of a listing is expressions of one value.
   */
  private readonly expression: (idx?: number) => Expression = this.RULE(
    'expression',
    (): Expression => {
      if (this.RECORDING_PHASE) return this.expressionShape();
      let fold: Fold | undefined;
      while (this.next(IS_PREFIX)) {
        fold ??= this.foldHere();
        fold.prefix(this.take());
      }
      const first = this.value();
      if (fold === undefined && !this.next(IS_OPERATOR)) return first;
      fold ??= this.foldHere();
      fold.value(first);
      while (this.next(IS_OPERATOR)) {
        fold.operator(this.take());
        while (this.next(IS_PREFIX)) fold.prefix(this.take());
        fold.value(this.value());
      }
      return fold.finish();
    },
  );

  private expressionShape(): Expression {
    this.MANY(() => this.SUBRULE(this.prefix));
    const value = this.SUBRULE(this.primary);
    this.MANY2(() => {
      this.SUBRULE(this.operator);
      this.MANY3(() => this.SUBRULE2(this.prefix));
      this.SUBRULE2(this.primary);
    });
    return value;
  }

  /** Expressions within one another lie at different depths, so one fold a depth is enough. */
  private foldHere(): Fold {
    this.folds[this.depth] ??= new Fold();
    return this.folds[this.depth].begin(this.problems);
  }

  /** The next value: the usual ones at once, all others and every error by the rule. */
  private value(): Expression {
    const type = this.LA_FAST(1).tokenType;
    if (!this.follows(IS_BRACKET)) {
      if (type === T.NumberToken) return this.literal(this.take());
      if (type === T.NumberName || type === T.StringName) return this.variable(this.take());
      if (type === T.StringToken) return this.string(this.take());
    }
    return this.SUBRULE(this.primary);
  }

  private next(table: Uint8Array): boolean {
    return table[this.LA_FAST(1).tokenTypeIdx] === 1;
  }

  private follows(table: Uint8Array): boolean {
    return table[this.LA_FAST(2).tokenTypeIdx] === 1;
  }

  private take(): ListingToken {
    const token = this.LA_FAST(1) as ListingToken;
    this.SKIP_TOKEN();
    return token;
  }

  isAtEnd(): boolean {
    return this.LA(1).tokenType === EOF;
  }

  /** Forgets what an earlier statement left behind. */
  restart(): void {
    this.problems = [];
    this.depth = 0;
  }

  /** operator: + - * / ** = < > <= >= <> AND OR */
  private readonly operator = this.RULE(
    'operator',
    (): ListingToken =>
      this.OR([
        { ALT: () => this.CONSUME(T.OperatorToken) },
        { ALT: () => this.CONSUME(T.Equals) },
        { ALT: () => this.CONSUME(T.Minus) },
      ]),
  );

  /** prefix: - | NOT | function */
  private readonly prefix = this.RULE(
    'prefix',
    (): ListingToken =>
      this.OR([
        { ALT: () => this.CONSUME(T.FunctionToken) },
        { ALT: () => this.CONSUME(T.Minus) },
        { ALT: () => this.CONSUME(T.Not) },
      ]),
  );

  /** primary: number | constant | ( name | string | ( expression ) ) [ subscripts ]… */
  private readonly primary = this.RULE('primary', (): Expression => {
    this.primaries ??= [
      { ALT: () => this.literal(this.CONSUME(T.NumberToken)) },
      { ALT: () => this.variable(this.CONSUME(T.NumberName)) },
      { ALT: () => this.variable(this.CONSUME(T.StringName)) },
      { ALT: () => this.string(this.CONSUME(T.StringToken)) },
      { ALT: () => this.constant(this.CONSUME(T.ConstantToken)) },
      { ALT: () => this.SUBRULE(this.brackets) },
    ];
    let value = this.OR(this.primaries);
    if (this.RECORDING_PHASE || this.next(IS_BRACKET)) {
      this.MANY(() => {
        const subscripts = this.SUBRULE(this.subscripts);
        if (!this.RECORDING_PHASE) value = this.subscripted(value, subscripts);
      });
    }
    return value;
  });
  private primaries?: { ALT: () => Expression }[];

  private readonly brackets = this.RULE('brackets', (): Expression => {
    const open = this.CONSUME(T.OpenBracket);
    if (!this.RECORDING_PHASE) this.goDeeper(open);
    const inner = this.SUBRULE(this.expression);
    const close = this.CONSUME(T.CloseBracket);
    if (this.RECORDING_PHASE) return inner;
    this.depth--;
    return {
      kind: 'brackets',
      type: inner.type,
      inner,
      start: open.startOffset,
      end: close.end,
    };
  });

  /** subscripts: ( [ subscript { , subscript }… ] ) */
  private readonly subscripts = this.RULE('subscripts', () => {
    const open = this.CONSUME(T.OpenBracket);
    if (!this.RECORDING_PHASE) this.goDeeper(open);
    const list: (Expression | Range)[] = [];
    this.MANY_SEP({
      SEP: T.Comma,
      DEF: () => {
        list.push(this.SUBRULE(this.subscript));
      },
    });
    const close = this.CONSUME(T.CloseBracket);
    return this.ACTION(() => {
      this.depth--;
      return { list, start: open.startOffset, end: close.end };
    });
  });

  /** subscript: number | [ number ] TO [ number ] */
  private readonly subscript = this.RULE('subscript', (): Expression | Range => {
    let to: ListingToken | undefined;
    let last: Expression | undefined;
    return this.OR([
      {
        ALT: (): Expression | Range => {
          const from = this.asNumber(this.SUBRULE(this.expression));
          this.OPTION(() => {
            to = this.CONSUME(T.To);
            last = this.OPTION2(() => this.asNumber(this.SUBRULE2(this.expression)));
          });
          return this.ACTION(() =>
            to === undefined
              ? from
              : { kind: 'range', from, to: last, start: from.start, end: last?.end ?? to.end },
          );
        },
      },
      {
        ALT: (): Range => {
          const token = this.CONSUME2(T.To);
          last = this.OPTION3(() => this.asNumber(this.SUBRULE3(this.expression)));
          return this.ACTION(() => ({
            kind: 'range',
            to: last,
            start: token.startOffset,
            end: last?.end ?? token.end,
          }));
        },
      },
    ]);
  });

  // ───────────────────────────────── tokens to nodes ─────────────────────────────────

  private report(span: Span, problem: Omit<Problem, 'start' | 'end'>): void {
    this.problems.push({ start: span.start, end: span.end, ...problem });
  }

  private wrongType(span: Span, wanted: ValueType, why?: string): void {
    this.problems.push(typeProblem(span, wanted, why));
  }

  private goDeeper(token: ListingToken): void {
    if (++this.depth > DEEPEST_NESTING) throw new NestingTooDeep(token);
  }

  private literal(token: ListingToken): Expression {
    if (this.RECORDING_PHASE) return token as never;
    const start = token.startOffset;
    const end = token.end;
    const bracket = token.image.indexOf('[');
    const text = bracket < 0 ? token.image : token.image.slice(0, bracket);
    if (bracket < 0) {
      const value = token.value ?? numberOfDecimal(text);
      if (Number.isNaN(value)) {
        this.report(
          { start, end },
          {
            rule: 'number-too-large',
            message: `${shortened(text)} is too large for the machine`,
            why: 'its five bytes hold numbers up to about 1.7E38; larger ones give report 6',
            help: 'use a smaller number',
          },
        );
      }
      return { kind: 'number', type: 'number', text, value, stored: 'digits', start, end };
    }
    const given = readGivenBytes(token.image.slice(bracket + 2, -1));
    if (given === undefined) {
      this.report(
        { start: start + bracket, end },
        {
          rule: 'stored-value',
          message: `${token.image.slice(bracket)} does not give five bytes`,
          help: 'write [=82 40 00 00 00], or [=] for a literal that stores no value',
        },
      );
    }
    const value = given === undefined || given.length === 0 ? 0 : decodeNumber(given);
    const stored = given?.length === 0 ? 'nothing' : 'given';
    return { kind: 'number', type: 'number', text, value, stored, start, end };
  }

  private variable(token: ListingToken): Variable {
    if (this.RECORDING_PHASE) return token as never;
    const start = token.startOffset;
    const end = token.end;
    const name = nameIn(token);
    const type = token.tokenType === T.StringName ? 'string' : 'number';
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

  private string(token: ListingToken): Expression {
    return this.RECORDING_PHASE ? (token as never) : new StringNode(token);
  }

  private constant(token: ListingToken): Expression {
    if (this.RECORDING_PHASE) return token as never;
    const { word, gives } = token.payload!;
    return {
      kind: 'constant',
      type: gives!,
      name: word as Constant['name'],
      start: token.startOffset,
      end: token.end,
    };
  }

  private subscripted(
    base: Expression,
    subscripts: { list: (Expression | Range)[]; start: number; end: number },
  ): Expression {
    const { list, end } = subscripts;
    if (base.type === 'number') {
      if (base.kind === 'variable') this.checkArrayName(base);
      else this.report(subscripts, NOT_SUBSCRIPTED);
      if (list.length === 0) {
        this.report(subscripts, {
          rule: 'subscripts',
          message: 'a subscript is missing here',
          help: 'write the number of the element, as in A(3)',
        });
      }
      for (const subscript of list) {
        if (subscript.kind !== 'range') continue;
        this.report(subscript, {
          rule: 'slice-of-number',
          message: 'TO makes a slice, and only strings have slices',
          help: 'write one number for each dimension, as in A(2,3)',
        });
      }
    } else this.checkSlice(list);
    return { kind: 'subscripted', type: base.type, base, subscripts: list, start: base.start, end };
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

  private simple(command: ListingToken, args: Expression[]): SimpleStatement {
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
}

const LETTERS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];

/** The name in capitals. Most have one letter, and are not made anew. */
function nameIn({ text, startOffset, end }: ListingToken): string {
  if (end === startOffset + 1) return LETTERS[(text.charCodeAt(startOffset) & 31) - 1];
  return text.slice(startOffset, end).toUpperCase();
}

/** What the tree keeps of a token with codes of its own. */
class TokenCodes extends Codes {
  readonly start: number;
  readonly end: number;

  constructor(token: ListingToken, include?: Include) {
    if (token.block === undefined) readToken(token, include);
    super(token.block!, token.firstCode, token.endOfCodes);
    this.start = token.startOffset;
    this.end = token.end;
  }
}

class StringNode extends TokenCodes implements StringLiteral {
  readonly kind = 'string';
  readonly type = 'string';
}

class RemNode extends TokenCodes implements RemStatement {
  readonly kind = 'REM';
}

/**
 * Reads the codes of a string or a REM. Whoever gathers a line's bytes has read them before, and
 * reported what is wrong with them.
 */
function readToken(token: ListingToken, include: Include | undefined): void {
  const codes = new ByteBuffer();
  if (token.tokenType === T.Rem) readRem(token, codes, [], include);
  else readString(token, codes, []);
  token.block = codes.bytes;
  token.firstCode = 0;
  token.endOfCodes = codes.length;
}

const NOT_SUBSCRIPTED = {
  rule: 'subscripts',
  message: 'only an array or a string has subscripts',
  help: 'if this was meant to multiply, write * before the bracket',
};

function typeProblem(span: Span, wanted: ValueType, why?: string): Problem {
  const found = wanted === 'number' ? 'string' : 'number';
  return {
    start: span.start,
    end: span.end,
    rule: 'type',
    message: `a ${found} stands where a ${wanted} belongs`,
    why,
    help:
      wanted === 'number'
        ? 'VAL gives the number that a string spells, CODE the code of its first character'
        : 'STR$ gives the characters of a number; quotes make a string',
  };
}

function shortened(text: string): string {
  return text.length > 24 ? `${text.slice(0, 20)}…` : text;
}

function nameOf(target: Variable | Subscripted): string {
  let base: Expression = target;
  while (base.kind === 'subscripted') base = base.base;
  return (base as Variable).name;
}

class NestingTooDeep extends Error {
  constructor(readonly token: ListingToken) {
    super();
  }
}

// ───────────────────────────────── operators by priority ─────────────────────────────────

/**
 * Folds a flat run of prefixes, values and operators into a tree, as the machine's own calculator
 * does: an operator waits until one that binds no tighter follows it. Operators of one priority
 * bind left to right, `**` too; a prefix reaches as far as tighter operators go.
 */
class Fold {
  private readonly values: Expression[] = [];
  /** What waits, in step: its token, how tightly it binds, and whether it is a prefix. */
  private readonly waiting: ListingToken[] = [];
  private readonly priorities: number[] = [];
  private readonly prefixes: boolean[] = [];
  private count = 0;
  private problems: Problem[] = [];

  begin(problems: Problem[]): this {
    // An expression that broke off leaves something behind.
    if (this.values.length > 0) this.values.length = 0;
    if (this.waiting.length > 0) this.waiting.length = 0;
    this.count = 0;
    this.problems = problems;
    return this;
  }

  prefix(token: ListingToken): void {
    const isMinus = token.tokenType === T.Minus;
    this.wait(token, isMinus ? PRIORITY.negate : token.payload!.priority, true);
  }

  operator(token: ListingToken): void {
    const { priority } = token.payload!;
    this.foldFrom(priority);
    this.wait(token, priority, false);
  }

  value(value: Expression): void {
    this.values.push(value);
  }

  finish(): Expression {
    this.foldFrom(0);
    return this.values.pop()!;
  }

  private wait(token: ListingToken, priority: number, isPrefix: boolean): void {
    if (++this.count > MOST_OPERATORS) throw new NestingTooDeep(token);
    this.priorities[this.waiting.length] = priority;
    this.prefixes[this.waiting.length] = isPrefix;
    this.waiting.push(token);
  }

  private foldFrom(priority: number): void {
    const { waiting } = this;
    while (waiting.length > 0 && this.priorities[waiting.length - 1] >= priority) {
      const token = waiting.pop()!;
      if (this.prefixes[waiting.length]) this.foldPrefix(token);
      else this.foldOperator(token);
    }
  }

  private foldPrefix(token: ListingToken): void {
    const operand = this.values.pop()!;
    const { startOffset: start, tokenType } = token;
    const payload = token.payload!;
    const { end } = operand;
    if (tokenType !== T.FunctionToken) {
      if (operand.type !== 'number') this.problems.push(typeProblem(operand, 'number'));
      const operator = payload.word as Unary['operator'];
      this.values.push({ kind: 'unary', type: 'number', operator, operand, start, end });
      return;
    }
    if (operand.type !== payload.takes[0]) {
      const why = `${payload.word} takes a ${payload.takes[0]}`;
      this.problems.push(typeProblem(operand, payload.takes[0], why));
    }
    this.values.push({
      kind: 'call',
      type: payload.gives!,
      function: payload.word as FunctionName,
      argument: operand,
      start,
      end,
    });
  }

  private foldOperator(token: ListingToken): void {
    const right = this.values.pop()!;
    const left = this.values.pop()!;
    const operator = token.payload!.word as BinaryOperator;
    this.values.push({
      kind: 'binary',
      type: this.typeOf(operator, left, right),
      operator,
      left,
      right,
      start: left.start,
      end: right.end,
    });
  }

  private typeOf(operator: BinaryOperator, left: Expression, right: Expression): ValueType {
    if (left.type === 'number') {
      if (right.type !== 'number') {
        this.problems.push(
          typeProblem(right, 'number', `the left side of ${operator} is a number`),
        );
      }
      return 'number';
    }
    if (operator === 'AND') {
      if (right.type !== 'number') {
        this.problems.push(typeProblem(right, 'number', 'a string AND a number gives a string'));
      }
      return 'string';
    }
    const joins = operator === '+';
    if (!joins && PRIORITY[operator] !== PRIORITY['=']) {
      this.problems.push(
        typeProblem(
          left,
          'number',
          `strings are joined by +, compared, or chosen by AND; not by ${operator}`,
        ),
      );
      return 'number';
    }
    if (right.type !== 'string') {
      this.problems.push(typeProblem(right, 'string', `the left side of ${operator} is a string`));
    }
    return joins ? 'string' : 'number';
  }
}

// ───────────────────────────────── the way in ─────────────────────────────────

export interface ParsedStatement {
  readonly statement?: Statement;
  /** Problems of types and names. */
  readonly problems: Problem[];
  /** The first place where the tokens do not have the shape of a statement. */
  readonly failure?: IRecognitionException;
}

let made: StatementParser | undefined;

/** The one parser: made when it is first needed. */
const theParser = (): StatementParser => {
  made ??= new StatementParser();
  return made;
};

/** The rules of the parser, as Chevrotain writes a grammar down. */
export function grammarRules(): ISerializedGast[] {
  return theParser().getSerializedGastProductions();
}

/**
 * Parses the tokens of one statement (without line number, layout and end of line).
 * Never throws for what a text can hold.
 */
export function parseStatement(tokens: ListingToken[], include?: Include): ParsedStatement {
  const parser = theParser();
  parser.include = include;
  parser.restart();
  parser.input = tokens;
  try {
    const statement = parser.statement();
    const { problems } = parser;
    // Errors are looked for where there are some: Chevrotain copies its list for each look.
    if (statement !== undefined && parser.isAtEnd()) return { statement, problems };
    return { problems, failure: parser.errors[0] };
  } catch (error) {
    if (!(error instanceof NestingTooDeep)) throw error;
    const { startOffset, end } = error.token;
    return { problems: [{ start: startOffset, end, ...TOO_DEEP }] };
  }
}

const TOO_DEEP = {
  rule: 'too-deep',
  message: 'this statement is nested too deeply, or has too many operators, to be read',
  help: `use a variable for a part of it: at most ${DEEPEST_NESTING} brackets deep and ${MOST_OPERATORS} operators`,
};
