/** The railroad diagram is that of the grammar; with UPDATE set, its file is written. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { railroad } from '../../../grammar/derived/railroad.js';
import * as S from '../../../grammar/derived/shapes.js';
import { tokensOf } from '../../../grammar/lexer.js';
import { grammarRules, parseStatement } from '../../../grammar/parser.js';
import { readListing } from '../../../src/listing/read.js';
import { KEYWORDS } from '../../../src/machine/characters.js';
import { escapeMarkup } from '../../../src/markup/markup.js';
import { ROOT } from '../../support/run-cli.js';

const FILE = join(ROOT, 'grammar', 'derived', 'railroad.svg');

const GRAMMAR = grammarRules();
const RULES = [S.LISTING_RULE, ...S.parserRules(GRAMMAR), ...S.LEXER_RULES];

describe('the file', () => {
  it('is up to date: `npm run grammar` writes it', () => {
    const picture = railroad(RULES);
    if (process.env.UPDATE) writeFileSync(FILE, picture);
    expect(readFileSync(FILE, 'utf8')).toBe(picture);
  });
  it('has every rule once, and each that is named has a place', () => {
    const picture = readFileSync(FILE, 'utf8');
    const ids = [...picture.matchAll(/<g id="([^"]+)">/g)].map(([, id]) => id);
    const links = new Set([...picture.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id));
    expect(ids.length).toBe(new Set(ids).size);
    expect([...links].filter((id) => !ids.includes(id))).toEqual([]);
    expect(ids.filter((id) => !links.has(id))).toEqual(['line-of-a-listing']);
  });
  it('names the rules of the parser, and no others', () => {
    const names = GRAMMAR.map((production) => (production as { name?: string }).name);
    expect(Object.keys(S.RULE_NAMES).sort()).toEqual([...names].sort());
  });
  it('has no box over another, and none beyond the edge', () => {
    const picture = readFileSync(FILE, 'utf8');
    const edge = Number(/ width="(\d+)"/.exec(picture)![1]);
    const boxes = [
      ...picture.matchAll(/<rect x="(.*?)" y="(.*?)" width="(.*?)" height="(.*?)"/g),
    ].map(([, x, y, width, height]) => ({
      x: +x,
      y: +y,
      right: +x + +width,
      bottom: +y + +height,
    }));
    expect(boxes.length).toBeGreaterThan(RULES.length);
    const wrong = boxes.filter(
      (box, at) =>
        box.x < 0 ||
        box.right > edge ||
        boxes
          .slice(at + 1)
          .some(
            (other) =>
              box.x < other.right &&
              other.x < box.right &&
              box.y < other.bottom &&
              other.y < box.bottom,
          ),
    );
    expect(wrong).toEqual([]);
  });
  it('shows every keyword, and asks nothing of a network or a script', () => {
    const picture = readFileSync(FILE, 'utf8');
    const texts = new Set([...picture.matchAll(/<text[^>]*>([^<]*)</g)].map(([, text]) => text));
    const missing = [...KEYWORDS.values()].filter((word) => !texts.has(escapeMarkup(word)));
    expect(missing).toEqual([]);
    const languages = / xmlns="http:\/\/www\.w3\.org\/(2000\/svg|1999\/xhtml)"/g;
    expect(picture.replace(languages, '')).not.toMatch(/https?:|<script|url\(/);
  });
});

// ───────────────────────────────── the diagram read as a grammar ─────────────────────────────────

/** What the yellow boxes say, drawn at random. */
const SAID: Readonly<Record<string, fc.Arbitrary<string>>> = {
  [S.DIGIT]: fc.constantFrom(...'0123456789'),
  [S.LETTER]: fc.constantFrom(...'AbCxYZ'),
  [S.HEX_PAIR]: fc.constantFrom('00', '7f', 'C9'),
  [S.CHARACTER]: fc.constantFrom(...'A9 £$:?()><=+-*/;,.▘▒'),
  [S.INVERSE_CHARACTER]: fc.constantFrom(...'A9 £"▘'),
  [S.KEYWORD]: fc.constantFrom('PRINT', '**', 'chr$'),
  [S.FILE_NAME]: fc.constant('code.bin'),
  [S.FIVE_BYTES]: fc.constantFrom('82 40 00 00 00', '00 00 00 00 00'),
  [S.SPACE]: fc.constant(' '),
};

