import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Positions } from '../../src/editing/positions.js';

/** Source: Language Server Protocol 3.17, "Position": its example is `a𐐀b`. */
describe('positions', () => {
  it.each([
    ['utf-16', 3],
    ['utf-8', 5],
    ['utf-32', 2],
  ] as const)('counts a𐐀b in %s', (encoding, character) => {
    const positions = new Positions('x\na𐐀b', encoding);
    expect(positions.positionAt(5)).toEqual({ line: 1, character });
    expect(positions.offsetAt({ line: 1, character })).toBe(5);
  });

  it('takes a place past the end of its line for the end, before the end mark', () => {
    const positions = new Positions('10 CLS\r\n20 RUN');
    expect(positions.offsetAt({ line: 0, character: 99 })).toBe(6);
    expect(positions.offsetAt({ line: 9, character: 0 })).toBe(14);
    expect(positions.offsetAt({ line: 1, character: 2 })).toBe(10);
  });

  it('goes there and back in every encoding', () => {
    const texts = fc.array(fc.constantFrom('a', 'é', '▘', '🮏', '\n', '𐐀'), { maxLength: 40 });
    const encodings = fc.constantFrom('utf-8' as const, 'utf-16' as const, 'utf-32' as const);
    fc.assert(
      fc.property(texts, encodings, (parts, encoding) => {
        const positions = new Positions(parts.join(''), encoding);
        let offset = 0;
        for (const part of parts) {
          expect(positions.offsetAt(positions.positionAt(offset))).toBe(offset);
          offset += part.length;
        }
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});
