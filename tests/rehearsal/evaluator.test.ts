import { describe, expect, test } from 'vitest';
import { play, printed, reportOf, shows } from './play.js';

describe('arithmetic', () => {
  test.each([
    ['1+2*3', '7'],
    ['(1+2)*3', '9'],
    ['-2**2', '-4'],
    ['2**3**2', '64'],
    ['2**-1', '0.5'],
    ['0**0', '1'],
    ['0**2', '0'],
    ['10/4', '2.5'],
    ['1/3*3', '1'],
    ['INT 3.7', '3'],
    ['INT -3.2', '-4'],
    ['SGN -5+SGN 0+SGN 9', '0'],
    ['ABS -7', '7'],
    ['SQR 2', '1.4142136'],
    ['PI', '3.1415927'],
    ['4294967295+1', '4294967300'],
    ['NOT 0', '1'],
    ['NOT 5', '0'],
    ['5 AND 2', '5'],
    ['5 AND 0', '0'],
    ['5 OR 0', '5'],
    ['5 OR 2', '1'],
    ['1<2', '1'],
    ['1>=2', '0'],
    ['2=2', '1'],
    ['2<>2', '0'],
    ['1<=1', '1'],
    ['2>1', '1'],
    ['1E-38/1E10', '0'],
  ])('%s is %s', (expression, value) => {
    expect(shows(expression)).toBe(value);
  });

  test('each operation is rounded to 32 bits, so that a small term is lost', () => {
    expect(shows('(2147483648+1/2)-2147483648')).toBe('1');
    expect(shows('(2147483648+.5)-2147483648')).toBe('0');
  });

  test.each([
    ['PRINT 1/0', '6/10'],
    ['PRINT 1E38*10', '6/10'],
    ['PRINT 0**-1', '6/10'],
    ['PRINT EXP 100', '6/10'],
    ['PRINT LN 0', 'A/10'],
    ['PRINT SQR -1', 'A/10'],
    ['PRINT ASN 1.1', 'A/10'],
    ['PRINT ACS -1.1', 'A/10'],
    ['PRINT -2**.5', '0/10'],
    ['PRINT (-2)**2', 'A/10'],
    ['PRINT PEEK -1', 'B/10'],
    ['PRINT PEEK 65536', 'B/10'],
    ['PRINT CHR$ 256', 'B/10'],
    ['PRINT CHR$ -1', 'B/10'],
    ['PRINT X', '2/10'],
    ['PRINT X$', '2/10'],
    ['PRINT X(1)', '2/10'],
    ['PRINT X$(1)', '2/10'],
    ['PRINT 0 AND X', '2/10'],
    ['PRINT USR 0', 'usr/10'],
  ])('%s ends with %s', (statement, report) => {
    expect(reportOf(statement)).toBe(report);
  });

  test('the words of a report name what was wrong', () => {
    expect(play(['PRINT SCORE']).end.why).toContain('SCORE has no value yet');
    expect(play(['PRINT 7/0']).end.why).toContain('7/0');
    expect(play(['LET A=3', 'PRINT SQR (A-5)']).end.why).toContain('SQR -2');
    expect(play(['POKE 16600,-256']).end.why).toContain('is -256, and must be from -255 to 255');
    expect(play(['PRINT TAB 256']).end.why).toContain('is 256, and must be from 0 to 255');
  });
});

describe('strings', () => {
  test.each([
    ['"OAK"+"TREE"', 'OAKTREE'],
    ['"OAK" AND 1', 'OAK'],
    ['LEN ("OAK" AND 0)', '0'],
    ['"A"<"B"', '1'],
    ['"A"<"AB"', '1'],
    ['"B"<"AB"', '0'],
    ['"AB"="AB"', '1'],
    ['LEN "OAK"', '3'],
    ['CODE "OAK"', '52'],
    ['CODE ""', '0'],
    ['CHR$ 52', 'O'],
    ['STR$ 1.5', '1.5'],
    ['LEN STR$ (1/3)', '10'],
    ['VAL "2*(3+4)"', '14'],
    ['VAL STR$ 1E20', '1E+20'],
    ['VAL "[SIN]0+[PI]"', '3.1415927'],
    ['VAL "LEN ""OAK"""', ''],
    ['"ABCDEF"(2 TO 5)', 'BCDE'],
    ['"ABCDEF"( TO 5)', 'ABCDE'],
    ['"ABCDEF"(2 TO )', 'BCDEF'],
    ['"ABCDEF"( TO )', 'ABCDEF'],
    ['"ABCDEF"(3)', 'C'],
    ['LEN "ABCDEF"(5 TO 4)', '0'],
    ['LEN "ABCDEF"(8 TO 7)', '0'],
    ['("AB"+"CD")(2 TO 3)', 'BC'],
    ['"ABCDEF"(2 TO 5)(2)', 'C'],
    ['CHR$ 192', '"'],
    ['"SAY ""NO"""', 'SAY "NO"'],
    ['CHR$ 245', 'PRINT'],
    ['"X"+CHR$ 218+"Y"', 'X AND Y'],
    ['CHR$ 70', '?'],
  ])('%s is %s', (expression, value) => {
    if (value === '') expect(reportOf(`PRINT ${expression}`)).toBe('2/10');
    else expect(shows(expression)).toBe(value);
  });

  test.each([
    ['PRINT "ABCDEF"(0)', '3/10'],
    ['PRINT "ABCDEF"(7)', '3/10'],
    ['PRINT "ABCDEF"(5 TO 7)', '3/10'],
    ['PRINT "ABCDEF"(0 TO 2)', '3/10'],
    ['PRINT "ABCDEF"(-1)', 'B/10'],
    ['PRINT ""(1)', '3/10'],
    ['PRINT VAL ""', 'C/10'],
    ['PRINT VAL "1+"', 'C/10'],
    ['PRINT VAL """OAK"""', 'C/10'],
    ['PRINT VAL "▘"', 'C/10'],
    ['PRINT VAL "A"', '2/10'],
  ])('%s ends with %s', (statement, report) => {
    expect(reportOf(statement)).toBe(report);
  });

  test('VAL reads variables as they are when it is run', () => {
    expect(
      printed(['FOR N=1 TO 3', 'PRINT VAL "N*N";" ";', 'NEXT N', 'LET E=7', 'PRINT VAL "2E1+E"']),
    ).toEqual(['1 4 9 27']);
  });

  test('letters in VAL are names, not the words that they spell', () => {
    const { report, end } = play(['PRINT VAL "SIN 1"']);
    expect(report).toBe('2/10');
    expect(end.why).toContain('SIN');
  });
});

