import { describe, expect, test, vi } from 'vitest';
import { Memory } from '../../src/rehearsal/state/memory.js';
import { play, printed, reportOf } from './play.js';

/** Bytes from D_FILE to VARS. */
const DISPLAY_SIZE = 'PRINT PEEK 16400+256*PEEK 16401-PEEK 16396-256*PEEK 16397';

describe('PRINT', () => {
  test('items follow one another, go to a half, or to a column', () => {
    expect(
      printed([
        'PRINT "A";"B","C"',
        'PRINT 1,2,3',
        'PRINT "A";TAB 5;"B";TAB 37;"C"',
        'PRINT "ABCDEFGHIJKLMNOPQ","X"',
        'PRINT ,"Y"',
        'PRINT',
        'PRINT "Z";',
        'PRINT "Z"',
      ]),
    ).toEqual([
      'AB              C',
      '1               2',
      '3',
      'A    B',
      '     C',
      'ABCDEFGHIJKLMNOPQ',
      'X',
      '                Y',
      '',
      'ZZ',
    ]);
  });

  test.each([
    [14, 16, 0],
    [15, 16, 0],
    [16, 0, 1],
    [17, 0, 1],
    [31, 0, 1],
    [32, 16, 1],
  ])('after %i characters a comma leads to column %i, %i rows down', (size, column, down) => {
    const text = 'O'.repeat(size);
    const [first, second] = printed([`PRINT "${text}","X"`], { ram: 16384 });
    expect(down === 0 ? first : second).toBe(
      down === 0 ? `${text.padEnd(column)}X` : `${' '.repeat(column)}X`,
    );
    if (down === 1) expect(first).toBe(text);
  });

  test('a row that is full goes on in the next, and a row of 32 takes one newline', () => {
    const full = 'A'.repeat(32);
    expect(printed([`PRINT "${full}B"`, `PRINT "${full}"`, 'PRINT "C"'])).toEqual([
      full,
      'B',
      full,
      'C',
    ]);
  });

  test('AT goes anywhere on the 22 rows', () => {
    expect(
      printed(['PRINT AT 1,3;"X";AT 0,31;"Y";AT 21,0;"Z"', 'PRINT AT 1,2;"WV"'], { ram: 16384 }),
    ).toEqual([`${' '.repeat(31)}Y`, '  WV', ...new Array(19).fill(''), 'Z']);
  });

  test.each([
    ['PRINT AT 22,0;"X"', '5/10'],
    ['PRINT AT 24,0;"X"', 'B/10'],
    ['PRINT AT 0,32;"X"', 'B/10'],
    ['PRINT AT 300,0', 'B/10'],
    ['PRINT TAB 256', 'B/10'],
    ['PRINT TAB -1', 'B/10'],
    ['PRINT AT 21,31;"XY"', '5/10'],
    ['PRINT AT 21,20;"X",', '0/10'],
    ['PRINT AT 21,20;"X","Y"', '5/10'],
    ['PRINT AT 21,20;TAB 3;"X"', '5/10'],
    ['PRINT AT 21,0;"X"', '0/10'],
  ])('%s ends with %s', (statement, report) => {
    expect(reportOf(statement)).toBe(report);
    expect(reportOf(statement, { ram: 2048 })).toBe(report);
  });

  test('22 rows can be printed, the 23rd is report 5', () => {
    const { report, rows } = play(['FOR N=1 TO 30', 'PRINT N', 'NEXT N']);
    expect(report).toBe('5/20');
    expect(rows).toHaveLength(22);
    expect(rows[21]).toBe('22');
  });

  // The report stands in the 24th.
  test('with DF_SZ at 0 the last two rows can be printed too', () => {
    const { report, rows } = play(['POKE 16418,0', 'FOR N=1 TO 30', 'PRINT N', 'NEXT N'], {
      ram: 16384,
    });
    expect([report, rows.length]).toEqual(['5/30', 23]);
  });

  test('keywords are printed in full, with their spaces', () => {
    expect(printed(['PRINT CHR$ 245;CHR$ 222;"X";CHR$ 217;"Y";CHR$ 64'])).toEqual([
      'PRINT THEN X OR YRND',
    ]);
  });
});

