/**
 * The grammar of a statement, as Chevrotain rules: the tokens of a statement to its syntax tree.
 * Source of the language: the manual, chapters 4 to 26 and Appendix C, from memory.
 *
 * Every choice is made by one token of lookahead. Each rule says what follows what, and leaves it
 * to `parsing/nodes.ts` to make a node of it. Operators are gathered flat and folded by their
 * priorities in `parsing/fold.ts`, which spares a rule for each priority.
 */
import { EOF, type ISerializedGast } from 'chevrotain';
import { DEEPEST_NESTING, Fold, NestingTooDeep, TOO_DEEP } from './parsing/fold.js';
import { Nodes, type Subscripts } from './parsing/nodes.js';
import { NOTHING } from './parsing/starting.js';
import { TokenParser } from './parsing/token-parser.js';
import { ByteBuffer, type Include } from './text.js';
import { Tokeniser } from './tokenise.js';
import type { ListingToken } from './tokens.js';
import * as T from './tokens.js';
import type {
  Expression,
  PrintItem,
  Problem,
  Range,
  Statement,
  Subscripted,
  Variable,
} from './tree.js';

const VALUE_TOKENS = [T.NumberToken, T.NumberName, T.StringName, T.StringToken, T.ConstantToken];
const VALUES = T.tableOf(...VALUE_TOKENS);
const PREFIXES = T.tableOf(T.FunctionToken, T.Minus, T.Not);
const OPERATORS = T.tableOf(T.OperatorToken, T.Equals, T.Minus);
const OPEN_BRACKET = T.tableOf(T.OpenBracket);

export class StatementParser extends TokenParser {
  /** Makes the nodes, and notes what is wrong with their types and names. */
  make: Nodes = NOTHING;
  private readonly folds: Fold[] = [];
  /** How many brackets and statements within statements are open. */
  private depth = 0;

  /** `validate`: lets Chevrotain look for choices that one token of lookahead cannot make. */
  constructor(validate = false) {
    super(validate);
    this.performSelfAnalysis();
    this.make = new Nodes();
  }

  /** Forgets what an earlier statement left behind. */
  restart(stored: Tokeniser): Nodes {
    this.depth = 0;
    this.make.restart(stored);
    return this.make;
  }

  isAtEnd(): boolean {
    return this.LA(1).tokenType === EOF;
  }

  // ───────────────────────────────── statements ─────────────────────────────────

  /** statement: one command of the machine */
  readonly statement = this.RULE('statement', (): Statement => {
    this.statements ??= {
      DEF: [
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
      ],
      ERR_MSG: 'a statement',
    };
    return this.OR(this.statements);
  });
  private statements?: Choice<Statement>;

  /** LET target = expression */
  private readonly letStatement = this.RULE('letStatement', (): Statement => {
    const { startOffset } = this.CONSUME(T.Let);
    const target = this.SUBRULE(this.target);
    this.CONSUME(T.Equals);
    return this.make.let(startOffset, target, this.SUBRULE(this.expression));
  });

  /** INPUT target */
  private readonly inputStatement = this.RULE('inputStatement', (): Statement => {
    const { startOffset } = this.CONSUME(T.Input);
    return this.make.input(startOffset, this.SUBRULE(this.target));
  });

  /** target: name [ subscripts ]… */
  private readonly target = this.RULE('target', (): Variable | Subscripted => {
    const name = this.anyName();
    return this.next(OPEN_BRACKET) ? this.subscriptedOf(name) : name;
  });

  /** PRINT [ item ] { separator [ item ] }… */
  private readonly printStatement = this.RULE('printStatement', (): Statement => {
    const command = this.CONSUME(T.PrintCommand);
    const items: PrintItem[] = [];
    this.OPTION(() => items.push(this.SUBRULE(this.printItem)));
    this.MANY(() => {
      items.push(this.SUBRULE(this.separator));
      this.OPTION2(() => items.push(this.SUBRULE2(this.printItem)));
    });
    return this.make.print(command, items);
  });

  /** separator: ; | , */
  private readonly separator = this.RULE('separator', (): PrintItem => {
    this.separators ??= [
      { ALT: () => this.CONSUME(T.Semicolon) },
      { ALT: () => this.CONSUME(T.Comma) },
    ];
    return this.make.separator(this.OR(this.separators));
  });
  private separators?: Alternatives<ListingToken>;

