import { describe, expect, test } from 'vitest';
import { optionsFor, putInto } from '../../src/draw/into.js';
import { hasErrors } from '../../src/listing/diagnostics.js';
import { readListing } from '../../src/listing/read.js';

const TWO = ['PRINT "A"', 'PRINT "B"'];

function put(text: string, at: number, statements: readonly string[] = TWO) {
  const read = readListing(text);
  expect(read.diagnostics).toEqual([]);
  const result = putInto(read, at, statements);
  if (result.text !== undefined)
    expect(hasErrors(readListing(result.text).diagnostics)).toBe(false);
  return result;
}

describe('lines put into a listing', () => {
  test('where there is room, nothing moves', () => {
    expect(put('10 CLS\n100 STOP\n', 20)).toMatchObject({
      text: '10 CLS\n20 PRINT "A"\n30 PRINT "B"\n100 STOP\n',
      numbers: [20, 30],
      moved: 0,
    });
    expect(put('10 CLS\n20 STOP\n', 11).text).toBe('10 CLS\n11 PRINT "A"\n16 PRINT "B"\n20 STOP\n');
  });

  test('lines that stand there move on, and what names them follows', () => {
    const { text, moved } = put('10 LET A=1\n20 PRINT A\n30 GOTO 20\n40 GOSUB 10\n', 20);
    expect(text).toBe(
      '10 LET A=1\n20 PRINT "A"\n21 PRINT "B"\n22 PRINT A\n30 GOTO 22\n40 GOSUB 10\n',
    );
    expect(moved).toBe(1);
    const many = Array.from({ length: 11 }, () => 'CLS');
    const far = put('10 LET A=1\n20 PRINT A\n30 GOTO 20\n', 20, many);
    expect(far.text).toMatch(/\n30 CLS\n40 PRINT A\n50 GOTO 40\n$/);
    expect(far.moved).toBe(2);
  });

  test('comments go with their lines, and one at the top stays there', () => {
    expect(put("' the lamp\n10 CLS\n' at last\n20 STOP\n", 20).text).toBe(
      `' the lamp\n10 CLS\n20 PRINT "A"\n21 PRINT "B"\n' at last\n30 STOP\n`,
    );
    expect(put("' the lamp\n10 CLS\n", 5).text).toBe(
      `' the lamp\n5 PRINT "A"\n7 PRINT "B"\n10 CLS\n`,
    );
  });

  test('behind the last line, with or without its newline', () => {
    expect(put('10 CLS', 20).text).toBe('10 CLS\n20 PRINT "A"\n30 PRINT "B"\n');
    expect(put('10 CLS\r\n', 20).text).toBe('10 CLS\r\n20 PRINT "A"\r\n30 PRINT "B"\r\n');
  });

  test('numbers do not go beyond 9999', () => {
    expect(put('10 CLS\n9990 STOP\n', 9991).text).toMatch(/\n9991 PRINT "A"\n\d+ PRINT "B"\n$/);
    const full = put('9998 CLS\n9999 STOP\n', 9998);
    expect(full.text).toBeUndefined();
    expect(full.diagnostics[0].message).toContain('beyond 9999');
  });

  test('a target that is worked out stops it, and an address that moves is told', () => {
    const computed = put('10 LET A=20\n20 GOTO A\n', 20);
    expect(computed.text).toBeUndefined();
    expect(computed.diagnostics.length).toBeGreaterThan(0);
    const machine = put('10 REM ABC\n20 PRINT PEEK 16514\n', 5);
    expect(machine.diagnostics.map(({ rule }) => rule)).toContain('moved-address');
  });
});

test('names that the program uses are left alone', () => {
  const { listing } = readListing('10 FOR I=1 TO 2\n20 LET A$="X"\n30 NEXT I\n40 DIM N(3)\n');
  expect(optionsFor(listing, 50)).toEqual({
    isFirst: false,
    names: { outer: 'J', inner: 'C', more: ['A', 'B'], text: 'B$' },
  });
  expect(optionsFor(listing, 5).isFirst).toBe(true);
});
