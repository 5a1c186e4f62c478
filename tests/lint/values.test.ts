/** Values in messages, as the machine would print them. */
import { expect, test } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { findingsOf } from './findings.js';

const messageOf = (text: string, rule: string): string | undefined =>
  findingsOf(text.replaceAll('|', '\n'), rule)[0]?.message;

test.each([
  ['10 PRINT SQR -.1', 'argument-range', 'SQR does not take -0.1: it takes 0 up'],
  ['10 PRINT LN -1E-9', 'argument-range', 'LN does not take -1E-9: it takes only what is above 0'],
  ['10 PAUSE -.01', 'argument-range', 'PAUSE does not take -.01: it takes 0 to 65535'],
  ['10 PRINT CHR$ 1E20', 'argument-range', 'CHR$ does not take 1E+20: it takes 0 to 255'],
  ['10 DIM A(99999)', 'argument-range', 'DIM does not take 99999: it takes 1 to 16384'],
  ['10 PLOT -64,0', 'argument-range', 'PLOT does not take -64: it takes 0 to 63'],
  ['10 PRINT AT 24,0;"A"', 'argument-range', 'AT does not take 24: it takes 0 to 21'],
  ['10 POKE 0,256', 'argument-range', 'POKE does not take 256: it takes -255 to 255'],
  ['10 PRINT (-2)**2', 'argument-range', '** does not take -2: it takes 0 up'],
  ['10 DIM A(2,3)|20 PRINT A(1)', 'subscript-range', 'A has 2 dimensions, and here is 1 subscript'],
  ['10 DIM A(2.5)|20 PRINT A(4)', 'subscript-range', '4 is no subscript of A: they go from 1 to 3'],
  [
    '10 INPUT N|20 DIM A(N)|30 PRINT A(0)',
    'subscript-range',
    '0 is no subscript of A: they go from 1 up',
  ],
  [
    '10 PRINT USR 16514.2',
    'machine-code-place',
    '16514 is in line 10, and not in the text of a REM',
  ],
  [
    '10 PRINT INT (.57*100)',
    'number-equality',
    'INT gives 56 here and not 57: a decimal is stored a little off: .1*10 is not 1',
  ],
  [
    '10 IF 1/2=.5 THEN STOP',
    'number-equality',
    'this is false where both print as 0.5: a quotient and a decimal differ in their last bit: 1/2=.5 is false',
  ],
  [
    '10 IF 1E10+.1=1E10 THEN STOP',
    'number-equality',
    'this is true, for both are 10000000000 here, where they are meant to differ: a decimal is stored a little off: .1*10 is not 1',
  ],
  [
    '10 LET AB=RND|20 PRINT AB',
    'long-name',
    'AB stands 2 times: a name of one letter saves 2 bytes, and 1 more in the variable',
  ],
  [
    '10 FOR I=RND TO 9|20 PRINT I|30 NEXT I|40 FOR J=RND TO 9|50 PRINT J|60 NEXT J',
    'loop-variable',
    'this loop could count with I, which the loop at line 10 leaves free',
  ],
  [
    '10 FOR I=RND TO 9|20 NEXT I',
    'loop-variable',
    'this loop only waits: PAUSE would save about 25 bytes',
  ],
  [
    '10 CLS|20 REM [01 C9]|30 RAND USR 16520',
    'machine-code-place',
    'this runs machine code in line 20, which is not the first',
  ],
  ['10 REM [76]|20 RAND USR 16514', 'machine-code-place', 'the REM in line 10 contains code 118'],
  ['10 IF RND<.5 THEN RUN 15|20 STOP', 'missing-line', 'there is no line 15: RUN goes to line 20'],
  ['10 GOTO 10|20 CLS', 'unreachable-line', 'line 20 is never reached: 6 bytes'],
  ['10 GOTO 10|20 CLS|30 CLS', 'unreachable-line', 'lines 20 to 30 are never reached: 12 bytes'],
  ['10 LET B=A', 'unset-variable', 'nothing ever sets A'],
  ['10 LET A(1)=1|20 PRINT A(2)', 'unset-variable', 'nothing ever sets the array A'],
  ['10 LET A(1)=1|20 DIM A(2)', 'unset-variable', 'nothing has set the array A before this line'],
  ['10 LET A$(1)="X"', 'unset-variable', 'nothing ever sets A$'],
  ['10 PRINT A|20 LET A=1', 'unset-variable', 'nothing has set A before this line'],
  ['10 PRINT A(1)', 'unset-variable', 'nothing ever sets the array A'],
  ['10 IF RND=0 THEN STOP', 'zero-test', 'this test is the same without =0, with NOT'],
  ['10 IF RND<>0 THEN STOP', 'zero-test', 'this test is the same without <>0'],
  ['10 IF INKEY$<>"" THEN STOP', 'zero-test', 'this test is the same without <>"", with LEN'],
  [
    '10 DIM A(204)|20 PRINT A(204)',
    'array-size',
    'A would take 1026 bytes: more than the whole RAM of 1024',
  ],
  [
    '10 DIM A(2,3)|20 PRINT A(2,1);A(1,2)',
    'array-size',
    '10 bytes of A are never used: A(2,2) would do',
  ],
  [
    '10 DIM A$(3,4)|20 PRINT A$(1,2,3)',
    'subscript-range',
    'A$ has 2 dimensions, and here are 3 subscripts',
  ],
  ['10 PRINT[sp]A', 'spare-space', 'a space is stored here, which takes a byte'],
  ['10 PRINT[sp][sp]A', 'spare-space', '2 spaces are stored in this line, which take 2 bytes'],
  [
    '10 DIM A$(9)|20 LET A$=A$+"X"|30 LET B$="A"|40 LET B$=B$+"X"',
    'string-doubling',
    'B$ is added to itself: while this runs its text is there up to three times',
  ],
  [
    '10 INPUT X|20 IF SQR X=5 THEN STOP',
    'number-equality',
    'this may be false where the numbers look alike: SQR works by EXP and LN: SQR 25 prints 5 and is not 5',
  ],
  [
    '10 INPUT X|20 IF X**2<>5 THEN STOP',
    'number-equality',
    'this may be true where the numbers look alike: ** works by EXP and LN: 3**2 prints 9 and is not 9',
  ],
  [
    '10 INPUT X|20 PRINT INT (X*.1)',
    'number-equality',
    'INT may give 1 less than is meant: a decimal is stored a little off: .1*10 is not 1',
  ],
  ['10 DIM A(200)', 'no-room', 'the program does not run in 1K: 208 bytes over at least'],
  ['10 RETURN', 'return-without-gosub', 'the program comes to this RETURN without a GOSUB'],
  ['10 DIM A$(5)|20 PRINT A$(4)', 'array-size', '1 byte of A$ is never used: A$(4) would do'],
  [
    '10 DIM A(5)|20 PRINT A(VAL "3")|30 LET A(2)=1',
    'array-size',
    '10 bytes of A are never used: A(3) would do',
  ],
  [
    '10 GOSUB 30|20 STOP|30 PRINT "A"|40 RETURN',
    'one-caller',
    'only this GOSUB calls line 30: in its place the lines would save 20 bytes',
  ],
  [
    '10 PRINT 12345;12345;12345|20 PRINT 12345;12345',
    'repeated-number',
    '12345 stands 5 times: a variable would save 13 bytes more than any form of the number',
  ],
  [
    '10 LET A$="OAK"|20 PRINT A$',
    'single-use',
    'A$ is read in line 20 alone, where "OAK" could stand: that saves 11 bytes, and 6 more in the variables',
  ],
  [
    '10 LET COUNT=5|20 PRINT COUNT',
    'single-use',
    'COUNT is read in line 20 alone, where VAL "5" could stand: that saves 20 bytes, and 10 more in the variables',
  ],
  [
    '10 INPUT A|20 IF A THEN GOTO 40|30 STOP|40 RETURN',
    'return-without-gosub',
    'the program can come to this RETURN without a GOSUB',
  ],
  [
    '10 INPUT A$|20 DIM B(100)|30 DIM C(60)',
    'no-room',
    'the program does not run in 1K: 42 bytes over at least',
  ],
  ['10 GOTO 99', 'missing-line', 'there is no line 99, nor one after it: the program ends here'],
  ['10 GOSUB 15|20 STOP', 'missing-line', 'there is no line 15: GOSUB goes to line 20'],
  [
    '10 IF SQR 25=5 THEN STOP',
    'number-equality',
    'this is false where both print as 5: SQR works by EXP and LN: SQR 25 prints 5 and is not 5',
  ],
  [
    '10 IF 3**2=9 THEN STOP',
    'number-equality',
    'this is false where both print as 9: ** works by EXP and LN: 3**2 prints 9 and is not 9',
  ],
  [
    '10 PRINT INT (TAN ATN 1)',
    'number-equality',
    'INT may give 1 less than is meant: the functions are sums of series, a little off in their last bits',
  ],
  [
    '10 PRINT INT SQR 361',
    'number-equality',
    'INT gives 18 here and not 19: SQR works by EXP and LN: SQR 25 prints 5 and is not 5',
  ],
  [
    '10 IF LEN "OAK"/10=.3 THEN STOP',
    'number-equality',
    'this is false where both print as 0.3: a quotient and a decimal differ in their last bit: 1/2=.5 is false',
  ],
  [
    '10 IF .1E1*.1=.1 THEN STOP',
    'number-equality',
    'this is false where both print as 0.1: a decimal is stored a little off: .1*10 is not 1',
  ],
  [
    '10 FOR I=1 TO .5 STEP -.1|20 IF I=.7 THEN STOP|30 NEXT I',
    'number-equality',
    'this is false where both print as 0.7: the last bit of a quotient or a product is cut off or rounded',
  ],
])('%s', (text, rule, message) => {
  expect(messageOf(text, rule)).toBe(message);
});

