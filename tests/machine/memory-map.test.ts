/** The manual, chapters 18, 25 and 27, from memory. */
import { expect, it } from 'vitest';
import {
  clearDisplaySize,
  IMAGE_START,
  KEPT_FREE,
  PLOT_COLUMNS,
  PLOT_ROWS,
  ROOM_MARGIN,
  SYSTEM_VARIABLES_SIZE,
} from '../../src/machine/memory-map.js';

it('there are 125 bytes of system variables, of which a tape has all but nine', () => {
  expect(SYSTEM_VARIABLES_SIZE).toBe(125);
  expect(16384 + SYSTEM_VARIABLES_SIZE - IMAGE_START).toBe(125 - 9);
});

it('a clear display is 25 bytes below 3¼K, and 793 from there on', () => {
  expect([1024, 3327, 3328, 16384].map(clearDisplaySize)).toEqual([25, 25, 793, 793]);
});

it('PLOT takes 0 to 63 across and 0 to 43 up', () => {
  expect([PLOT_COLUMNS - 1, PLOT_ROWS - 1]).toEqual([63, 43]);
});

// The published ROM disassembly, from memory: what grows, and 36 more, must end below the stack.
it('what is never had is the margin of the ROM and the byte at which its stack begins', () => {
  const stack = 17_000;
  const highestEnd = stack - KEPT_FREE;
  expect(highestEnd + ROOM_MARGIN).toBeLessThan(stack);
  expect(highestEnd + 1 + ROOM_MARGIN).toBe(stack);
});
