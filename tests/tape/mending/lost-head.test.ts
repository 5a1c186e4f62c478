/** Programs whose beginning is not on the tape. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { HEADER_SIZE, offsetOf, wordAt } from '../../../src/machine/image-layout.js';
import { IMAGE_START } from '../../../src/machine/memory-map.js';
import { withNewHead } from '../../../src/tape/mending/lost-head.js';
import { readPrograms } from '../../../src/tape/reading/program-reader.js';
import { recoverPrograms } from '../../../src/tape/recover.js';
import { recordProgram } from '../../../src/tape/writing/record.js';
import { bitsOf, timed } from '../bits.js';
import { dropouts, mix, noise, soundOf, wavOf } from '../damage.js';
import { drawer, drawImage, drawName, imageOf } from '../images.js';
import { verdictOn } from '../verdict.js';

const FUZZ = Boolean(process.env.FUZZ);
const program = { name: drawName(5), image: drawImage(5, 400) };
const bits = bitsOf(program);

function read(heard: typeof bits) {
  return readPrograms(heard, 'mono') as unknown as Parameters<typeof verdictOn>[0];
}

describe('a program without its beginning', () => {
  it('without a part of the name and the pointers has all of its lines, and the rest as heard', () => {
    const [found] = read(bits.slice(8 * (program.name.length + 40))).programs;
    expect([...found.name]).toEqual([15]);
    expect(found.image.length).toBe(program.image.length);
    expect(found.whole).toBe(true);
    expect(found.image.subarray(40)).toEqual(program.image.subarray(40));
    for (const pointer of ['D_FILE', 'VARS', 'E_LINE']) {
      expect(wordAt(found.image, offsetOf(pointer))).toBe(wordAt(program.image, offsetOf(pointer)));
    }
    const rebuilt = found.doubts.filter(({ reason }) => reason === 'rebuilt');
    expect(rebuilt.length).toBe(1 + 40);
    expect(found.certainty).toBe(0);
  });

  it('without its first lines has the others', () => {
    const heard = bits.slice(8 * (program.name.length + HEADER_SIZE + 100));
    const [found] = read(heard).programs;
    expect(found.whole).toBe(true);
    const lines = found.image.subarray(HEADER_SIZE);
    expect(lines.length).toBeGreaterThan(250);
    expect(lines).toEqual(program.image.subarray(program.image.length - lines.length));
    expect(found.doubts.length).toBe(1 + HEADER_SIZE);
  });

  it('is sure of the first number where what comes before it is in step, and only there', () => {
    const line = 8 * (program.name.length + HEADER_SIZE);
    const numberDoubts = (heard: typeof bits) => {
      const { doubts } = read(heard).programs[0];
      return doubts.filter(({ offset }) => offset >= HEADER_SIZE).map(({ offset }) => offset);
    };
    const own = [HEADER_SIZE, HEADER_SIZE + 1];
    expect(numberDoubts(bits.slice(line - 8 * 40))).toEqual([]);
    expect(numberDoubts(bits.slice(line))).toEqual(own);
    // Two zeros twice in the number: as many before it are a part of it then.
    const twice = [...bits.slice(line - 8 * 20, line + 4), ...bits.slice(line + 2)];
    expect(numberDoubts(twice)).toEqual(own);
  });

  it('is sure of nothing in a line with codes that no listing shows', () => {
    const lines = [10, 20, 30, 40].flatMap((number) => [0, number, 3, 0, 251, 0, 118]);
    lines[7 + 5] = 90;
    const image = imageOf(Uint8Array.from(lines), Uint8Array.of());
    const name = drawName(2);
    const inLines = (heard: typeof bits) =>
      read(heard)
        .programs[0].doubts.filter(({ offset }) => offset >= HEADER_SIZE)
        .map(({ offset, reason }) => [offset - HEADER_SIZE, reason]);
    expect(inLines(bitsOf({ name, image }))).toEqual([]);
    expect(inLines(bitsOf({ name, image }).slice(8 * 60))).toEqual(
      [7, 8, 9, 10, 11, 12, 13].map((offset) => [offset, 'recounted']),
    );
  });

  it('and without its end has the lines between', () => {
    const first = 8 * (program.name.length + HEADER_SIZE + 60);
    const [found] = read(bits.slice(first, first + 8 * 250)).programs;
    expect(found.whole).toBe(true);
    const display = wordAt(found.image, offsetOf('D_FILE')) - IMAGE_START;
    const lines = Buffer.from(found.image.subarray(HEADER_SIZE, display));
    expect(lines.length).toBeGreaterThan(150);
    expect(Buffer.from(program.image).includes(lines)).toBe(true);
    const after = found.doubts.filter(({ offset, part }) => part === 'image' && offset >= display);
    expect(after.length).toBe(found.image.length - display);
  });

  it('keeps its variables', () => {
    const variables = Uint8Array.of(0x66, 0x81, 0, 0, 0, 0, 0x47, 3, 0, 38, 39, 40);
    const lines = [10, 20, 30, 40, 50, 60, 70, 80].flatMap((number) => [0, number, 2, 0, 251, 118]);
    const image = imageOf(Uint8Array.from(lines), variables);
    const [found] = read(bitsOf({ name: drawName(2), image }).slice(8 * 60)).programs;
    expect(found.image.subarray(HEADER_SIZE)).toEqual(image.subarray(HEADER_SIZE));
  });

  it('where a hole is in its pointers keeps its name', () => {
    const damaged = bits.map((bit, i) =>
      i >= 8 * (program.name.length + 3) && i < 8 * (program.name.length + 8)
        ? { ...bit, bit: (i & 1) as 0 | 1, sure: 0 }
        : bit,
    );
    const [found] = read(damaged).programs;
    expect(found.name).toEqual(program.name);
    expect(verdictOn(read(damaged), program)).toMatch(/right|marked/);
  });

  it('wherever it begins: no wrong byte without a mark', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.integer({ min: 1, max: 1200 }),
        (seed, lost) => {
          const truth = { name: drawName(seed), image: drawImage(seed, 150 + (seed % 200)) };
          // Whole characters of the name leave no trace when they are lost.
          fc.pre(lost % 8 !== 0 || lost >= 8 * truth.name.length);
          const recovery = read(bitsOf(truth).slice(lost));
          expect(verdictOn(recovery, truth)).not.toMatch(/silent|whole/);
        },
      ),
      { seed: 62, numRuns: FUZZ ? 5000 : 25 },
    );
  });

  it('on a worn tape', () => {
    for (let seed = 1; seed <= (FUZZ ? 100 : 3); seed++) {
      const truth = { name: drawName(seed), image: drawImage(seed, 300) };
      const { samples, rate } = soundOf(recordProgram(truth, { rate: 22050, lead: 0.2 }));
      const begun = { rate, samples: samples.subarray(Math.floor((0.3 + 0.02 * seed) * rate)) };
      const wav = wavOf(mix(noise(12), dropouts(5, 1))(begun, seed));
      expect(verdictOn(recoverPrograms(wav), truth)).not.toMatch(/silent|whole/);
    }
  });
});

describe('bits that are no program', () => {
  it('get no head', () => {
    for (let seed = 0; seed < (FUZZ ? 300 : 10); seed++) {
      const draw = drawer(seed);
      const values = Array.from({ length: 6000 }, (): 0 | 1 => (draw() < 0.5 ? 0 : 1));
      expect(withNewHead(timed(values))).toBeUndefined();
    }
  });
});