describe('the display file', () => {
  test('is 25 bytes below 3¼K, and grows by what is printed', () => {
    expect(printed([DISPLAY_SIZE])).toEqual(['25']);
    expect(printed(['PRINT "ABC"', DISPLAY_SIZE])).toEqual(['ABC', '28']);
    expect(printed(['PRINT AT 5,4;"X"', DISPLAY_SIZE]).at(-1)).toBe('30');
    expect(printed(['PRINT "ABC"', 'CLS', DISPLAY_SIZE])).toEqual(['25']);
  });

  test('is 793 bytes from 3¼K up, and stays so', () => {
    expect(printed([DISPLAY_SIZE], { ram: 4096 })).toEqual(['793']);
    expect(printed(['PRINT "ABC"', 'CLS', DISPLAY_SIZE], { ram: 16384 })).toEqual(['793']);
    expect(printed([DISPLAY_SIZE], { ram: 3072 })).toEqual(['25']);
  });

  test('a lower RAMTOP makes CLS collapse it', () => {
    expect(printed(['POKE 16389,76', 'CLS', DISPLAY_SIZE], { ram: 16384 })).toEqual(['25']);
  });

  test('a full display that has no room is report 4', () => {
    expect(play(['DIM A(100)', 'POKE 16389,127', 'CLS']).report).toBe('4/30');
  });

  test('can be poked where characters stand, and read', () => {
    expect(
      printed([
        'PRINT "ABC"',
        'LET D=PEEK 16396+256*PEEK 16397',
        'POKE D+2,63',
        'PRINT PEEK (D+1)',
      ]),
    ).toEqual(['AZC', '38']);
  });

  test('with an end of a row poked away, printing there is given up', () => {
    const lost = ['LET D=PEEK 16396+256*PEEK 16397', 'POKE D+1,0', 'PRINT AT 0,0;"X"'];
    expect(play(lost).report).toBe('memory/30');
  });

  test('DF_CC may be poked to a place in the display, not to one outside', () => {
    const place = 'LET D=PEEK 16396+256*PEEK 16397+100';
    const poke = ['POKE 16399,INT (D/256)', 'POKE 16398,D-256*INT (D/256)', 'PRINT "X";'];
    expect(printed([place, ...poke], { ram: 16384 })[3]).toBe('X');
    expect(play([place, 'POKE 16399,100'], { ram: 16384 }).report).toBe('memory/20');
  });
});

describe('SCROLL', () => {
  test('takes the top row away and prints at the bottom', () => {
    const rows = printed(['FOR N=1 TO 25', 'SCROLL', 'PRINT N', 'NEXT N']);
    expect(rows[0]).toBe('4');
    expect(rows[21]).toBe('25');
  });

  test('leaves a short row, with much memory too', () => {
    expect(printed(['SCROLL', DISPLAY_SIZE], { ram: 16384 })[21]).toBe('761');
  });

  test('lets printing go on for ever', () => {
    expect(play(['SCROLL', 'PRINT "LONG LINE ";', 'GOTO 10'], { statements: 3000 }).report).toMatch(
      /^limit/,
    );
  });
});

