import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { TidyLines } from '../../src/listing/tidy.js';
import { sameBytes } from '../../src/machine/bytes.js';
import { KEYWORD_CODES } from '../../src/machine/characters.js';

const head = '.lines as-written\n';

/** The texts of lines with these codes, mended. */
function textsOf(codes: readonly Uint8Array[]): string[] {
  const lines = new TidyLines(codes.map((one, index) => ({ number: index + 1, codes: one })));
  lines.mend(readListing(head + lines.texts.join('\n')));
  return lines.texts;
}

const code = (...words: (string | number)[]): Uint8Array =>
  Uint8Array.from(words, (word) => (typeof word === 'number' ? word : KEYWORD_CODES.get(word)!));

describe('a line', () => {
  it.each([
    ['that the machine accepts', code('PRINT', 11, 38, 11), '1 PRINT "A"'],
    ['with spaces before its command', code(0, 'CLS'), '1 [sp] CLS'],
    ['with nothing', code(), '1 []'],
    ['without a command', code(38, 20, 39), '1 [26]=B'],
    ['with two commands', code('CLS', 'CLS'), '1 [FB]CLS'],
    ['with a command after THEN', code('IF', 38, 'THEN', 'CLS'), '1 IF A THEN CLS'],
    ['with nothing after THEN', code('IF', 38, 'THEN'), '1 [FA]A THEN'],
    ['that has the right words in a wrong order', code('PRINT', 16, 38), '1 [F5](A'],
    ['with a quote that nothing closes', code('PRINT', 11, 38), '1 [F5][0B]A'],
    ['with a code that no key gives', code('PRINT', 67), '1 [F5][43]'],
    ['that ends within a number', code('PRINT', 29, 126, 129, 0), '1 [F5]1[=][7E][81][sp]'],
  ])('%s', (_, codes, text) => {
    const [tidy] = textsOf([codes]);
    const { listing, diagnostics } = readListing(tidy);
    expect(diagnostics).toEqual([]);
    expect([...listing.lines[0].codes]).toEqual([...codes]);
    expect(tidy).toBe(text);
  });
});

it('any codes come back from their text', () => {
  const likely = fc.constantFrom(
    ...code('PRINT', 'IF', 'THEN', 'REM', 11, 28, 38, 126, 0, 118, 192),
  );
  const codes = fc
    .array(fc.oneof(likely, fc.nat(255)), { maxLength: 14 })
    .map((list) => Uint8Array.from(list));
  fc.assert(
    fc.property(fc.array(codes, { minLength: 1, maxLength: 6 }), (all) => {
      const { listing, diagnostics } = readListing(head + textsOf(all).join('\n'));
      expect(diagnostics).toEqual([]);
      expect(listing.lines.map((line, at) => sameBytes(line.codes, all[at]))).toEqual(
        all.map(() => true),
      );
    }),
    { numRuns: process.env.FUZZ ? 100_000 : 500, seed: 15 },
  );
});
