import { describe, expect, test } from 'vitest';
import { codesOf } from '../../src/rehearsal/state/output.js';
import {
  endText,
  framedScreen,
  lineRanges,
  outcomeOf,
  peakText,
} from '../../src/rehearsal/telling/show.js';
import { play } from './play.js';

const inverse = (text: string): Uint8Array => codesOf(text).map((code) => code + 128);
const screen = (...rows: Uint8Array[]): Uint8Array[] => [
  ...rows,
  ...new Array<Uint8Array>(24 - rows.length).fill(new Uint8Array(0)),
];

describe('the screen in a frame', () => {
  test('has 24 rows of 32 columns', () => {
    const lines = framedScreen(screen(codesOf('OAK'))).split('\n');
    expect(lines).toHaveLength(26);
    expect(new Set(lines.map((line) => [...line].length))).toEqual(new Set([34]));
  });

  test('shows inverse video where it can', () => {
    const row = Uint8Array.of(...codesOf('A'), ...inverse('BC'), ...codesOf('D'), ...inverse('E'));
    const shown = framedScreen(screen(row), (text) => `<${text}>`).split('\n')[1];
    expect(shown).toBe(`│A<BC>D<E>${' '.repeat(27)}│`);
  });

  test('says where it is where it cannot, and does not go on for ever', () => {
    const row = Uint8Array.of(...inverse('AB'), ...codesOf('C'), ...inverse('D'));
    expect(framedScreen(screen(row)).split('\n').at(-1)).toBe(
      'inverse video: row 0 column 0 to 1, 3',
    );
    const note = framedScreen(screen(...new Array(10).fill(row)))
      .split('\n')
      .at(-1)!;
    expect(note).toContain('and in 4 more rows');
  });

  test('inverse graphics and the inverse space are characters of their own', () => {
    const text = framedScreen(screen(Uint8Array.of(128, 129, 1)));
    expect(text).toContain('│█▟▘');
    expect(text).not.toContain('inverse video');
  });

  test('a code that no cell shows has a sign of its own', () => {
    expect(framedScreen(screen(Uint8Array.of(100)))).toContain('│\u{FFFD}');
  });
});

describe('the sum', () => {
  test.each([
    [['PRINT 1'], 'done'],
    [['STOP'], 'stopped'],
    [['PRINT X'], 'error'],
    [['INPUT A'], 'input'],
    [['PRINT USR 5'], 'usr'],
    [['SAVE "A"'], 'tape'],
    [['NEW'], 'new'],
    [['PAUSE 40000'], 'key'],
  ])('%j is %s', (lines, verdict) => {
    expect(outcomeOf(play(lines))).toBe(verdict);
  });

  test('names the report, the line, why, and what to do', () => {
    expect(endText(play(['LET A=0', 'PRINT 3/A']))).toBe(
      'report 6/20, arithmetic overflow: 3/0: a division by zero\n  do:  see what the values are here; --trace shows them',
    );
  });

  test('names what held the memory, the largest variables first', () => {
    const text = peakText(play(['LET A=1', 'DIM B(9)', 'LET C$="OAK"']).peak, 1024);
    expect(text).toContain('variables: B() 51, A 6, C$ 6');
    expect(text).toContain('system variables 125');
    expect(text).toContain('29 of the bytes that the ROM keeps');
    const short = play(['DIM A(500)']);
    expect(peakText(short.peak, 1024)).toContain('bytes more than there are');
  });

  test('lines that are neighbours in the program are joined', () => {
    const all = [10, 20, 30, 40, 50, 60];
    expect(lineRanges([10, 20, 30, 60], all)).toBe('10–30, 60');
    expect(lineRanges([10, 20, 40], all)).toBe('10, 20, 40');
    expect(lineRanges([], all)).toBe('');
    expect(lineRanges([10, 30, 50, 60], all, 2)).toBe('10, 30, and 2 more lines; --all names them');
    expect(lineRanges([10, 30, 50], all, 3)).toBe('10, 30, 50');
  });

  test('lines never run leave REM out', () => {
    expect(play(['GOTO 40', 'REM X', 'PRINT', 'STOP']).unrun).toEqual([30]);
  });
});