describe('PLOT and UNPLOT', () => {
  test('light quarters, counted from the bottom left', () => {
    const rows = printed(['PLOT 0,0', 'PLOT 3,1', 'PLOT 63,43', 'PLOT 0,43', 'PLOT 1,42'], {
      ram: 16384,
    });
    expect(rows[21]).toBe('▖▝');
    expect(rows[0]).toBe(`▚${' '.repeat(30)}▝`);
  });

  test('UNPLOT puts out what PLOT lit', () => {
    expect(
      printed([
        'FOR X=0 TO 3',
        'PLOT X,42',
        'PLOT X,43',
        'NEXT X',
        'UNPLOT 0,43',
        'UNPLOT 3,42',
      ])[0],
    ).toBe('▟▛');
  });

  test('a letter in the way goes', () => {
    expect(printed(['PRINT AT 0,0;"A"', 'PLOT 0,43'])[0]).toBe('▘');
  });

  test('leaves COORDS, and the place of printing after the block', () => {
    expect(printed(['PLOT 4,41', 'PRINT "X";PEEK 16438;PEEK 16439'])[1]).toBe('  ▘X441');
  });

  test.each([
    ['PLOT 64,0', 'B/10'],
    ['PLOT 0,44', 'B/10'],
    ['PLOT 256,0', 'B/10'],
    ['UNPLOT 0,300', 'B/10'],
    ['PLOT 63,43', '0/10'],
  ])('%s ends with %s', (statement, report) => {
    expect(reportOf(statement)).toBe(report);
  });
});

describe('LIST', () => {
  const program = [
    '1 LIST 5',
    '2 STOP',
    '5 REM A▘[~B]""[SIN]',
    '10 IF A=VAL "3" THEN GOTO 10',
    '20 LET B=NOT C',
    '9999 PRINT A$( TO 5);""',
  ].join('\n');

  test('shows the program with its spaces, without the hidden numbers', () => {
    const { rows } = play(program, { ram: 16384 });
    expect(rows).toEqual([
      '   5>REM A▘B""SIN',
      '  10 IF A=VAL "3" THEN GOTO 10',
      '  20 LET B=NOT C',
      '9999 PRINT A$( TO 5);""',
    ]);
  });

  test('the line it begins with has the cursor, in inverse video', () => {
    expect(play(program, { ram: 16384 }).screen[0][4]).toBe(18 + 128);
    expect(play(program.replace('LIST 5', 'LIST 6'), { ram: 16384 }).screen[0][4]).toBe(0);
  });

  test('that is longer than the screen is report 5', () => {
    const lines = Array.from({ length: 30 }, (_, index) => (index === 0 ? 'LIST' : 'REM'));
    const { report, rows } = play(lines, { ram: 16384 });
    expect([report, rows.length]).toEqual(['5/10', 22]);
  });
});

describe('LPRINT, LLIST and COPY', () => {
  const strip = (lines: readonly string[]): string[] =>
    play(lines, { ram: 16384 }).printer.map((row) =>
      [...row]
        .map((code) => (code === 0 ? ' ' : String.fromCharCode(code + 27)))
        .join('')
        .trimEnd(),
    );

  test('print on a strip of 32 columns', () => {
    expect(
      strip(['LPRINT "A";TAB 4;"B","C"', `LPRINT "${'D'.repeat(33)}"`, 'LPRINT "E";']),
    ).toEqual(['A   B           C', 'D'.repeat(32), 'D', 'E']);
  });

  test('LLIST prints the program, COPY 22 rows of the screen', () => {
    expect(play(['LLIST', 'PRINT "HELLO"', 'COPY'], { ram: 16384 }).printer).toHaveLength(3 + 22);
  });

  test('PR_CC counts in the buffer', () => {
    expect(printed(['LPRINT "ABC";', 'PRINT PEEK 16440;" ";PEEK 16446'])).toEqual(['191 40']);
    expect(printed(['LPRINT "ABC"', 'PRINT PEEK 16440;" ";PEEK 16446'])).toEqual(['188 0']);
  });

  test('an endless strip stops growing', () => {
    const { printer } = play(['LPRINT', 'GOTO 10'], { statements: 30_000 });
    expect(printer.length).toBeLessThanOrEqual(10_000);
  });

  test('COPY reads the screen no more once the strip is full', () => {
    const read = vi.spyOn(Memory.prototype, 'displayRows');
    const { printer } = play(['COPY', 'GOTO 10'], { statements: 30_000 });
    expect(printer).toHaveLength(10_000);
    expect(read.mock.calls.length).toBeLessThan(500);
    read.mockRestore();
  });
});