test.each([
  [
    'IF A=1 OR 2 THEN STOP',
    'OR 2 does not ask whether A=2: a number alone is true unless it is 0',
    'write A=1 OR A=2',
  ],
  [
    'IF (A=1 OR 2 OR 3) AND A<9 THEN STOP',
    'OR 3 does not ask whether A=3: a number alone is true unless it is 0',
    'write A=1 OR A=2 OR A=3',
  ],
  [
    'IF A>1 AND VAL "5" THEN STOP',
    'AND VAL "5" does not ask whether A>VAL "5": a number alone is true unless it is 0',
    'ask the whole question again behind AND, as in A>1 AND A<5',
  ],
  [
    'PRINT A AND 64',
    'AND does not work on bits: this is A, whatever the number behind it says',
    'get bits by dividing, as in INT (X/64)-2*INT (X/128), which is 1 where the bit of 64 is set',
  ],
  [
    'PRINT A AND 1',
    'AND does not work on bits: this is A, whatever the number behind it says',
    'get bits by dividing, as in X-2*INT (X/2)',
  ],
  [
    'PRINT A+1 AND -2',
    'AND does not work on bits: this is A+1, whatever the number behind it says',
    'get bits by dividing, as in INT (X/128)-2*INT (X/256), which is 1 where the bit of 128 is set',
  ],
  [
    'PRINT A AND 15',
    'AND does not work on bits: this is A, whatever the number behind it says',
    'get bits by dividing, as in X-16*INT (X/16)',
  ],
  [
    'PRINT A AND 0',
    'AND does not work on bits: this is 0, whatever the number behind it says',
    'get bits by dividing, as in INT (X/128)-2*INT (X/256), which is 1 where the bit of 128 is set',
  ],
  [
    'PRINT A AND 10',
    'AND does not work on bits: this is A, whatever the number behind it says',
    'get bits by dividing, as in INT (X/128)-2*INT (X/256), which is 1 where the bit of 128 is set',
  ],
  [
    'PRINT A OR 0',
    'OR does not work on bits: this is A, whatever the number behind it says',
    'get bits by dividing, as in INT (X/128)-2*INT (X/256), which is 1 where the bit of 128 is set',
  ],
  [
    'PRINT A OR -1',
    'OR does not work on bits: this is 1, whatever the number behind it says',
    'get bits by dividing, as in INT (X/128)-2*INT (X/256), which is 1 where the bit of 128 is set',
  ],
])('%s: what a number behind AND or OR is', (statement, message, help) => {
  const found = findingsOf(`10 INPUT A\n20 ${statement}`, 'and-or-number');
  expect(found).toMatchObject([{ message, help }]);
  const isOr = message.startsWith('OR');
  expect(found[0].why).toBe(
    message.includes('ask')
      ? `each side of ${isOr ? 'OR' : 'AND'} is a question of its own`
      : isOr
        ? 'x OR y is 1 where y is not 0, else x'
        : 'x AND y is x where y is not 0, else 0',
  );
});

