/** The budget's bounds against what drawn programs really use when the model runs them. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { hasErrors } from '../../src/listing/diagnostics.js';
import { readListing } from '../../src/listing/read.js';
import { budgetOf } from '../../src/memory/budget.js';
import { rehearse } from '../../src/rehearsal/run.js';
import { drawListing } from '../support/draw-listing.js';

const runs = process.env.FUZZ ? 20_000 : 250;
const RAM = 16384;
/** Below 3¼K, so that the display grows. */
const SMALL_RAM = 3072;

it.each([RAM, SMALL_RAM])('no run takes more than the most, with %i bytes of RAM', (ram) => {
  let compared = 0;
  fc.assert(
    fc.property(drawListing({ lines: [1, 12], bytes: false }), (text) => {
      const { listing, diagnostics } = readListing(text);
      const budget = budgetOf(listing, { ram });
      if (hasErrors(diagnostics) || budget.loads.verdict !== 'fits') return;
      const inputs = new Array(20).fill('5');
      const { peak, variables } = rehearse(listing, { ram, inputs, statements: 300 });
      compared++;
      const most = new Map(budget.variables.map(({ name, high }) => [name, high]));
      for (const { name, bytes } of variables) {
        const high = most.get(name) ?? most.get(name.replace('$()', '$'));
        expect(bytes, `${name} in\n${text}`).toBeLessThanOrEqual(high ?? 0);
      }
      expect(peak.bytes, text).toBeLessThanOrEqual(budget.runs.high);
    }),
    { numRuns: runs, seed: 5 },
  );
  expect(compared).toBeGreaterThan(runs / 2);
});

it('what follows a THEN takes no room where its condition does not hold', () => {
  const peakOf = (condition: string) => {
    const text = `10 LET A$="5"\n20 IF ${condition} THEN IF 1 THEN PRINT 1.5+VAL A$;\n`;
    const { listing } = readListing(text);
    const { peak, most } = rehearse(listing, { ram: RAM });
    expect(peak.bytes).toBeLessThanOrEqual(budgetOf(listing, { ram: RAM }).runs.high);
    return { bytes: peak.bytes, stack: most['calculator stack'] };
  };
  const [not, does] = [peakOf('0'), peakOf('1')];
  expect([not.stack, does.stack]).toEqual([5, 25]);
  expect(does.bytes).toBeGreaterThanOrEqual(not.bytes + 20);
});

it('AT has taken its two values before the row grows to its column, and each item its own', () => {
  const stackOf = (text: string) => {
    const { peak } = rehearse(readListing(`10 ${text}\n`).listing, { ram: SMALL_RAM });
    return [peak.sizes.display, peak.sizes['calculator stack']];
  };
  // A text takes 5 bytes while it is worked out, the digits of a number 25.
  expect(stackOf('PRINT AT 0,30;"="')).toEqual([25 + 30, 5]);
  expect(stackOf('PRINT AT 0,30;5;')).toEqual([25 + 30, 25]);
});
