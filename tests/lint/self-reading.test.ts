/** Programs that look at their own bytes: no fix where that could change what they do. */
import { describe, expect, it } from 'vitest';
import { lint } from '../../src/lint/lint.js';
import { readListing } from '../../src/listing/read.js';

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
