import { describe, expect, test } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { decodeNumber } from '../../src/machine/numbers.js';
import { decodeVariable } from '../../src/machine/variables.js';
import type { Model } from '../../src/rehearsal/state/model.js';
import { play, printed } from './play.js';

/** The model as the program leaves it after its last statement. */
function modelAfter(lines: readonly string[], ram = 1024): Model {
  let last: Model | undefined;
  play(lines, {
    ram,
    inspect: (model) => {
      last = model;
    },
  });
  return last!;
}

describe('variables in memory', () => {
  test('stand in the machine’s own form, one after another, up to the byte 128', () => {
    const { memory } = modelAfter([
      'LET A=1.5',
      'LET SCORE=-3',
      'LET A$="OAK"',
      'DIM B(2)',
      'LET B(2)=7',
      'DIM C$(2,2)',
      'FOR N=1 TO 2',
    ]);
    const found = [];
    for (let at = memory.vars; memory.bytes[at] !== 128; ) {
      const decoded = decodeVariable(memory.bytes, at, memory.eLine)!;
      found.push(decoded.variable);
      at = decoded.end;
      if (memory.bytes[at] === 128) expect(at).toBe(memory.eLine - 1);
    }
    expect(found.map(({ kind, name }) => `${kind} ${name}`)).toEqual([
      'number A',
      'number SCORE',
      'string A$',
      'numbers B',
      'characters C$',
      'for N',
    ]);
    const [a, score, text, numbers, , loop] = found;
    expect(a.kind === 'number' && decodeNumber(a.value)).toBe(1.5);
    expect(score.kind === 'number' && decodeNumber(score.value)).toBe(-3);
    expect(text.kind === 'string' && [...text.codes]).toEqual([52, 38, 48]);
    expect(numbers.kind === 'numbers' && decodeNumber(numbers.values, 5)).toBe(7);
    expect(loop.kind === 'for' && [decodeNumber(loop.limit), loop.line]).toEqual([2, 71]);
  });

  test('move when the display grows, and are found again', () => {
    expect(printed(['LET A=5', 'LET B$="X"', 'PRINT A;B$;A;B$', 'PRINT A;B$'])).toEqual([
      '5X5X',
      '5X',
    ]);
  });

  test('a number that becomes a loop variable grows where it stands', () => {
    const { memory } = modelAfter(['LET N=1', 'LET B=2', 'FOR N=1 TO 2']);
    expect(memory.variableSizes().map(({ name, bytes }) => [name, bytes])).toEqual([
      ['N', 18],
      ['B', 6],
    ]);
  });

  test('a string that is changed comes last', () => {
    const { memory } = modelAfter(['LET A$="OAK"', 'LET B=2', 'LET A$="ELM"']);
    expect(memory.variableSizes().map(({ name }) => name)).toEqual(['B', 'A$']);
  });

  test('with their ends poked away they are given up', () => {
    const { report, end } = play(['LET A=1', 'POKE PEEK 16400+256*PEEK 16401,0', 'PRINT A']);
    expect(report).toBe('memory/30');
    expect(end.why).toContain('not a variable');
  });
});

describe('system variables', () => {
  test.each([
    ['the top of the RAM', 'PEEK 16388+256*PEEK 16389', 1024, 17408],
    ['the top of the RAM', 'PEEK 16388+256*PEEK 16389', 16384, 32768],
    ['the line that runs', 'PEEK 16391+256*PEEK 16392', 1024, 10],
    ['the end of the program', 'PEEK 16396+256*PEEK 16397-16509', 1024, undefined],
  ])('%s: %s', (_, expression, ram, value) => {
    const [row] = printed([`PRINT ${expression}`], { ram });
    if (value !== undefined) expect(Number(row)).toBe(value);
    else {
      const text = `10 PRINT ${expression}`;
      const { listing } = readListing(text);
      expect(Number(row)).toBe(listing.lines[0].codes.length + 5);
    }
  });

  test('the pointers stand one after another', () => {
    const { memory } = modelAfter(['LET A=1', 'PRINT "HELLO"']);
    memory.settle();
    const word = (at: number) => memory.word(at);
    expect([word(16396), word(16400), word(16404)]).toEqual([
      memory.dFile,
      memory.vars,
      memory.eLine,
    ]);
    expect(word(16410)).toBe(word(16412));
    expect(word(16412)).toBe(memory.eLine);
    expect(word(16398)).toBeGreaterThan(memory.dFile);
  });

  test('NXTLIN is the address of the next line', () => {
    const lines = ['PRINT PEEK 16425+256*PEEK 16426', 'STOP'];
    const { codes } = readListing(`10 ${lines[0]}`).listing.lines[0];
    expect(printed(lines)).toEqual([String(16509 + codes.length + 5)]);
  });
});

describe('room', () => {
  test('is asked for with 36 bytes and the stack’s share above, to the byte', () => {
    // 1024 - 125 of system variables - 25 of display - 1 that ends the variables - 36 - 29 - 1.
    const room = 1024 - 125 - 25 - 1 - 36 - 29 - 1;
    const array = (bytes: number) => `DIM A$(${bytes})`;
    const programBytes = (text: string) => readListing(text).listing.lines[0].codes.length + 5;
    const largest = room - programBytes(`10 ${array(700)}`) - 6;
    expect(play([array(largest)]).report).toBe('0/10');
    const { report, end, peak } = play([array(largest + 1)]);
    expect(report).toBe('4/10');
    expect(peak).toMatchObject({ spare: -1, line: 10, bytes: 1025 });
    expect(end.why).toContain('may just have it');
    expect(play([array(largest + 12)]).end.why).not.toContain('may just have it');
    expect(play([array(largest + 12)], { ram: 2048 }).report).toBe('0/10');
  });

  test('a GOSUB takes two bytes, until there is no room', () => {
    const { report, deepestGosub, peak } = play(['GOSUB 10']);
    expect(report).toBe('4/10');
    // The ROM asks for six.
    expect(peak.sizes['GOSUB stack']).toBe(2 * deepestGosub + 6);
  });

  test('a string that is joined needs its bytes three times over', () => {
    const { peak } = play(['LET A$=""', 'LET A$=A$+"OAK TREE"', 'GOTO 20']);
    const { variables, workspace } = peak.sizes;
    expect(peak.line).toBe(20);
    expect(workspace).toBeGreaterThan(200);
    expect(variables).toBeGreaterThan(2 * workspace - 10);
  });

  test('the areas together are the RAM less what is spare', () => {
    for (const lines of [['PRINT 1'], ['GOSUB 10'], ['LET A$=STR$ PI+"X"', 'DIM B(9)']]) {
      const { peak } = play(lines);
      const sum = Object.values(peak.sizes).reduce((total, bytes) => total + bytes, 0);
      expect(sum).toBe(1024 - peak.spare);
      expect(peak.bytes).toBe(sum);
    }
  });
});
