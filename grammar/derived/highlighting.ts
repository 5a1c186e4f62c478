/**
 * The editor highlighting: a TextMate grammar of the notation, made from the table of keywords and
 * the facts of the machine. Editors read it from grammar/derived/editor/listing.tmLanguage.json.
 */
import { GRAPHIC_NAMES, KEYWORD_CODES } from '../../src/machine/characters.js';
import { SYSTEM_VARIABLES } from '../../src/machine/system-variables.js';
import { KEYWORD_TABLE, type KeywordKind } from '../keywords.js';

/** The scope of the whole; every other ends with its last part. */
export const SCOPE = 'source.listing';

/** How each kind of keyword is named to the editor's colours. */
export const KEYWORD_SCOPES: Readonly<Record<KeywordKind, string>> = {
  simple: 'keyword.control.listing',
  command: 'keyword.control.listing',
  part: 'keyword.control.listing',
  function: 'support.function.listing',
  constant: 'support.constant.listing',
  operator: 'keyword.operator.listing',
};

interface Pattern {
  readonly name?: string;
  readonly contentName?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly captures?: Readonly<Record<string, { readonly name: string }>>;
  readonly beginCaptures?: Readonly<Record<string, { readonly name: string }>>;
  readonly endCaptures?: Readonly<Record<string, { readonly name: string }>>;
  readonly patterns?: readonly Pattern[];
  readonly include?: string;
}

const include = (name: string): Pattern => ({ include: `#${name}` });
const match = (name: string, pattern: string): Pattern => ({
  name: `${name}.listing`,
  match: pattern,
});

const literally = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&');

/** A pattern of any of these texts, the longest first: none hides another that it begins. */
function anyOf(texts: Iterable<string>): string {
  const longestFirst = [...texts].sort((a, b) => b.length - a.length || (a < b ? -1 : 1));
  return `(?:${longestFirst.map(literally).join('|')})`;
}

/** Nothing that would go on with the word: PRINTER and TO$ are names. */
const WORD_ENDS = '(?![A-Za-z0-9$])';

/** Keywords with one scope. A word stands alone, but after $ anything may follow. */
function keywordPatterns(scope: string): Pattern[] {
  const words = KEYWORD_TABLE.filter(({ kind }) => KEYWORD_SCOPES[kind] === scope).map(
    ({ word }) => word,
  );
  const spelt = words.filter((word) => /[A-Z]$/.test(word));
  const dollars = words.filter((word) => word.endsWith('$'));
  const signs = words.filter((word) => /^[^A-Z]/.test(word));
  const patterns: Pattern[] = [];
  if (spelt.length > 0) patterns.push({ name: scope, match: `(?i)${anyOf(spelt)}${WORD_ENDS}` });
  if (dollars.length > 0) patterns.push({ name: scope, match: `(?i)${anyOf(dollars)}` });
  if (signs.length > 0) patterns.push({ name: scope, match: anyOf(signs) });
  return patterns;
}

const BYTES = '(?:[0-9A-F]{2}[ \\t]+)*(?:[0-9A-F]{2})?[ \\t]*';
const NUMBER = '(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:E[+-]?[0-9]+)?';

/** Spaces that are stored within a name or a number, and behind a number. */
const SPACES = '(?:\\[[ \\t]*sp[ \\t]*\\])*';
const DIGITS = `[0-9](?:${SPACES}[0-9])*`;
const EXPONENT = `E(?:${SPACES}[+-](?:${SPACES}${DIGITS})?|${SPACES}${DIGITS}|(?![A-Z0-9]))`;
/** A literal of a statement, as the machine takes it: a point alone and `1E` too. */
const LITERAL = `(?:${DIGITS}(?:${SPACES}\\.(?:${SPACES}${DIGITS})?)?|\\.(?:${SPACES}${DIGITS})?)(?:${SPACES}${EXPONENT})?${SPACES}`;
/** A keyword behind spaces is none of the name's. */
const SPELT_KEYWORDS = KEYWORD_TABLE.map(({ word }) => word).filter((word) => /^[A-Z]/.test(word));
const NAME = `[A-Z][A-Z0-9]*(?:${SPACES}(?<=\\])(?!${anyOf(SPELT_KEYWORDS)}${WORD_ENDS})[A-Z0-9]+)*`;

/** `[~SCORE]`, `[76 00]`, `[PRINT]`, `[sp]`; `[file "code.bin"]` in a REM; any other is wrong. */
function escapes(): Pattern[] {
  const named = anyOf(['sp', 'pound', ...GRAPHIC_NAMES.keys()]);
  const inBrackets = (body: string): string => `(?i)\\[[ \\t]*${body}[ \\t]*\\]`;
  return [
    match('constant.character.escape.inverse', '\\[~[^\\[\\]]*\\]'),
    match('constant.character.escape.bytes', inBrackets(BYTES)),
    match('constant.character.escape.code', inBrackets(anyOf(KEYWORD_CODES.keys()))),
    match('constant.character.escape.named', inBrackets(named)),
  ];
}

const WRONG_ESCAPE = match('invalid.illegal.escape', '\\[[^\\[\\]]*\\]');

/** A number, and the bytes that the listing gives for it: `100[=82 40 00 00 00]`, `100[=]`. */
const NUMBER_PATTERN: Pattern = {
  match: `(?i)(${LITERAL})(\\[=[^\\[\\]]*\\])?`,
  captures: {
    1: { name: 'constant.numeric.listing' },
    2: { name: 'constant.numeric.bytes.listing' },
  },
};

const STRING: Pattern = {
  name: 'string.quoted.double.listing',
  begin: '"',
  end: '"(?!")|$',
  patterns: [match('constant.character.escape.quote', '""'), include('escapes'), WRONG_ESCAPE],
};

