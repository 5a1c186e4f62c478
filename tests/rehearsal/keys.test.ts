import { describe, expect, test } from 'vitest';
import { DEFAULT_FRAMES } from '../../src/rehearsal/rehearsal.js';
import { BadKeys, Keyboard, readKeys } from '../../src/rehearsal/state/keys.js';
import { play } from './play.js';

describe('keys as they are given', () => {
  test('one after another, by name or sign, or at a frame', () => {
    expect(readKeys('A 9 . NEWLINE SHIFT+P $ shift+1')).toMatchObject([
      { from: 25, to: 50, code: 38 },
      { from: 75, to: 100, code: 37 },
      { code: 27 },
      { code: 118 },
      { code: 11 },
      { code: 13 },
      { code: 117 },
    ]);
    expect(readKeys('10:A 100-199:B C')).toMatchObject([
      { from: 10, to: 35 },
      { from: 100, to: 200 },
      { from: 225, to: 250 },
    ]);
    expect(readKeys(' SPACE BREAK').map(({ isBreak }) => isBreak)).toEqual([true, true]);
    expect(readKeys('')).toEqual([]);
  });

  test.each([
    ['HELLO', 'no key'],
    ['SHIFT', 'no key'],
    ['SHIFT+SHIFT', 'no key'],
    ['5:', 'no key'],
    ['50:A 20:B', 'before the key in front'],
    ['90-20:A', 'before it is pressed'],
    ['▘', 'no key'],
  ])('%s is refused', (text, words) => {
    expect(() => readKeys(text)).toThrow(BadKeys);
    expect(() => readKeys(text)).toThrow(words);
  });

  test('are down from their first frame to their last', () => {
    const keyboard = new Keyboard(readKeys('10-12:A 20:SPACE'));
    const seen = [9, 10, 12, 13, 19, 20].map((frame) => keyboard.heldAt(frame)?.code);
    expect(seen).toEqual([undefined, 38, 38, undefined, undefined, 0]);
    expect(keyboard.nextBreak(20)).toBe(20);
    expect(keyboard.nextDown(45)).toBeUndefined();
    expect(keyboard.hasMore(45)).toBe(false);
  });
});

describe('keys in a program', () => {
  const loop = ['LET K$=INKEY$', 'IF K$="" THEN GOTO 10', 'PRINT K$;CODE K$'];

  test('INKEY$ finds the key that is down', () => {
    expect(play(loop, { keys: readKeys('SHIFT+P') }).rows).toEqual(['"11']);
    expect(play(loop, { keys: readKeys('NEWLINE') }).rows).toEqual(['?118']);
  });

  test('of several keys at once only BREAK is seen', () => {
    expect(readKeys('10-20:A+SHIFT+P')).toEqual([
      { from: 10, to: 21, code: 0, isBreak: false, isOneOfSeveral: true },
    ]);
    expect(play(['GOTO 10'], { keys: readKeys('77:A+SPACE') }).report).toBe('D/10');
    expect(() => readKeys('A+FOO')).toThrow('FOO is no key');
  });

  test('BREAK ends the program with report D, at the line that is next', () => {
    const { report, frames } = play(['GOTO 10'], { keys: readKeys('77:SPACE') });
    expect([report, frames]).toEqual(['D/10', 77]);
  });

  test('without a key it waits to the limit, and says so', () => {
    const { report, end, statements } = play(loop, { statements: 12345 });
    expect(report).toBe('limit/10');
    expect(statements).toBe(12345);
    expect(end.why).toContain('waits for a key');
    expect(end.why).toContain('lines 10, 20');
  });

  test('a loop that waits for nothing says that', () => {
    const { end } = play(['LET A=1', 'GOTO 10'], { statements: 5000 });
    expect(end.why).toContain('had not ended');
    expect(end.why).not.toContain('key');
    expect(play(['GOTO 10'], { frames: 500 })).toMatchObject({ frames: 500, report: 'limit/10' });
  });

  test('without any limit half a day of the machine is one, however few statements fill it', () => {
    const { frames, statements, report } = play(['PAUSE 30000', 'GOTO 10']);
    expect(report).toMatch(/^limit/);
    expect(frames).toBeGreaterThanOrEqual(DEFAULT_FRAMES);
    expect(statements).toBeLessThan(200);
    expect(play(['PAUSE 30000', 'GOTO 10'], { statements: 300 }).statements).toBe(300);
  });
});
