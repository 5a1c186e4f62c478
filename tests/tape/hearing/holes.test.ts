/** Bits under holes: those that the time and the pulses around it leave are sure, others are not. */
import { describe, expect, it } from 'vitest';
import { SURE_ENOUGH, type TapeBit } from '../../../src/tape/hearing/bit-finder.js';
import { recordProgram } from '../../../src/tape/writing/record.js';
import { bitsOf, heardBits } from '../bits.js';
import { noise, soundOf, wiped } from '../damage.js';
import { drawImage, drawName } from '../images.js';

const RATE = 22050;
const LEAD = 0.5;
const program = { name: drawName(7), image: drawImage(7, 20) };
const clean = soundOf(recordProgram(program, { rate: RATE, lead: LEAD, tail: 0.3 }));
const valuesOf = (bits: readonly TapeBit[]) => bits.map(({ bit }) => bit);
const played = bitsOf(program);
const truth = valuesOf(played);
const starts = played.map(({ start }) => LEAD + start);
/** The first place after so many bits where these come in a row. */
const placeOf = (row: string, after: number) => truth.join('').indexOf(row, after);

describe('bits under a hole', () => {
  it.each([0, 18])('are as they were, with noise of %i dB or none, wherever 1 ms is gone', (db) => {
    const sound = db === 0 ? clean : noise(db)(clean, 1);
    const first = placeOf('0101', 200);
    let sure = 0;
    for (let offset = 0; offset < 0.0066; offset += 0.0011) {
      const from = starts[first] + offset;
      const bits = heardBits(wiped(sound, from, from + 0.001));
      expect(valuesOf(bits)).toEqual(truth);
      if (bits.every((bit) => bit.sure >= SURE_ENOUGH)) sure++;
    }
    expect(sure).toBeGreaterThanOrEqual(5);
  });

  it('are sure where the time allows no others', () => {
    const first = placeOf('000', 200);
    const bits = heardBits(wiped(clean, starts[first], starts[first + 3]));
    expect(valuesOf(bits)).toEqual(truth);
    expect(bits.every((bit) => bit.sure >= SURE_ENOUGH)).toBe(true);
  });

  it('are not where two orders take the same time', () => {
    const first = placeOf('01', 200);
    const bits = heardBits(wiped(clean, starts[first], starts[first + 2]));
    expect(bits.length).toBe(truth.length);
    const unsure = bits.flatMap(({ sure }, i) => (sure < SURE_ENOUGH ? [i] : []));
    expect(unsure).toEqual(expect.arrayContaining([first, first + 1]));
    expect(unsure.length).toBeLessThanOrEqual(3);
  });

  it('are read alike wherever the blocks of reading end', () => {
    const first = placeOf('000', 200);
    const { samples } = wiped(clean, starts[first], starts[first + 3]);
    for (let shift = 0; shift < 1; shift += 0.4) {
      // Blocks are of eight seconds, and the last half of one is read again.
      const silence = Math.round((6.8 + shift - starts[first]) * RATE);
      const later = new Float32Array(silence + samples.length);
      later.set(samples, silence);
      const bits = heardBits({ rate: RATE, samples: later });
      expect(valuesOf(bits)).toEqual(truth);
      expect(bits.every((bit) => bit.sure >= SURE_ENOUGH)).toBe(true);
    }
  });
});