test.each([
  ['LET A=B=0', 'write LET A=0, and on a line of its own LET B=0'],
  [
    'LET A=B=C=0',
    'write LET A=0, and on a line of its own LET B=0, and on a line of its own LET C=0',
  ],
])('%s: how several are set', (statement, help) => {
  expect(findingsOf(`10 ${statement}\n20 PRINT A`, 'chained-equals')).toMatchObject([{ help }]);
});

test.each([
  ['10 DIM A(200)', 'no-room', 'the largest variable, A(), takes 1006 bytes'],
  [
    '10 DIM A(50)\n20 DIM B(100)\n30 DIM C(60)',
    'no-room',
    'the largest variable, B(), takes 506 bytes',
  ],
  [
    '10 LET A$=""\n20 LET A$=A$+"X"\n30 GOTO 20',
    'no-room',
    'variables: A$: nothing in the listing bounds how long it grows',
  ],
  [
    '10 INPUT N\n20 DIM A(N)\n30 INPUT B$',
    'no-room',
    'variables: A(): only the run tells how large DIM makes it',
  ],
  ['10 DIM A(-1)', 'argument-range', 'the machine stops here with report B'],
  ['10 DIM A(0)', 'argument-range', 'the machine stops here with report 3'],
  ['10 PRINT SQR -1', 'argument-range', 'the machine stops here with report A'],
  ['10 PRINT CHR$ 256', 'argument-range', 'the machine stops here with report B'],
  ['10 LET I=1\n20 NEXT I', 'next-without-for', 'the machine stops here with report 1'],
  [
    '10 DIM A(5)\n20 PRINT A(-1)',
    'subscript-range',
    'the machine stops here with report B: a subscript has no sign',
  ],
  [
    '10 DIM A(5)\n20 PRINT A(0)',
    'subscript-range',
    'the machine stops here with report 3: subscript out of range',
  ],
  [
    '10 FOR I=9 TO 1\n20 CLS\n30 NEXT I',
    'unreachable-line',
    'the loop of the line before makes no pass, and no jump leads here',
  ],
  [
    '10 PRINT 12345;12345;12345;12345',
    'repeated-number',
    'a variable of one letter pays from 4 uses on: each takes 1 byte instead of 8',
  ],
  ['.var I = 1\n.start 10\n10 NEXT I', 'next-without-for', 'the machine stops here with report 1'],
  [
    '.var I = 1\n10 NEXT I',
    'next-without-for',
    'the machine stops here with report 2, or after GOTO with 1',
  ],
  ['10 NEXT I\n20 NEXT I', 'next-without-for', 'the machine stops here with report 2'],
])('%s: why', (text, rule, why) => {
  expect(findingsOf(text, rule)[0].why).toBe(why);
});

