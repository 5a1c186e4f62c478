/** Programs that look at their own bytes: no fix where that could change what they do. */
import { describe, expect, it } from 'vitest';
import { analyse } from '../../src/analysis/program.js';
import { lint } from '../../src/lint/lint.js';
import { selfReadingOf } from '../../src/lint/self-reading.js';
import { readListing } from '../../src/listing/read.js';
import { budgetOfProgram } from '../../src/memory/budget.js';

/** Lines (by number) in which a fix is offered. */
function fixedLines(...lines: string[]): number[] {
  const text = lines.join('\n');
  const { listing } = readListing(text);
  const { findings } = lint({ text, listing }, { ram: 1024 });
  const found = new Set<number>();
  for (const { fix, start } of findings) {
    if (fix === undefined) continue;
    found.add(listing.lines.find((line) => start >= line.start && start <= line.end)!.number);
  }
  return [...found].sort((a, b) => a - b);
}

describe('a fix is offered', () => {
  it('where the program looks at nothing of its own', () => {
    expect(fixedLines('10 PRINT 5', '20 PRINT PEEK 16396;PEEK 100')).toEqual([10, 20]);
  });

  it('behind the bytes that are looked at, and not before or in them', () => {
    // Line 10 is at 16509, line 20 at 16522, line 30 behind it.
    expect(fixedLines('10 PRINT 5', '20 PRINT 7', '30 PRINT PEEK 16525')).toEqual([30]);
    expect(fixedLines('10 PRINT 5', '20 PRINT 7', '30 POKE 16510,1')).toEqual([20, 30]);
  });

  it('behind a loop that fills a REM in the first line', () => {
    const lines = ['10 REM AAAA', '20 FOR I=16514 TO 16517', '30 POKE I,1', '40 NEXT I'];
    // The variable comes to 16518, the last byte of line 10.
    expect(fixedLines(...lines)).toEqual([20, 30]);
  });

  it('where an address is counted up from one that moves with the program', () => {
    const lines = ['10 LET D=PEEK 16396+256*PEEK 16397', '20 POKE D+1+9,8'];
    expect(fixedLines(...lines)).toEqual([10, 20]);
  });

  it('behind machine code that speaks of nothing behind it', () => {
    expect(fixedLines('10 REM [21 00 00 C9]', '20 PRINT USR 16514')).toEqual([20]);
  });
});

/** What selfReadingOf gives for a listing in 1K: how high it looks, by which line. */
function looks(...lines: string[]): [number, number | undefined] {
  const program = analyse(readListing(lines.join('\n')).listing);
  const { highest, by } = selfReadingOf(program, budgetOfProgram(program, 1024));
  return [highest, by?.line.number];
}

describe('the highest address that a program looks at', () => {
  // `10 CLS` is at 16509 to 16514; with `20 PRINT PEEK …` the program ends at 16533.
  it.each([
    [0, 0],
    [16508, 0],
    [16509, 16509],
    [16514, 16514],
    [16532, 16532],
    [16533, Infinity],
    [17407, Infinity],
    [17408, 0],
  ])('of PEEK %d is %d', (address, highest) => {
    expect(looks('10 CLS', `20 PRINT PEEK ${address}`)).toEqual([
      highest,
      highest === 0 ? undefined : 20,
    ]);
  });

  it('is that of the line that looks highest, the first of those', () => {
    expect(
      looks('10 CLS', '20 PRINT PEEK 16509', '30 PRINT PEEK 16511', '40 POKE 16510,1'),
    ).toEqual([16511, 30]);
    expect(looks('10 CLS', '20 PRINT PEEK 16509', '30 PRINT PEEK 16509')).toEqual([16509, 20]);
    expect(looks('10 CLS', '20 PRINT USR 100', '30 PRINT SIN 16509')).toEqual([0, undefined]);
  });

  it('is without bound with LIST, LLIST, and lines that are not checked', () => {
    for (const statement of ['LIST', 'LLIST', '[F5]']) {
      expect(looks('10 CLS', `20 ${statement}`)).toEqual([Infinity, 20]);
    }
  });

  it('of machine code in a REM is its end, unless it speaks of what lies behind it', () => {
    // The REM of five bytes goes from 16509 to 16519, so that the next line is at 16520, 40 88 in hex.
    const code = (bytes: string) => looks(`10 REM [${bytes}]`, '20 PRINT USR 16514');
    expect(code('21 87 40 C9 00')).toEqual([16519, 20]);
    expect(code('21 88 40 C9 00')).toEqual([Infinity, 20]);
    expect(code('00 00 00 88 40')).toEqual([Infinity, 20]);
    expect(code('88 40 00 00 00')).toEqual([Infinity, 20]);
    expect(code('00 00 00 00 88')).toEqual([16519, 20]);
    expect(code('40 88 40 00 00')).toEqual([Infinity, 20]);
    expect(code('00 FF 7F 00 00')).toEqual([16519, 20]);
    expect(looks('10 CLS', '20 PRINT USR 16383')).toEqual([0, undefined]);
    expect(looks('10 CLS', '20 PRINT USR 16384')).toEqual([Infinity, 20]);
    expect(looks('10 CLS', '20 PRINT USR 16600')).toEqual([Infinity, 20]);
  });

  it('is without bound where directives give bytes or addresses of the program', () => {
    expect(looks('10 CLS', '.lines as-written')[0]).toBe(Infinity);
    expect(looks('10 CLS', '.raw 40 01')[0]).toBe(Infinity);
    expect(looks('10 CLS', '.raw display 76 76')[0]).toBe(0);
    expect(looks('10 CLS', '.system T_ADDR = 16508')[0]).toBe(0);
    expect(looks('10 CLS', '.system T_ADDR = 16509')[0]).toBe(Infinity);
    expect(looks('10 CLS', '.system T_ADDR = 17407')[0]).toBe(Infinity);
    expect(looks('10 CLS', '.system T_ADDR = 17408')[0]).toBe(0);
    expect(looks('10 CLS', '.system DF_SZ = 0')[0]).toBe(0);
  });
});

describe('no fix is offered', () => {
  it.each([
    ['with LIST', ['10 PRINT 5', '20 LIST']],
    ['where an address comes from INPUT', ['10 PRINT 5', '20 INPUT A', '30 PRINT PEEK A']],
    [
      'where an address is counted without bound',
      ['10 LET A=16500', '20 POKE A,5', '30 LET A=A+1', '40 GOTO 20'],
    ],
    ['where an address lies in the display', ['10 PRINT 5', '20 POKE 16700,5']],
    [
      'where machine code speaks of the lines behind it',
      ['10 REM [21 A0 40 C9]', '20 PRINT USR 16514;5;5;5;5;5;5;5;5;5;5;5;5;5'],
    ],
    ['where machine code is at an unknown place', ['10 INPUT A', '20 PRINT USR A;5']],
    ['where the next line is looked for', ['10 PRINT PEEK (PEEK 16425+256*PEEK 16426)']],
    ['with bytes that no line can express', ['10 PRINT 5', '.raw 40 01 05']],
    ['with a line that is not checked', ['10 PRINT 5', '20 [F5]5']],
  ])('%s', (_, lines) => {
    expect(fixedLines(...lines)).toEqual([]);
  });

  it('but the finding stays', () => {
    const text = '10 PRINT 5\n20 LIST\n';
    const { findings } = lint(readListing(text));
    expect(findings.map(({ rule, bytes }) => [rule, bytes])).toEqual([['number-form', 3]]);
  });
});
