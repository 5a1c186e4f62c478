/** What holds for every program: the rehearsal never throws, and the memory is always in order. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { looksLikeImage } from '../../src/image/areas.js';
import { buildImage } from '../../src/image/build.js';
import { listingOfImage } from '../../src/image/read.js';
import { readListing } from '../../src/listing/read.js';
import { decodeVariable } from '../../src/machine/variables.js';
import type { RehearseOptions } from '../../src/rehearsal/rehearsal.js';
import { rehearse, rehearseInspected } from '../../src/rehearsal/run.js';
import type { Memory } from '../../src/rehearsal/state/memory.js';
import { framedScreen, rehearsalJson } from '../../src/rehearsal/telling/show.js';
import { drawListing } from '../support/draw-listing.js';

const runs = process.env.FUZZ ? 100_000 : 120;

/** What a person gives it: enough for a few INPUTs and keys. */
const given: RehearseOptions = {
  statements: 400,
  inputs: ['1', '2.5', '3', '4', 'A', '5'],
  keys: [
    { from: 20, to: 60, code: 38, isBreak: false },
    { from: 90, to: 95, code: 61, isBreak: false },
  ],
  usr: 7,
};

/** The layout is in order, and every variable can be read. */
function expectOrder(memory: Memory): void {
  expect(memory.fault()).toBeUndefined();
  const { bytes, eLine } = memory;
  for (let at = memory.vars; at < eLine - 1; ) {
    const decoded = decodeVariable(bytes, at, eLine - 1);
    expect(decoded, `the variable at ${at}`).toBeDefined();
    at = decoded!.end;
  }
}

test('no drawn program makes it throw, and it can always be shown', () => {
  fc.assert(
    fc.property(
      drawListing({ lines: [1, 14] }),
      fc.constantFrom(1024, 2048, 16384, 49152),
      fc.boolean(),
      (text, ram, withUsr) => {
        const { listing, diagnostics } = readListing(text);
        fc.pre(diagnostics.every(({ severity }) => severity !== 'error'));
        fc.pre(buildImage(listing, { ram }).image !== undefined);
        const options = withUsr ? given : { ...given, usr: undefined };
        const rehearsal = rehearse(listing, { ...options, ram });
        expect(rehearsal.end.why).not.toBe('');
        expect(framedScreen(rehearsal.screen).split('\n').length).toBeGreaterThanOrEqual(26);
        expect(JSON.parse(JSON.stringify(rehearsalJson(rehearsal))).screen).toHaveLength(24);
      },
    ),
    { numRuns: runs, seed: 5 },
  );
});

/** Programs without POKE, whose variables are mostly there, so that they run for a while. */
const peaceful = drawListing({ lines: [3, 14], assigned: true, bytes: false }).filter(
  (text) => !/POKE|\.system|\.raw|\.display/i.test(text),
);

test('after every statement the areas are in order and every variable can be read', () => {
  let checked = 0;
  fc.assert(
    fc.property(peaceful, fc.constantFrom(3072, 16384), (text, ram) => {
      const { listing, diagnostics } = readListing(text);
      fc.pre(diagnostics.every(({ severity }) => severity !== 'error'));
      rehearseInspected(listing, {
        ...given,
        ram,
        statements: 300,
        inspect: ({ memory, variables }) => {
          checked++;
          expectOrder(memory);
          expect(variables.fault()).toBeUndefined();
        },
      });
    }),
    { numRuns: runs, seed: 6 },
  );
  expect(checked).toBeGreaterThan(runs);
});

test('it is the same every time', () => {
  fc.assert(
    fc.property(peaceful, (text) => {
      const { listing, diagnostics } = readListing(text);
      fc.pre(diagnostics.every(({ severity }) => severity !== 'error'));
      const once = rehearse(listing, { ...given, ram: 3072 });
      expect(rehearse(listing, { ...given, ram: 3072 })).toEqual(once);
    }),
    { numRuns: runs / 5, seed: 7 },
  );
});

test('an image whose display has no bytes ends where it would be cleared', () => {
  const image = new Uint8Array(20_000).fill(0x80);
  const { end } = rehearse(listingOfImage(image).listing, { image, ram: 32_768 });
  expect(end).toMatchObject({
    kind: 'memory',
    why: expect.stringContaining('the ends of its rows'),
  });
});

test('no image with changed bytes makes it throw', () => {
  const change = fc.tuple(fc.nat(), fc.nat(255));
  let rehearsed = 0;
  fc.assert(
    fc.property(
      drawListing({ lines: [2, 8] }),
      fc.array(change, { minLength: 1, maxLength: 6 }),
      (text, changes) => {
        const read = readListing(text);
        fc.pre(read.diagnostics.every(({ severity }) => severity !== 'error'));
        const image = buildImage(read.listing, { ram: 16384 }).image!.slice();
        for (const [at, byte] of changes) image[at % image.length] = byte;
        fc.pre(looksLikeImage(image));
        const { listing, diagnostics } = listingOfImage(image);
        fc.pre(diagnostics.every(({ severity }) => severity !== 'error'));
        rehearsed++;
        const { end } = rehearse(listing, { ...given, image, ram: 16384 });
        expect(end.why).not.toBe('');
      },
    ),
    { numRuns: runs, seed: 8 },
  );
  expect(rehearsed).toBeGreaterThan(runs / 2);
});
