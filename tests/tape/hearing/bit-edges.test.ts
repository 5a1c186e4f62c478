/** When bits begin, more finely than in steps of the carrier. */
import { describe, expect, it } from 'vitest';
import { BIT_SECONDS } from '../../../src/machine/tape-signal.js';
import { recordProgram } from '../../../src/tape/writing/record.js';
import { tapeBytes } from '../../../src/tape/writing/tape-bytes.js';
import { heardBits, valuesOf } from '../bits.js';
import { type Damage, noise, soundOf, speed } from '../damage.js';
import { drawImage, drawName } from '../images.js';

const program = { name: drawName(6), image: drawImage(6, 400) };
const truth = valuesOf(tapeBytes(program));

/** Microseconds by which the bits begin too late, against the first. */
function lateness(rate: number, damage: Damage, factor = 1): number[] {
  const clean = soundOf(recordProgram(program, { rate, lead: 0.5, tail: 0.3 }));
  const bits = heardBits(damage(clean, 1));
  expect(bits.map(({ bit }) => bit)).toEqual(truth);
  let at = bits[0].start;
  return bits.map(({ start, bit }) => {
    const late = 1e6 * (start - at);
    at += BIT_SECONDS[bit] / factor;
    return late;
  });
}

describe('a bit begins', () => {
  it.each([11025, 22050, 44100, 48000])(
    'within half a step of its time, of %i samples a second',
    (rate) => {
      for (const late of lateness(rate, (sound) => sound)) expect(Math.abs(late)).toBeLessThan(41);
    },
  );

  it.each([-15, 12])('and where the tape runs too fast by %i percent', (percent) => {
    const late = lateness(22050, speed(percent), 1 + percent / 100);
    for (const one of late) expect(Math.abs(one)).toBeLessThan(41);
  });

  it('in noise within a step, nearly always', () => {
    const late = lateness(22050, noise(15))
      .map(Math.abs)
      .sort((a, b) => a - b);
    expect(late[Math.floor(0.99 * late.length)]).toBeLessThan(83);
  });
});
