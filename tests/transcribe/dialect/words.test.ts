import { describe, expect, it } from 'vitest';
import { transcribe } from '../../../src/transcribe/transcribe.js';

const listed = (text: string, sure = 0.9) =>
  transcribe(text, { sure, comments: false }).text.trimEnd().split('\n');
const one = (statement: string, sure = 0.9) => listed(`10 ${statement}\n`, sure)[0];

describe('words of other dialects', () => {
  it.each([
    ['? "A"', 'PRINT "A"'],
    ["' A REMARK", 'REM A REMARK'],
    ['HOME', 'CLS'],
    ['END', 'STOP'],
    ['RANDOMIZE', 'RAND'],
    ['A=5', 'LET A=5'],
    ['A$="X"', 'LET A$="X"'],
    ['LET A=B^2', 'LET A=B**2'],
    ['IF A=1 THEN 100', 'IF A=1 THEN GOTO 100'],
    ['GET K$', 'LET K$=INKEY$'],
    ['LET A=SQRT(B)', 'LET A=SQR(B)'],
    ['LET A=RND(1)', 'LET A=RND'],
    ['IF A><B THEN STOP', 'IF A<>B THEN STOP'],
    ['PRINT LEFT$(A$,3)', 'PRINT A$( TO 3)'],
    ['PRINT RIGHT$(A$,3)', 'PRINT A$(LEN A$-2 TO )'],
    ['PRINT RIGHT$(A$,N+1)', 'PRINT A$(LEN A$-(N+1)+1 TO )'],
    ['PRINT MID$(A$,2,3)', 'PRINT A$(2 TO 4)'],
    ['PRINT MID$(A$,N,1)', 'PRINT A$(N)'],
    ['PRINT MID$(A$,N,L)', 'PRINT A$(N TO N+L-1)'],
    ['PRINT MID$(A$+B$,2)', 'PRINT (A$+B$)(2 TO )'],
    ['PRINT "A^2";LEFT$("OAK",2)', 'PRINT "A^2";"OAK"( TO 2)'.replace('A^2', 'A[~?]2')],
  ])('%s becomes %s', (printed, meant) => {
    expect(one(printed)).toBe(`10 ${meant}`);
  });

  it('are offered, not made, where the machines differ in more than the word', () => {
    expect(one('LOCATE 3,4:PRINT "A"')).toBe('10 LOCATE 3,4:PRINT "A"');
    expect(one('LOCATE 3,4:PRINT "A"', 0.7)).toBe('10 PRINT AT 3,4;"A"');
    expect(one('PRINT @ 70,"A"', 0.7)).toBe('10 PRINT AT 2,6;"A"');
    expect(one('LET A=RND(6)', 0.7)).toBe('10 LET A=(INT (RND*6)+1)');
  });
});

describe('several statements in one line', () => {
  it('become lines of their own, numbered before the next', () => {
    expect(listed('10 CLS:LET A=1:PRINT "A:B"\n20 STOP\n')).toEqual([
      '10 CLS',
      '12 LET A=1'.replace('12', '12'),
      '14 PRINT "A:B"',
      '20 STOP',
    ]);
  });

  it('are left, and asked about, where there is no room for the numbers', () => {
    const text = '10 CLS:LET A=1\n11 STOP\n';
    expect(listed(text)[0]).toBe('10 CLS:LET A=1');
    expect(transcribe(text).notes.some(({ made, kind }) => !made && kind === 'dialect')).toBe(true);
  });

  it('hang on the condition of an IF before them', () => {
    expect(listed('10 IF A=1 THEN LET B=2:LET C=3\n20 STOP\n')).toEqual([
      '10 IF NOT (A=1) THEN GOTO 20',
      '12 LET B=2',
      '14 LET C=3',
      '20 STOP',
    ]);
  });

  it('have their ELSE after a jump, or over one', () => {
    expect(listed('10 IF A=1 THEN 50 ELSE 60\n20 STOP\n')).toEqual([
      '10 IF A=1 THEN GOTO 50',
      '15 GOTO 60',
      '20 STOP',
    ]);
    const lines = listed('10 IF A=1 THEN PRINT "Y" ELSE PRINT "N"\n20 STOP\n');
    expect(lines).toHaveLength(5);
    expect(lines[0]).toMatch(/^10 IF A=1 THEN GOTO (\d+)$/);
    const target = /GOTO (\d+)$/.exec(lines[0])![1];
    expect(lines.slice(1, 3).map((line) => line.replace(/^\d+ /, ''))).toEqual([
      'PRINT "N"',
      'GOTO 20',
    ]);
    expect(lines[3]).toBe(`${target} PRINT "Y"`);
  });
});
