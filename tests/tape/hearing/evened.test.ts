/** A sound that fades for some hundredths of a second is heard as if it had not. */
import { describe, expect, it } from 'vitest';
import { evened } from '../../../src/tape/hearing/evened.js';
import type { PulseLevels } from '../../../src/tape/hearing/pulse-levels.js';
import { recoverPrograms } from '../../../src/tape/recover.js';
import { recordProgram } from '../../../src/tape/writing/record.js';
import { dropouts, fades, soundOf, wavOf } from '../damage.js';
import { drawImage, drawName } from '../images.js';
import { verdictOn } from '../verdict.js';

const program = { name: drawName(5), image: drawImage(5, 40) };
const clean = soundOf(recordProgram(program, { lead: 0.4, tail: 0.3, rate: 22050 }));

describe('fades of 50 ms', () => {
  it.each([20, 40])('of %i dB take nothing away', (db) => {
    const found = recoverPrograms(wavOf(fades(db, 50, 3)(clean, 1)));
    expect(verdictOn(found, program)).toBe('whole');
  });

  it('are no holes: where nothing is left, nothing is made up', () => {
    const found = recoverPrograms(wavOf(dropouts(50, 2)(clean, 1)));
    expect(['right', 'marked']).toContain(verdictOn(found, program));
  });
});

describe('the height of the pulses', () => {
  /** Levels of so strong a sound, with rests of this strength now and then. */
  function levelsOf(strength: number[], rest: number): PulseLevels {
    const row = (of: (i: number) => number) => Float32Array.from(strength, (_, i) => of(i));
    const [re, high] = [row((i) => strength[i]), row((i) => strength[i])];
    return {
      ...{ re, im: row(() => 0), strength: re, high, low: row(() => rest) },
      ...{ soft: row(() => 1), speed: row(() => 1) },
    };
  }
  const fade = Array.from({ length: 4000 }, (_, i) => (i > 1900 && i < 2100 ? 0.1 : 1));

  it('is the same throughout', () => {
    const { re } = evened(levelsOf(fade, 0), fade.length);
    expect(re[100]).toBeCloseTo(1);
    expect(re[2000]).toBeCloseTo(1);
  });

  it('is not made of noise', () => {
    const { re } = evened(levelsOf(fade, 0.1), fade.length);
    expect(re[2000]).toBeLessThan(0.2);
  });
});
