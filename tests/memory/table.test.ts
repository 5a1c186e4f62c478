/** The budget's tables, of budgets written down here: what stands in each column. */
import { describe, expect, it } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { boundsText, budgetTable, roomText } from '../../src/memory/table.js';
import { type Basis, room } from '../../src/memory/verdict.js';
import { budget } from './written-budget.js';

const OPEN = Number.POSITIVE_INFINITY;
const { listing } = readListing(
  `10 LET A=1\n20 PRINT "${'X'.repeat(60)}"\n30 RUN\n40 PRINT "${'Y'.repeat(32)}"\n`,
);

const rows = (...of: Parameters<typeof budgetTable>) => budgetTable(...of).split('\n');

describe('the table of areas', () => {
  it('has a row for each, with a bar of 28 cells for the whole RAM', () => {
    expect(rows(budget(), listing).slice(0, 8)).toEqual([
      'area                   from  least     most',
      'system variables      16384    125      125  ████',
      'program               16509    100      100  ███',
      'display               16609     25       60  █░',
      'variables             16634      6      400  █░░░░░░░░░░',
      'workspace             16640      0        1  ░',
      'together                       256      686',
      'RAM 1000                               1000',
    ]);
  });

  it('says what does not stand there at once, and where nothing bounds a size', () => {
    const apart = { ...budget(), runs: { ...budget().runs, high: 600 } };
    expect(rows(apart, listing)[6]).toBe('not all at once                         -86');
    const open = rows(budget(undefined, OPEN), listing);
    expect(open[4]).toBe(`variables             16634      6 no bound  █${'░'.repeat(27)}`);
    expect(open[6]).toBe('together                       256 no bound');
  });

  it('has the widest first on request, by the most', () => {
    const names = rows(budget(), listing, 'area')
      .slice(1, 6)
      .map((row) => row.split('  ')[0]);
    expect(names).toEqual(['variables', 'system variables', 'program', 'display', 'workspace']);
  });
});

describe('the table of lines', () => {
  it('has the longest first, their hidden bytes and their text cut to 40 columns', () => {
    expect(rows(budget(), listing, 'line').slice(0, 6)).toEqual([
      ' line   bytes  hidden',
      `   20      68       0  ${'█'.repeat(28)}  PRINT "${'X'.repeat(32)}…`,
      `   40      39       0  ${'█'.repeat(16)}${' '.repeat(12)}  PRINT "${'Y'.repeat(32)}"`,
      `   10      15       6  ${'█'.repeat(6)}${' '.repeat(22)}  LET A=1`,
      `   30       6       0  ${'█'.repeat(2)}${' '.repeat(26)}  RUN`,
      '  all     128       6',
    ]);
  });

  it('shows so many, and counts the rest', () => {
    const shown = rows(budget(), listing, 'line', 3);
    expect(shown[4]).toBe('  and 1 more; --all shows them');
    expect(shown[5]).toBe('  all     128       6');
    expect(rows(budget(), listing, 'line', 4)[4]).toMatch(/^ {3}30/);
    expect(rows(budget(), listing, 'line', 4)[5]).toBe('  all     128       6');
  });

  it('has lines of one length in their order', () => {
    const same = budget().lines.map((line) => ({ ...line, bytes: 9 }));
    const shown = rows({ ...budget(), lines: same }, listing, 'line');
    expect(shown.slice(1, 5).map((row) => row.slice(0, 5))).toEqual([
      '   10',
      '   20',
      '   30',
      '   40',
    ]);
  });

  it('of no lines has none', () => {
    const none = rows({ ...budget(), lines: [] }, listing, 'line');
    expect(none.slice(0, 2)).toEqual([' line   bytes  hidden', '  all       0       0']);
  });
});

describe('the table of variables', () => {
  it('has the widest first, with bars against the widest', () => {
    expect(rows(budget(), listing, 'variable').slice(0, 4)).toEqual([
      'variable      least      most   line',
      `C()               0       250      –  ${'░'.repeat(28)}`,
      `B$                3       103     20  █${'░'.repeat(11)}`,
      'A                 6         6     10  █',
    ]);
    expect(rows(budget(), listing, 'variable', 1)[2]).toBe('  and 2 more; --all shows them');
    const none = rows({ ...budget(), variables: [] }, listing, 'variable');
    expect(none.slice(0, 2)).toEqual(['variable      least      most   line', '']);
  });
});

