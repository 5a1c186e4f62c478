/** The verdict of what is needed and what is fitted, and how it is told. */
import { describe, expect, it } from 'vitest';
import { buildImage } from '../../src/image/build.js';
import { readListing } from '../../src/listing/read.js';
import {
  type Basis,
  endOfImage,
  loadRoom,
  room,
  verdictJson,
  verdictOf,
  verdictText,
} from '../../src/memory/verdict.js';

const BOUNDS: Basis = { on: 'bounds' };
const WHOLE: Basis = { on: 'rehearsal', whole: true, line: 90 };
const CUT: Basis = { on: 'rehearsal', whole: false, line: 90 };
const OPEN = Number.POSITIVE_INFINITY;

type Bounds = [low: number, high: number];
/** Of 1024 bytes. */
function of([low, high]: Bounds, runs: Bounds, basis: Basis = BOUNDS) {
  const loading = room(1024, { low, high });
  return verdictOf(1024, loading, room(1024, { low: runs[0], high: runs[1] }), basis);
}

describe('room', () => {
  it.each([
    [1000, 1024, 'fits', 0],
    [1000, 1023, 'fits', 1],
    [1024, 1025, 'tight', -1],
    [1024, OPEN, 'tight', -OPEN],
    [1025, 1030, 'does not fit', -1],
    [1025, OPEN, 'does not fit', -1],
  ])('for %i to %i bytes in 1024: %s, %i to spare', (low, high, verdict, spare) => {
    expect(room(1024, { low, high })).toEqual({ verdict, low, high, spare });
  });

  it('to load an image goes by its own E_LINE, or its end where that comes first', () => {
    const { image, areas } = buildImage(readListing('10 RUN\n.raw after 01 02\n').listing);
    expect(endOfImage(image!)).toBe(areas.E_LINE);
    expect(loadRoom(16384 + 900, 1024)).toMatchObject({ verdict: 'fits', low: 920 });
    expect(loadRoom(16384 + 1005, 1024)).toMatchObject({ verdict: 'does not fit', spare: -1 });
  });
});

describe('a verdict', () => {
  it('is the worst of what loading and running need', () => {
    expect(of([900, 950], [910, 1024]).kind).toBe('runs');
    expect(of([900, 1025], [910, 1000]).kind).toBe('may run');
    expect(of([900, 950], [910, 1025]).kind).toBe('may run');
    expect(of([900, 950], [1025, 1030]).kind).toBe('does not run');
    expect(of([1025, 1030], [1040, 1050]).kind).toBe('does not load');
    expect(of([900, 950], [910, 1000], WHOLE).kind).toBe('runs');
    expect(of([900, 950], [910, 1000], CUT).kind).toBe('may run');
  });

  it('takes the most of both; what does not load is told by what loading lacks', () => {
    expect(of([900, 950], [910, 940]).needed).toEqual({ low: 910, high: 950 });
    expect(of([920, 930], [910, 1000]).needed).toEqual({ low: 920, high: 1000 });
    expect(of([1030, 1035], [1050, 1060]).needed).toEqual({ low: 1030, high: 1035 });
    expect(of([900, 950], [910, 1000]).spare).toEqual({ worst: 24, best: 114 });
  });

  const seeds = (count: number): Basis => ({ ...WHOLE, seeds: count });
  it.each<[string, Bounds, Bounds, Basis]>([
    ['runs in 1K, 24 bytes to spare', [900, 950], [910, 1000], BOUNDS],
    ['runs in 1K, 1 byte to spare', [900, 950], [910, 1023], BOUNDS],
    ['runs in 1K, 24 bytes to spare, as rehearsed', [900, 950], [910, 1000], WHOLE],
    ['runs in 1K, 24 bytes to spare, as rehearsed', [900, 950], [910, 1000], seeds(1)],
    [
      'runs in 1K, 24 bytes to spare, as rehearsed with 20 seeds of RND',
      [900, 950],
      [910, 1000],
      seeds(20),
    ],
    ['does not load in 1K: 6 bytes over at least', [1030, 1035], [1050, 1060], BOUNDS],
    ['does not run in 1K: 1 byte over at least', [900, 950], [1025, 1060], BOUNDS],
    ['does not run in 1K: 1 byte over at least, as rehearsed', [900, 950], [1025, 1060], WHOLE],
    ['may run in 1K: 114 bytes to spare at best, 6 over at worst', [900, 950], [910, 1030], BOUNDS],
    [
      'may run in 1K: 114 bytes to spare at best, no bound at worst',
      [900, 950],
      [910, OPEN],
      BOUNDS,
    ],
    [
      'may run in 1K: 114 bytes to spare at best, 6 over at worst, as rehearsed',
      [900, 950],
      [910, 1030],
      WHOLE,
    ],
    [
      'may run in 1K: as far as it ran, up to line 90, 24 bytes to spare',
      [900, 950],
      [910, 1000],
      CUT,
    ],
    [
      'may run in 1K: as far as it ran, up to line 90, 0 bytes to spare',
      [900, 950],
      [910, 1024],
      CUT,
    ],
  ])('%s', (text, loads, runs, basis) => {
    expect(verdictText(of(loads, runs, basis))).toBe(text);
  });

  it('says what was given up in following the program, and where', () => {
    const given = (line?: number) =>
      verdictText(
        of([900, 950], [910, 1030], { on: 'bounds', undone: { why: 'it is long', line } }),
      );
    expect(given()).toMatch(/6 over at worst; it is long$/);
    expect(given(40)).toMatch(/6 over at worst; it is long \(line 40\)$/);
  });

  it('has null in JSON where nothing bounds a number', () => {
    expect(verdictJson(of([900, 950], [910, OPEN]))).toEqual({
      is: 'may run',
      ram: 1024,
      needed: { low: 910, high: null },
      spare: { worst: null, best: 114 },
      basis: 'bounds',
    });
    expect(verdictJson(of([900, 950], [910, 1000], seeds(20)))).toEqual({
      is: 'runs',
      ram: 1024,
      needed: { low: 910, high: 1000 },
      spare: { worst: 24, best: 114 },
      basis: 'rehearsal',
      rehearsals: 20,
    });
    expect(verdictJson(of([900, 950], [910, 1000], CUT))).toMatchObject({ upToLine: 90 });
    const undone = { why: 'it is long', line: 40 };
    const given = verdictJson(of([900, 950], [910, 1030], { on: 'bounds', undone }));
    expect(given).toMatchObject({ undone });
    expect(Object.keys(given)).not.toContain('rehearsals');
  });
});
