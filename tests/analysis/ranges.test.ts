import { expect, it, vi } from 'vitest';
import { analyse } from '../../src/analysis/program.js';
import { Worklist } from '../../src/analysis/worklist.js';
import { readListing } from '../../src/listing/read.js';

const ranges = (text: string) => analyse(readListing(text.replaceAll('|', '\n')).listing).ranges;

it('follow values from variable to variable, in whatever order the lines stand', () => {
  const names = [...'ABCDEFGHIJKLMNOPQRST'];
  const chain = names.map((name, at) => `${10 * at + 10} LET ${name}=${names[at + 1] ?? '5'}`);
  const found = ranges(chain.join('|'));
  for (const name of names) expect(found.named(name)).toMatchObject({ low: 5, high: 5 });
});

it('let go what moves without end, and only that', () => {
  const found = ranges('10 LET A=1|20 LET B=A|30 LET A=A+1|40 LET C=7|50 GOTO 20');
  expect(found.named('A')).toMatchObject({ low: 1, high: Infinity, whole: true });
  expect(found.named('B')).toMatchObject({ low: 1, high: Infinity });
  expect(found.named('C')).toMatchObject({ low: 7, high: 7 });
});

it('let strings go that grow or shrink without end', () => {
  const found = ranges('10 LET A$="OAK"|20 LET B$="ELM"|30 LET A$=A$+"*"|40 LET B$=B$(2 TO )');
  expect(found.lengthOf('A$')).toEqual({ low: 3, high: Infinity });
  expect(found.lengthOf('B$')).toEqual({ low: 0, high: 3 });
});

it('know nothing of a variable that nothing sets', () => {
  expect(ranges('10 LET A=B|20 LET B=B+1').named('A')).toMatchObject({ low: -Infinity });
  expect(ranges('10 PRINT Q').named('Q')).toMatchObject({ low: -Infinity, high: Infinity });
});

it('take work in step with the lines that set and read one variable', () => {
  const put = vi.spyOn(Worklist.prototype, 'put');
  try {
    const worked = [100, 400].map((lines) => {
      put.mockClear();
      const counts = Array.from({ length: lines }, (_, at) => `${at + 2} LET A=A+1`);
      expect(ranges(['1 LET A=0', ...counts].join('|')).named('A').high).toBe(Infinity);
      return put.mock.calls.length;
    });
    expect(worked[0]).toBeGreaterThan(100);
    expect(worked[1] / worked[0]).toBeLessThan(4.2);
  } finally {
    put.mockRestore();
  }
});
