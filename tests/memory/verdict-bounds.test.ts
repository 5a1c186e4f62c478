/** Verdicts from the bounds alone, held against rehearsals of drawn programs that end by themselves. */
import { expect, it } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { budgetOf } from '../../src/memory/budget.js';
import { budgetTable } from '../../src/memory/table.js';
import { verdictText } from '../../src/memory/verdict.js';
import { drawProgram } from '../support/draw-program.js';
import { compareVerdicts, SEEDS, tallyOf } from '../support/verdict-tally.js';

const count = Number(process.env.VERDICTS ?? (process.env.FUZZ ? 1000 : 8));

it('are never wrong, at 1K and at sizes about the peak', () => {
  const drawn = Array.from({ length: count }, (_, seed) => drawProgram(seed));
  const { wrong, run } = tallyOf(
    drawn.map((program) => compareVerdicts(program, SEEDS.slice(0, 3))),
  );
  expect(wrong).toEqual([]);
  expect(run).toBeGreaterThan(count / 3);
});

/** Bytes needed at most, in RAM so small that the verdict hangs on it. */
function most(text: string): number {
  const { listing } = readListing(text.replaceAll('|', '\n'));
  const { low } = budgetOf(listing, { ram: 1024 }).runs;
  return budgetOf(listing, { ram: low }).runs.high;
}

/** Bytes that the second program may need more than the first, each with as many bytes of lines. */
const more = (first: string, second: string): number => most(second) - most(first);

it('follow a display that is scrolled: its rows are what was printed on each', () => {
  const once = '10 FOR I=1 TO 1|20 SCROLL|30 PRINT "OAK"|40 NEXT I';
  expect(more(once, once.replace('TO 1', 'TO 5'))).toBe(4 * 3);
  expect(more(once, once.replace('TO 1', 'TO 9'))).toBe(8 * 3);
});

it('follow a display that is written over, and one that is cleared', () => {
  const over = '10 FOR I=1 TO 1|20 PRINT AT 5,0;"OAK"|30 NEXT I';
  expect(more(over, over.replace('TO 1', 'TO 9'))).toBe(0);
  const cleared = '10 FOR I=1 TO 1|20 CLS|30 PRINT AT 5,0;"OAK"|40 NEXT I';
  expect(more(cleared, cleared.replace('TO 1', 'TO 9'))).toBe(0);
});

it('take together only what stands there at the same time', () => {
  const text = '10 FOR I=0 TO 9|20 PRINT AT I,31;"X"|30 NEXT I|40 CLS|50 DIM A(1)';
  const later = text.replace('A(1)', 'A(60)');
  expect(more(text, later)).toBeLessThan(10);
  const { listing } = readListing(later.replaceAll('|', '\n'));
  const { low } = budgetOf(listing, { ram: 1024 }).runs;
  expect(budgetTable(budgetOf(listing, { ram: low }), listing)).toMatch(/^not all at once +-\d+$/m);
});

it('follow a string that the program itself bounds', () => {
  const text = '10 LET A$="*"|20 LET A$=A$+"*"|30 IF LEN A$<25 THEN GOTO 20';
  // The old string, the new one and the joined text each grow by one character.
  expect(more(text, text.replace('<25', '<26'))).toBe(3);
});

it('keep ways apart by numbers that decide what is still to come', () => {
  // Of 1 to 100 the guess halves what is left: six times, then it is found, or one is tried twice.
  const search =
    '10 LET S=INT (RND*100)+1|20 LET L=1|30 LET H=100|40 LET G=INT ((L+H)/2)|50 PRINT "OAK"|' +
    '60 IF G=S THEN GOTO 100|70 IF G<S THEN LET L=G+1|80 IF G>S THEN LET H=G-1|90 GOTO 40|100 REM';
  expect(more(search, search.replace('OAK', 'OAKS'))).toBeGreaterThanOrEqual(1 + 6);
  expect(more(search, search.replace('OAK', 'OAKS'))).toBeLessThanOrEqual(1 + 8);
});

it('follow a loop to the root of a number that is known', () => {
  // Of eleven primes ten stand there while the last numbers are tried; 4, 9, 16 and 25 are none.
  const primes =
    '10 FOR N=2 TO 31|20 FOR D=2 TO SQR N|30 IF N/D=INT (N/D) THEN GOTO 60|40 NEXT D|' +
    '50 PRINT "PRIME NUMBER"|60 NEXT N';
  expect(more(primes, primes.replace('PRIME N', 'PRIMEN'))).toBe(-1 - 10);
});

it('keep ways apart by where printing goes on', () => {
  const text = '10 IF RND<.5 THEN PRINT "OAK";|20 PRINT TAB 4;"X"|30 REM';
  expect(more(text, text.replace('TAB 4', 'TAB 2'))).toBeLessThanOrEqual(32);
  const rows = '10 FOR I=1 TO 9|20 IF RND<.5 THEN PRINT "OAK"|30 NEXT I|40 PRINT "X"';
  expect(more(rows, rows.replace('TO 9', 'TO 8'))).toBe(-3);
});

it('take in that a string of fixed length is made anew in the workspace (137A)', () => {
  const whole = '10 DIM A$(50)|20 LET A$="X"';
  // Once in the variables, and once in the workspace.
  expect(more(whole, whole.replace('50', '54'))).toBe(4 + 4);
  const part = '10 DIM A$(99)|20 LET A$(1 TO 40)="X"';
  expect(more(part, part.replace('TO 40', 'TO 44'))).toBe(4);
  const element = '10 DIM A$(2,50)|20 LET A$(1)="X"';
  expect(more(element, element.replace('50', '54'))).toBe(8 + 4);
});

it('follow an array whose size a variable holds', () => {
  const text = '10 LET N=4|20 DIM A(N)|30 LET N=9';
  expect(more(text, text.replace('N=4', 'N=5'))).toBe(5);
});

it('take in that a keyword is printed in full', () => {
  expect(
    most('10 PRINT CHR$ 255|20 PRINT CHR$ 255') - most('10 PRINT CHR$ 155|20 PRINT CHR$ 155'),
  ).toBeGreaterThanOrEqual(5);
});

it('settle for a program that goes on for ever', () => {
  expect(most('10 LET S=0|20 LET S=S+1|30 PRINT AT 0,0;S|40 GOTO 20')).toBeLessThan(400);
  expect(most('10 LET A$=""|20 LET A$=A$+"*"|30 GOTO 20')).toBe(Infinity);
});

it('tell what was given up in following the program', () => {
  const told = (text: string): string => {
    const { listing } = readListing(text.replaceAll('|', '\n'));
    const { low } = budgetOf(listing, { ram: 1024 }).runs;
    return verdictText(budgetOf(listing, { ram: low }).verdict);
  };
  const grows = '10 LET A$=""|20 LET A$=A$+"*"|';
  expect(told(`${grows}30 CONT`)).toMatch(
    /its ways were not followed: a jump may lead to any line, or a line is not understood$/,
  );
  expect(told(`${grows}30 INPUT A|40 POKE A,1|50 GOTO 20`)).toMatch(
    /its ways were not followed: POKE may change the system variables \(line 40\)$/,
  );
  expect(told(`${grows}30 GOTO 20`)).toMatch(/no further than pass 301 \(line 30\)$/);
  expect(told('10 PRINT "OAK"|20 IF RND>.5 THEN PRINT "ASH"')).toMatch(/over at worst$/);
});
