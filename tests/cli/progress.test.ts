/** The bar that is drawn while work takes a while. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { Progress } from '../../src/cli/common/progress.js';

beforeEach(() => vi.useFakeTimers({ now: 0 }));
afterEach(() => vi.useRealTimers());

it('says how long the rest takes once the work done so far tells it', () => {
  const drawn: string[] = [];
  const stream = { isTTY: true, write: (text: string) => drawn.push(text) };
  const progress = new Progress('a.txt:', stream as unknown as NodeJS.WriteStream);
  for (const [seconds, part] of [
    [0.1, 0.5],
    [1, 0.0001],
    [2, 0.5],
    [63, 0.25],
  ]) {
    vi.setSystemTime(seconds * 1000);
    progress.show(part);
  }
  expect(drawn.map((text) => text.trim())).toEqual([
    `a.txt: [${'.'.repeat(30)}]`,
    `a.txt: [${'#'.repeat(15)}${'.'.repeat(15)}] 0:02 left`,
    `a.txt: [${'#'.repeat(8)}${'.'.repeat(22)}] 3:09 left`,
  ]);
});
