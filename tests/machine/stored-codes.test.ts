import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { KEYWORD_CODES, NUMBER_MARKER, QUOTE } from '../../src/machine/characters.js';
import { endOfPiece, findPiece, HIDDEN_SIZE } from '../../src/machine/stored-codes.js';

const REM = KEYWORD_CODES.get('REM')!;
const GOTO = KEYWORD_CODES.get('GOTO')!;
const PRINT = KEYWORD_CODES.get('PRINT')!;

/** Offsets at which the pieces of these codes begin. */
function pieces(...codes: number[]): number[] {
  const bytes = Uint8Array.from(codes);
  const found: number[] = [];
  for (let at = 0; at < bytes.length; at = endOfPiece(bytes, at)) found.push(at);
  return found;
}

describe('the pieces of a stored line', () => {
  it('are a keyword, a letter, a sign each', () => {
    expect(pieces(PRINT, 38, 21, 39)).toEqual([0, 1, 2, 3]);
  });

  it('are a string with its quotes, whatever it holds', () => {
    expect(pieces(PRINT, QUOTE, REM, NUMBER_MARKER, GOTO, QUOTE, 25)).toEqual([0, 1, 6]);
    expect(pieces(QUOTE, QUOTE, QUOTE, 38, QUOTE)).toEqual([0, 2]);
  });

  it('are a marker with its five bytes, a quote or a REM among them', () => {
    expect(pieces(29, NUMBER_MARKER, QUOTE, REM, QUOTE, 0, 0, 25)).toEqual([0, 1, 7]);
  });

  it('are a REM to the end of the line', () => {
    expect(pieces(REM, QUOTE, NUMBER_MARKER, 38)).toEqual([0]);
  });

  it('end with the line where a quote is not closed or a number is cut short', () => {
    expect(pieces(PRINT, QUOTE, GOTO, 38)).toEqual([0, 1]);
    expect(endOfPiece(Uint8Array.of(NUMBER_MARKER, 1), 0)).toBe(2);
  });

  it('lead to the end of any codes, each behind the one before', () => {
    const code = fc.oneof(fc.constantFrom(QUOTE, NUMBER_MARKER, REM), fc.nat(255));
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 40 }), fc.array(code), (any, odd) => {
        const codes = [...any, ...odd];
        const bytes = Uint8Array.from(codes);
        let at = 0;
        while (at < bytes.length) {
          const end = endOfPiece(bytes, at);
          expect(end).toBeGreaterThan(at);
          expect(end - at).toBeLessThanOrEqual(
            codes[at] === NUMBER_MARKER ? HIDDEN_SIZE : bytes.length,
          );
          at = end;
        }
        expect(at).toBe(bytes.length);
      }),
      { seed: 27 },
    );
  });
});

describe('findPiece', () => {
  const find = (...codes: number[]): number =>
    findPiece(Uint8Array.from(codes), (code) => code === GOTO);

  it('finds a code outside strings, hidden numbers and REM alone', () => {
    expect(find(PRINT, QUOTE, GOTO, QUOTE, GOTO)).toBe(4);
    expect(find(NUMBER_MARKER, GOTO, GOTO, GOTO, GOTO, GOTO, GOTO)).toBe(6);
    expect(find(REM, GOTO)).toBe(-1);
    expect(find(PRINT, QUOTE, GOTO)).toBe(-1);
  });
});