/**
 * REM and its text, to the end of the line. A bracket of bytes may go on over several lines: it is
 * left at the first line that is no bytes, and then the whole statement is.
 */
const REM: Pattern = {
  begin: `(?i)(REM)${WORD_ENDS}[ ]?`,
  beginCaptures: { 1: { name: KEYWORD_SCOPES.command } },
  end: '$|^',
  contentName: 'comment.line.rem.listing',
  patterns: [
    include('escapes'),
    match('constant.character.escape.file', '(?i)\\[[ \\t]*file[ \\t]+"[^"\\[\\]]+"[ \\t]*\\]'),
    WRONG_ESCAPE,
    {
      name: 'constant.character.escape.bytes.listing',
      begin: '(?i)\\[(?=[0-9A-F \\t]*$)',
      end: '\\]|^(?i)(?![0-9A-F \\t]*(?:\\]|$))',
    },
  ],
};

const STATEMENT: readonly Pattern[] = [
  STRING,
  NUMBER_PATTERN,
  include('escapes'),
  WRONG_ESCAPE,
  REM,
  include('keywords'),
  match('variable.other.string', `(?i)${NAME}${SPACES}\\$`),
  match('variable.other.number', `(?i)${NAME}`),
  match('keyword.operator', '[-+*/=<>]'),
  match('punctuation.separator', '[,;]'),
  match('punctuation.section.bracket', '[()]'),
  match('invalid.illegal.character', '\\S'),
];

/** A program line: the number, then the statement. */
const LINE: Pattern = {
  begin: '^[ \\t]*([0-9]+)',
  beginCaptures: { 1: { name: 'entity.name.label.listing' } },
  end: '$|^',
  patterns: STATEMENT,
};

// ───────────────────────────────── directives ─────────────────────────────────

const DIRECTIVE_SCOPE = 'keyword.other.directive.listing';

function directive(words: readonly string[], ...patterns: Pattern[]): Pattern {
  return {
    begin: `(?i)^[ \\t]*(\\.${anyOf(words)})(?![A-Za-z])`,
    beginCaptures: { 1: { name: DIRECTIVE_SCOPE } },
    end: '$',
    patterns: [...patterns, match('invalid.illegal.directive', '\\S')],
  };
}

const wordOf = (words: readonly string[]): Pattern =>
  match('keyword.other.directive', `(?i)${anyOf(words)}(?![A-Za-z0-9_$])`);
const SIGNED: Pattern = { ...NUMBER_PATTERN, match: `(?i)([+-]?${NUMBER})(\\[=[^\\[\\]]*\\])?` };
const WHOLE = match('constant.numeric', '[0-9]+');
const EQUALS = match('keyword.operator', '=');
const HEX = match('constant.numeric.bytes', '(?i)[0-9A-F]{2}(?![0-9A-F])');

const DIRECTIVES: readonly Pattern[] = [
  {
    begin: '(?i)^[ \\t]*(\\.display)(?![A-Za-z]).*$',
    beginCaptures: { 1: { name: DIRECTIVE_SCOPE } },
    end: '(?i)^[ \\t]*(\\.end)(?![A-Za-z])',
    endCaptures: { 1: { name: DIRECTIVE_SCOPE } },
    contentName: 'string.unquoted.display.listing',
    patterns: [include('escapes'), WRONG_ESCAPE],
  },
  directive(['name'], STRING),
  directive(['ram'], match('constant.numeric', '(?i)[0-9]+K?')),
  directive(['tv', 'start'], WHOLE),
  directive(['lines'], wordOf(['as-written'])),
  directive(['numbers'], wordOf(['nearest'])),
  directive(
    ['var'],
    STRING,
    wordOf(['for', 'to', 'step', 'at']),
    SIGNED,
    match('variable.other.string', '[A-Za-z][A-Za-z0-9]*\\$'),
    match('variable.other.number', '[A-Za-z][A-Za-z0-9]*'),
    EQUALS,
    match('punctuation.separator', ','),
    match('punctuation.section.bracket', '[()]'),
  ),
  directive(
    ['system'],
    match(
      'support.variable.system',
      `(?i)${anyOf(SYSTEM_VARIABLES.map(({ name }) => name))}(?![A-Za-z0-9_])`,
    ),
    match('constant.numeric.bytes', `(?i)\\[[ \\t]*${BYTES}\\]`),
    WHOLE,
    EQUALS,
    match('keyword.operator', '\\+'),
  ),
  directive(['raw'], wordOf(['display', 'variables', 'after']), HEX),
];

/** The grammar as the JSON that its file holds. */
export function highlightingText(): string {
  const grammar = {
    name: 'Listing',
    scopeName: SCOPE,
    fileTypes: ['bas'],
    patterns: [
      match('comment.line.apostrophe', "^[ \\t]*'.*$"),
      ...DIRECTIVES,
      LINE,
      match('invalid.illegal.line', '^[ \\t]*[^ \\t].*$'),
    ],
    repository: {
      keywords: { patterns: keywords() },
      escapes: { patterns: escapes() },
    },
  };
  const short = /\[\s+("[^"]*")\s+\]/g;
  return `${JSON.stringify(grammar, null, 2).replace(short, '[$1]')}\n`;
}

/** All keywords but REM, which has a pattern of its own; GO TO and GO SUB are one word. */
function keywords(): Pattern[] {
  const scopes = [...new Set(Object.values(KEYWORD_SCOPES))];
  return [
    { name: KEYWORD_SCOPES.simple, match: `(?i)GO[ \\t]+(?:TO|SUB)${WORD_ENDS}` },
    ...scopes.flatMap(keywordPatterns),
  ];
}
