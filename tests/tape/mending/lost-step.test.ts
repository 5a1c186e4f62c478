/** Bits lost and doubled without a sound of it: found by what follows, or all from there on marked. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Budget } from '../../../src/tape/mending/budget.js';
import { backInStep } from '../../../src/tape/mending/lost-step.js';
import { readPrograms } from '../../../src/tape/reading/program-reader.js';
import type { TapeProgram } from '../../../src/tape/writing/tape-bytes.js';
import { bitsOf, timed } from '../bits.js';
import { drawImage, drawName, imageOf } from '../images.js';
import { verdictOn } from '../verdict.js';

const FUZZ = Boolean(process.env.FUZZ);

/** The program's bits with some of them left out at one place (count below 0), or said twice. */
function slipped(program: TapeProgram, at: number, count: number) {
  const values = bitsOf(program).map(({ bit }) => bit);
  const from = Math.min(at, values.length - 12);
  if (count < 0) values.splice(from, -count);
  else values.splice(from, 0, ...values.slice(from, from + count));
  return timed(values);
}

function read(bits: ReturnType<typeof timed>) {
  const { programs, fragments } = readPrograms(bits, 'mono');
  return { programs, fragments } as unknown as Parameters<typeof verdictOn>[0];
}

describe('bits lost or doubled at one place', () => {
  const program = { name: drawName(3), image: drawImage(3, 300) };
  const middle = 8 * (program.name.length + 200);

  it.each([-10, -7, -3, -1, 1, 2, 5, 10])('%i of them: only that line is in doubt', (count) => {
    const recovery = read(slipped(program, middle, count));
    const [found] = recovery.programs;
    expect(verdictOn(recovery, program)).not.toBe('silent');
    expect(found.whole).toBe(true);
    expect(found.image.length).toBe(program.image.length);
    const offsets = found.doubts.map(({ offset }) => offset);
    expect(offsets.length).toBeGreaterThan(0);
    expect(Math.min(...offsets)).toBeGreaterThan(200 - 60);
    expect(Math.max(...offsets)).toBeLessThan(200 + 60);
    expect(found.doubts.some(({ reason }) => reason === 'recounted')).toBe(true);
  });

  it('wherever it is, and however many: no wrong byte without a mark', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
        fc.integer({ min: -20, max: 20 }).filter((count) => count !== 0),
        (seed, place, count) => {
          const truth = { name: drawName(seed), image: drawImage(seed, 40 + (seed % 200)) };
          const at = Math.floor(place * 8 * (truth.name.length + truth.image.length));
          // Whole characters of the name leave no trace when they are lost.
          fc.pre(count % 8 !== 0 || at >= 8 * truth.name.length);
          expect(verdictOn(read(slipped(truth, at, count)), truth)).not.toBe('silent');
        },
      ),
      { seed: 61, numRuns: FUZZ ? 3000 : 30 },
    );
  });

  it('an image that is in step is left as it is', () => {
    const bits = bitsOf(program);
    expect(backInStep(bits, program.name.length, Budget.ofSeconds(60))).toBe(bits);
  });
});

describe('an image that contradicts itself and was saved like that', () => {
  it('is not in doubt where the recording is clear', () => {
    // Lines out of order, as a program that changed its own line numbers has them.
    const line = (number: number) => [number >> 8, number & 255, 2, 0, 253, 118];
    const image = imageOf(Uint8Array.of(...line(20), ...line(10)), new Uint8Array(0));
    const [found] = read(bitsOf({ name: drawName(1), image })).programs;
    expect(found.image).toEqual(image);
    expect(found.doubts).toEqual([]);
    expect(found.whole).toBe(false);
  });

  it('is in doubt from there on where the recording is not', () => {
    const line = (number: number) => [number >> 8, number & 255, 2, 0, 253, 118];
    const image = imageOf(Uint8Array.of(...line(20), ...line(10)), new Uint8Array(0));
    const name = drawName(1);
    const bits = bitsOf({ name, image });
    bits[8 * (name.length + 50)] = { ...bits[8 * (name.length + 50)], sure: 0.1 };
    const [found] = read(bits).programs;
    expect(found.doubts.filter(({ reason }) => reason === 'adrift').at(-1)?.offset).toBe(
      image.length - 1,
    );
  });
});
