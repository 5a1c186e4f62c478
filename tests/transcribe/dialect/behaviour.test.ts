/**
 * What a listing of another dialect does, worked out by hand from what its words mean (common
 * practice), against what a rehearsal of its transcription prints.
 */
import { describe, expect, it } from 'vitest';
import { transcribe } from '../../../src/transcribe/transcribe.js';
import { printed } from '../../rehearsal/play.js';

const transcribed = (page: string) => transcribe(page);
const statements = (page: string) =>
  transcribe(page, { comments: false }).text.trimEnd().split('\n');

/** Runs what a page becomes; every line of it must have been made. */
function run(page: string): readonly string[] {
  const result = transcribed(page);
  expect(result.notes.filter(({ made, kind }) => !made && kind !== 'look-alike')).toEqual([]);
  return printed(result.text, { ram: 16384 });
}

const lines = (...rows: string[]) => `${rows.join('\n')}\n`;

describe('READ and DATA', () => {
  it.each<[string, string, string[]]>([
    [
      'once, in a row',
      lines('10 READ A,B$', '20 READ C', '30 DATA 5,"OAK",7', '40 PRINT A;B$;C'),
      ['5OAK7'],
    ],
    [
      'in a FOR loop',
      lines('10 FOR I=1 TO 3', '20 READ A', '30 PRINT A*2;" ";', '40 NEXT I', '50 DATA 5,-17,.5'),
      ['10 -34 1'],
    ],
    [
      'in a loop of GOTO, up to a mark',
      lines('10 READ A', '20 IF A=0 THEN STOP', '30 PRINT A', '40 GOTO 10', '50 DATA 12345,7,8,0'),
      ['12345', '7', '8'],
    ],
    [
      'numbers and texts of different lengths, an empty one among them',
      lines(
        '10 FOR I=1 TO 3',
        '20 READ N,A$',
        '30 PRINT N;"<";A$;">"',
        '40 NEXT I',
        '50 DATA 1,OAK,22,"",333,"WHITE BEAM"',
      ),
      ['1<OAK>', '22<>', '333<WHITE BEAM>'],
    ],
    [
      'again after RESTORE, and from a line',
      lines(
        '10 READ A,B,C',
        '20 RESTORE',
        '30 READ D',
        '40 RESTORE 80',
        '50 READ E',
        '60 PRINT A;B;C;D;E',
        '70 DATA 1,2',
        '80 DATA 3',
      ),
      ['12313'],
    ],
    [
      'in a subroutine that is called twice',
      lines(
        '10 GOSUB 50',
        '20 GOSUB 50',
        '30 STOP',
        '50 READ A',
        '60 PRINT A',
        '70 RETURN',
        '80 DATA 4,44',
      ),
      ['4', '44'],
    ],
    [
      'into the elements of an array, several statements a line',
      lines(
        '10 DIM A(3)',
        '20 FOR I=1 TO 3:READ A(I):NEXT I',
        '30 PRINT A(1)+A(2)*A(3)',
        '40 DATA 1,20,3',
      ),
      ['61'],
    ],
    [
      'on a condition',
      lines(
        '10 LET X=1',
        '20 IF X=1 THEN READ A,B',
        '30 READ C',
        '40 PRINT A;B;C',
        '50 DATA 7,8,9',
      ),
      ['789'],
    ],
    [
      'with a NEXT behind and a loop before',
      lines(
        '10 FOR I=1 TO 2',
        '20 PRINT I',
        '30 NEXT I',
        '40 READ A',
        '50 FOR J=1 TO A',
        '60 PRINT J*A',
        '70 NEXT J',
        '80 DATA 2',
      ),
      ['1', '2', '2', '4'],
    ],
  ])('%s', (_, page, rows) => {
    expect(run(page)).toEqual(rows);
  });

  it('become assignments where each READ is passed once', () => {
    expect(statements('10 READ A,B$\n20 READ C\n30 DATA 5,"OAK",7\n40 PRINT A;B$;C\n')).toEqual([
      '10 LET A=5',
      '15 LET B$="OAK"',
      '20 LET C=7',
      '40 PRINT A;B$;C',
    ]);
  });

  it('become a string and a place in it where a loop reads', () => {
    expect(statements('10 FOR I=1 TO 3\n20 READ A\n30 NEXT I\n40 DATA 5,17,7\n')).toEqual([
      '8 LET D$="5 177 "',
      '9 LET D=1',
      '10 FOR I=1 TO 3',
      '20 LET A=VAL D$(D TO D+1)',
      '25 LET D=D+2',
      '30 NEXT I',
    ]);
  });

  it('are asked about, and left, where a number is missing or a line is not understood', () => {
    for (const page of [
      '1 FOR I=1 TO 3\n2 READ A\n3 NEXT I\n4 DATA 5,17,7\n',
      '10 FOR I=1 TO 3\n20 READ A\n21 NEXT I\n40 DATA 5,17,7\n',
      '10 CLEAR\n20 READ A\n30 GOTO 20\n40 DATA 5,17,7\n',
      '10 READ A\n20 GOTO 10\n40 DATA OAK\n',
    ]) {
      const { text, notes } = transcribe(page, { comments: false });
      expect(text).toContain('READ A');
      expect(text).toContain('DATA');
      expect(notes.some(({ made }) => !made)).toBe(true);
    }
  });

  it('keep the notes of a DATA line that is left out', () => {
    const { notes, text } = transcribe('10 READ A$\n20 PRINT A$\n30 DATA “OAK”\n');
    expect(notes.filter(({ line }) => line === 30).map(({ from }) => from)).toEqual(
      expect.arrayContaining(['“', '”', 'DATA "OAK"']),
    );
    expect(text).toContain("' 30: ");
  });
});

