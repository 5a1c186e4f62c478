/** A listing and what `lint --fix` makes of it do the same: the same screen, the same report. */
import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fixListing } from '../../src/lint/fix.js';
import { readListing } from '../../src/listing/read.js';
import { type RehearseOptions, rehearse } from '../../src/rehearsal/run.js';
import { plainRow } from '../../src/rehearsal/show.js';
import { drawListing } from '../support/draw-listing.js';

/** Statements are counted as time, and addresses depend on sizes: such programs see a difference. */
const SEES_SIZE_OR_TIME = /PEEK|POKE|USR|LIST|RAND|RND|INKEY|PAUSE|\.system|\.raw|\.display/i;

function outcome(text: string, options: RehearseOptions) {
  const { listing } = readListing(text);
  const { end, line, screen, printer } = rehearse(listing, options);
  // A REM at the end may be taken out: report 0 then comes from another line.
  const from = end.code === '0' ? '' : `/${line}`;
  return {
    report: `${end.code ?? end.kind}${from}`,
    screen: screen.slice(0, -1).map(plainRow),
    printer: printer.map(plainRow),
  };
}

test('drawn programs', () => {
  let fixed = 0;
  const drawn = drawListing({ lines: [3, 14], assigned: true, bytes: false });
  fc.assert(
    fc.property(
      drawn.filter((text) => !SEES_SIZE_OR_TIME.test(text)),
      (text) => {
        const { listing, diagnostics } = readListing(text);
        fc.pre(diagnostics.every(({ severity }) => severity !== 'error'));
        const result = fixListing({ text, listing });
        fc.pre(result.applied.length > 0);
        const options = { ram: 16384, statements: 5000, inputs: ['1', '2', '3', '4'] };
        const before = outcome(text, options);
        // An endless loop is cut at another place, and memory runs out at another.
        fc.pre(!/^(limit|4)/.test(before.report));
        fixed++;
        expect(outcome(result.text, options)).toEqual(before);
      },
    ),
    { numRuns: process.env.FUZZ ? 20_000 : 50, seed: 9, endOnFailure: true },
  );
  expect(fixed).toBeGreaterThan(30);
});

describe('samples', () => {
  const folder = new URL('../../samples/', import.meta.url);
  const texts = readdirSync(folder)
    .filter((name) => name.endsWith('.bas'))
    .map((name): [string, string] => [name, readFileSync(new URL(name, folder), 'utf8')])
    .filter(([, text]) => !SEES_SIZE_OR_TIME.test(text));

  test('some are left that see neither sizes nor time', () => {
    expect(texts.length).toBeGreaterThanOrEqual(3);
  });

  test.each(texts)('%s', (_, text) => {
    const { listing } = readListing(text);
    const result = fixListing({ text, listing });
    const options = { statements: 100_000, inputs: ['N', 'GET OIL'], ram: 16384 };
    expect(outcome(result.text, options)).toEqual(outcome(text, options));
  });
});
