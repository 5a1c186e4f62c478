/**
 * Statements, as the ROM does them. Source: G. Wearmouth, "An Assembly Listing of the Operating
 * System" (2004), by routine and address in the name of each.
 */
import { describe, expect, test } from 'vitest';
import { buildImage } from '../../src/image/build.js';
import { readListing } from '../../src/listing/read.js';
import { IMAGE_START } from '../../src/machine/memory-map.js';
import { addressOf } from '../../src/machine/system-variables.js';
import { readKeys } from '../../src/rehearsal/state/keys.js';
import type { Model } from '../../src/rehearsal/state/model.js';
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
    ['USR takes nothing below 0', 'PRINT USR -.3', 'B/10'],
    ['CHR$ takes nothing below 0', 'PRINT CHR$ -.3', 'B/10'],
    ['POKE: an address below 0', 'POKE -.3,0', 'B/10'],
    ['POKE: value -256', 'POKE 16507,-256', 'B/10'],
    ['PLOT drops the sign of -.3 too', 'PLOT -.3,-.3', '0/10'],
    ['POKE: value -.3', 'POKE 16507,-.3', '0/10'],
    ['PAUSE 65535 waits for a key', 'PAUSE 65535', 'key/10'],
    ['PAUSE 65536', 'PAUSE 65536', 'B/10'],
    ['RAND 65536', 'RAND 65536', 'B/10'],
    ['USR 65536', 'PRINT USR 65536', 'B/10'],
    ['LPRINT AT: row 23 (08F5)', 'LPRINT AT 23,0;"X"', '5/10'],
    ['LPRINT AT: row 21 is not used (08F5)', 'LPRINT AT 21,0;"X"', '0/10'],
    ['GOSUB 61440', 'GOSUB 61440', 'B/10'],
    ['RUN 61440', 'RUN 61440', 'B/10'],
    ['DIM: the largest size (141C)', 'DIM A$(10000)', '0/10'],
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

  test('the leading-space flag: TAB, a comma, a keyword’s own space and a listed line set it', () => {
    expect(printed(['PRINT "A",CHR$ 218'], BIG)).toEqual([`A${' '.repeat(15)}AND`]);
    expect(shows('"A";TAB 5;CHR$ 218')).toBe('A    AND');
    expect(shows('CHR$ 222;CHR$ 218')).toBe('THEN AND');
    expect(shows('"A";CHR$ 218;CHR$ 222')).toBe('A AND THEN');
    expect(printed(['LIST', 'REM'], BIG)).toEqual(['  10 LIST', '  20 REM']);
    expect(printed(['PRINT "A";', 'SCROLL', 'PRINT CHR$ 218'], BIG)).toEqual(
      expect.arrayContaining([' AND']),
    );
  });

  test('SCROLL puts the place of printing at row 21, column 0 (0C0E)', () => {
    const rows = printed(['PRINT AT 5,5;"A"', 'SCROLL', 'PRINT "B"'], BIG);
    expect(rows).toHaveLength(22);
    expect([rows[4], rows[21]]).toEqual(['     A', 'B']);
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

  test('LET of a plain string needs its new length and 3 while the old one stands (13CE)', () => {
    const least = (length: number): number => {
      const long = `LET A$="${'X'.repeat(length)}"`;
      return play([long, long], BIG).peak.sizes.variables;
    };
    expect(least(40) - least(30)).toBe(20);
    expect(least(30)).toBe(1 + 2 * 33);
  });

  test('VAL holds its text and 1, and 6 for each literal, until the statement ends', () => {
    const held = (statement: string) => play([statement], BIG).most.workspace;
    expect(held('PRINT VAL "12"')).toBe(3 + 6);
    expect(held('PRINT VAL "1+.5"')).toBe(5 + 12);
    expect(held('PRINT VAL "[PI]"')).toBe(1 + 1);
    expect(held('PRINT VAL "12"+VAL "12"')).toBe(2 * 9);
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

  test('NEXT ends above the limit, or below it where the step is negative (0E5A)', () => {
    const counts = (from: string) =>
      printed([from, 'PRINT N;" ";', 'NEXT N', 'PRINT N']).join('').trim();
    expect(counts('FOR N=1 TO 3')).toBe('1 2 3 4');
    expect(counts('FOR N=3 TO 1 STEP -1')).toBe('3 2 1 0');
    expect(counts('FOR N=1 TO 2 STEP .5')).toBe('1 1.5 2 2.5');
    expect(play(['FOR N=1 TO 1 STEP 0', 'NEXT N'], { statements: 500 }).report).toBe('limit/20');
    expect(play(['FOR N=2 TO 1 STEP 0', 'STOP', 'NEXT N', 'PRINT "A"']).rows).toEqual(['A']);
  });

  test('FOR makes 6 bytes and then 12 more; where these are not there, the letter stays marked', () => {
    let model: Model | undefined;
    const firsts: number[] = [];
    for (let size = 690; size < 760; size++) {
      const { report } = play([`DIM A$(${size})`, 'FOR N=1 TO 2', 'NEXT N'], {
        inspect: (seen) => {
          model = seen;
        },
      });
      if (report !== '4/20') continue;
      const { memory } = model!;
      firsts.push(memory.bytes[memory.eLine - 7]);
    }
    // N is 19 in the letters from 0: 011 is a number, 111 a loop's variable.
    expect(firsts.filter((first) => first === 0b111_10011).length).toBe(12);
  });

  test('GOSUB holds 2 bytes', () => {
    const held: number[] = [];
    play(['GOSUB 20', 'GOSUB 30', 'STOP'], {
      inspect: ({ memory }) => {
        held.push(memory.sizes()['GOSUB stack']);
      },
    });
    expect(held).toEqual([2, 4]);
  });

  test('CONT: after STOP the next line, after others the line reported (06AE)', () => {
    const stops = ['PRINT "A"', 'STOP', 'PRINT "B"', 'STOP', 'PRINT "C"'];
    expect(play(stops, { conts: 1 })).toMatchObject({ report: '9/40', rows: ['B'] });
    expect(play(stops, { conts: 2 })).toMatchObject({ report: '0/50', rows: ['C'] });
    // The display is cleared first, so that what had no room on it has.
    const full = ['FOR N=1 TO 30', 'PRINT N', 'NEXT N', 'PRINT "END"'];
    expect(play(full, BIG).report).toBe('5/20');
    expect(play(full, { ...BIG, conts: 1 }).rows).toEqual([
      ...Array.from({ length: 8 }, (_, at) => String(23 + at)),
      'END',
    ]);
    expect(play(['LET A=1', 'PRINT 1/0'], { conts: 3 }).report).toBe('6/20');
  });

  test('CONT: after 0 the same line, and behind the last line nothing', () => {
    const { statements, report } = play(['LET A=1', 'LET A=2'], { conts: 1 });
    expect([statements, report]).toEqual([3, '0/20']);
    expect(play(['STOP'], { conts: 1 }).report).toBe('0/0');
  });

  test('CONT: after D the line reported, which is still to be run', () => {
    const broken = ['PAUSE 200', 'PRINT "A"'];
    expect(play(broken, { keys: readKeys('50-400:SPACE'), conts: 1 }).report).toBe('D/20');
    const asked = play(['INPUT A', 'PRINT A'], { inputs: ['STOP', '5'], conts: 1 });
    expect(asked).toMatchObject({ report: '0/20', rows: ['5'] });
  });

  test('GOSUB’s returns outlast a report and CONT', () => {
    const program = ['GOSUB 40', 'PRINT "A"', 'STOP', 'STOP', 'RETURN'];
    expect(play(program, { conts: 1 })).toMatchObject({ report: '9/30', rows: ['A'] });
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

  test('takes 2 bytes for a number, 4 for a string, besides what is typed', () => {
    const held = (statement: string, typed: string) =>
      play([statement], { inputs: [typed] }).most.workspace;
    expect(held('INPUT A$', 'OAK')).toBe(3 + 4);
    // A number has its five bytes and their marker put in behind it, too.
    expect(held('INPUT A', '123')).toBe(3 + 2 + 6);
    expect(held('INPUT A', 'PI')).toBe(2 + 2);
  });

  test('spaces within a name and a number are skipped (111C, 132E)', () => {
    expect(play(['INPUT A'], { inputs: ['OAK TREE 5'] }).report).toBe('2/10');
    const ask = ['LET HIGHSCORE=40', 'INPUT A', 'PRINT A'];
    expect(printed(ask, { inputs: ['HIGH SCORE+1 2'] })).toEqual(['52']);
  });

  test('a key with no room for it is refused', () => {
    const { remarks, rows } = play(['DIM B$(640)', 'INPUT A$', 'PRINT LEN A$<200'], {
      inputs: ['X'.repeat(200)],
    });
    expect(remarks[0].message).toContain('were refused');
    expect(rows.at(-1)).toBe('1');
  });

  test('STOP counts as the first character alone', () => {
    expect(play(['INPUT A'], { inputs: ['STOP'] }).report).toBe('D/10');
  });
});

test('a point alone is 0, and an exponent without digits counts nothing (15)', () => {
  expect(shows('VAL ".";" ";VAL "1E";" ";VAL "1E+"')).toBe('0 1 1');
});

test('INKEY$ is empty where two keys are down', () => {
  const lines = ['PAUSE 100', 'LET A$=INKEY$', 'PRINT LEN A$'];
  expect(printed(lines, { keys: readKeys('10-90:A') })).toEqual(['1']);
  expect(printed(lines, { keys: readKeys('10-90:A+B') })).toEqual(['0']);
});

test('INKEY$ is empty where no key is down', () => {
  expect(printed(['LET A$=INKEY$', 'PRINT LEN A$'], { keys: readKeys('500:A') })).toEqual(['0']);
});

test('PAUSE 0 lets no frame pass, PAUSE 1 one', () => {
  const time = (length: number): number => play(['FAST', `PAUSE ${length}`]).seconds;
  expect(time(0)).toBeLessThan(0.01);
  expect(time(50) - time(0)).toBeGreaterThan(0.9);
});

describe('SAVE and LOAD (02F6)', () => {
  const text = '.start 10\n10 PRINT PEEK 16409;" ";PEEK 16443;" ";PEEK 16423';
  const { listing } = readListing(text);
  const { image } = buildImage(listing, { ram: 1024 });
  const byteAt = (name: string): number => image![addressOf(name) - IMAGE_START];
  const wordAt = (name: string): number =>
    byteAt(name) + 256 * image![addressOf(name) + 1 - IMAGE_START];

  test('the tape ends where E_LINE says; CDFLAG’s bit 7 is 0, the debounce byte 255', () => {
    expect(image!.length).toBe(wordAt('E_LINE') - IMAGE_START);
    expect([byteAt('CDFLAG') & 0x80, byteAt('DEBOUNCE')]).toEqual([0, 255]);
  });

  test('after LOAD X_PTR’s high byte is 192, and SLOW is on', () => {
    expect(printed(text)).toEqual(['192 192 255']);
  });
});

describe('remarks where numbers look alike', () => {
  const remarks = (statement: string) =>
    play([statement], BIG).remarks.map(({ message }) => message);

  test('on equality', () => {
    expect(remarks('IF 1/2=.5 THEN STOP')[0]).toMatch(/both print as 0\.5 .* so that = is false/);
    expect(remarks('IF SQR 25<>5 THEN PRINT "N"')[0]).toMatch(
      /both print as 5 .* so that <> is true/,
    );
    expect(remarks('IF .5=1/2 THEN STOP')).toEqual([]);
    expect(remarks('IF 1=2 THEN STOP')).toEqual([]);
    expect(remarks('IF 1.00001=1 THEN STOP')).toEqual([]);
  });

  test('on INT', () => {
    expect(remarks('PRINT INT (.57*100)')[0]).toMatch(/prints as 57 is 56/);
    expect(remarks('PRINT INT SQR 361')[0]).toMatch(/prints as 19 is 18/);
    expect(remarks('PRINT INT 56.999;INT 57;INT -2.5')).toEqual([]);
  });
});