test.each([
  '10 IF SQR 9=3 THEN STOP',
  '10 IF SIN 0=0 THEN STOP',
  '10 IF .1*3=.3 THEN STOP',
  '.var A = .1|10 IF A*3=.3 THEN STOP',
  '10 LET A=.1|15 LET A=.2|20 IF A*3=.3 THEN STOP',
])('%s compares what is equal, or what only the run tells', (text) => {
  expect(messageOf(text, 'number-equality')).toBeUndefined();
});

// The first and the last value of a loop that is walked through from its FOR to its NEXT.
test.each([
  ['I=1 TO 9|30 PRINT A(I)', '9 is no subscript of A: they go from 1 to 5'],
  ['I=0 TO 4|30 PRINT A(I)', '0 is no subscript of A: they go from 1 to 5'],
  ['I=5 TO 0 STEP -1|30 PRINT A(I)', '0 is no subscript of A: they go from 1 to 5'],
  [
    'I=1 TO 9|30 FOR J=1 TO 2|35 NEXT J|40 PRINT A(I)',
    '9 is no subscript of A: they go from 1 to 5',
  ],
  ['I=1 TO 6 STEP 3|30 PRINT A(I)', undefined],
  ['I=1 TO 9|30 IF RND<.5 THEN PRINT A(I)', undefined],
  ['I=1 TO 9|30 IF I=5 THEN GOTO 50|40 PRINT A(I)', undefined],
  ['I=1 TO N|30 PRINT A(I)', undefined],
  ['I=N TO 3|30 PRINT A(I)', undefined],
  ['I=1 TO 9 STEP N|30 PRINT A(I)', undefined],
  ['I=9 TO 1 STEP 0|30 PRINT A(I)', undefined],
])('FOR %s', (loop, message) => {
  const text = `10 DIM A(5)|15 INPUT N|20 FOR ${loop}|50 NEXT I`;
  expect(messageOf(text, 'subscript-range')).toBe(message);
});