describe('ON', () => {
  const chosen = (on: string, ...values: string[]) =>
    values.map((value) => {
      const page = lines(
        `10 LET X=${value}`,
        `20 ${on}`,
        '30 PRINT "ON"',
        '40 STOP',
        ...[100, 150, 200].flatMap((number) => [
          `${number} PRINT ${number};`,
          `${number + 10} LET X=X+1`,
          `${number + 20} ${on.includes('SUB') ? 'RETURN' : 'GOTO 30'}`,
        ]),
      );
      return run(page).join('/');
    });

  it('GOTO with even steps is one jump, worked out, and passed where nothing is chosen', () => {
    const on = 'ON X GOTO 100,150,200';
    expect(chosen(on, '1', '2', '3', '3.9', '0', '4', '.9')).toEqual([
      '100ON',
      '150ON',
      '200ON',
      '200ON',
      'ON',
      'ON',
      'ON',
    ]);
    expect(statements(`10 LET X=1\n20 ${on}\n`)[1]).toBe(
      '20 IF X>=1 AND X<4 THEN GOTO 50+50*INT X',
    );
    expect(statements(`10 LET X=1\n20 ON X-1 GOTO 100,200\n`)[1]).toBe(
      '20 IF (X-1)>=1 AND (X-1)<3 THEN GOTO 100*INT (X-1)',
    );
  });

  it('is read though letters stand for digits, where there are such lines', () => {
    const read = (on: string): string =>
      statements(`10 LET X=1\n20 ${on}\n100 STOP\n200 STOP\n`)[1];
    const jump = '20 IF X>=1 AND X<3 THEN GOTO 100*INT X';
    expect(read('ON X GOTO 100,2OO')).toBe(jump);
    expect(read('0N X G0T0 l00,2O0')).toBe(jump);
    expect(read('ON X GO 5UB 10O,200')).toBe(jump.replace('GOTO', 'GOSUB'));
    expect(read('ON X GOTO 100,3OO')).toBe('20 ON X GOTO 100,3OO');
  });

  it('GOTO with uneven steps is a chain', () => {
    expect(chosen('ON X GOTO 200,100,150', '1', '2', '3', '4')).toEqual([
      '200ON',
      '100ON',
      '150ON',
      'ON',
    ]);
  });

  it('GOSUB is entered once, though the subroutine changes what was asked', () => {
    expect(chosen('ON X GOSUB 100,150,200', '1', '2', '3', '4')).toEqual([
      '100ON',
      '150ON',
      '200ON',
      'ON',
    ]);
    expect(chosen('ON X GOSUB 200,100,150', '1', '2', '3', '4')).toEqual([
      '200ON',
      '100ON',
      '150ON',
      'ON',
    ]);
  });

  it('ERROR is no choice by a number: it is asked about', () => {
    const { text, notes } = transcribe('10 ON ERROR GOTO 100\n100 STOP\n', { comments: false });
    expect(text).toContain('10 ON ERROR GOTO 100');
    expect(notes.some(({ made, line }) => !made && line === 10)).toBe(true);
  });

  it('works its number out once where that gives another each time', () => {
    const made = statements(
      '10 CLS\n20 ON INT(RND*2)+1 GOTO 100,200\n30 STOP\n100 STOP\n200 STOP\n',
    );
    expect(made.filter((line) => line.includes('RND'))).toHaveLength(1);
  });
});

