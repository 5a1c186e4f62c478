/** Voting between several recordings of one tape. */
import { describe, expect, it } from 'vitest';
import type { Recovery } from '../../../src/tape/reading/recovery.js';
import { recoverPrograms } from '../../../src/tape/recover.js';
import { voteBetween } from '../../../src/tape/voting/takes.js';
import { recordPrograms } from '../../../src/tape/writing/record.js';
import { dropouts, mix, soundOf, speed, wavOf } from '../damage.js';
import { drawImage, drawName } from '../images.js';
import { verdictOn } from '../verdict.js';

function takesOf(seeds: readonly number[], count: number, seed: number): Recovery[] {
  const programs = seeds.map((one) => ({ name: drawName(one), image: drawImage(one) }));
  const clean = soundOf(recordPrograms(programs, { rate: 11025, lead: 0.5, gap: 1.2 }));
  return Array.from({ length: count }, (_, take) => {
    const damage = mix(dropouts(8, 6), speed(4 * take - 3));
    return recoverPrograms(wavOf(damage(clean, 31 * seed + take)));
  });
}

const verdict = (program: Recovery['programs'][number], seed: number) =>
  verdictOn({ programs: [program] } as unknown as Recovery, {
    name: drawName(seed),
    image: drawImage(seed),
  });

describe('two takes with holes in different places', () => {
  it('settle each other, and say which byte was settled by which', () => {
    let [alone, together, settled] = [0, 0, 0];
    for (let seed = 1; seed <= 2; seed++) {
      const takes = takesOf([seed, seed + 50], 3, seed);
      const voted = voteBetween(takes);
      expect(voted.length).toBe(2);
      voted.forEach((one, i) => {
        const own = seed + 50 * i;
        expect(one.takes).toEqual([0, 1, 2]);
        expect(verdict(one.program, own)).not.toBe('silent');
        if (verdict(takes[0].programs[i], own) === 'whole') alone++;
        if (verdict(one.program, own) === 'whole') together++;
        for (const { part, offset, byte, take } of one.settled) {
          settled++;
          expect(byte).toBe({ name: drawName(own), image: drawImage(own) }[part][offset]);
          expect([0, 1, 2]).toContain(take);
        }
      });
    }
    expect(together).toBeGreaterThan(alone);
    expect(together).toBeGreaterThanOrEqual(3);
    expect(settled).toBeGreaterThan(0);
  });

  it('one take is left as it is', () => {
    const [take] = takesOf([7], 1, 7);
    const [voted] = voteBetween([take]);
    expect(voted).toEqual({ program: take.programs[0], basis: 0, takes: [0], settled: [] });
  });

  it('a program that one take lacks comes from the other; different ones stay apart', () => {
    const [both] = takesOf([8, 9], 1, 8);
    const [second] = takesOf([9], 1, 9);
    const voted = voteBetween([second, both]);
    expect(voted.map(({ takes }) => takes)).toEqual([[1], [0, 1]]);
  });
});