  /** item: AT row , column | TAB column | expression */
  private readonly printItem = this.RULE('printItem', (): PrintItem => {
    this.printItems ??= [
      {
        ALT: (): PrintItem => {
          const { startOffset } = this.CONSUME(T.At);
          const row = this.SUBRULE(this.expression);
          this.CONSUME(T.Comma);
          return this.make.at(startOffset, row, this.SUBRULE2(this.expression));
        },
      },
      {
        ALT: (): PrintItem => {
          const { startOffset } = this.CONSUME(T.Tab);
          return this.make.tab(startOffset, this.SUBRULE3(this.expression));
        },
      },
      { ALT: () => this.SUBRULE4(this.expression) },
    ];
    return this.OR(this.printItems);
  });
  private printItems?: Alternatives<PrintItem>;

  /** IF number THEN statement */
  private readonly ifStatement = this.RULE('ifStatement', (): Statement => {
    const { startOffset } = this.CONSUME(T.If);
    const condition = this.SUBRULE(this.expression);
    this.goDeeper(this.CONSUME(T.Then));
    const then = this.SUBRULE(this.statement);
    this.depth--;
    return this.make.if(startOffset, condition, then);
  });

  /** FOR name = number TO number [ STEP number ] */
  private readonly forStatement = this.RULE('forStatement', (): Statement => {
    const { startOffset } = this.CONSUME(T.For);
    const name = this.CONSUME(T.NumberName);
    this.CONSUME(T.Equals);
    const from = this.SUBRULE(this.expression);
    this.CONSUME(T.To);
    const to = this.SUBRULE2(this.expression);
    const step = this.OPTION(() => {
      this.CONSUME(T.Step);
      return this.SUBRULE3(this.expression);
    });
    return this.make.for(startOffset, name, from, to, step);
  });

  /** NEXT name */
  private readonly nextStatement = this.RULE('nextStatement', (): Statement => {
    const { startOffset } = this.CONSUME(T.Next);
    return this.make.next(startOffset, this.CONSUME(T.NumberName));
  });

  /** DIM name ( number [ , number ]… ) */
  private readonly dimStatement = this.RULE('dimStatement', (): Statement => {
    const { startOffset } = this.CONSUME(T.Dim);
    const name = this.anyName();
    this.CONSUME(T.OpenBracket);
    const sizes: Expression[] = [];
    this.AT_LEAST_ONE_SEP({
      SEP: T.Comma,
      DEF: () => {
        sizes.push(this.SUBRULE(this.expression));
      },
      ERR_MSG: 'a size',
    });
    return this.make.dim(startOffset, name, sizes, this.CONSUME(T.CloseBracket));
  });

  /** REM text */
  private readonly remStatement = this.RULE(
    'remStatement',
    (): Statement => this.make.rem(this.CONSUME(T.Rem)),
  );

  /** Commands that take nothing. */
  private readonly bareCommand = this.RULE(
    'bareCommand',
    (): Statement => this.make.simple(this.CONSUME(T.BareCommand), []),
  );

  /** RUN, LIST, LLIST, RAND: perhaps one value. */
  private readonly optionalCommand = this.RULE('optionalCommand', (): Statement => {
    const command = this.CONSUME(T.OptionalCommand);
    const value = this.OPTION(() => this.SUBRULE(this.expression));
    return this.make.simple(command, value === undefined ? [] : [value]);
  });

  /** GOTO, GOSUB, PAUSE, SAVE, LOAD: one value. */
  private readonly oneCommand = this.RULE('oneCommand', (): Statement => {
    const command = this.CONSUME(T.OneCommand);
    return this.make.simple(command, [this.SUBRULE(this.expression)]);
  });

  /** PLOT, UNPLOT, POKE: two values. */
  private readonly twoCommand = this.RULE('twoCommand', (): Statement => {
    const command = this.CONSUME(T.TwoCommand);
    const first = this.SUBRULE(this.expression);
    this.CONSUME(T.Comma);
    return this.make.simple(command, [first, this.SUBRULE2(this.expression)]);
  });

  // ───────────────────────────────── expressions ─────────────────────────────────