describe('DEF FN', () => {
  it.each<[string, string, string[]]>([
    [
      'is put in place of its calls, whatever stands in them',
      lines('10 DEF FNA(X)=X*X+1', '20 LET X=9', '30 PRINT FNA(2);" ";FN A(X-1)*2;" ";X'),
      ['5 130 9'],
    ],
    [
      'may call another, and have several parameters or none',
      lines(
        '10 DEF FNB(X,Y)=X-Y',
        '20 DEF FNC(X)=FNB(X,1)*2',
        '30 DEF FND=K+1',
        '40 LET K=6',
        '50 PRINT FNC(FNB(9,3));FND',
      ),
      ['107'],
    ],
    [
      'of a string',
      lines('10 DEF FNR$(A$)=RIGHT$(A$,2)+"X"', '20 LET B$="LAMP"', '30 PRINT FNR$(B$)'),
      ['MPX'],
    ],
  ])('%s', (_, page, rows) => {
    expect(run(page)).toEqual(rows);
  });

  it('is asked about where it is defined twice, or its number would be worked out twice', () => {
    for (const page of [
      '10 DEF FNA(X)=X\n20 DEF FNA(X)=X+1\n30 PRINT FNA(2)\n',
      '10 DEF FNA(X)=X*X\n20 PRINT FNA(RND)\n',
    ]) {
      const { text, notes } = transcribe(page, { comments: false });
      expect(text).toContain('DEF FNA');
      expect(notes.some(({ made }) => !made)).toBe(true);
    }
  });
});

describe('IF, THEN and ELSE', () => {
  const both = (statement: string) =>
    [1, 2].map((a) =>
      run(
        lines(
          `10 LET A=${a}`,
          '20 LET B=0',
          `30 ${statement}`,
          '50 PRINT "B";B',
          '60 STOP',
          '70 PRINT "SEVENTY"',
        ),
      ).join('/'),
    );

  it.each([
    ['IF A=1 THEN PRINT "Y" ELSE PRINT "N"', ['Y/B0', 'N/B0']],
    ['IF A=1 THEN B=2 ELSE B=3', ['B2', 'B3']],
    ['IF A=1 THEN 70 ELSE PRINT "N"', ['SEVENTY', 'N/B0']],
    ['IF A=1 THEN PRINT "Y" ELSE 70', ['Y/B0', 'SEVENTY']],
    ['IF A=1 THEN PRINT "Y":B=2 ELSE PRINT "N":B=3:PRINT "M"', ['Y/B2', 'N/M/B3']],
    ['IF A=1 THEN IF B=0 THEN PRINT "Y" ELSE PRINT "N"', ['Y/B0', 'B0']],
    ['IF A=1 THEN B=2:PRINT "Y"', ['Y/B2', 'B0']],
    ['PRINT "P":IF A=1 THEN 70', ['P/SEVENTY', 'P/B0']],
    ['IF A=1 THEN PRINT "A:ELSE"', ['A:ELSE/B0', 'B0']],
    ['IF A=1 THEN PRINT "Y" ELSE IF B=0 THEN PRINT "Z" ELSE PRINT "N"', ['Y/B0', 'Z/B0']],
  ])('%s', (statement, rows) => {
    expect(both(statement)).toEqual(rows);
  });
});
