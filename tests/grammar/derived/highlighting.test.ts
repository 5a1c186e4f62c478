/**
 * The editor highlighting, read by an independent tokenizer, says what lexer and image say; with
 * UPDATE set, its file is written.
 */

import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import oniguruma from 'vscode-oniguruma';
import textmate, { type IGrammar, type StateStack } from 'vscode-textmate';
import { highlightingText, KEYWORD_SCOPES, SCOPE } from '../../../grammar/derived/highlighting.js';
import { KEYWORD_TABLE } from '../../../grammar/keywords.js';
import { tokensOf } from '../../../grammar/lexer.js';
import { buildImage } from '../../../src/image/build.js';
import { listingOfImage } from '../../../src/image/read.js';
import { readListing } from '../../../src/listing/read.js';
import { KEYWORD_CODES, KEYWORDS, NUMBER_MARKER, QUOTE } from '../../../src/machine/characters.js';
import { NUMBER_SIZE } from '../../../src/machine/numbers.js';
import { LARGEST_RAM } from '../../../src/machine/ram-size.js';
import { drawListing } from '../../support/draw-listing.js';
import { ROOT } from '../../support/run-cli.js';

const FOLDER = join(ROOT, 'grammar', 'derived', 'editor');
const FILE = join(FOLDER, 'listing.tmLanguage.json');
if (process.env.UPDATE) writeFileSync(FILE, highlightingText());

let grammar: IGrammar;

beforeAll(async () => {
  const wasm = createRequire(import.meta.url).resolve('vscode-oniguruma/release/onig.wasm');
  await oniguruma.loadWASM(readFileSync(wasm));
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(readFileSync(FILE, 'utf8'), FILE),
  });
  grammar = (await registry.loadGrammar(SCOPE))!;
});

interface Coloured {
  readonly start: number;
  readonly end: number;
  readonly text: string;
  /** All scopes but that of the whole, the innermost last. */
  readonly scopes: readonly string[];
}

/** The coloured pieces of a listing, with offsets into its text. */
function colour(text: string): Coloured[] {
  const pieces: Coloured[] = [];
  let state: StateStack | null = textmate.INITIAL;
  let offset = 0;
  for (const row of text.split('\n')) {
    const { tokens, ruleStack } = grammar.tokenizeLine(row, state);
    for (const { startIndex, endIndex, scopes } of tokens) {
      const end = Math.min(endIndex, row.length);
      pieces.push({
        start: offset + startIndex,
        end: offset + end,
        text: row.slice(startIndex, end),
        scopes: scopes.slice(1),
      });
    }
    state = ruleStack;
    offset += row.length + 1;
  }
  return pieces.filter(({ start, end }) => end > start);
}

/** Text and innermost scope of each piece that has one; neighbours of one colour are one. */
function shown(text: string): string[] {
  const rows: { end: number; text: string; scope: string }[] = [];
  for (const { start, end, text: piece, scopes } of colour(text)) {
    if (scopes.length === 0) continue;
    const scope = scopes.at(-1)!.replace(/\.listing$/, '');
    const before = rows.at(-1);
    if (before?.end === start && before.scope === scope) {
      before.text += piece;
      before.end = end;
    } else rows.push({ end, text: piece, scope });
  }
  return rows.map((row) => `${row.text} ${row.scope}`);
}

const KEYWORD = new Set(Object.values(KEYWORD_SCOPES));
const isKeyword = ({ scopes }: Coloured): boolean => scopes.some((scope) => KEYWORD.has(scope));

/** The code of a keyword as it is spelt in a listing; undefined for signs that are characters. */
const codeOf = (text: string): number | undefined =>
  KEYWORD_CODES.get(text.toUpperCase().replace(/^GO[ \t]+/, 'GO'));

/** The codes of keywords in a stored line, outside strings, REM and the bytes of numbers. */
function keywordsOf(codes: Uint8Array): number[] {
  const found: number[] = [];
  let inString = false;
  for (let at = 0; at < codes.length && found.at(-1) !== REM; at++) {
    if (codes[at] === QUOTE) inString = !inString;
    else if (inString) continue;
    else if (codes[at] === NUMBER_MARKER) at += NUMBER_SIZE;
    else if (KEYWORDS.has(codes[at])) found.push(codes[at]);
  }
  return found;
}

const REM = KEYWORD_CODES.get('REM');

