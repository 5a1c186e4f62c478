import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import type { RunOptions } from '../../src/rehearsal/rehearsal.js';
import { Run, rehearse } from '../../src/rehearsal/run.js';
import { HeldKeys } from '../../src/rehearsal/state/keys.js';
import { plainRow } from '../../src/rehearsal/telling/show.js';

function listingOf(lines: readonly string[]) {
  const { listing, diagnostics } = readListing(
    lines.map((line, index) => `${10 * (index + 1)} ${line}`).join('\n'),
  );
  expect(diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  return listing;
}

function live(lines: readonly string[], options: RunOptions = {}) {
  const keys = new HeldKeys();
  const run = new Run(listingOf(lines), {
    ...options,
    statements: Number.POSITIVE_INFINITY,
    person: keys,
  });
  const row = (index: number): string => plainRow(run.model.memory.displayRows()[index]).trimEnd();
  return { run, keys, row };
}

const A = { code: 38, isBreak: false };
const BREAK = { code: 0, isBreak: true };

describe('a run in steps', () => {
  test.each(['bars', 'loft', 'ruler', 'towpath', 'night-watch'])(
    'is the run of sample %s, whatever the steps are',
    (name) => {
      const { listing } = readListing(readFileSync(`samples/${name}.bas`, 'utf8'));
      const options = { statements: 3000, inputs: ['1', '2', '3'], seed: 1 };
      const whole = rehearse(listing, options);
      fc.assert(
        fc.property(
          fc.array(
            fc.oneof(
              fc.record({ statements: fc.integer({ min: 1, max: 300 }) }),
              fc.record({ frames: fc.double({ min: 0.01, max: 300, noNaN: true }) }),
            ),
            { minLength: 1, maxLength: 8 },
          ),
          (steps) => {
            const run = new Run(listing, options);
            for (let at = 0; run.end === undefined; at++) run.step(steps[at % steps.length]);
            const stepped = run.result();
            // Where a stretch of the ledger ends, steps may part it: nothing else differs.
            expect({ ...stepped, ledger: [] }).toEqual({ ...whole, ledger: [] });
          },
        ),
        { seed: 17, numRuns: 10 },
      );
    },
  );

  test('stops after as many statements as it is told', () => {
    const { run } = live(['LET A=1', 'LET A=A+1', 'GOTO 20']);
    run.step({ statements: 1 });
    expect(run.model.statements).toBe(1);
    run.step({ statements: 7 });
    expect(run.model.statements).toBe(8);
    expect(run.end).toBeUndefined();
  });

  test('lets as many frames go by as it is told, but for the statement that runs', () => {
    const { run } = live(['GOTO 10']);
    run.step({ frames: 50 });
    expect(run.model.frame).toBeGreaterThanOrEqual(50);
    expect(run.model.frame).toBeLessThan(53);
  });

  test('ends with report 0 and stays ended', () => {
    const { run } = live(['PRINT "HI"']);
    run.step({ statements: 1 });
    expect(run.end).toMatchObject({ kind: 'report', code: '0' });
    run.step({ frames: 1 });
    expect(run.result().end.code).toBe('0');
  });
});

describe('a person at the keys', () => {
  test('INKEY$ sees the key while it is held', () => {
    const { run, keys, row } = live(['PRINT AT 0,0;INKEY$', 'GOTO 10']);
    run.step({ frames: 10 });
    expect(row(0)).toBe('');
    keys.hold(A);
    run.step({ frames: 10 });
    expect(row(0)).toBe('A');
  });

  test('SPACE breaks off, with report D in the line that was about to run', () => {
    const { run, keys } = live(['GOTO 10']);
    run.step({ frames: 5 });
    keys.hold(BREAK);
    run.step({ frames: 5 });
    expect(run.end?.code).toBe('D');
    expect(run.result().line).toBe(10);
  });

  test('PAUSE ends by itself after its frames', () => {
    const { run, row } = live(['PAUSE 100', 'PRINT "ON"']);
    run.step({ frames: 60 });
    expect(run.wait?.what).toBe('key');
    expect(run.model.frame).toBe(60);
    run.step({ frames: 60 });
    expect(row(0)).toBe('ON');
  });

  test('PAUSE ends at once by a key, and a PAUSE of 40000 by nothing else', () => {
    const { run, keys, row } = live(['PAUSE 40000', 'PRINT "ON"']);
    run.step({ frames: 50000 });
    expect(run.wait?.what).toBe('key');
    keys.hold(A);
    run.step({ frames: 60 });
    expect(run.wait).toBeUndefined();
    expect(row(0)).toBe('ON');
  });

  test('SPACE at PAUSE is BREAK', () => {
    const { run, keys } = live(['PAUSE 40000', 'PRINT "ON"']);
    run.step({ frames: 5 });
    keys.hold(BREAK);
    run.step({ frames: 5 });
    expect(run.end?.code).toBe('D');
  });

  test('INPUT waits, time goes by, and what is typed is taken', () => {
    const { run, row } = live(['DIM A(3)', 'INPUT A(1+1)', 'INPUT B$', 'PRINT A(2);B$']);
    run.step({ frames: 20 });
    expect(run.wait?.what).toBe('number');
    run.answer('2+5');
    run.step({ frames: 1 });
    expect(run.wait?.what).toBe('string');
    run.answer('LOFT');
    run.step({ frames: 20 });
    expect(row(0)).toBe('7LOFT');
    expect(run.end?.code).toBe('0');
  });

  test('INPUT asks again for what the machine does not take', () => {
    const { run } = live(['INPUT A']);
    run.step({ frames: 20 });
    run.answer('2+*');
    expect(run.wait).toMatchObject({ what: 'number', refused: expect.stringContaining('number') });
    run.answer('Q');
    expect(run.end?.code).toBe('2');
  });

  test('STOP at INPUT ends it', () => {
    const { run } = live(['IF PI THEN INPUT A']);
    run.step({ frames: 20 });
    run.answer('STOP');
    expect(run.end?.code).toBe('D');
  });
});
