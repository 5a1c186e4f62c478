import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coverOf } from '../../src/keys/cover.js';
import { keysOfLine, keysOfListing } from '../../src/keys/keys.js';
import { sayLine } from '../../src/keys/say.js';
import { keySheet } from '../../src/keys/sheet.js';
import { readListing } from '../../src/listing/read.js';
import { drawStatement } from '../support/draw-listing.js';
import { KeyboardModel } from './keyboard-model.js';

const lineOf = (text: string) => readListing(`${text}\n`).listing.lines[0];
const said = (text: string) => sayLine(keysOfLine(lineOf(text)));

/** Feeds the presses to the model; fails where the cursor is another than was said. */
function typed(text: string) {
  const model = new KeyboardModel();
  for (const press of keysOfLine(lineOf(text)).presses) {
    expect(`${press.mode} at ${press.gives}`).toBe(`${model.cursor} at ${press.gives}`);
    model.press(press.key, press.shift);
  }
  return model.line();
}

describe('the keys of a line', () => {
  it('takes keywords at K, letters at L', () => {
    expect(said('10 PRINT A')).toBe('  K  1  0  P=PRINT\n  L  A  NEWLINE');
  });

  it('goes through FUNCTION and GRAPHICS', () => {
    expect(said('5 PRINT SIN X;"▟A"')).toBe(
      '  K  5  P=PRINT\n  L  shift NEWLINE=FUNCTION\n  F  Q=SIN\n  L  X  shift X=;  shift P="  shift 9=GRAPHICS\n  G  shift Q=▟  shift 9=GRAPHICS\n  L  A  shift P="  NEWLINE',
    );
  });

  it('reaches a keyword where letters are read, by a THEN that is rubbed out', () => {
    const { presses } = keysOfLine(lineOf('1 REM [PRINT]'));
    expect(presses.map(({ gives }) => gives).join(' ')).toBe('1 REM THEN PRINT ← RUBOUT → NEWLINE');
    expect([...typed('1 REM [PRINT]').codes]).toEqual([234, 245]);
  });

  it('reaches letters after a THEN within a string', () => {
    expect([...typed('1 PRINT "[THEN]AB"').codes]).toEqual([245, 11, 222, 38, 39, 11]);
  });

  it('says what no key gives, and where', () => {
    const text = '1 REM A[43 C3 7F]';
    expect(keysOfLine(lineOf(text)).outOfReach.map(({ what, at }) => `${what} at ${at}`)).toEqual([
      'code 67 at 2',
      'code 195 at 3',
      'code 127 at 4',
    ]);
    const value = keysOfLine(lineOf('1 LET A=3[=82 00 00 00 00]')).outOfReach;
    expect(value.map(({ what, start, end }) => [what, start, end])).toEqual([
      ['the value kept with 3', 8, 26],
    ]);
    expect(keysOfLine(lineOf('1 LET A=3[=82 40 00 00 00]')).outOfReach).toEqual([]);
    expect(keysOfLine(lineOf('1 [F5][F5]')).outOfReach[0].what).toBe('this line');
  });

  it('gives back the bytes of every drawn line through a model of the keyboard', () => {
    let reachable = 0;
    fc.assert(
      fc.property(drawStatement(), fc.integer({ min: 1, max: 9999 }), (statement, number) => {
        const line = lineOf(`${number} ${statement}`);
        if (keysOfLine(line).outOfReach.length > 0) return;
        reachable++;
        const got = typed(`${number} ${statement}`);
        expect([got.number, ...got.codes]).toEqual([number, ...line.codes]);
      }),
      { numRuns: process.env.FUZZ ? 10_000 : 1000, seed: 7 },
    );
    expect(reachable).toBeGreaterThan(500);
  });

  it('leaves nothing out of reach where a line holds no bytes of its own', () => {
    fc.assert(
      fc.property(drawStatement({ bytes: false }), (statement) => {
        expect(keysOfLine(lineOf(`10 ${statement}`)).outOfReach).toEqual([]);
      }),
      { numRuns: process.env.FUZZ ? 10_000 : 300, seed: 8 },
    );
  });
});

describe('what a listing covers', () => {
  it('counts every press, SHIFT with each that holds it', () => {
    const { listing } = readListing('10 PRINT "A"\n');
    const keys = keysOfListing(listing);
    const cover = coverOf(keys);
    const used = cover.keys.filter(({ presses }) => presses > 0);
    expect(used.map(({ key, presses }) => `${key} ${presses}`)).toEqual([
      '1 1',
      '0 1',
      'P 3',
      'A 1',
      'NEWLINE 1',
      'SHIFT 2',
    ]);
    expect(cover.missing).toHaveLength(34);
    expect([keys.total, keys.shifted]).toEqual([7, 2]);
  });
});

describe('the sheet', () => {
  it('is one page that needs nothing else, with a key drawn for each of the forty', () => {
    const { listing } = readListing('10 PRINT "<&>"\n');
    const page = keySheet(listing, { name: 'a<b.bas' });
    expect(page.match(/<g class="key/g)).toHaveLength(40);
    expect(page).not.toMatch(/(?:src|href)=/);
    expect(page).toContain('Keys for a&lt;b.bas');
    expect(page).toContain('10 PRINT &quot;&lt;');
    expect(page.match(/class="press"/g)).toHaveLength(keysOfListing(listing).total);
  });
});
