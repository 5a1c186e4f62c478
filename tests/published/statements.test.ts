/**
 * Statements, as the ROM does them. Source: G. Wearmouth, "An Assembly Listing of the Operating
 * System" (2004), by routine and address in the name of each.
 */
import { describe, expect, test } from 'vitest';
import { readKeys } from '../../src/rehearsal/keys.js';
import { play, printed, reportOf, shows } from '../rehearsal/play.js';

const BIG = { ram: 16384 };

describe('reports', () => {
  test.each([
    ['AT drops the sign (08F5)', 'PRINT AT -1,-2;"X"', '0/10'],
    ['AT: row 22 (08F5)', 'PRINT AT 22,0;"X"', '5/10'],
    ['AT: row 23 (08F5)', 'PRINT AT 23,0;"X"', '5/10'],
    ['AT: row 24 (08F5)', 'PRINT AT 24,0;"X"', 'B/10'],
    ['AT: column 32 (08F5)', 'PRINT AT 0,32;"X"', 'B/10'],
    ['AT: the row is looked at first (08F5)', 'PRINT AT 22,40;"X"', '5/10'],
    ['LPRINT AT: row 22 (08F5)', 'LPRINT AT 22,0;"X"', '5/10'],
    ['LPRINT AT: row 24 (08F5)', 'LPRINT AT 24,0;"X"', 'B/10'],
    ['LPRINT AT: column 32 (08F5)', 'LPRINT AT 0,32;"X"', 'B/10'],
    ['TAB 255', 'PRINT TAB 255;"X"', '0/10'],
    ['TAB 256', 'PRINT TAB 256;"X"', 'B/10'],
    ['TAB below 0', 'PRINT TAB -1;"X"', 'B/10'],
    ['PLOT drops the sign', 'PLOT -63,-43', '0/10'],
    ['PLOT: x 64', 'PLOT 64,0', 'B/10'],
    ['PLOT: y 44', 'PLOT 0,44', 'B/10'],
    ['UNPLOT: x -64', 'UNPLOT -64,0', 'B/10'],
    ['POKE: value -255', 'POKE 16507,-255', '0/10'],
    ['POKE: value 256', 'POKE 16507,256', 'B/10'],
    ['POKE: address 65536', 'POKE 65536,0', 'B/10'],
    ['PEEK takes nothing below 0, however little', 'PRINT PEEK -.3', 'B/10'],
    ['RAND takes nothing below 0', 'RAND -.3', 'B/10'],
    ['PAUSE takes nothing below 0', 'PAUSE -.3', 'B/10'],
    ['CHR$ 256', 'PRINT CHR$ 256', 'B/10'],
    ['PAUSE 0 returns at once', 'PAUSE 0', '0/10'],
    ['GOTO 61439', 'GOTO 61439', '0/10'],
    ['GOTO 61440', 'GOTO 61440', 'B/10'],
    ['DIM: size 0 (141C)', 'DIM A(0)', '3/10'],
    ['DIM: size beyond 16K (141C)', 'DIM A(20000)', '3/10'],
    ['DIM: size below 0 (141C)', 'DIM A(-1)', 'B/10'],
    ['VAL of nothing', 'PRINT VAL ""', 'C/10'],
    ['VAL knows no operator of two signs', 'PRINT VAL ("2*"+"*3")', 'C/10'],
    ['VAL knows no operator of two signs', 'PRINT VAL ("1<"+"=3")', 'C/10'],
    ['VAL knows no operator of two signs', 'PRINT VAL ("1<"+">3")', 'C/10'],
    ['VAL knows the operator’s own code', 'PRINT VAL "2[**]3"', '0/10'],
    ['a negative number has no logarithm: A', 'PRINT (-2)**2', 'A/10'],
    ['0 to a negative power divides by 0', 'PRINT 0**-1', '6/10'],
    ['a comparison can overflow: it subtracts', 'PRINT 1E38>-1E38', '6/10'],
  ])('%s: %s', (_, statement, report) => {
    expect(reportOf(statement)).toBe(report);
  });
});

