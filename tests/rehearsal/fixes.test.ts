/** A listing and what `lint --fix` makes of it do the same: the same screen, the same report. */
import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fixListing } from '../../src/lint/fix.js';
import { readListing } from '../../src/listing/read.js';
import type { RehearseOptions } from '../../src/rehearsal/rehearsal.js';
import { rehearse } from '../../src/rehearsal/run.js';
import { plainRow } from '../../src/rehearsal/telling/show.js';
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

/** Programs with what each fix looks for; the values are those on which the forms of numbers differ. */
const saving = fc
  .record({
    a: fc.constantFrom(
      '0',
      '1',
      '3',
      '5',
      '.5',
      '0.50',
      '2E-3',
      '1E5',
      '100000',
      '7.25',
      '38',
      '255',
    ),
    b: fc.constantFrom('0', '.1', '1', '0.57', '12'),
    text: fc.constantFrom('', 'OAK', 'A B'),
    test: fc.constantFrom('=0', '<>0', '=NOT PI', '<>.5'),
    empty: fc.constantFrom('=""', '<>""', '="OAK"'),
    step: fc.constantFrom('', ' STEP 1', ' STEP SGN PI', ' STEP 2'),
    uses: fc.integer({ min: 0, max: 3 }),
    order: fc.shuffledSubarray([0, 1, 2, 3, 4, 5, 6], { minLength: 3 }),
  })
  .map(({ a, b, text, test: asked, empty, step, uses, order }) => {
    const bodies = [
      `IF B${asked} THEN PRINT "ZERO"`,
      `IF B$${empty} THEN PRINT "NONE"`,
      `FOR I=1 TO 3${step}`,
      'PRINT 2*A-B;',
      'GOTO 999',
      'PRINT B$;" AND"',
      `LET C=INT (${a}*100)`,
    ];
    const body = order.map((at) => bodies[at]);
    if (order.includes(2)) body.push('NEXT I');
    if (order.includes(6)) body.push('PRINT C');
    for (let at = 0; at < uses; at++) body.push('PRINT A;B$');
    const lines = [`LET A=${a}`, `LET B=${b}`, `LET B$="${text}"`, ...body, 'STOP'];
    const numbered = lines.map((line, at) => `${(at + 1) * 10} ${line}`);
    return numbered
      .map((line, at) => line.replace('999', String((at + 2) * 10)))
      .join('\n')
      .concat('\n');
  });

test('drawn programs with something for each fix', () => {
  const applied = new Map<string, number>();
  fc.assert(
    fc.property(saving, (text) => {
      const { listing } = readListing(text);
      const result = fixListing({ text, listing });
      for (const { rule } of result.applied) applied.set(rule, (applied.get(rule) ?? 0) + 1);
      const options = { ram: 16384, statements: 5000 };
      expect(outcome(result.text, options), `${text}\n${result.text}`).toEqual(
        outcome(text, options),
      );
    }),
    { numRuns: process.env.FUZZ ? 20_000 : 150, seed: 21 },
  );
  for (const rule of ['number-form', 'zero-test', 'spare-step', 'spare-goto', 'single-use']) {
    expect(applied.get(rule), rule).toBeGreaterThan(10);
  }
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
