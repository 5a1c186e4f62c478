/** What is said of questions that ask nothing, word for word: the remedy must be one to type. */
import { expect, it } from 'vitest';
import { findingsOf } from './findings.js';

const found = (text: string, rule: string): string[] =>
  findingsOf(text, rule).map(({ message, help }) => `${message}; ${help}`);

it.each([
  [
    '10 INPUT A\n20 IF A=1 OR 2 OR 3 THEN STOP\n',
    'OR 3 does not ask whether A=3: a number alone is true unless it is 0; write A=1 OR A=2 OR A=3',
  ],
  [
    '10 INPUT A\n20 IF A>1 AND 5 THEN STOP\n',
    'AND 5 does not ask whether A>5: a number alone is true unless it is 0; ask the whole question again behind AND, as in A>1 AND A<5',
  ],
  [
    '10 LET X=PEEK 16421 AND 128\n20 PRINT X\n',
    'AND does not work on bits: this is PEEK 16421, whatever the number behind it says; get bits by dividing, as in INT (X/128)-2*INT (X/256), which is 1 where the bit of 128 is set',
  ],
  [
    '10 LET X=PEEK 16421 AND 15\n20 PRINT X\n',
    'AND does not work on bits: this is PEEK 16421, whatever the number behind it says; get bits by dividing, as in X-16*INT (X/16)',
  ],
  [
    '10 LET X=PEEK 16421 OR 1\n20 PRINT X\n',
    'OR does not work on bits: this is 1, whatever the number behind it says; get bits by dividing, as in INT (X/128)-2*INT (X/256), which is 1 where the bit of 128 is set',
  ],
])('%j', (text, said) => {
  expect(found(text, 'and-or-number')).toEqual([said]);
});

it.each([
  [
    '10 LET A=B=0\n20 PRINT A;B\n',
    'this sets A alone, to 1 or 0: the second = compares; write LET A=0, and on a line of its own LET B=0',
  ],
  [
    '10 LET A=B=C=D+1\n20 PRINT A;B;C\n',
    'this sets A alone, to 1 or 0: the second = compares; write LET A=D+1, and on a line of its own LET B=D+1, and on a line of its own LET C=D+1',
  ],
])('%j', (text, said) => {
  expect(found(text, 'chained-equals')).toEqual([said]);
});

it.each([
  [
    '10 INPUT A\n20 IF 1<A<5 THEN STOP\n',
    'this asks how 1 or 0 stands to 5, not A; write 1<A AND A<5',
  ],
  [
    '10 INPUT A\n20 INPUT B\n30 IF A=B=0 THEN STOP\n',
    'this asks how 1 or 0 stands to 0, not B; write A=B AND B=0',
  ],
])('%j', (text, said) => {
  expect(found(text, 'compared-twice')).toEqual([said]);
});

it('holds nothing for certain that a run may not come to', () => {
  const severities = (text: string, rule: string): string[] =>
    findingsOf(text, rule).map(({ severity }) => severity);
  const stopped = (rest: string): string => `10 IF RND<.5 THEN STOP\n20 ${rest}\n`;
  expect(severities(stopped('RETURN'), 'return-without-gosub')).toEqual(['warning']);
  expect(severities(stopped('DIM A(200)'), 'no-room')).toEqual(['warning']);
  const looped = (to: number): string =>
    `10 DIM A(5)\n20 FOR I=9 TO ${to}\n30 LET A(I)=2\n40 NEXT I\n`;
  expect(severities(looped(10), 'subscript-range')).toEqual(['error']);
  expect(severities(looped(1), 'subscript-range')).toEqual(['warning']);
  expect(severities('10 STOP\n20 SAVE "A"\n30 PLOT 64,1\n', 'argument-range')).toEqual(['error']);
});
