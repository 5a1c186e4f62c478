import { describe, expect, test } from 'vitest';
import { play, printed, reportOf } from './play.js';

describe('LET and variables', () => {
  test('names of any length; spaces in them do not count for the machine', () => {
    expect(printed(['LET SCORE=5', 'LET S=1', 'LET SC=2', 'PRINT SCORE;S;SC'])).toEqual(['512']);
  });

  test('a string is made anew and the old one goes', () => {
    expect(
      printed([
        'LET A$="OAK"',
        'LET B$="ELM"',
        'LET A$=A$+A$',
        'LET A$(2 TO 3)="XYZ"',
        'PRINT A$;B$',
      ]),
    ).toEqual(['OXYOAKELM']);
  });

  test('a variable may be given its own text', () => {
    expect(printed(['LET A$="OAK"', 'LET A$=A$', 'LET A$=A$(2 TO )', 'PRINT A$'])).toEqual(['AK']);
  });

  test('LET to a loop variable changes its value and keeps the loop', () => {
    expect(printed(['FOR N=1 TO 5', 'LET N=N+1', 'PRINT N;', 'NEXT N'])).toEqual(['246']);
  });

  test.each([
    ['LET A$(1)="X"', '2/10'],
    ['LET A(1)=2', '2/10'],
    ['LET A=1/0', '6/10'],
  ])('%s ends with %s', (statement, report) => {
    expect(reportOf(statement)).toBe(report);
  });
});

describe('FOR and NEXT', () => {
  test('the test stands at FOR too: a loop may not be run at all', () => {
    expect(printed(['FOR N=5 TO 1', 'PRINT "NEVER"', 'NEXT N', 'PRINT "AFTER";N'])).toEqual([
      'AFTER5',
    ]);
  });

  test('the search for NEXT takes the one of the same variable', () => {
    expect(
      printed([
        'FOR N=1 TO 0',
        'FOR M=1 TO 2',
        'NEXT M',
        'PRINT "NEVER"',
        'NEXT N',
        'PRINT "HERE"',
      ]),
    ).toEqual(['HERE']);
  });

  test('a loop that is not run and has no NEXT is the end of the program', () => {
    expect(play(['FOR N=1 TO 0', 'PRINT "NEVER"']).report).toBe('0/10');
  });

  test('after the loop the variable is past its limit', () => {
    expect(printed(['FOR N=1 TO 3', 'NEXT N', 'PRINT N'])).toEqual(['4']);
    expect(printed(['FOR N=1 TO 0 STEP -.5', 'PRINT N;" ";', 'NEXT N', 'PRINT N'])).toEqual([
      '1 0.5 2.3283064E-10 -0.5',
    ]);
  });

  test('start, limit and step are worked out once, before the variable changes', () => {
    expect(printed(['LET N=2', 'FOR N=N+1 TO N+3 STEP N/2', 'PRINT N;', 'NEXT N'])).toEqual([
      '345',
    ]);
  });

  test('loops stand inside one another, and one may be left by GOTO', () => {
    expect(
      printed([
        'FOR I=1 TO 2',
        'FOR J=1 TO 9',
        'IF J=3 THEN GOTO 50',
        'NEXT J',
        'PRINT I;J;" ";',
        'NEXT I',
      ]),
    ).toEqual(['13 23']);
  });

  test('POKE into the limit, the step or the line of a loop that runs counts at the next NEXT', () => {
    const loop = (offset: number, byte: number) => [
      'FOR N=1 TO 9',
      'PRINT N;',
      `IF N=2 THEN POKE PEEK 16400+256*PEEK 16401+${offset},${byte}`,
      'NEXT N',
      'PRINT "END"',
    ];
    // Behind its letter stand five bytes each of its value, limit and step, then the line.
    expect(printed(loop(6, 0))).toEqual(['12END']);
    expect(printed(loop(11, 131))).toEqual(['126END']);
    expect(printed(loop(16, 50))).toEqual(['12END']);
  });

  test('NEXT without a FOR variable', () => {
    expect(reportOf('NEXT N')).toBe('2/10');
    expect(play(['LET N=1', 'NEXT N']).report).toBe('1/20');
  });

  test('NEXT in an IF goes back to the line after FOR', () => {
    expect(printed(['FOR N=1 TO 9', 'PRINT N;', 'IF N<3 THEN NEXT N', 'PRINT "END"'])).toEqual([
      '123END',
    ]);
  });

  test('the loop goes back to the line after FOR, in whatever order lines were run', () => {
    expect(
      printed(
        '10 GOTO 40\n20 PRINT N;\n25 NEXT N\n30 STOP\n40 FOR N=1 TO 3\n50 PRINT "A";\n60 GOTO 25',
      ),
    ).toEqual(['AAA']);
  });
});

