/**
 * The grammar as shapes that can be drawn: the parser's rules as Chevrotain gives them, and the
 * rules that the lexer has written out.
 */
import type { ISerializedGast } from 'chevrotain';
import { grouped } from '../../src/listing/search.js';
import { GRAPHIC_NAMES } from '../../src/machine/characters.js';
import { KEYWORD_TABLE } from '../keywords.js';
import { tokensOf } from '../lexer.js';
import { PRIORITY } from '../operators.js';

export type Shape =
  /** One of these, as it is written. */
  | { readonly kind: 'words'; readonly words: readonly string[] }
  /** What the rule of this name says. */
  | { readonly kind: 'rule'; readonly name: string }
  /** Characters, in words: `a digit`. */
  | { readonly kind: 'said'; readonly text: string }
  | { readonly kind: 'sequence'; readonly parts: readonly Shape[] }
  | { readonly kind: 'choice'; readonly ways: readonly Shape[] }
  | { readonly kind: 'optional'; readonly part: Shape }
  /** Once or more, with `between` from one to the next. */
  | { readonly kind: 'loop'; readonly part: Shape; readonly between?: Shape };

export interface Rule {
  readonly name: string;
  readonly shape: Shape;
}

const word = (...words: string[]): Shape => ({ kind: 'words', words });
const rule = (name: string): Shape => ({ kind: 'rule', name });
const said = (text: string): Shape => ({ kind: 'said', text });
const choice = (...ways: Shape[]): Shape => ({ kind: 'choice', ways });
const optional = (part: Shape): Shape => ({ kind: 'optional', part });
const loop = (part: Shape, between?: Shape): Shape => ({ kind: 'loop', part, between });
const sequence = (...parts: Shape[]): Shape =>
  parts.length === 1 ? parts[0] : { kind: 'sequence', parts };

// ───────────────────────────────── the parser's rules ─────────────────────────────────

/** The parser's names of its rules, and the words of the manual for them. */
export const RULE_NAMES: Readonly<Record<string, string>> = {
  statement: 'statement',
  letStatement: 'LET',
  inputStatement: 'INPUT',
  target: 'variable',
  printStatement: 'PRINT and LPRINT',
  separator: 'separator',
  printItem: 'PRINT item',
  ifStatement: 'IF',
  forStatement: 'FOR',
  nextStatement: 'NEXT',
  dimStatement: 'DIM',
  remStatement: 'REM',
  bareCommand: 'command that stands alone',
  optionalCommand: 'command with a value or none',
  oneCommand: 'command with one value',
  twoCommand: 'command with two values',
  expression: 'expression',
  operator: 'operation',
  prefix: 'function, minus or NOT',
  primary: 'value',
  brackets: 'expression in brackets',
  subscripts: 'subscripts',
  subscript: 'subscript or slice',
};

/** Tokens that are no words but have a rule below. */
const TOKEN_SHAPES: Readonly<Record<string, Shape>> = {
  NumberName: rule('numeric name'),
  StringName: rule('string name'),
  Number: rule('number'),
  String: rule('string'),
  REM: sequence(word('REM'), rule('text of a REM')),
};

/** The words that the lexer makes a token type of, by its name. */
function wordsByToken(): Map<string, string[]> {
  const signs = Array.from({ length: 94 }, (_, at) => String.fromCharCode(33 + at));
  const words = [
    ...KEYWORD_TABLE.map((keyword) => keyword.word),
    ...signs.filter((sign) => /[^A-Za-z0-9]/.test(sign)),
  ];
  return grouped(words, (text) => tokensOf(`1 ${text}`)[1].tokenType.name);
}

/** What Chevrotain writes of a rule or a part of one. */
interface Production extends ISerializedGast {
  readonly name?: string;
  readonly separator?: ISerializedGast;
}

