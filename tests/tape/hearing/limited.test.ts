/** A sound with peaks many times as high as the signal is heard with these cut off. */
import { describe, expect, it } from 'vitest';
import { recoverPrograms } from '../../../src/tape/recover.js';
import { recordProgram } from '../../../src/tape/writing/record.js';
import { type Sound, soundOf, wavOf } from '../damage.js';
import { drawer, drawImage, drawName } from '../images.js';
import { verdictOn } from '../verdict.js';

const program = { name: drawName(5), image: drawImage(5, 40) };
const clean = soundOf(recordProgram(program, { lead: 0.5, tail: 0.4, rate: 22050, level: 0.1 }));

/** Peaks of single samples, so many a second, up to ten times as high as the signal. */
function withPeaks({ rate, samples }: Sound, perSecond: number): Sound {
  const draw = drawer(1);
  const peak = () => (draw() < perSecond / rate ? 2 * draw() - 1 : 0);
  return { rate, samples: samples.map((sample) => sample + peak()) };
}

describe('peaks above the signal', () => {
  it('of which there are 200 a second do no harm', () => {
    const found = recoverPrograms(wavOf(withPeaks(clean, 200)));
    expect(verdictOn(found, program)).toBe('whole');
  });
});