describe('jumps', () => {
  test('GOTO a missing line goes to the next one', () => {
    expect(printed(['GOTO 15', 'PRINT "HERE"'])).toEqual(['HERE']);
    expect(play(['GOTO 500', 'PRINT "NEVER"']).report).toBe('0/10');
  });

  test('GOTO takes an expression, rounded', () => {
    expect(printed(['LET A=10', 'GOTO A+20.4', 'PRINT "A";', 'PRINT "B"'])).toEqual(['AB']);
    expect(printed(['GOTO 29.5', 'PRINT "A";', 'PRINT "B"'])).toEqual(['B']);
  });

  test.each([
    ['GOTO -1', 'B/10'],
    ['GOTO 65536', 'B/10'],
    ['GOTO 61440', 'B/10'],
    ['GOTO X', '2/10'],
    ['RETURN', '7/10'],
    ['STOP', '9/10'],
    ['SAVE ""', 'F/10'],
    ['SAVE "LANTERN"', 'tape/10'],
    ['LOAD ""', 'tape/10'],
    ['NEW', 'new/10'],
    ['POKE 16400,0', 'memory/10'],
    ['[F5]PRINT', 'unchecked/10'],
  ])('%s ends with %s', (statement, report) => {
    expect(reportOf(statement)).toBe(report);
  });

  test('GOSUB and RETURN, inside one another', () => {
    expect(
      printed(
        '10 GOSUB 100\n20 PRINT "END"\n30 STOP\n100 PRINT "A";\n110 GOSUB 200\n120 PRINT "C";\n130 RETURN\n200 PRINT "B";\n210 RETURN',
      ),
    ).toEqual(['ABCEND']);
  });

  test('a return address is two bytes on the machine stack', () => {
    expect(
      printed([
        'GOSUB 30',
        'STOP',
        'PRINT PEEK 17404+256*PEEK 17405;" ";PEEK 17407;" ";PEEK 16386+256*PEEK 16387',
        'RETURN',
      ]),
    ).toEqual(['11 62 17402']);
  });

  test('RUN clears the variables and begins again', () => {
    expect(play('10 POKE 16507,PEEK 16507+1\n20 PRINT A\n30 LET A=1\n40 RUN 20').report).toBe(
      '2/20',
    );
    expect(
      printed([
        'IF PEEK 16507=1 THEN GOTO 50',
        'POKE 16507,1',
        'LET A=1',
        'RUN',
        'PRINT PEEK (PEEK 16400+256*PEEK 16401)',
      ]),
    ).toEqual(['128']);
  });

  test('CLEAR leaves no variable, and CONT goes to where OLDPPC says', () => {
    expect(play(['LET A=1', 'CLEAR', 'PRINT A']).report).toBe('2/30');
    expect(printed(['POKE 16427,40', 'CONT', 'PRINT "NEVER"', 'PRINT "HERE"'])).toEqual(['HERE']);
  });

  test('IF takes one statement, and any number but 0 is true', () => {
    expect(
      printed(['IF -.1 THEN PRINT "A";', 'IF 0 THEN PRINT "B";', 'IF 1 THEN IF 2 THEN PRINT "C"']),
    ).toEqual(['AC']);
  });
});

describe('INPUT', () => {
  test('a number may be an expression, a string is taken as it is', () => {
    expect(
      printed(['LET A=2', 'INPUT B', 'INPUT C$', 'PRINT B;C$'], { inputs: ['A*3+1', 'oak tree'] }),
    ).toEqual(['7OAK TREE']);
  });

  test('elements, slices and arrays take values', () => {
    expect(
      printed(['DIM A(2)', 'INPUT A(2)', 'DIM B$(3)', 'INPUT B$', 'INPUT B$(2)', 'PRINT A(2);B$'], {
        inputs: ['5', 'WXYZ', '-'],
      }),
    ).toEqual(['5W-Y']);
  });

  test('an expression may bring its own report', () => {
    expect(reportOf('INPUT A', { inputs: ['B'] })).toBe('2/10');
    expect(reportOf('INPUT A', { inputs: ['VAL "X+"'] })).toBe('C/10');
    expect(reportOf('INPUT A', { inputs: ['1/0'] })).toBe('6/10');
  });

  test('STOP ends with report D', () => {
    expect(reportOf('INPUT A', { inputs: ['stop'] })).toBe('D/10');
    expect(reportOf('INPUT A$', { inputs: ['[STOP]'] })).toBe('D/10');
    expect(printed(['INPUT A$', 'PRINT A$'], { inputs: ['STOP'] })).toEqual(['STOP']);
  });

  test('a value that the machine would not take, or none, ends the rehearsal', () => {
    for (const value of ['', 'OAK;5', '"OAK"', '1+', '1)+(2', '1\n20 PRINT 5']) {
      const { report, end } = play(['INPUT A'], { inputs: [value] });
      expect(report).toBe('input/10');
      expect(end.why).toContain(JSON.stringify(value));
    }
    expect(reportOf('INPUT A$', { inputs: ['a!'] })).toBe('input/10');
    const { end } = play(['INPUT A', 'INPUT B$'], { inputs: ['1'] });
    expect(end.why).toContain('waits for a string, and only 1 given');
  });

  test('a person is asked again until the machine takes it', () => {
    const answers = ['1+', '"X"', '4'];
    const asked: (string | undefined)[] = [];
    const rows = printed(['PRINT "HOW MANY?"', 'INPUT A', 'PRINT A'], {
      ask: ({ what, line, refused, screen }) => {
        expect([what, line, screen[0].length]).toEqual(['number', 20, 9]);
        asked.push(refused);
        return answers.shift();
      },
    });
    expect(rows).toEqual(['HOW MANY?', '4']);
    expect(asked).toEqual([
      undefined,
      'it is not a number, nor an expression',
      'it is a string, and INPUT wants a number',
    ]);
  });

  test('the cursor stands at the bottom of the screen while it waits', () => {
    expect(play(['INPUT A']).rows.at(-1)).toBe('L');
    expect(play(['INPUT A$']).rows.at(-1)).toBe('"L"');
  });
});