  /** expression: [ prefix ]… primary { operator [ prefix ]… primary }… */
  private readonly expression: (idx?: number) => Expression = this.RULE(
    'expression',
    (): Expression => {
      const fold = this.foldHere();
      const prefixed = this.next(PREFIXES);
      if (prefixed) this.MANY(() => fold.prefix(this.taken() ?? this.SUBRULE(this.prefix)));
      const first = this.primaryHere() ?? this.SUBRULE(this.primary);
      const joined = this.next(OPERATORS);
      if (!prefixed && !joined) return first;
      fold.value(first);
      if (joined) {
        this.MANY2(() => {
          fold.operator(this.taken() ?? this.SUBRULE(this.operator));
          if (this.next(PREFIXES))
            this.MANY3(() => fold.prefix(this.taken() ?? this.SUBRULE2(this.prefix)));
          fold.value(this.primaryHere() ?? this.SUBRULE2(this.primary));
        });
      }
      return fold.finish();
    },
  );

  /** operator: + - * / ** = < > <= >= <> AND OR */
  private readonly operator = this.RULE('operator', (): ListingToken => {
    this.operators ??= [
      { ALT: () => this.CONSUME(T.OperatorToken) },
      { ALT: () => this.CONSUME(T.Equals) },
      { ALT: () => this.CONSUME(T.Minus) },
    ];
    return this.OR(this.operators);
  });
  private operators?: Alternatives<ListingToken>;

  /** prefix: - | NOT | function */
  private readonly prefix = this.RULE('prefix', (): ListingToken => {
    this.prefixes ??= [
      { ALT: () => this.CONSUME(T.FunctionToken) },
      { ALT: () => this.CONSUME(T.Minus) },
      { ALT: () => this.CONSUME(T.Not) },
    ];
    return this.OR(this.prefixes);
  });
  private prefixes?: Alternatives<ListingToken>;

  /** primary: ( number | name | string | constant | brackets ) [ subscripts ]… */
  private readonly primary = this.RULE('primary', (): Expression => {
    this.primaries ??= {
      DEF: [
        ...VALUE_TOKENS.map((type) => ({ ALT: () => this.make.value(this.CONSUME(type)) })),
        { ALT: () => this.SUBRULE(this.brackets) },
      ],
      ERR_MSG: 'a value',
    };
    const value = this.OR(this.primaries);
    return this.next(OPEN_BRACKET) ? this.subscriptedOf(value) : value;
  });
  private primaries?: Choice<Expression>;

  /** brackets: ( expression ) */
  private readonly brackets = this.RULE('brackets', (): Expression => {
    const open = this.CONSUME(T.OpenBracket);
    this.goDeeper(open);
    const inner = this.SUBRULE(this.expression);
    this.depth--;
    return this.make.brackets(open, inner, this.CONSUME(T.CloseBracket));
  });

  /** [ subscripts ]… after a value: a slice may be sliced again. */
  private subscriptedOf<Base extends Expression>(base: Base): Base | Subscripted {
    let value: Base | Subscripted = base;
    this.MANY(() => {
      value = this.make.subscripted(value, this.SUBRULE(this.subscripts));
    });
    return value;
  }

  /** subscripts: ( [ subscript { , subscript }… ] ) */
  private readonly subscripts = this.RULE('subscripts', (): Subscripts => {
    const open = this.CONSUME(T.OpenBracket);
    this.goDeeper(open);
    const list: (Expression | Range)[] = [];
    this.MANY_SEP({
      SEP: T.Comma,
      DEF: () => {
        list.push(this.SUBRULE(this.subscript));
      },
    });
    this.depth--;
    return this.make.subscripts(open, list, this.CONSUME(T.CloseBracket));
  });

  /** subscript: number [ TO [ number ] ] | TO [ number ] */
  private readonly subscript = this.RULE('subscript', (): Expression | Range =>
    this.OR([
      {
        ALT: (): Expression | Range => {
          const from = this.SUBRULE(this.expression);
          const range = this.OPTION(() => {
            const to = this.CONSUME(T.To);
            return this.make.range(
              from,
              to,
              this.OPTION2(() => this.SUBRULE2(this.expression)),
            );
          });
          return range ?? this.make.asNumber(from);
        },
      },
      {
        ALT: (): Range => {
          const to = this.CONSUME2(T.To);
          return this.make.range(
            undefined,
            to,
            this.OPTION3(() => this.SUBRULE3(this.expression)),
          );
        },
      },
    ]),
  );

