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

it.each([
  ['PRINT TIME', 'use FRAMES: PEEK 16436+256*PEEK 16437 counts down'],
  ['IF TRUE THEN STOP', 'use 1'],
  ['GOTO START', 'write the number of the line; a name here is a variable, which holds one'],
  [
    'IF RND<.5 THEN GOSUB DRAW',
    'write the number of the line; a name here is a variable, which holds one',
  ],
  ['GOTO N', 'set it first, or correct its name'],
  ['GOTO 100+START', 'set it first, or correct its name'],
])('%s: %s', (statement, help) => {
  expect(helpOf(`10 ${statement}`)).toBe(help);
});