describe('the other commands', () => {
  test('POKE takes -255 to 255 and changes what PEEK reads', () => {
    expect(printed(['POKE 16507,-1', 'PRINT PEEK 16507'])).toEqual(['255']);
    expect(reportOf('POKE 16507,256')).toBe('B/10');
    expect(reportOf('POKE -1,0')).toBe('B/10');
  });

  test('what has no effect here is said once', () => {
    const { remarks, report } = play([
      'POKE 0,1',
      'POKE 0,1',
      'POKE 20000,1',
      'POKE 16513,1',
      'PRINT PEEK 20000',
      'REM X',
      'POKE 17400,0',
    ]);
    expect(report).toBe('0/70');
    expect(remarks.map(({ line }) => line)).toEqual([10, 40, 50, 70]);
  });

  test('a REM may be poked without a word, and LIST shows it', () => {
    const { rows, remarks } = play(['REM XYZ', 'POKE 16514,38', 'LIST'], { ram: 16384 });
    expect(remarks).toEqual([]);
    expect(rows[0]).toBe('  10 REM AYZ');
  });

  test('a poke into the variables is a poke into their values', () => {
    expect(printed(['LET A=1', 'POKE PEEK 16400+256*PEEK 16401+1,130', 'PRINT A'])).toEqual(['2']);
  });

  test('PAUSE lets frames pass, and a key ends it', () => {
    expect(play(['PAUSE 100']).frames).toBe(100);
    expect(play(['PAUSE 0', 'PAUSE 32767']).frames).toBe(32767);
    const keys = [{ from: 40, to: 60, code: 38, isBreak: false }];
    expect(play(['PAUSE 100'], { keys }).frames).toBe(40);
    expect(play(['PAUSE 40000', 'PRINT INKEY$'], { keys }).rows).toEqual(['A']);
    expect(play(['PAUSE 40000']).report).toBe('key/10');
    expect(play(['PAUSE 40000'], { ask: () => '' }).report).toBe('0/10');
    expect(reportOf('PAUSE -1')).toBe('B/10');
    expect(reportOf('PAUSE 65536')).toBe('B/10');
  });

  test('FRAMES counts down while there is a picture', () => {
    const lines = ['POKE 16436,255', 'POKE 16437,255'];
    const loop = ['FOR N=1 TO 40', 'NEXT N'];
    const counting = [...lines, ...loop, 'PRINT 255-PEEK 16436>30'];
    expect(printed(counting)).toEqual(['1']);
    expect(printed(['FAST', ...counting])).toEqual(['0']);
    expect(printed(['FAST', 'SLOW', ...counting])).toEqual(['1']);
  });

  test('SLOW takes about four times as long as FAST (the manual, chapter 19)', () => {
    const loop = ['FOR N=1 TO 1000', 'NEXT N'];
    const ratio = play(['SLOW', ...loop]).seconds / play(['FAST', ...loop]).seconds;
    expect(ratio).toBeGreaterThan(3.5);
    expect(ratio).toBeLessThan(4.5);
  });

  test('RAND without a number takes SEED from FRAMES', () => {
    expect(printed(['RAND 0', 'PRINT PEEK 16434+256*PEEK 16435'])).toEqual([String(0xffff)]);
    expect(reportOf('RAND -1')).toBe('B/10');
  });
});