  // ───────────────────────────────── what the rules share ─────────────────────────────────

  /** name: numeric or of a string */
  private anyName(): Variable {
    this.names ??= {
      DEF: [{ ALT: () => this.CONSUME(T.NumberName) }, { ALT: () => this.CONSUME(T.StringName) }],
      ERR_MSG: 'a name',
    };
    return this.make.variable(this.OR(this.names));
  }
  private names?: Choice<ListingToken>;

  /**
   * Is the next token one of these? Asked before a loop that is mostly not gone through, since
   * Chevrotain's own way to ask takes longer. While the rules are recorded every loop is.
   */
  private next(table: Uint8Array): boolean {
    return this.RECORDING_PHASE || table[this.LA_FAST(1).tokenTypeIdx] === 1;
  }

  /** A value of one token, as most are, without the ceremony of a rule; else undefined. */
  private primaryHere(): Expression | undefined {
    if (this.RECORDING_PHASE) return undefined;
    const token = this.LA_FAST(1) as ListingToken;
    if (!VALUES[token.tokenTypeIdx] || OPEN_BRACKET[this.LA_FAST(2).tokenTypeIdx]) return undefined;
    this.SKIP_TOKEN();
    return this.make.value(token);
  }

  /** The token that a loop has just asked for, without the ceremony of its rule. */
  private taken(): ListingToken | undefined {
    if (this.RECORDING_PHASE) return undefined;
    const token = this.LA_FAST(1) as ListingToken;
    this.SKIP_TOKEN();
    return token;
  }

  /** Expressions within one another lie at different depths, so one fold a depth is enough. */
  private foldHere(): Fold {
    if (this.RECORDING_PHASE) return NOTHING;
    this.folds[this.depth] ??= new Fold(this.make);
    return this.folds[this.depth].begin();
  }

  private goDeeper(token: ListingToken): void {
    if (++this.depth > DEEPEST_NESTING) throw new NestingTooDeep(token);
  }
}

type Alternatives<Result> = { ALT: () => Result }[];
interface Choice<Result> {
  readonly DEF: Alternatives<Result>;
  /** What belongs where none of them does. */
  readonly ERR_MSG: string;
}

// ───────────────────────────────── the way in ─────────────────────────────────

/** Where the tokens stop having the shape of a statement. */
export interface Failure {
  /** The first token that cannot stand where it does; undefined where tokens are missing. */
  readonly token?: ListingToken;
  /** What belongs there: a word or sign as the lexer labels it, `a value`, `a name`, `a statement`, … */
  readonly wanted: string;
}

export interface ParsedStatement {
  readonly statement?: Statement;
  /** Problems of types and names. */
  readonly problems: Problem[];
  readonly failure?: Failure;
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
  const stored = new Tokeniser(new ByteBuffer(), 'typed', include);
  stored.push(tokens);
  return parseTokenised(tokens, stored);
}

/** As parseStatement, for tokens that were the last to be tokenised by `stored`. */
export function parseTokenised(tokens: ListingToken[], stored: Tokeniser): ParsedStatement {
  const parser = theParser();
  const { problems } = parser.restart(stored);
  parser.input = tokens;
  // Of what is wrong in a text nobody needs the stack, which takes most of a broken line's time.
  const limit = Error.stackTraceLimit;
  Error.stackTraceLimit = 0;
  try {
    const statement = parser.statement();
    // Errors are looked for where there are some: Chevrotain copies its list for each look.
    if (statement !== undefined && parser.isAtEnd()) return { statement, problems };
    const { token, message } = parser.errors[0];
    const found = token.tokenType === EOF ? undefined : (token as ListingToken);
    return { problems, failure: { token: found, wanted: message } };
  } catch (error) {
    if (!(error instanceof NestingTooDeep)) throw error;
    const { startOffset, end } = error.token;
    return { problems: [{ start: startOffset, end, ...TOO_DEEP }] };
  } finally {
    Error.stackTraceLimit = limit;
  }
}
