/** A variable that nothing sets, and whose name is a slip of one that is set. */
import { expect, it } from 'vitest';
import { lint } from '../../src/lint/lint.js';
import { readListing } from '../../src/listing/read.js';

const helpOf = (text: string): string | undefined =>
  lint(readListing(text)).findings.find(({ rule }) => rule === 'unset-variable')?.help;

it.each([
  ['SCOR', 'SCORE'],
  ['SOCRE', 'SCORE'],
  ['SCORES', 'SCORE'],
  ['LEVLE', 'LEVEL'],
])('%s: did you mean %s?', (typed, meant) => {
  expect(helpOf(`10 LET SCORE=1\n20 LET LEVEL=2\n30 PRINT ${typed}`)).toBe(
    `did you mean ${meant}? else set it first`,
  );
});

it.each(['Q', 'TOTAL', 'SC'])('%s is no slip of a name that is set', (typed) => {
  expect(helpOf(`10 LET SCORE=1\n20 LET A=2\n30 PRINT ${typed}`)).toBe(
    'set it first, or correct its name',
  );
});
