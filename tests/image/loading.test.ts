/** Source: G. Wearmouth, "An Assembly Listing of the Operating System" (2004), LOAD 0340. */
import { describe, expect, it } from 'vitest';
import { utf8Text } from '../../src/image/kind.js';
import { doesNotLoad, loadingNeeds, loadingShort } from '../../src/image/loading.js';

describe('room to load an image', () => {
  it('is its bytes, the edit line, and the stack; at the most, the margin and the report besides', () => {
    // From 16384 up to 17000: 616 bytes, and 2 of the edit line.
    expect(loadingNeeds(17000, 1024)).toEqual({ low: 618 + 18, high: 618 + 6 + 37 + 29 });
    // From 3¼K on the display has room for the report.
    expect(loadingNeeds(17000, 3327).high).toBe(618 + 6 + 37 + 29);
    expect(loadingNeeds(17000, 3328)).toEqual({ low: 618 + 18, high: 618 + 37 + 29 });
  });

  it('is short by what the least is over', () => {
    expect(loadingShort(16384 + 1004, 1024)).toBe(0);
    expect(loadingShort(16384 + 1005, 1024)).toBe(1);
    expect(loadingShort(16384 + 1003, 1024)).toBe(-1);
    expect(doesNotLoad(1, 1024)).toBe('does not load in 1K: 1 byte over at least');
    expect(doesNotLoad(2, 1500)).toBe('does not load in 1500: 2 bytes over at least');
  });
});

it('a text is what is UTF-8', () => {
  expect(utf8Text(new TextEncoder().encode('10 PRINT "▚£"\n'))).toBe('10 PRINT "▚£"\n');
  expect(utf8Text(new Uint8Array())).toBe('');
  expect(utf8Text(Uint8Array.of(0x31, 0xff))).toBeUndefined();
  expect(utf8Text(Uint8Array.of(0xc3))).toBeUndefined();
  expect(utf8Text(Uint8Array.of(0x31, 0xc3), true)).toBe('1');
});