/** The scope that a token of the lexer must have; undefined for what holds several. */
const SCOPE_OF_TOKEN: Readonly<Record<string, string>> = {
  LineNumber: 'entity.name.label',
  CommentLine: 'comment.line.apostrophe',
  Number: 'constant.numeric',
  String: 'string.quoted.double',
  NumberName: 'variable.other.number',
  StringName: 'variable.other.string',
  Comma: 'punctuation.separator',
  Semicolon: 'punctuation.separator',
  OpenBracket: 'punctuation.section.bracket',
  CloseBracket: 'punctuation.section.bracket',
  Operator: 'keyword.operator',
  Equals: 'keyword.operator',
  Minus: 'keyword.operator',
  Escape: 'constant.character.escape',
};

/** Holds the colours of a listing to its tokens, and those of its keywords to what is stored. */
function check(text: string): void {
  const pieces = colour(text);
  const wrong: string[] = [];
  for (const { tokenType, image, startOffset, payload } of tokensOf(text)) {
    const end = startOffset + image.length;
    const own = pieces.filter((piece) => piece.start < end && piece.end > startOffset);
    const isRem = tokenType.name === 'REM';
    const scope = payload ? KEYWORD_SCOPES[payload.kind] : SCOPE_OF_TOKEN[tokenType.name];
    const fits = (piece: Coloured): boolean => {
      if (isRem) return isKeyword(piece) === (piece.start === startOffset);
      return scope === undefined || piece.scopes.some((one) => one.startsWith(scope));
    };
    for (const piece of own) {
      if (!fits(piece)) wrong.push(`${tokenType.name} ${image}: ${piece.text} ${piece.scopes}`);
    }
  }
  expect(wrong).toEqual([]);
  for (const line of readListing(text).listing.lines) {
    // Codes in brackets are no words: what is stored from them is no question here.
    if (line.statement === undefined || line.statement.kind === 'unchecked') continue;
    const codes = pieces
      .filter((piece) => piece.start >= line.start && piece.end <= line.end && isKeyword(piece))
      .map((piece) => codeOf(piece.text))
      .filter((code) => code !== undefined);
    expect([line.number, codes]).toEqual([line.number, keywordsOf(line.codes)]);
  }
  const illegal = pieces.filter(({ scopes }) => scopes.some((one) => one.startsWith('invalid')));
  expect(illegal).toEqual([]);
}

describe('the file', () => {
  it('is up to date: `npm run grammar` writes it', () => {
    expect(readFileSync(FILE, 'utf8')).toBe(highlightingText());
  });
  it('is what the package for editors names', () => {
    const { contributes } = JSON.parse(readFileSync(join(FOLDER, 'package.json'), 'utf8'));
    const [language] = contributes.languages;
    const [own] = contributes.grammars;
    expect(own).toEqual({
      language: language.id,
      scopeName: SCOPE,
      path: './listing.tmLanguage.json',
    });
    const settings = JSON.parse(readFileSync(join(FOLDER, language.configuration), 'utf8'));
    expect(settings.comments).toEqual({ lineComment: "'" });
  });
  it('knows every directive that the reader knows', () => {
    const help = readListing('.x\n').diagnostics[0].help!;
    const words = help.match(/\.[a-z]+/g)!;
    expect(words.length).toBeGreaterThan(5);
    for (const word of words) {
      expect(shown(`${word} \n`)).toEqual([`${word} keyword.other.directive`]);
    }
  });
});