const shapeOf = new Map(RULES.map(({ name, shape }) => [name, shape]));
const WITHIN_WORDS = new Set(S.LEXER_RULES.map(({ name }) => name));

/** A text that the tracks of a shape lead to. Past `depth` rules the first way is taken. */
function drawn(shape: S.Shape, depth: number, space: string): fc.Arbitrary<string> {
  const deep = depth <= 0;
  switch (shape.kind) {
    case 'words':
      return fc.constantFrom(...shape.words);
    case 'said':
      return SAID[shape.text];
    case 'rule': {
      const within = WITHIN_WORDS.has(shape.name);
      return drawn(shapeOf.get(shape.name)!, depth - 1, within ? '' : space);
    }
    case 'sequence':
      return fc.tuple(...shape.parts.map((part) => drawn(part, depth, space))).map(joinedBy(space));
    case 'choice': {
      const ways = shape.ways.slice(0, deep ? 1 : undefined);
      return fc.oneof(...ways.map((way) => drawn(way, depth, space)));
    }
    case 'optional':
      return deep ? fc.constant('') : fc.oneof(fc.constant(''), drawn(shape.part, depth, space));
    case 'loop': {
      const one = drawn(shape.part, depth, space);
      if (deep) return one;
      const between = shape.between ? drawn(shape.between, depth, space) : fc.constant('');
      const more = fc.array(fc.tuple(between, one), { maxLength: 2 });
      return fc.tuple(one, more).map(([first, rest]) => joinedBy(space)([first, ...rest.flat()]));
    }
  }
}

const joinedBy =
  (space: string) =>
  (parts: string[]): string =>
    parts.filter((part) => part !== '').join(space);

const runs = { numRuns: process.env.FUZZ ? 5000 : 150, seed: 5 };

/** What must stand before and after a part of a statement, so that it is one. */
const BEFORE: Readonly<Record<string, string>> = {
  variable: 'INPUT',
  separator: 'PRINT',
  'PRINT item': 'PRINT',
  expression: 'PAUSE',
  operation: 'PAUSE 1',
  'function, minus or NOT': 'PAUSE',
  value: 'PAUSE',
  'expression in brackets': 'PAUSE',
  subscripts: 'PAUSE A',
  'subscript or slice': 'PAUSE A$(',
};
const AFTER: Readonly<Record<string, string>> = {
  operation: '1',
  'function, minus or NOT': '1',
  'subscript or slice': ')',
};

describe('what the tracks lead to', () => {
  it.each(
    RULES.filter(({ name }) => name !== S.LISTING_RULE.name && !WITHIN_WORDS.has(name)).map(
      ({ name }) => name,
    ),
  )('as %s is a statement, or a part of one, to the parser', (name) => {
    const before = BEFORE[name] ?? '';
    const after = AFTER[name] ?? '';
    fc.assert(
      fc.property(drawn(shapeOf.get(name)!, 5, ' '), (text) => {
        const [, ...tokens] = tokensOf(`1 ${before} ${text} ${after}`);
        const { failure } = parseStatement(tokens, () => new Uint8Array(1));
        expect([text, failure?.wanted]).toEqual([text, undefined]);
      }),
      runs,
    );
  });

  it.each([
    ['numeric name', 'NumberName'],
    ['string name', 'StringName'],
    ['number', 'Number'],
    ['string', 'String'],
    ['code in brackets', 'Escape'],
  ])('as %s is one token to the lexer', (name, token) => {
    fc.assert(
      fc.property(drawn(shapeOf.get(name)!, 5, ''), (text) => {
        const [, ...tokens] = tokensOf(`1 ${text}`);
        expect(tokens.map(({ tokenType, image }) => [tokenType.name, image])).toEqual([
          [token, text],
        ]);
      }),
      runs,
    );
  });

  it.each([
    ['number', 'PRINT '],
    ['string', 'PRINT '],
    ['text of a REM', 'REM '],
    ['code in brackets', 'REM '],
    ['bytes of a file', 'REM '],
  ])('as %s is read without a word', (name, command) => {
    fc.assert(
      fc.property(drawn(shapeOf.get(name)!, 5, ''), (text) => {
        const read = readListing(`10 ${command}${text}\n`, { include: () => new Uint8Array(1) });
        // That a number can be too large, tracks do not show.
        const found = read.diagnostics.filter(({ rule }) => rule !== 'number-too-large');
        expect([text, found]).toEqual([text, []]);
      }),
      runs,
    );
  });
});
