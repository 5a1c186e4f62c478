import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildImage } from '../../src/image/build.js';
import { listingOfImage } from '../../src/image/read.js';
import { showDiagnostic } from '../../src/listing/diagnostics.js';
import { readListing } from '../../src/listing/read.js';
import { drawListing } from '../support/draw-listing.js';

const RUNS = process.env.FUZZ ? 100_000 : 500;
const RAM = 48 * 1024;

/** Texts that look like listings, and texts that look like nothing. */
const drawnText = fc.oneof(
  fc.string({ maxLength: 200 }),
  fc.string({ unit: 'binary', maxLength: 100 }),
  fc
    .array(
      fc.oneof(
        fc.constantFrom(
          ...[
            '10 ',
            '\n',
            '"',
            '[',
            ']',
            '[~',
            '(',
            ')',
            ' TO ',
            'PRINT',
            'IF ',
            'THEN',
            'REM',
            "'",
            '.',
          ],
          ...[
            '.var A',
            '.display',
            '.end',
            '=',
            ',',
            ';',
            'A$',
            'A',
            '5',
            '1E5',
            '**',
            '-',
            'GO TO ',
            'FORI=1TO9',
          ],
          ...[
            '.raw',
            '.system',
            'DF_SZ',
            '[=',
            '[76',
            'AT',
            'INKEY$',
            '\r',
            '▘',
            '\u{1FB8F}',
            'NOT ',
            'DIM ',
          ],
        ),
        fc.string({ maxLength: 4 }),
      ),
      { maxLength: 40 },
    )
    .map((pieces) => pieces.join('')),
  // A correct listing with a piece cut out of it.
  fc
    .tuple(drawListing(), fc.nat(400), fc.nat(20))
    .map(([text, at, length]) => text.slice(0, at) + text.slice(at + length)),
);

describe('readListing', () => {
  it(`never throws, and every message can be shown and says what to do (${RUNS} drawn texts)`, () => {
    fc.assert(
      fc.property(drawnText, (text) => {
        const { listing, diagnostics } = readListing(text);
        for (const diagnostic of diagnostics) {
          expect(diagnostic.start).toBeGreaterThanOrEqual(0);
          expect(diagnostic.start).toBeLessThanOrEqual(text.length);
          showDiagnostic({ name: 'drawn.bas', text }, diagnostic);
          expect([diagnostic.message, diagnostic.help]).toEqual([
            diagnostic.message,
            expect.stringMatching(/./),
          ]);
        }
        // A line without a statement has an error that says why.
        const bad = listing.lines.some(({ statement }) => statement === undefined);
        expect(bad && !diagnostics.some(({ severity }) => severity === 'error')).toBe(false);
      }),
      { numRuns: RUNS, seed: 1981 },
    );
  });

  it.runIf(process.env.FUZZ)('takes time linear in the text, for texts of every kind', () => {
    // The processor's own time: a busy machine does not change that much.
    const seconds = (text: string): number => {
      const start = process.cpuUsage();
      readListing(text);
      return process.cpuUsage(start).user;
    };
    const worst: string[] = [];
    for (const text of fc.sample(drawnText, { numRuns: 300, seed: 99 })) {
      const unit = `${text}\n`;
      const small = unit.repeat(Math.ceil(20_000 / unit.length));
      // Eight times the text may take up to three times eight: collecting garbage costs more then.
      const ratio = () => seconds(small.repeat(8)) / seconds(small);
      if (ratio() > 24 && ratio() > 24) worst.push(text);
    }
    expect(worst).toEqual([]);
  });
});

/** What a part of the tree says, wherever in the text it stands. */
function contentOf(part: unknown): unknown {
  if (part instanceof Uint8Array || typeof part !== 'object' || part === null) return part;
  if (Array.isArray(part)) return part.map(contentOf);
  const { start, end, ...own } = part as Record<string, unknown>;
  // The codes of a node are made when they are asked for.
  const codes = 'codes' in part ? part.codes : undefined;
  const fields = Object.entries(own).map(([name, value]) => [name, contentOf(value)]);
  return { ...Object.fromEntries(fields), codes };
}

describe('a line among others', () => {
  it('gives the codes and the tree that it gives alone', () => {
    fc.assert(
      fc.property(drawListing(), (text) => {
        for (const line of readListing(text).listing.lines) {
          const alone = readListing(text.slice(line.start, line.end)).listing.lines[0];
          expect(contentOf(line)).toEqual(contentOf(alone));
        }
      }),
      { numRuns: RUNS / 4, seed: 1983 },
    );
  });
});

describe('tokenise and detokenise', () => {
  it(`are inverse for ${RUNS} drawn listings, and the tidy form is stable`, () => {
    fc.assert(
      fc.property(drawListing(), (text) => {
        const read = readListing(text);
        expect(read.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
        const image = buildImage(read.listing, { ram: RAM }).image!;
        const back = listingOfImage(image);
        const again = buildImage(back.listing).image!;
        expect(Buffer.compare(again, image)).toBe(0);
        expect(listingOfImage(again).text).toBe(back.text);
      }),
      { numRuns: RUNS, seed: 1982 },
    );
  });
});
