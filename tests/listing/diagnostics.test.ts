/** Places of diagnostics, and the quotes with marks that show them. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Diagnostic, Places, showDiagnostics } from '../../src/listing/diagnostics.js';

it('columns count characters, of one UTF-16 unit or of two', () => {
  const text = fc.string({
    unit: fc.constantFrom('A', '\n', '\r\n', '😀', '\ud83d', '\ude00', 'é'),
  });
  fc.assert(
    fc.property(text, fc.nat({ max: 30 }), (text, offset) => {
      const before = text.slice(0, offset).split('\n');
      expect(new Places(text).at(offset)).toEqual({
        line: before.length,
        column: [...before.at(-1)!].length + 1,
      });
    }),
    { seed: 1, numRuns: process.env.FUZZ ? 100_000 : 300 },
  );
});

const finding = (start: number, end: number): Diagnostic => ({
  severity: 'warning',
  start,
  end,
  rule: 'lamp',
  message: 'LAMP',
});

it('marks no more of a line than is quoted', () => {
  const text = `10 REM ${'A'.repeat(40_000)}\n`;
  const [first, second] = showDiagnostics({ name: 'lamp.bas', text }, [
    finding(0, text.length - 1),
    ...Array.from({ length: 20_000 }, (_, at) => finding(at + 7, text.length - 1)),
  ]);
  expect(first.split('\n')).toEqual([
    'lamp.bas:1:1: warning: LAMP',
    `    ${text.slice(0, 100)}`,
    `    ${'^'.repeat(101)}`,
  ]);
  expect(second).toBe('lamp.bas:1:8: warning: LAMP');
});

it('marks a place far into a line where it is quoted', () => {
  const text = `10 REM ${'A'.repeat(500)}BC`;
  const [shown] = showDiagnostics({ name: 'lamp.bas', text }, [finding(507, 509)]);
  expect(shown.split('\n').slice(1)).toEqual([
    `    …${'A'.repeat(39)}BC`,
    `     ${' '.repeat(39)}^^`,
  ]);
});