describe('arrays', () => {
  test('numbers are 0 to begin with, and the last subscript runs fastest', () => {
    expect(
      printed([
        'DIM A(2,3)',
        'LET A(1,3)=5',
        'LET A(2,1)=6',
        'PRINT A(1,1);A(1,3);A(2,1)',
        'PRINT PEEK (PEEK 16400+256*PEEK 16401+3)',
      ]),
    ).toEqual(['056', '2']);
  });

  test('characters are spaces to begin with, and values are cut or filled up', () => {
    expect(
      printed([
        'DIM A$(2,4)',
        'LET A$(1)="NORTHERN"',
        'LET A$(2)="E"',
        'PRINT A$(1);"/";A$(2);"/"',
        'PRINT A$(1,2);A$(1,2 TO 3);A$(2)(1)',
        'LET A$(1,4)="X"',
        'LET A$(1,1 TO 2)="YYY"',
        'PRINT A$(1)',
        'DIM B$(3)',
        'LET B$="AB"',
        'PRINT B$;"/";B$(2);LEN B$',
      ]),
    ).toEqual(['NORT/E   /', 'OORE', 'YYRX', 'AB /B3']);
  });

  test.each([
    [['DIM A(3)', 'PRINT A(4)'], '3/20'],
    [['DIM A(3)', 'PRINT A(0)'], '3/20'],
    [['DIM A(3)', 'PRINT A(1,1)'], '3/20'],
    [['DIM A(3,3)', 'LET A(1)=2'], '3/20'],
    [['DIM A(3)', 'LET A(4)=1'], '3/20'],
    [['DIM A$(2,3)', 'PRINT A$'], '3/20'],
    [['DIM A$(2,3)', 'PRINT A$(3)'], '3/20'],
    [['DIM A$(2,3)', 'PRINT A$(1,4)'], '3/20'],
    [['DIM A$(2,3)', 'PRINT A$(1,1,1)'], '3/20'],
    [['LET A$="OAK"', 'PRINT A$(1,2)'], '3/20'],
    [['DIM A(0)'], '3/10'],
    [['DIM A(-1)'], 'B/10'],
    [['DIM A(9999)'], '4/10'],
    [['DIM A(300,300)'], '4/10'],
  ])('%j ends with %s', (lines, report) => {
    expect(play(lines).report).toBe(report);
  });

  test('a string array and a string share a name, a number and an array do not', () => {
    expect(
      printed([
        'LET A$="OAK"',
        'DIM A$(5)',
        'PRINT "/";A$;"/"',
        'LET A=3',
        'DIM A(2)',
        'LET A(2)=4',
        'PRINT A;A(2)',
      ]),
    ).toEqual(['/     /', '34']);
  });
});

describe('what stands in memory', () => {
  test('RND follows the machine and SEED shows it', () => {
    expect(printed(['RAND 1', 'PRINT RND', 'PRINT PEEK 16434+256*PEEK 16435'])).toEqual([
      '.0022735596',
      '149',
    ]);
  });

  test('--seed is where RND starts, and what RAND alone takes', () => {
    expect(shows('RND', { seed: 1 })).toBe('.0022735596');
    expect(printed(['RAND', 'PRINT RND'], { seed: 1 })).toEqual(['.0022735596']);
  });

  test('the ROM is read as 0, and that is said once', () => {
    const { remarks, rows } = play(['PRINT PEEK 0+PEEK 1']);
    expect(rows).toEqual(['0']);
    expect(remarks).toHaveLength(1);
    expect(remarks[0]).toMatchObject({ line: 10, message: expect.stringContaining('ROM') });
  });

  test('USR gives what is said', () => {
    const { rows, remarks } = play(['PRINT USR 16514'], { usr: 77 });
    expect(rows).toEqual(['77']);
    expect(remarks).toHaveLength(1);
  });
});
