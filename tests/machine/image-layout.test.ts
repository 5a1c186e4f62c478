import { describe, expect, it } from 'vitest';
import { NEWLINE } from '../../src/machine/characters.js';
import {
  displayBytes,
  endOfLine,
  HEADER_SIZE,
  lineSize,
  plainHeader,
  statedLength,
} from '../../src/machine/image-layout.js';

const CLS = 251;

describe('a program line (the manual, chapter 27)', () => {
  // Number, high byte first; length of text and NEWLINE, low byte first; text; NEWLINE.
  const line = [0, 10, 2, 0, CLS, NEWLINE];

  it('of one code takes six bytes', () => {
    expect(lineSize({ size: 1 })).toBe(line.length);
  });

  it('ends where its length says, by the limit and at a NEWLINE', () => {
    const image = Uint8Array.of(99, ...line, ...line);
    expect(endOfLine(image, 1, image.length)).toBe(7);
    expect(endOfLine(image, 7, image.length)).toBe(13);
    expect(endOfLine(image, 7, 12)).toBeUndefined();
    expect(endOfLine(image, 2, image.length)).toBeUndefined();
  });

  it('has at least its NEWLINE', () => {
    expect(endOfLine(Uint8Array.of(0, 10, 1, 0, NEWLINE), 0, 5)).toBe(5);
    // Its length is 0, though a NEWLINE stands before its end.
    expect(endOfLine(Uint8Array.of(0, 10, 0, 0, NEWLINE), 0, 5)).toBeUndefined();
    expect(endOfLine(Uint8Array.of(NEWLINE, NEWLINE, 0, 0, 0), 0, 5)).toBeUndefined();
  });

  it('is none where less than its head is left', () => {
    for (const limit of [0, 1, 2, 3, 4]) {
      expect(endOfLine(Uint8Array.of(0, 10, 2, 0), 0, limit)).toBeUndefined();
    }
  });
});

describe('an image', () => {
  const areas = { D_FILE: 16509, VARS: 16534, E_LINE: 16535 };
  const header = plainHeader({ areas, firstLine: 0, framesPerSecond: 50 });

  it('goes from VERSN up to E_LINE, and says so once E_LINE has come', () => {
    // E_LINE is 16404 and 16405, VERSN 16393 (the manual, chapter 28).
    expect(statedLength(header)).toBe(16535 - 16393);
    expect(statedLength(header.subarray(0, 13))).toBe(16535 - 16393);
    expect(statedLength(header.subarray(0, 12))).toBeUndefined();
    expect(header).toHaveLength(HEADER_SIZE);
  });

  it('has 24 rows after a NEWLINE: as long as they are, or 32 columns from 3¼K on', () => {
    const rows = [Uint8Array.of(38, 39), new Uint8Array(0), Uint8Array.of(40)];
    const short = displayBytes(rows, 1024);
    expect([...short.subarray(0, 8)]).toEqual([
      NEWLINE,
      38,
      39,
      NEWLINE,
      NEWLINE,
      40,
      NEWLINE,
      NEWLINE,
    ]);
    expect(short).toHaveLength(25 + 3);
    const full = displayBytes(rows, 16384);
    expect(full).toHaveLength(793);
    expect([...full.keys()].filter((at) => full[at] === NEWLINE)).toEqual(
      Array.from({ length: 25 }, (_, row) => 33 * row),
    );
    expect([...full.subarray(0, 4), ...full.subarray(67, 69)]).toEqual([NEWLINE, 38, 39, 0, 40, 0]);
  });
});