test('a number of another base is written in digits that the machine reads', () => {
  const { diagnostics } = readListing(`10 LET A=&H${'F'.repeat(23)}`);
  expect(diagnostics[0].help).toBe('write `LET A=4.9517602E+27`');
});

test.each([
  ['10 DIM A(5)\n20 PRINT A(0)', 'subscript-range', 'count from 1'],
  ['10 DIM A(200)', 'no-room', '`listwright lint --fix --until-fits` saves what it can'],
  ['10 GOSUB 10', 'no-room', '`listwright fit` says what it hangs on'],
  [
    '10 DIM A(5)\n20 PRINT A(6)',
    'subscript-range',
    'make the DIM larger, or the subscript smaller',
  ],
  ['10 DIM A(2,3)\n20 PRINT A(1)', 'subscript-range', 'give 2'],
  ['10 GOTO 99', 'missing-line', 'use STOP, if that is meant'],
  ['10 GOTO 15\n20 STOP', 'missing-line', 'write 20, if that is meant'],
  ['10 PRINT A$(1)', 'unset-variable', 'DIM A$ first'],
  ['10 PRINT A(1)', 'unset-variable', 'DIM A first'],
  ['10 LET A(1)=1\n20 DIM A(2)', 'unset-variable', 'set it first, or correct its name'],
  ['10 LET A(1)=1\n20 PRINT A(2)', 'unset-variable', 'DIM A first'],
  ['10 PRINT A', 'unset-variable', 'set it first, or correct its name'],
  ['10 FOR I=9 TO 1\n20 NEXT I', 'empty-loop', 'write FOR I=9 TO 1 STEP -1 to count down'],
  [
    '10 FOR I=1 TO 9 STEP -1\n20 NEXT I',
    'empty-loop',
    'exchange the two ends, or give the STEP the other sign',
  ],
  ['10 PRINT 1.05*INT (.57*100)', 'number-equality', 'add .5 before INT, as in INT (X+.5); or '],
  [
    '10 IF 1/2=.5 THEN STOP',
    'number-equality',
    'ask whether they are near, as in ABS (A-B)<.001; or ',
  ],
])('%s: what to do', (text, rule, help) => {
  expect(findingsOf(text, rule)[0].help).toContain(help);
});

test('a long name has no letter to go to where all are taken', () => {
  const lines = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'].map((name, at) => `${at + 1} LET ${name}=RND`);
  const [found] = findingsOf([...lines, '99 LET AB=1'].join('\n'), 'long-name');
  expect(found.help).toBe('no letter is free: one must be used for two things');
  expect(found.fix).toBeUndefined();
});
