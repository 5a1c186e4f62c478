/** How loud a recording comes in, in words. */
import { expect, it } from 'vitest';
import { levelOf } from '../../../src/tape/telling/level.js';

it.each([
  [0, 'nothing heard'],
  [0.03, 'too quiet'],
  [0.5, 'good'],
  [1, 'too loud'],
])('a highest sample of %s is %s', (peak, level) => {
  expect(levelOf(peak)).toBe(level);
});
