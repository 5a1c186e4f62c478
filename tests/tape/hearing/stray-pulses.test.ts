/** Signs that a program began before the first of its bits that can be read. */
import { describe, expect, it } from 'vitest';
import { SURE_ENOUGH } from '../../../src/tape/hearing/bit-finder.js';
import { recoverPrograms } from '../../../src/tape/recover.js';
import { recordProgram } from '../../../src/tape/writing/record.js';
import { bitsOf, heardBits } from '../bits.js';
import { noise, type Sound, soundOf, wavOf, wiped } from '../damage.js';
import { drawImage } from '../images.js';

const RATE = 22050;
const LEAD = 0.5;
const NAME = [0x26, 0x27, 0x28];
const program = { name: Uint8Array.from(NAME), image: drawImage(7, 20) };
const clean = soundOf(recordProgram(program, { rate: RATE, lead: LEAD, tail: 0.3 }));
const played = bitsOf(program);
const truth = played.map(({ bit }) => bit);
const startOf = (index: number) => LEAD + played[index].start;

/** The recording, each sample times what this gives for its second. */
function scaled(factorAt: (second: number) => number): Sound {
  return { rate: RATE, samples: clean.samples.map((sample, i) => sample * factorAt(i / RATE)) };
}

/** Names as they are read, with the numbers of the characters in doubt. */
function namesIn(sound: Sound): { name: number[]; doubts: number[] }[] {
  return recoverPrograms(wavOf(sound)).programs.map(({ name, doubts }) => ({
    name: [...name],
    doubts: doubts.flatMap(({ part, offset }) => (part === 'name' ? [offset] : [])),
  }));
}

describe('pulses before a hole', () => {
  it.each([1, 2])('of the first %i bits are bits in doubt', (count) => {
    const bits = heardBits(wiped(clean, startOf(count), startOf(8)));
    expect(bits.length).toBe(truth.length - 8 + count);
    expect(bits.slice(0, count).map(({ bit }) => bit)).toEqual(truth.slice(0, count));
    expect(bits.slice(0, count).every(({ sure }) => sure < SURE_ENOUGH)).toBe(true);
    expect(bits[0].start).toBeCloseTo(LEAD, 3);
  });

  it.each([0.0004, 0.001, 0.003, 0.006])(
    'say that a character is lost, where %f s of it are left',
    (left) => {
      const [{ name, doubts }] = namesIn(wiped(clean, LEAD + left, startOf(8)));
      expect(name).toEqual(NAME.slice(1));
      expect(doubts).toContain(0);
    },
  );

  it('are not looked for where nothing, or noise, comes before a program', () => {
    for (const sound of [clean, noise(20)(clean, 1), noise(12)(clean, 2)]) {
      expect(namesIn(sound)).toEqual([{ name: NAME, doubts: [] }]);
    }
  });

  it('nor far before it', () => {
    const [{ start }] = recoverPrograms(wavOf(clean)).programs;
    const samples = clean.samples.slice();
    const click = samples.slice(Math.round(LEAD * RATE), Math.round((LEAD + 0.0013) * RATE));
    samples.set(click, Math.round((start - 0.1) * RATE));
    expect(namesIn({ rate: RATE, samples })).toEqual([{ name: NAME, doubts: [] }]);
    samples.set(click, Math.round((start - 0.03) * RATE));
    expect(namesIn({ rate: RATE, samples })).toEqual([{ name: NAME, doubts: [0] }]);
  });
});

describe('a beginning', () => {
  const risesFrom = (begin: number, seconds: number) =>
    scaled((second) => Math.min(1, Math.max(0.001, (second - begin) / seconds)));

  it('that fades in may not be one', () => {
    const [{ name, doubts }] = namesIn(noise(12)(risesFrom(startOf(7), 0.02), 1));
    expect(name).toEqual(NAME.slice(1));
    expect(doubts).toContain(0);
  });

  it('may be softer than what follows', () => {
    expect(namesIn(risesFrom(LEAD - 0.05, 0.1))).toEqual([{ name: NAME, doubts: [] }]);
  });
});