describe('numbers (1803, 0E5A)', () => {
  test('equality is a subtraction, and its order counts', () => {
    expect(shows('.5=1/2')).toBe('1');
    expect(shows('1/2=.5')).toBe('0');
    expect(shows('.25=1/4')).toBe('1');
    expect(shows('1/2<>.5')).toBe('1');
    expect(shows('.5<1/2')).toBe('1');
    expect(shows('1/2>.5')).toBe('1');
  });

  test('what is wanted whole: the literal .5 rounds to 0, and 1/2 to 1', () => {
    expect(shows('CODE CHR$ .5')).toBe('0');
    expect(shows('CODE CHR$ (1/2)')).toBe('1');
    expect(shows('INT (.1*10)')).toBe('0');
    expect(shows('INT (.57*100)')).toBe('56');
    expect(shows('INT SQR 361')).toBe('18');
  });

  test('RND: the seed that RAND 1 sets', () => {
    const seeds = [];
    for (let seed = 1, at = 0; at < 3; at++) {
      seed = ((75 * (seed + 1)) % 65537) - 1;
      seeds.push(seed);
    }
    const program = ['RAND 1', 'FOR N=1 TO 3', 'PRINT RND*65536', 'NEXT N'];
    expect(printed(program).map(Number)).toEqual(seeds);
  });
});

describe('PRINT and LPRINT', () => {
  test('a comma prints a space, and goes to the middle or the end of the row (0B8B)', () => {
    expect(printed(['PRINT "123456789012345","A"'], BIG)).toEqual(['123456789012345 A']);
    expect(printed(['PRINT "1234567890123456","A"'], BIG)).toEqual(['1234567890123456', 'A']);
    expect(printed(['PRINT "A",,"B"'], BIG)).toEqual(['A', 'B']);
    expect(printed(['PRINT "A",,,"B"'], BIG)).toEqual(['A', `${' '.repeat(16)}B`]);
  });

  test('a comma wipes what stood where its space goes', () => {
    expect(printed(['PRINT "ABC"', 'PRINT AT 0,0;"X",'], BIG)).toEqual(['X C']);
  });

  test('in the last row a comma does nothing until the next character', () => {
    expect(reportOf('PRINT AT 21,16;"A",')).toBe('0/10');
    expect(reportOf('PRINT AT 21,16;"A","B"')).toBe('5/10');
  });

  test('LPRINT: a comma’s row is sent with the next character; AT moves back, and sends nothing', () => {
    const rows = (statement: string): string[] =>
      play([statement], BIG).printer.map((row) =>
        Array.from(row, (code) => (code === 0 ? ' ' : String.fromCharCode(code + 27)))
          .join('')
          .trimEnd(),
      );
    expect(rows('LPRINT "A","B"')).toEqual([`A${' '.repeat(15)}B`]);
    expect(rows('LPRINT "A",,"B"')).toEqual(['A', 'B']);
    expect(rows('LPRINT "ABCDEFGHIJKLMNO","A"')).toEqual(['ABCDEFGHIJKLMNO A']);
    expect(rows('LPRINT "ABCDEFGHIJKLMNOP","A"')).toEqual(['ABCDEFGHIJKLMNOP', 'A']);
    expect(rows('LPRINT "ABC";AT 0,1;"X"')).toEqual(['AXC']);
  });

  test('LPRINT spoils the zeros behind a point, from the second on (15DB)', () => {
    const [row] = play(['LPRINT .00001'], BIG).printer;
    // .0XYZ1
    expect([...row.subarray(0, 6)]).toEqual([27, 28, 61, 62, 63, 29]);
  });

  test('STR$ within LPRINT prints, and gives an empty string', () => {
    const [row] = play(['LPRINT LEN STR$ 12345'], BIG).printer;
    expect([...row.subarray(0, 7)]).toEqual([29, 30, 31, 32, 33, 28, 0]);
  });

  test('the leading-space flag (FLAGS bit 0): printed spaces, AT and CLS leave it', () => {
    expect(shows('"A ";CHR$ 218;"B"')).toBe('A  AND B');
    expect(printed(['PRINT TAB 0;CHR$ 218'], BIG)).toEqual(['AND']);
    expect(printed(['PRINT "A";AT 2,0;CHR$ 218'], BIG)).toEqual(['A', '', ' AND']);
    expect(printed(['PRINT "A";', 'CLS', 'PRINT CHR$ 218'], BIG)).toEqual([' AND']);
    expect(printed(['PRINT "A"', 'PRINT CHR$ 218'], BIG)).toEqual(['A', 'AND']);
  });

  test('SCROLL leaves a bare end of line, which takes room when it is printed on (0C0E)', () => {
    const size = 'PEEK 16400+256*PEEK 16401-PEEK 16396-256*PEEK 16397';
    const lines = [`LET B=${size}`, 'SCROLL', `LET A=${size}`, 'PRINT B-A'];
    expect(printed(lines, BIG).at(-1)).toBe('32');
  });
});