/** The parser's rules, in its order, from what `grammarRules` gives. */
export function parserRules(productions: readonly ISerializedGast[]): Rule[] {
  const words = wordsByToken();

  const partsOf = ({ definition = [] }: Production): Shape => sequence(...definition.map(shapeOf));

  function terminal(name: string): Shape {
    const shape = TOKEN_SHAPES[name];
    if (shape !== undefined) return shape;
    const own = words.get(name);
    if (own === undefined) throw new Error(`the token ${name} has no words`);
    return word(...own);
  }

  function shapeOf(production: Production): Shape {
    const { type, name = '', separator } = production;
    switch (type) {
      case 'Terminal':
        return terminal(name);
      case 'NonTerminal':
        return rule(RULE_NAMES[name]);
      case 'Alternation':
        return merged((production.definition ?? []).map(shapeOf));
      case 'Alternative':
        return partsOf(production);
      case 'Option':
        return optional(partsOf(production));
      case 'Repetition':
        return optional(loop(partsOf(production)));
      case 'RepetitionMandatory':
        return loop(partsOf(production));
      case 'RepetitionWithSeparator':
        return optional(loop(partsOf(production), shapeOf(separator!)));
      case 'RepetitionMandatoryWithSeparator':
        return loop(partsOf(production), shapeOf(separator!));
      default:
        throw new Error(`nothing draws a ${type}`);
    }
  }

  return productions.map((production: Production) => ({
    name: RULE_NAMES[production.name!],
    shape: partsOf(production),
  }));
}

/** Ways that are all operations are one, those that bind tightest first. */
function merged(ways: Shape[]): Shape {
  const all = ways.flatMap((way) => (way.kind === 'words' ? way.words : ['']));
  if (!all.every((text) => Object.hasOwn(PRIORITY, text))) return choice(...ways);
  return word(...all.sort((a, b) => PRIORITY[b] - PRIORITY[a]));
}

// ───────────────────────────────── the lexer's rules ─────────────────────────────────

export const DIGIT = 'digit';
export const LETTER = 'letter';
export const HEX_PAIR = 'two hex digits';
export const FIVE_BYTES = 'five bytes in hex';
export const SPACE = 'space';
/** Any character of the machine but the quote. */
export const CHARACTER = 'character';
export const INVERSE_CHARACTER = 'character with code 0 to 63';
export const QUOTE = '"';
export const KEYWORD = 'keyword or sign of two characters';
export const FILE_NAME = 'name of a file';
export const ANY_TEXT = 'any text';
export const DIRECTIVE = 'directive and what it says';
export const LINE_NUMBER = 'line number';

const digits = loop(said(DIGIT));
const ends = said('end of the line');

/** The listing, and the rules within words, numbers, strings and REM. */
export const LISTING_RULE: Rule = {
  name: 'line of a listing',
  shape: sequence(
    choice(
      sequence(said(LINE_NUMBER), rule('statement')),
      sequence(word("'"), said(ANY_TEXT)),
      sequence(word('.'), said(DIRECTIVE)),
    ),
    ends,
  ),
};

export const LEXER_RULES: readonly Rule[] = [
  {
    name: 'numeric name',
    shape: sequence(said(LETTER), optional(loop(choice(said(LETTER), said(DIGIT))))),
  },
  { name: 'string name', shape: sequence(said(LETTER), word('$')) },
  {
    name: 'number',
    shape: sequence(
      choice(
        sequence(digits, optional(sequence(word('.'), optional(digits)))),
        sequence(word('.'), optional(digits)),
      ),
      optional(sequence(word('E'), optional(word('+', '-')), optional(digits))),
      optional(sequence(word('[='), optional(said(FIVE_BYTES)), word(']'))),
    ),
  },
  {
    name: 'string',
    shape: sequence(
      word(QUOTE),
      optional(loop(choice(said(CHARACTER), word('""'), rule('code in brackets')))),
      word(QUOTE),
    ),
  },
  {
    name: 'text of a REM',
    shape: optional(
      loop(choice(said(CHARACTER), word(QUOTE), rule('code in brackets'), rule('bytes of a file'))),
    ),
  },
  {
    name: 'code in brackets',
    shape: sequence(
      word('['),
      choice(
        sequence(word('~'), loop(said(INVERSE_CHARACTER))),
        loop(said(HEX_PAIR), said(SPACE)),
        said(KEYWORD),
        word('sp', 'pound', '""', ...GRAPHIC_NAMES.keys()),
      ),
      word(']'),
    ),
  },
  {
    name: 'bytes of a file',
    shape: sequence(word('[file "'), said(FILE_NAME), word('"]')),
  },
];
