/** A variable that nothing sets, and whose name is a slip of one that is set. */
import { expect, it } from 'vitest';
import { lint } from '../../src/lint/lint.js';
import { readListing } from '../../src/listing/read.js';
import { findingsOf } from './findings.js';

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

it.each([
  // One slip in a short name, two in a long one; the nearest counts, then the first.
  ['ABC', 'ABD', 'ABD'],
  ['ABCDE', 'ABCXY', 'ABCXY'],
  ['ABCDE', 'ABXYZ', undefined],
  ['ABCD', 'ABXY', undefined],
  ['LEVEL', 'LAVVL', 'LAVVL'],
  ['AB', 'ABC', undefined],
  ['ABC', 'AB', undefined],
])('%s, where %s is set: did you mean %s?', (typed, set, meant) => {
  expect(helpOf(`10 PRINT ${typed}\n20 LET ${set}=1`)).toBe(
    meant === undefined
      ? 'set it first, or correct its name'
      : `did you mean ${meant}? else set it first`,
  );
});

it('the nearest of several names was meant, the first of those as near', () => {
  const help = (...names: string[]) =>
    helpOf(['10 PRINT LEVEL', ...names.map((name, at) => `${20 + at} LET ${name}=1`)].join('\n'));
  expect(help('LAVVL', 'LEVAL')).toBe('did you mean LEVAL? else set it first');
  expect(help('LEVAL', 'LAVVL')).toBe('did you mean LEVAL? else set it first');
  expect(help('LEVAL', 'LEVIL')).toBe('did you mean LEVAL? else set it first');
});

it('is told apart from a hundred others that are set', () => {
  const names = Array.from({ length: 100 }, (_, at) => `${'ABCDEFGHIJ'[at % 10]}${at}`);
  const sets = names.map((name, at) => `${at + 1} LET ${name}=1`);
  for (const missing of [0, 31, 32, 33, 63, 64, 99]) {
    const lines = sets.filter((_, at) => at !== missing);
    const text = [...lines, `900 PRINT ${names.join(';')}`].join('\n');
    const found = findingsOf(text, 'unset-variable');
    expect(found.map(({ start, end }) => text.slice(start, end))).toEqual([names[missing]]);
  }
});

it('is told where it is first used, in the order of the lines', () => {
  const first = (text: string) => {
    const [found] = findingsOf(text, 'unset-variable');
    return [found.start, text.slice(found.start, found.end)];
  };
  expect(first('10 PRINT 1\n20 PRINT A;A\n30 PRINT A')).toEqual([20, 'A']);
  expect(first('10 LET A(1)=5\n20 PRINT A(2)')).toEqual([7, 'A(1)']);
  expect(first('10 PRINT VAL "A+1"\n20 PRINT A')).toEqual([0, '10 PRINT VAL "A+1"']);
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
