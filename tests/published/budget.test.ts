/** The budget against what is published of the machine's memory. */
import { describe, expect, it } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import {
  IMAGE_START,
  MACHINE_STACK_HIGH,
  MACHINE_STACK_LOW,
  RAM_START,
  ROOM_MARGIN,
} from '../../src/machine/memory-map.js';
import { budgetOf } from '../../src/memory/budget.js';

const KILOBYTE = 1024;

function budget(text: string, ram = KILOBYTE) {
  const { listing, diagnostics } = readListing(text);
  expect(diagnostics).toEqual([]);
  return budgetOf(listing, { ram });
}

/**
 * S. Vickers, BASIC Programming (1981), chapter 23: on 1K, after DIM A(150), the automatic listing
 * has room for either of lines 10 and 20 and not for both; with line 30 added for line 30 alone.
 */
describe('the room on 1K after DIM A(150) (Vickers, chapter 23)', () => {
  const array = `.var A(150) = ${new Array(150).fill('0').join(',')}\n`;
  const lines = ['10 FOR N=1 TO 15', '20 PRINT N', '30 NEXT N'];
  /** What LIST shows of a line: its number in four columns, then its text. */
  const listed = (line: string): number => line.length + 2;
  /** Everything but the listing, the margin and the machine stack: image, cursor and NEWLINE. */
  const used = (count: number): number => {
    const { image } = budget(array + lines.slice(0, count).join('\n'));
    return IMAGE_START - RAM_START + image + 2;
  };
  const hasRoom = (count: number, shown: readonly string[], stack: number): boolean => {
    const growth = shown.reduce((sum, line) => sum + listed(line), 0);
    return used(count) + growth + ROOM_MARGIN + stack < KILOBYTE;
  };
  const [for10, print20, next30] = lines;

  it('is enough for one of two lines, even at the most that the machine stack takes', () => {
    expect(hasRoom(2, [for10], MACHINE_STACK_HIGH)).toBe(true);
    expect(hasRoom(2, [print20], MACHINE_STACK_HIGH)).toBe(true);
    expect(hasRoom(3, [next30], MACHINE_STACK_HIGH)).toBe(true);
  });

  it('is not enough for two, even at the least that it takes', () => {
    expect(hasRoom(2, [for10, print20], MACHINE_STACK_LOW)).toBe(false);
    expect(hasRoom(3, [print20, next30], MACHINE_STACK_LOW)).toBe(false);
  });

  it('leaves those bounds no wider than they are', () => {
    expect(hasRoom(2, [for10], MACHINE_STACK_HIGH + 1)).toBe(false);
    expect(hasRoom(2, [for10, print20], MACHINE_STACK_LOW - 1)).toBe(true);
  });

  it('makes a program for which one byte is missing at most tight, and at least over', () => {
    const { runs } = budget(`${lines.join('\n')}\n`);
    const { listing } = readListing(`${lines.join('\n')}\n`);
    // Where the bounds leave it open, the courses of the run are followed, and the most may sink.
    let { high } = runs;
    while (budgetOf(listing, { ram: high - 1 }).runs.verdict === 'fits') {
      high = budgetOf(listing, { ram: high - 1 }).runs.high;
    }
    expect(budgetOf(listing, { ram: high }).runs.verdict).toBe('fits');
    expect(budgetOf(listing, { ram: high - 1 }).runs.verdict).toBe('tight');
    expect(budgetOf(listing, { ram: runs.low }).runs.verdict).toBe('tight');
    expect(budgetOf(listing, { ram: runs.low - 1 }).runs.verdict).toBe('does not fit');
  });
});

