/** Doubts in words: bytes are the image's, and what is unclear in the name is said to be that. */
import { expect, it } from 'vitest';
import type { Doubt } from '../../../src/tape/reading/recovery.js';
import { doubtCount, judgement } from '../../../src/tape/telling/doubt-text.js';

const doubt = (part: 'name' | 'image', offset: number): Doubt => ({
  part,
  offset,
  byte: 0,
  seconds: 1,
  reason: 'unclear',
  place: part === 'image' ? { area: 'program', line: 10 } : undefined,
});
const [name, first, second] = [doubt('name', 0), doubt('image', 0), doubt('image', 1)];

it.each([
  [[], 'no byte in doubt', 'no byte in doubt'],
  [[first], '1 byte in doubt', '1 of 239 bytes in doubt, in line 10'],
  [[name], '1 character of the name in doubt', '1 character of the name in doubt'],
  [
    [name, first, second],
    '2 bytes and 1 character of the name in doubt',
    '2 of 239 bytes and 1 character of the name in doubt, in line 10',
  ],
] as const)('%j', (doubts, counted, judged) => {
  expect(doubtCount(doubts)).toBe(counted);
  if (doubts.length > 0) expect(judgement(doubts, 239)).toBe(judged);
});
