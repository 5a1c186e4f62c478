/**
 * The rehearsal against the manual: S. Vickers, "BASIC Programming" (1981), by chapter; all from
 * memory unless said otherwise.
 */
import { describe, expect, test } from 'vitest';
import { buildImage } from '../../src/image/build.js';
import { readListing } from '../../src/listing/read.js';
import { Halt } from '../../src/rehearsal/halt.js';
import { Keyboard } from '../../src/rehearsal/state/keys.js';
import { listProgram } from '../../src/rehearsal/state/list.js';
import { Model } from '../../src/rehearsal/state/model.js';
import { play, printed, reportOf, shows } from '../rehearsal/play.js';

describe('chapter 5: RND and RAND', () => {
  test('after RAND 1 the sequence starts .0022735596', () => {
    expect(printed(['RAND 1', 'PRINT RND'])).toEqual(['.0022735596']);
  });

  test('the sequence is the powers of 75 modulo 65537, less 1, over 65536', () => {
    const rows = printed(['RAND 1', 'FOR N=1 TO 20', 'PRINT RND*65536', 'NEXT N']);
    // 75, twice: RAND 1 stands for the power 2.
    let power = 2;
    for (const row of rows) {
      power = (power * 75) % 65537;
      expect(Number(row)).toBe(power - 1);
    }
    expect(rows).toHaveLength(20);
  });

  test('it comes to 0 just when the power is 1', () => {
    let steps = 0;
    for (let power = 2; power !== 1; power = (power * 75) % 65537) steps++;
    const lines = ['RAND 1', 'LET S=0', 'LET S=S+1', 'IF RND>0 THEN GOTO 30', 'PRINT S'];
    expect(printed(lines)).toEqual([String(steps)]);
  });
});

describe('chapters 5 and 27: numbers as they are printed', () => {
  test.each([
    ['1E13', '1E+13'],
    ['1E12', '1000000000000'],
    ['.00001', '.00001'],
    ['.000009', '9E-6'],
    ['4294967295', '4294967300'],
    ['2**31', '2147483600'],
    ['1E38', '1E+38'],
    ['1E-38', '1E-38'],
    ['1E0', '1'],
    ['100*1.23', '123'],
    ['1/7', '0.14285714'],
    ['1000000/7', '142857.14'],
  ])('%s is %s', (expression, text) => {
    expect(shows(expression)).toBe(text);
  });

  test('1E39 is more than a number can be', () => {
    expect(reportOf('PRINT 1E38*10')).toBe('6/10');
  });
});

describe('chapter 10: AND, OR and NOT', () => {
  test.each([
    ['1 AND 1', '1'],
    ['1 AND 0', '0'],
    ['0 AND 1', '0'],
    ['0 AND 0', '0'],
    ['1 OR 1', '1'],
    ['1 OR 0', '1'],
    ['0 OR 1', '1'],
    ['0 OR 0', '0'],
    ['NOT 1', '0'],
    ['NOT 0', '1'],
    // X AND Y is X if Y is not 0, else 0; X OR Y is 1 if Y is not 0, else X.
    ['7 AND -3', '7'],
    ['7 AND 0', '0'],
    ['7 OR -3', '1'],
    ['7 OR 0', '7'],
    ['"OAK" AND 2', 'OAK'],
    ['"OAK" AND 0', ''],
    ['NOT 1=2', '1'],
    ['1=1 AND 2=3 OR 4=4', '1'],
  ])('%s is %s', (expression, text) => {
    expect(shows(expression)).toBe(text);
  });
});

describe('chapter 11: FOR and NEXT', () => {
  test('the variable has passed its limit when the loop is done', () => {
    expect(printed(['FOR C=1 TO 5', 'PRINT C;', 'NEXT C', 'PRINT " ";C'])).toEqual(['12345 6']);
  });

  test('STEP may be a fraction, and may go down', () => {
    expect(printed(['FOR C=1 TO 2 STEP .25', 'PRINT C;" ";', 'NEXT C'])).toEqual([
      '1 1.25 1.5 1.75 2',
    ]);
    expect(printed(['FOR C=5 TO 1 STEP -2', 'PRINT C;', 'NEXT C'])).toEqual(['531']);
  });

  test('a loop whose limit is passed at the start is not run', () => {
    expect(printed(['FOR C=2 TO 1', 'PRINT "NEVER"', 'NEXT C', 'PRINT C'])).toEqual(['2']);
  });

  test('NEXT without FOR: report 2 without the variable, report 1 with a plain one', () => {
    expect(reportOf('NEXT C')).toBe('2/10');
    expect(play(['LET C=1', 'NEXT C']).report).toBe('1/20');
  });
});