describe('strings and arrays', () => {
  test('LET into a string of fixed length asks for as much again (137A)', () => {
    const room = (size: number) => play([`DIM A$(${size})`, 'LET A$="X"']).report;
    const fits = [...Array(900).keys()].filter((size) => size > 0 && room(size) === '0/20').length;
    const dims = [...Array(900).keys()].filter(
      (size) => size > 0 && play([`DIM A$(${size})`]).report === '0/10',
    ).length;
    expect(fits).toBeLessThan(dims / 2 + 20);
    expect(room(fits + 1)).toBe('4/20');
  });

  test('an empty slice returns at once', () => {
    expect(printed(['DIM A$(5)', 'LET A$(3 TO 2)="XY"', 'PRINT A$;"."'])).toEqual(['     .']);
  });

  test('the old array goes before the sizes are worked out (D-RUN 141C)', () => {
    expect(play(['DIM A(3)', 'LET A(1)=2', 'DIM A(A(1))'], BIG).report).toBe('2/30');
  });
});

describe('loops and jumps', () => {
  test('FOR without a pass goes on behind the first later line that begins with its NEXT', () => {
    const program = ['FOR N=2 TO 1', 'IF 1 THEN NEXT N', 'PRINT "A"', 'NEXT N', 'PRINT "B"'];
    expect(printed(program)).toEqual(['B']);
    expect(play(['FOR N=2 TO 1', 'PRINT "A"']).report).toBe('0/10');
  });

  test('RUN and CLEAR do not empty the GOSUB stack', () => {
    const program = ['GOSUB 30', 'STOP', 'CLEAR', 'RETURN'];
    expect(play(program).report).toBe('9/20');
  });

  test('D names the next line: PPC is set before BREAK is looked at (066C)', () => {
    const { report } = play(['PAUSE 200', 'PRINT "A"'], { keys: readKeys('50-400:SPACE') });
    expect(report).toBe('D/20');
  });

  test('the end of the program is tested first', () => {
    expect(play(['PAUSE 200'], { keys: readKeys('50-400:SPACE') }).report).toBe('0/10');
  });
});

describe('INPUT', () => {
  test('a quote within a string makes it an expression, or an error at the S cursor', () => {
    const ask = ['LET B$="O"', 'INPUT A$', 'PRINT A$'];
    expect(printed(ask, { inputs: ['L"+B$+"FT'] })).toEqual(['LOFT']);
    expect(play(ask, { inputs: ['A"B'] }).report).toBe('input/20');
  });

  test('STOP counts as the first character alone', () => {
    expect(play(['INPUT A'], { inputs: ['STOP'] }).report).toBe('D/10');
  });
});

test('a point alone is 0, and an exponent without digits counts nothing (15)', () => {
  expect(shows('VAL ".";" ";VAL "1E";" ";VAL "1E+"')).toBe('0 1 1');
});