describe('under the table', () => {
  const told = (basis: Basis, high?: number) => {
    const shown = rows(budget(basis, high), listing);
    return shown.slice(shown.indexOf('') + 1);
  };

  it('stand what loading and running need, the verdict, and what is loose, the loosest first', () => {
    expect(told({ on: 'bounds' })).toEqual([
      'loads: fits, 650 bytes to spare (needs 300 to 350 of 1000)',
      'runs : fits, 314 bytes to spare (needs 256 to 686 of 1000)',
      '',
      'runs in 1000, 314 bytes to spare',
      '  by the bounds above, whatever the run brings',
      '',
      'least and most differ, the loosest first:',
      '  variables 6 to 400 (line 10): it hangs on the run',
      '    C() 0 to 250',
      '    B$ 3 to 103 (line 20): its length hangs on the run',
      '  display 25 to 60 (line 20): it is printed',
    ]);
  });

  it('stands what the verdict rests on', () => {
    const basis = (of: Basis, high?: number) => told(of, high)[4];
    const ran = { on: 'rehearsal', whole: true, line: 30 } as const;
    expect(basis({ on: 'bounds' }, OPEN)).toBe('  the bounds above leave it open');
    expect(basis({ ...ran, alike: true })).toBe(
      '  the bounds leave it open; by a rehearsal, and each run does the same',
    );
    expect(basis({ ...ran, seeds: 20 })).toBe(
      '  the bounds leave it open; by 20 rehearsals to the end, each with other lots drawn by RND',
    );
    expect(basis(ran)).toBe(
      '  by a rehearsal to its end; a run that is given something else may need more',
    );
    expect(basis({ ...ran, whole: false })).toBe(
      '  by a rehearsal that did not come to its end: what follows may need more',
    );
  });

  it('stands nothing of what is loose where nothing is', () => {
    const areas = budget().areas.map(({ why: _, ...area }) => area);
    const shown = rows({ ...budget(), areas }, listing);
    expect(shown.at(-1)).toBe('  by the bounds above, whatever the run brings');
  });

  it('stands one loose variable with its area alone, and of many six', () => {
    const one = rows({ ...budget(), variables: budget().variables.slice(0, 2) }, listing);
    const at = one.findIndex((row) => row.startsWith('  variables 6 to 400'));
    expect(one[at + 1]).toBe('  display 25 to 60 (line 20): it is printed');
    const many = Array.from({ length: 8 }, (_, at) => ({ name: `N${at}`, low: 0, high: 10 + at }));
    const shown = rows({ ...budget(), variables: many }, listing).filter((row) =>
      /^ {4}/.test(row),
    );
    expect(shown).toEqual([
      '    N7 0 to 17',
      '    N6 0 to 16',
      '    N5 0 to 15',
      '    N4 0 to 14',
      '    N3 0 to 13',
      '    N2 0 to 12',
      '    and 2 more variables',
    ]);
    const six = rows({ ...budget(), variables: many.slice(0, 6) }, listing);
    expect(six.join('\n')).not.toContain('more variable');
  });
});

it('room is told at its worst, or at its best and its worst where it is tight', () => {
  const told = (low: number, high: number) => roomText('runs', room(1000, { low, high }), 1000);
  expect(told(990, 999)).toBe('runs : fits, 1 byte to spare (needs 990 to 999 of 1000)');
  expect(told(1001, 1001)).toBe('runs : does not fit, 1 byte over (needs 1001 of 1000)');
  expect(told(1002, 1003)).toBe(
    'runs : does not fit, at least 2 bytes over (needs 1002 to 1003 of 1000)',
  );
  expect(told(990, 1003)).toBe(
    'runs : tight, 10 bytes to spare at best, 3 bytes over at worst (needs 990 to 1003 of 1000)',
  );
  expect(told(990, OPEN)).toBe(
    'runs : tight, 10 bytes to spare at best, no bound at worst (needs 990 to no bound of 1000)',
  );
  expect(boundsText(5, 5)).toBe('5');
});