describe('the colours', () => {
  const samples = join(ROOT, 'samples');
  it.each(readdirSync(samples).filter((name) => name.endsWith('.bas')))('of %s', (name) => {
    check(readFileSync(join(samples, name), 'utf8'));
  });

  it('of any correct listing', () => {
    fc.assert(
      fc.property(drawListing(), (text) => check(text)),
      { numRuns: process.env.FUZZ ? 5000 : 100, seed: 11 },
    );
  });

  it('of what damaged images read as, in all its forms', () => {
    let forms = 0;
    const damage = fc.array(fc.tuple(fc.nat(2000), fc.nat(255)), { minLength: 1, maxLength: 20 });
    fc.assert(
      fc.property(drawListing(), damage, (drawn, places) => {
        const { image } = buildImage(readListing(drawn).listing, { ram: LARGEST_RAM });
        if (image === undefined) return;
        for (const [at, byte] of places) image[at % image.length] = byte;
        const { text } = listingOfImage(image, { salvage: true });
        check(text);
        if (/^\.(raw|system|lines)/m.test(text)) forms++;
      }),
      { numRuns: process.env.FUZZ ? 5000 : 100, seed: 12 },
    );
    expect(forms).toBeGreaterThan(50);
  });

  it.each(KEYWORD_TABLE.map(({ word, kind }) => [word, KEYWORD_SCOPES[kind]]))(
    'of the keyword %s, in either case',
    (word, scope) => {
      for (const text of [word, word.toLowerCase()]) {
        const [, first] = colour(`10 ${text} `).filter(({ scopes }) => scopes.length > 0);
        expect([first.text, first.scopes]).toEqual([text, [scope]]);
      }
    },
  );

  it.each([
    [
      '10 PRINTER=TO1',
      [
        '10 entity.name.label',
        'PRINTER variable.other.number',
        '= keyword.operator',
        'TO1 variable.other.number',
      ],
    ],
    [
      '10 FOR I=1TO 9',
      [
        '10 entity.name.label',
        'FOR keyword.control',
        'I variable.other.number',
        '= keyword.operator',
        '1 constant.numeric',
        'TO keyword.control',
        '9 constant.numeric',
      ],
    ],
    ['10 go  to 5', ['10 entity.name.label', 'go  to keyword.control', '5 constant.numeric']],
    [
      '1 5.E-3[=82 40 00 00 00]',
      ['1 entity.name.label', '5.E-3 constant.numeric', '[=82 40 00 00 00] constant.numeric.bytes'],
    ],
    [
      '1 PRINT "A""[~"]',
      [
        '1 entity.name.label',
        'PRINT keyword.control',
        '"A string.quoted.double',
        '"" constant.character.escape.quote',
        '[~"] constant.character.escape.inverse',
      ],
    ],
    [
      '1 A$<="[PRINT][76 0f][UL+lr][zz]"',
      [
        '1 entity.name.label',
        'A$ variable.other.string',
        '<= keyword.operator',
        '" string.quoted.double',
        '[PRINT] constant.character.escape.code',
        '[76 0f] constant.character.escape.bytes',
        '[UL+lr] constant.character.escape.named',
        '[zz] invalid.illegal.escape',
        '" string.quoted.double',
      ],
    ],
    [
      '1 REM PRINT "A" \'5 [file "c.bin"]',
      [
        '1 entity.name.label',
        'REM keyword.control',
        'PRINT "A" \'5  comment.line.rem',
        '[file "c.bin"] constant.character.escape.file',
      ],
    ],
    [
      '1 CLS:CLS!',
      [
        '1 entity.name.label',
        'CLS keyword.control',
        ': invalid.illegal.character',
        'CLS keyword.control',
        '! invalid.illegal.character',
      ],
    ],
    ['PRINT 1', ['PRINT 1 invalid.illegal.line']],
    [" ' 10 PRINT", [" ' 10 PRINT comment.line.apostrophe"]],
    ['.ram 16k', ['.ram keyword.other.directive', '16k constant.numeric']],
    [
      '.var K for 1 to 9 step -2 at 40',
      [
        '.var keyword.other.directive',
        'K variable.other.number',
        'for keyword.other.directive',
        '1 constant.numeric',
        'to keyword.other.directive',
        '9 constant.numeric',
        'step keyword.other.directive',
        '-2 constant.numeric',
        'at keyword.other.directive',
        '40 constant.numeric',
      ],
    ],
    [
      '.system CH_ADD = E_LINE+4',
      [
        '.system keyword.other.directive',
        'CH_ADD support.variable.system',
        '= keyword.operator',
        'E_LINE support.variable.system',
        '+ keyword.operator',
        '4 constant.numeric',
      ],
    ],
    [
      '.raw display 40 1',
      [
        '.raw keyword.other.directive',
        'display keyword.other.directive',
        '40 constant.numeric.bytes',
        '1 invalid.illegal.directive',
      ],
    ],
  ])('%s', (text, wanted) => {
    expect(shown(text)).toEqual(wanted);
  });

  it('of the rows of a display are those of text, up to .end', () => {
    expect(shown('.display\n10 PRINT\n.END\n10 CLS')).toEqual([
      '.display keyword.other.directive',
      '10 PRINT string.unquoted.display',
      '.END keyword.other.directive',
      '10 entity.name.label',
      'CLS keyword.control',
    ]);
  });

  it('of bytes in a REM go on over lines, and of an open bracket they do not', () => {
    expect(shown('1 REM [76\n00]CLS\n2 CLS').slice(2)).toEqual([
      '[76 constant.character.escape.bytes',
      '00] constant.character.escape.bytes',
      'CLS comment.line.rem',
      '2 entity.name.label',
      'CLS keyword.control',
    ]);
    expect(shown('1 REM [76\n2 CLS').slice(2)).toEqual([
      '[76 constant.character.escape.bytes',
      '2 entity.name.label',
      'CLS keyword.control',
    ]);
  });

  it('of a string that is not closed end with its line', () => {
    expect(shown('1 PRINT "A\n2 CLS').slice(2)).toEqual([
      '"A string.quoted.double',
      '2 entity.name.label',
      'CLS keyword.control',
    ]);
  });
});
