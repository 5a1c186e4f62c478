import fc from 'fast-check';
import { expect, it } from 'vitest';
import { showDiagnostic } from '../../src/listing/diagnostics.js';
import { readListing } from '../../src/listing/read.js';
import { drawListing, drawStatement } from './draw-listing.js';

const runs = process.env.FUZZ ? 20_000 : 300;

it('every listing that is drawn is correct: nothing is wrong with it, not even a warning', () => {
  fc.assert(
    fc.property(drawListing(), (text) => {
      const { diagnostics } = readListing(text);
      expect(diagnostics.map((one) => showDiagnostic({ name: 'drawn', text }, one))).toEqual([]);
    }),
    { numRuns: runs, seed: 7 },
  );
});

it('a statement that is drawn is correct after a line number', () => {
  fc.assert(
    fc.property(drawStatement({ layout: 'even' }), (text) => {
      expect(readListing(`10 ${text}\n`).diagnostics).toEqual([]);
    }),
    { numRuns: runs, seed: 7 },
  );
});

it('every kind of statement and expression is among them', () => {
  const seen = new Set<string>();
  const visit = (node: unknown): void => {
    if (typeof node !== 'object' || node === null || node instanceof Uint8Array) return;
    const { kind } = node as { kind?: string };
    if (kind !== undefined) seen.add(kind);
    for (const part of Object.values(node)) visit(part);
  };
  for (const text of fc.sample(drawListing(), { numRuns: 300, seed: 7 })) {
    visit(readListing(text).listing.items);
  }
  const statements =
    'LET INPUT DIM FOR NEXT IF PRINT LPRINT REM GOTO GOSUB RUN LIST LLIST RAND PAUSE POKE PLOT UNPLOT SAVE LOAD STOP CONT NEW CLS CLEAR SCROLL RETURN COPY SLOW FAST';
  const expressions =
    'number string variable range subscripted brackets unary binary call constant separator AT TAB';
  expect(
    [...statements.split(' '), ...expressions.split(' ')].filter((kind) => !seen.has(kind)),
  ).toEqual([]);
});