/** Vickers, chapter 27: how each kind of variable is stored. */
describe('sizes of variables (Vickers, chapter 27)', () => {
  it.each([
    ['10 LET A=5', 'A', 6],
    ['10 LET SCORE=5', 'SCORE', 10],
    ['10 FOR I=1 TO 9\n20 NEXT I', 'I', 18],
    ['10 DIM A(4)', 'A()', 1 + 2 + 1 + 2 + 4 * 5],
    ['10 DIM A(2,3)', 'A()', 1 + 2 + 1 + 2 * 2 + 6 * 5],
    ['10 LET A$="OAK"', 'A$', 1 + 2 + 3],
    ['10 LET A$=""', 'A$', 3],
    ['10 DIM A$(7)', 'A$', 1 + 2 + 1 + 2 + 7],
    ['10 DIM A$(2,7)', 'A$', 1 + 2 + 1 + 2 * 2 + 14],
  ])('%s: %s takes %i bytes', (text, name, bytes) => {
    expect(budget(text, 16384).variables).toEqual([
      expect.objectContaining({ name, low: bytes, high: bytes }),
    ]);
  });
});

/** Vickers, chapter 27: the display file. */
describe('a clear display (Vickers, chapter 27)', () => {
  const display = (ram: number) =>
    budget('10 CLS', ram).areas.find(({ area }) => area === 'display')!;
  it('takes 25 bytes below 3¼K and 793 from there on', () => {
    expect(display(3327).low).toBe(25);
    expect(display(3328)).toMatchObject({ low: 793, high: 793 });
    expect(display(1024).low).toBe(25);
    expect(display(16384).high).toBe(793);
  });

  it('grows below 3¼K by what is printed', () => {
    const sizes = (text: string) =>
      budget(text).areas.find(({ area }) => area === 'display')!.low - 25;
    expect(sizes('10 PRINT "OAK"')).toBe(3);
    expect(sizes('10 PRINT "OAK";"ELM"\n20 PRINT "ASH"')).toBe(9);
    expect(sizes('10 PRINT AT 5,10;"A"')).toBe(11);
  });
});

/** Vickers, chapters 26 to 28: where the areas stand. */
it('system variables are 125 bytes from 16384 on, and the program begins behind them', () => {
  const { areas } = budget('10 CLS');
  expect(areas[0]).toMatchObject({ area: 'system variables', start: 16384, low: 125, high: 125 });
  expect(areas[1]).toMatchObject({ area: 'program', start: 16509, low: 6, high: 6 });
});

/** Vickers, chapter 27, for the head of four and the NEWLINE; the rest is common practice. */
describe('sizes of lines', () => {
  const bytes = (text: string) => budget(text).lines[0];
  it('a line takes its text and five bytes', () => {
    expect(bytes('10 CLS')).toEqual({ number: 10, bytes: 6, hidden: 0 });
    expect(bytes('10 PRINT "OAK"').bytes).toBe(5 + 6);
  });

  it.each(['5', '25', '1000', '.5', '1E5'])(
    'a literal costs its digits and 6: %s (common practice)',
    (digits) => {
      expect(bytes(`10 PRINT ${digits}`)).toEqual({
        number: 10,
        bytes: 6 + digits.length + 6,
        hidden: 6,
      });
    },
  );

  it('VAL "5" saves 3 bytes of 5 (common practice)', () => {
    expect(bytes('10 PRINT 5').bytes - bytes('10 PRINT VAL "5"').bytes).toBe(3);
    expect(bytes('10 PRINT 25').bytes - bytes('10 PRINT VAL "25"').bytes).toBe(3);
  });

  it('NOT PI, SGN PI and INT PI are 0, 1 and 3 in 2 bytes (common practice)', () => {
    for (const form of ['NOT PI', 'SGN PI', 'INT PI'])
      expect(bytes(`10 PRINT ${form}`).bytes).toBe(8);
  });
});

/** Vickers, chapter 27 and 14: a GOSUB keeps two bytes until its RETURN. */
it('GOSUBs take 2 bytes for each that is open at once', () => {
  const text = '10 GOSUB 30\n20 STOP\n30 GOSUB 50\n40 RETURN\n50 RETURN\n';
  const stack = budget(text).areas.find(({ area }) => area === 'GOSUB stack')!;
  expect(stack.high).toBe(4);
});
