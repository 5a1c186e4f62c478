import fc from 'fast-check';
import { expect, it } from 'vitest';
import { upward, Worklist } from '../../src/analysis/worklist.js';

/** The items as they come, where each puts others. */
function order(inRounds: boolean, puts: (item: number, turn: number) => readonly number[]) {
  const work = new Worklist<number>(upward, inRounds);
  for (const item of puts(0, 0)) work.put(item);
  const came: [number, number][] = [];
  for (const item of work) {
    came.push([item, work.round]);
    for (const next of puts(item, came.length)) work.put(next);
  }
  return came;
}

it('gives the first in the order, however late it came', () => {
  const found = order(false, (_, turn) => [[5, 3, 9], [1, 7], []][Math.min(turn, 2)]);
  expect(found.map(([item]) => item)).toEqual([3, 1, 5, 7, 9]);
});

it('goes through the order again in rounds', () => {
  const found = order(true, (_, turn) => [[5, 3, 9], [1, 7], [3, 5, 8], []][Math.min(turn, 3)]);
  expect(found).toEqual([
    [3, 0],
    [5, 0],
    [7, 0],
    [8, 0],
    [9, 0],
    [1, 1],
    [3, 1],
    [5, 1],
  ]);
});

it('lets an item wait once', () => {
  const found = order(false, (_, turn) => [[2, 2, 1], [2, 2], []][Math.min(turn, 2)]);
  expect(found.map(([item]) => item)).toEqual([1, 2]);
});

it('gives what is put at the start in its order, each once', () => {
  fc.assert(
    fc.property(fc.array(fc.integer()), fc.boolean(), (items, inRounds) => {
      const found = order(inRounds, (_, turn) => (turn === 0 ? items : []));
      expect(found.map(([item]) => item)).toEqual([...new Set(items)].sort(upward));
    }),
    { seed: 5, numRuns: 100 },
  );
});
