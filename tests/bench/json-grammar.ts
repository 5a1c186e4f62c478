/**
 * A small JSON grammar in Chevrotain, as a yardstick, in the two usual ways: a parser that gives a
 * syntax tree with positions, and one that gives bare values.
 */
import { CstParser, createToken, EmbeddedActionsParser, Lexer } from 'chevrotain';

const White = createToken({ name: 'White', pattern: /[ \t\n\r]+/, group: Lexer.SKIPPED });
const True = createToken({ name: 'True', pattern: 'true' });
const False = createToken({ name: 'False', pattern: 'false' });
const Null = createToken({ name: 'Null', pattern: 'null' });
const LCurly = createToken({ name: 'LCurly', pattern: '{' });
const RCurly = createToken({ name: 'RCurly', pattern: '}' });
const LSquare = createToken({ name: 'LSquare', pattern: '[' });
const RSquare = createToken({ name: 'RSquare', pattern: ']' });
const Comma = createToken({ name: 'Comma', pattern: ',' });
const Colon = createToken({ name: 'Colon', pattern: ':' });
const Text = createToken({
  name: 'Text',
  pattern: /"(?:[^\\"]|\\(?:[bfnrtv"\\/]|u[0-9a-fA-F]{4}))*"/,
});
const Digits = createToken({
  name: 'Digits',
  pattern: /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/,
});

const TOKENS = [
  White,
  Text,
  Digits,
  Comma,
  Colon,
  LCurly,
  RCurly,
  LSquare,
  RSquare,
  True,
  False,
  Null,
];
const lexer = new Lexer(TOKENS, { positionTracking: 'onlyOffset' });

class JsonParser extends EmbeddedActionsParser {
  constructor() {
    super(TOKENS);
    this.performSelfAnalysis();
  }

  readonly json = this.RULE('json', () =>
    this.OR([{ ALT: () => this.SUBRULE(this.object) }, { ALT: () => this.SUBRULE(this.array) }]),
  );

  private readonly object = this.RULE('object', () => {
    const made: Record<string, unknown> = {};
    this.CONSUME(LCurly);
    this.MANY_SEP({
      SEP: Comma,
      DEF: () => {
        const name = this.CONSUME(Text).image.slice(1, -1);
        this.CONSUME(Colon);
        made[name] = this.SUBRULE(this.value);
      },
    });
    this.CONSUME(RCurly);
    return made;
  });

  private readonly array = this.RULE('array', () => {
    const made: unknown[] = [];
    this.CONSUME(LSquare);
    this.MANY_SEP({
      SEP: Comma,
      DEF: () => {
        made.push(this.SUBRULE(this.value));
      },
    });
    this.CONSUME(RSquare);
    return made;
  });

  private readonly value: (idx?: number) => unknown = this.RULE('value', () =>
    this.OR<unknown>([
      { ALT: () => this.CONSUME(Text).image.slice(1, -1) },
      { ALT: () => Number(this.CONSUME(Digits).image) },
      { ALT: () => this.SUBRULE(this.object) },
      { ALT: () => this.SUBRULE(this.array) },
      { ALT: () => this.CONSUME(True) && true },
      { ALT: () => this.CONSUME(False) && false },
      { ALT: () => this.CONSUME(Null) && null },
    ]),
  );
}

class JsonTreeParser extends CstParser {
  constructor() {
    super(TOKENS, { nodeLocationTracking: 'onlyOffset' });
    this.performSelfAnalysis();
  }

  readonly json = this.RULE('json', () => {
    this.OR([{ ALT: () => this.SUBRULE(this.object) }, { ALT: () => this.SUBRULE(this.array) }]);
  });

  private readonly object = this.RULE('object', () => {
    this.CONSUME(LCurly);
    this.MANY_SEP({ SEP: Comma, DEF: () => this.SUBRULE(this.member) });
    this.CONSUME(RCurly);
  });

  private readonly member = this.RULE('member', () => {
    this.CONSUME(Text);
    this.CONSUME(Colon);
    this.SUBRULE(this.value);
  });

  private readonly array = this.RULE('array', () => {
    this.CONSUME(LSquare);
    this.MANY_SEP({ SEP: Comma, DEF: () => this.SUBRULE(this.value) });
    this.CONSUME(RSquare);
  });

  private readonly value = this.RULE('value', () => {
    this.OR([
      { ALT: () => this.CONSUME(Text) },
      { ALT: () => this.CONSUME(Digits) },
      { ALT: () => this.SUBRULE(this.object) },
      { ALT: () => this.SUBRULE(this.array) },
      { ALT: () => this.CONSUME(True) },
      { ALT: () => this.CONSUME(False) },
      { ALT: () => this.CONSUME(Null) },
    ]);
  });
}

/** Throws for what is not JSON. */
function parserOf(parser: JsonParser | JsonTreeParser): (text: string) => unknown {
  return (text) => {
    parser.input = lexer.tokenize(text).tokens;
    const value = parser.json();
    if (parser.errors.length > 0) throw parser.errors[0];
    return value;
  };
}

export const jsonValues = parserOf(new JsonParser());
export const jsonTree = parserOf(new JsonTreeParser());
