import { expect, it } from 'vitest';
import type { SimpleStatement } from '../../grammar/tree.js';
import { constantOf } from '../../src/listing/constants.js';
import { readListing } from '../../src/listing/read.js';

/** The constant value of an expression's text. */
function constantIn(text: string): number | undefined {
  const { listing, diagnostics } = readListing(`10 GOTO ${text}\n`);
  expect(diagnostics).toEqual([]);
  return constantOf((listing.lines[0].statement as SimpleStatement).args[0]);
}

it.each([
  ['100', 100],
  ['1.5E2', 150],
  ['100[=82 40 00 00 00]', 3],
  ['(7)', 7],
  ['-7', -7],
  ['2+3*4', 14],
  ['10/4', 2.5],
  ['1-2-3', -4],
  ['VAL "100"', 100],
  ['VAL "1E2"', 100],
  ['VAL (".5")', 0.5],
  ['CODE "A"', 38],
  ['CODE ""', 0],
  ['NOT PI', 0],
  ['NOT NOT PI', 1],
  ['SGN PI', 1],
  ['INT PI', 3],
  ['INT -PI', -4],
  ['ABS -3', 3],
  // Rounded as the machine rounds: 32 bits.
  ['1/3', 0.3333333333721384],
])('%s is %d', (text, value) => expect(constantIn(text)).toBeCloseTo(value, 9));

it.each(['A', 'A(1)', 'RND', '1[=]', 'VAL "A"', 'VAL A$', '1/0', '1E38*10', 'PEEK 16384', 'SIN 1'])(
  '%s is not worked out',
  (text) => expect(constantIn(text)).toBeUndefined(),
);