describe('chapter 21: slices', () => {
  test.each([
    ['"ABCDEF"(2 TO 5)', 'BCDE'],
    ['"ABCDEF"( TO 5)', 'ABCDE'],
    ['"ABCDEF"(2 TO )', 'BCDEF'],
    ['"ABCDEF"( TO )', 'ABCDEF'],
    ['"ABCDEF"(3)', 'C'],
    ['"ABCDEF"(5 TO 4)', ''],
  ])('%s is %s', (expression, text) => {
    expect(shows(expression)).toBe(text);
  });

  test('a slice beyond the string is report 3', () => {
    expect(reportOf('PRINT "ABCDEF"(5 TO 7)')).toBe('3/10');
  });

  test('a value that is put into a slice is cut or filled up to it', () => {
    expect(
      printed([
        'LET A$="12345"',
        'LET A$(2 TO 4)="XY"',
        'PRINT A$',
        'LET A$(1)="LONG"',
        'PRINT A$',
      ]),
    ).toEqual(['1XY 5', 'LXY 5']);
  });
});

describe('chapter 23: what happens when the machine gets full', () => {
  /** With an array of 150 numbers in 1K: which lines the listing shows, from one on, before report 4. */
  function listed(lines: readonly string[], from: number): string[] {
    const array = `.var A(150) = ${new Array(150).fill(0).join(',')}`;
    const { listing } = readListing([...lines, array].join('\n'));
    const { image } = buildImage(listing, { ram: 1024 });
    const model = new Model({
      image: image!,
      ram: 1024,
      keyboard: new Keyboard([]),
      inputs: [],
    });
    model.screen.clear();
    const full: string[] = [];
    try {
      listProgram(model.memory, model.screen, from, (number) => full.push(String(number)));
    } catch (error) {
      expect(error).toBeInstanceOf(Halt);
      expect((error as Halt).end.code).toBe('4');
    }
    return full;
  }
  const FOR = '10 FOR N=1 TO 15';
  const PRINT = '20 PRINT N';
  const NEXT = '30 NEXT N';

  test('with two lines typed there is room to list either, and not both', () => {
    expect(listed([FOR, PRINT], 20)).toEqual(['20']);
    expect(listed([FOR, PRINT], 10)).toEqual(['10']);
  });

  test('with the third line there is room for line 30 alone', () => {
    expect(listed([FOR, PRINT, NEXT], 30)).toEqual(['30']);
    expect(listed([FOR, PRINT, NEXT], 20)).not.toContain('30');
    expect(listed([FOR, PRINT, NEXT], 10)).toEqual([]);
  });
});

describe('chapters 26 to 28: memory', () => {
  test('RAMTOP is 17408 with 1K and 32768 with 16K', () => {
    const top = 'PEEK 16388+256*PEEK 16389';
    expect(shows(top, { ram: 1024 })).toBe('17408');
    expect(shows(top, { ram: 16384 })).toBe('32768');
  });

  test('the first character of the display stands one past D_FILE', () => {
    const corner = 'PRINT PEEK (PEEK 16396+256*PEEK 16397+1)';
    for (const ram of [1024, 16384]) {
      expect(printed(['PRINT "OAK"', corner], { ram })).toEqual(['OAK', '52']);
    }
  });

  test('a display is 25 NEWLINEs below 3¼K, 24 rows of 33 and one above', () => {
    const size = 'PEEK 16400+256*PEEK 16401-PEEK 16396-256*PEEK 16397';
    expect(shows(size, { ram: 3072 })).toBe('25');
    expect(shows(size, { ram: 4096 })).toBe(String(24 * 33 + 1));
  });
});

describe('Appendix B: reports', () => {
  test.each([
    ['0', ['PRINT']],
    ['1', ['LET N=1', 'NEXT N']],
    ['2', ['PRINT N']],
    ['3', ['DIM A(2)', 'PRINT A(3)']],
    ['4', ['DIM A(1000)']],
    ['5', ['PRINT AT 22,0']],
    ['6', ['PRINT 1/0']],
    ['7', ['RETURN']],
    ['9', ['STOP']],
    ['A', ['PRINT SQR -1']],
    ['B', ['PRINT CHR$ 300']],
    ['C', ['PRINT VAL "1+"']],
    ['F', ['SAVE ""']],
  ])('report %s', (code, lines) => {
    expect(play(lines).report).toBe(`${code}/${10 * lines.length}`);
  });
});
