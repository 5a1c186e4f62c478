/** Whatever is typed, the server's findings are those of reading the text afresh. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver';
import { Positions } from '../../src/editing/positions.js';
import { findings } from '../../src/editing/questions/findings.js';
import { Snapshot } from '../../src/editing/snapshot.js';
import { OpenListing } from '../../src/language-server/open-listing.js';
import { BITS, LISTING } from '../listing/edits.js';

const EDITS = process.env.FUZZ ? 10_000 : 400;

it(`gives the same findings after each of ${EDITS} random edits`, () => {
  const edit = fc.record({
    at: fc.nat(2000),
    length: fc.constantFrom(0, 0, 0, 1, 2, 9, 80),
    text: fc.array(fc.constantFrom(...BITS), { maxLength: 4 }),
  });
  const edits = fc.sample(edit, { numRuns: EDITS, seed: 5 });
  const options = { encoding: 'utf-8' as const };
  const open = new OpenListing(LISTING, 0, options);
  let text = LISTING;
  let clean = 0;
  let unasked = 0;
  for (const [index, { at, length, text: bits }] of edits.entries()) {
    // Every now and then the listing is whole again: else it would stay broken for good.
    if (index % 10 === 0) {
      text = LISTING;
      open.change([{ text }], index);
    }
    const positions = new Positions(text, options.encoding);
    const from = positions.offsetAt(positions.positionAt(at % (text.length + 1)));
    const to = positions.offsetAt(positions.positionAt(Math.min(text.length, from + length)));
    const change = {
      range: { start: positions.positionAt(from), end: positions.positionAt(to) },
      text: bits.join(''),
    };
    text = text.slice(0, from) + change.text + text.slice(to);
    open.change([change], index);
    // Some changes wait for those after them.
    if (at % 3 === 0) {
      unasked++;
      continue;
    }
    const found: Diagnostic[] = findings(open.snapshot);
    expect(found).toEqual(findings(new Snapshot(text, options)));
    if (!open.snapshot.broken) clean++;
  }
  expect(clean).toBeGreaterThan(EDITS / 80);
  expect(unasked).toBeGreaterThan(EDITS / 5);
});

it('reads what is typed once somebody asks, however many keys that was', () => {
  const open = new OpenListing('10 PRINT "A"\n20 PRINT "B"\n30 PRINT "C"\n', 0, {});
  const type = (line: number, text: string) =>
    [...text].forEach((key, at) => {
      const place = { line, character: 10 + at };
      open.change([{ range: { start: place, end: place }, text: key }], at);
    });
  expect(open.snapshot.broken).toBe(false);
  const before = open.piecesRead;
  type(1, 'LAMP OAK ELM');
  expect(open.piecesRead).toBe(before);
  expect(open.snapshot.text).toContain('20 PRINT "LAMP OAK ELMB"');
  expect(open.piecesRead - before).toBeLessThan(4);
});
