import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ReadListing } from '../../src/listing/join-pieces.js';
import { LiveListing } from '../../src/listing/live.js';
import { readListing } from '../../src/listing/read.js';
import { BITS, LISTING } from './edits.js';

const RUNS = process.env.FUZZ ? 500 : 25;
const EDITS = 20;

/** Everything that a reading says, with the codes of its lines and strings, which are no plain fields. */
function spelled({ listing, diagnostics }: ReadListing): unknown {
  const plain = (_: string, value: unknown): unknown => {
    if (ArrayBuffer.isView(value)) return Array.from(value as Uint8Array);
    if (typeof value !== 'object' || value === null || !('kind' in value)) return value;
    return 'codes' in value ? { ...value, codes: value.codes } : value;
  };
  return JSON.parse(
    JSON.stringify({ items: listing.items, lines: listing.lines, diagnostics }, plain),
  );
}

describe('an edited listing', () => {
  it(`gives after each of ${RUNS * EDITS} changes what reading the text gives`, () => {
    const edit = fc.record({
      at: fc.nat(400),
      length: fc.constantFrom(0, 0, 1, 2, 9, 60),
      text: fc.array(fc.constantFrom(...BITS), { maxLength: 3 }),
    });
    fc.assert(
      fc.property(fc.array(edit, { minLength: EDITS, maxLength: EDITS }), (edits) => {
        let text = LISTING;
        const live = new LiveListing(text);
        for (const { at, length, text: bits } of edits) {
          const start = at % (text.length + 1);
          const end = Math.min(text.length, start + length);
          text = live.change(start, end, bits.join(''));
          expect(spelled(live.read())).toEqual(spelled(readListing(text)));
        }
      }),
      { seed: 11, numRuns: RUNS },
    );
  });

  it('reads the line that is changed, and no other', () => {
    const text = Array.from({ length: 1000 }, (_, at) => `${at + 1} PRINT ${at}`).join('\n');
    const live = new LiveListing(text);
    const opened = live.piecesRead;
    const at = text.indexOf('\n501 PRINT');
    live.change(at, at, '0');
    expect(live.piecesRead - opened).toBeLessThanOrEqual(2);
    expect(live.read().listing.lines[499].end).toBe(at + 1);
  });
});

it('a directive that comes or goes says of all numbers how they are made', () => {
  const live = new LiveListing('10 LET A=.5\n');
  const codes = () => Buffer.from(live.read().listing.lines[0].codes).toString('hex');
  const typed = codes();
  live.change(0, 0, '.numbers nearest\n');
  expect(codes()).not.toBe(typed);
  live.change(0, '.numbers nearest\n'.length, '');
  expect(codes()).toBe(typed);
});
