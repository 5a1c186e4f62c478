import { applyPatch } from 'diff';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changesBetween, patchOf, rowsOf } from '../../src/listing/changes.js';

const applied = (before: string[], after: string[]): string[] => {
  const rows: string[] = [];
  let at = 0;
  for (const change of changesBetween(before, after)) {
    rows.push(...before.slice(at, change.before.start));
    rows.push(...after.slice(change.after.start, change.after.end));
    at = change.before.end;
  }
  return rows.concat(before.slice(at));
};

describe('what changed between two texts', () => {
  it('is the rows that did, and no others', () => {
    const before = rowsOf("10 CLS\n' why\n20 LET A=0\n30 STOP\n");
    const after = rowsOf("10 CLS\n' why\n20 LET A=NOT PI\n30 STOP\n");
    expect(changesBetween(before, after)).toEqual([
      { before: { start: 2, end: 3 }, after: { start: 2, end: 3 } },
    ]);
  });

  it('leaves a comment in peace whose line went', () => {
    expect(patchOf('a.bas', "' why\n10 REM\n20 CLS\n", "' why\n20 CLS\n")).toBe(
      'Index: a.bas\n===================================================================\n' +
        '--- a.bas\tbefore\n+++ a.bas\tafter\n@@ -2,1 +1,0 @@\n-10 REM\n',
    );
  });

  it('is told side by side where more changed than is looked at closely', () => {
    const rows = (value: string) =>
      Array.from({ length: 9000 }, (_, at) => `${at + 1} LET A=${value}\n`);
    const [before, after] = [rows('0'), rows('NOT PI')];
    const changes = changesBetween(before, after);
    expect(changes).toHaveLength(9000);
    expect(changes.every(({ before: { start, end } }) => end === start + 1)).toBe(true);
    expect(patchOf('a', before.join(''), after.join(''))).toContain(
      '-7 LET A=0\n+7 LET A=NOT PI\n-8 LET A=0\n+8 LET A=NOT PI\n',
    );
  });

  it('leads from the one to the other, whatever they are', () => {
    const row = fc.oneof(
      fc.constantFrom('', "' a", '.var X=1', '5', '  CLS'),
      fc.tuple(fc.nat(40), fc.constantFrom(' CLS', ' STOP', '')).map(([at, rest]) => at + rest),
    );
    const rows = fc.oneof(
      fc.array(row, { maxLength: 30 }),
      fc.array(row, { minLength: 101, maxLength: 150 }),
    );
    fc.assert(
      fc.property(rows, rows, fc.boolean(), fc.boolean(), (one, other, isOpenA, isOpenB) => {
        const text = (list: string[], isOpen: boolean): string =>
          list.join('\n') + (isOpen ? '' : '\n');
        const [before, after] = [text(one, isOpenA), text(other, isOpenB)];
        expect(applied(rowsOf(before), rowsOf(after)).join('')).toBe(after);
        const patch = patchOf('a', before, after);
        if (before === after) expect(patch).toBe('');
        else expect(applyPatch(before, patch)).toBe(after);
      }),
      { seed: 19, numRuns: process.env.FUZZ ? 20_000 : 60 },
    );
  });
});
