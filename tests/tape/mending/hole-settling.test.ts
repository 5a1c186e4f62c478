/** Bits under holes by what an image must satisfy: sure where no other image is left, in doubt where one is. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BitOrder } from '../../../src/tape/hearing/hole-stretch.js';
import { Budget } from '../../../src/tape/mending/budget.js';
import { settleHoles } from '../../../src/tape/mending/hole-settling.js';
import { areaOffsets } from '../../../src/tape/mending/image-structure.js';
import type { SettledBit } from '../../../src/tape/mending/zone-settling.js';
import { recoverPrograms } from '../../../src/tape/recover.js';
import { recordProgram } from '../../../src/tape/writing/record.js';
import { bitsOf } from '../bits.js';
import { dropouts, soundOf, wavOf } from '../damage.js';
import { drawImage, drawName, imageOf } from '../images.js';
import { verdictOn } from '../verdict.js';

const program = { name: drawName(3), image: drawImage(3, 60) };
const clean = bitsOf(program);
const areas = areaOffsets(program.image)!;
const valuesOf = (bits: readonly SettledBit[]) => bits.map(({ bit }) => bit);

/** The bits with those from `from` on unclear: any of these orders, the first of which was read. */
function withHole(from: number, orders: readonly BitOrder[]): SettledBit[] {
  const [first] = orders;
  const { start, speed } = clean[from];
  const row = first.bits.map((bit, i): SettledBit => {
    const at = clean[from + i];
    return {
      bit,
      start,
      rest: at.rest,
      end: at.end,
      sure: 0,
      other: undefined,
      speed,
      hole: orders,
    };
  });
  return [...clean.slice(0, from), ...row, ...clean.slice(from + first.bits.length)];
}

const bitOf = (offset: number) => 8 * (program.name.length + offset);
const budget = () => Budget.ofSeconds(60);
const order = (row: string, cost: number): BitOrder => ({
  bits: [...row].map((bit) => (bit === '1' ? 1 : 0)),
  cost,
});

describe('bits under a hole', () => {
  // A NEWLINE is 01110110, and the display that a program is saved with has nothing else.
  const inDisplay = bitOf(areas.display + 5);

  it('are sure where only one order leaves an image', () => {
    const heard = withHole(inDisplay, [order('01101110', 0), order('01110110', 2)]);
    const settled = settleHoles(heard, budget());
    expect(valuesOf(settled)).toEqual(valuesOf(clean));
    expect(settled.every(({ sure }) => sure >= 0.5)).toBe(true);
  });

  it('stay as the sound has them where it disagrees too much with what the structure leaves', () => {
    const heard = withHole(inDisplay, [order('01101110', 0), order('01110110', 12)]);
    expect(settleHoles(heard, budget())).toBe(heard);
  });

  it('are in doubt where two orders leave an image, and sure where these agree', () => {
    // Characters of the manual's own graphics, in place of two of a name on the tape.
    const place = bitOf(50);
    const was = valuesOf(clean)
      .slice(place, place + 4)
      .join('');
    const other = was === '0000' ? '0010' : '0000';
    const settled = settleHoles(withHole(place, [order(was, 0), order(other, 3)]), budget());
    const differ = [...was].map((bit, i) => bit !== other[i]);
    expect(settled.slice(place, place + 4).map(({ sure }) => sure < 0.5)).toEqual(differ);
  });

  it('say nothing where something else is unclear', () => {
    const heard = withHole(inDisplay, [order('01101110', 0), order('01110110', 2)]);
    heard[20] = { ...heard[20], sure: 0 };
    expect(settleHoles(heard, budget())).toBe(heard);
  });
});

describe('an end that was not heard', () => {
  it('is left as it is where nothing is missing', () => {
    expect(settleHoles(clean, budget())).toBe(clean);
  });

  it.each([1, 2, 7, 8, 9, 10])(
    'of %i bits, as many as a hole hides, is what it must be',
    (lost) => {
      const settled = settleHoles(clean.slice(0, -lost), budget());
      expect(valuesOf(settled)).toEqual(valuesOf(clean));
      expect(settled.every(({ sure }) => sure >= 0.5)).toBe(true);
      const times = settled.map(({ end }) => end);
      expect(times.at(-1)).toBeCloseTo(clean.at(-1)!.end, 6);
      expect(times).toEqual([...times].sort((a, b) => a - b));
    },
  );

  it('lets a hole elsewhere be undone', () => {
    const heard = withHole(bitOf(areas.display + 5), [order('01101110', 0), order('01110110', 2)]);
    expect(valuesOf(settleHoles(heard.slice(0, -7), budget()))).toEqual(valuesOf(clean));
  });

  it('has a 1 where the last bit heard looks like a 0, cut off within its pulses', () => {
    const heard: SettledBit[] = clean.slice(0, -7);
    heard[heard.length - 1] = { ...heard[heard.length - 1], bit: 0 };
    expect(valuesOf(settleHoles(heard, budget()))).toEqual(valuesOf(clean));
  });

  it('says nothing where more is missing, or the bits before it are no image', () => {
    const longer = clean.slice(0, -12);
    expect(settleHoles(longer, budget())).toBe(longer);
    const broken = clean.slice(0, -3);
    broken[bitOf(areas.display + 3)] = { ...broken[bitOf(areas.display + 3)], bit: 1 };
    expect(settleHoles(broken, budget())).toBe(broken);
  });

  it('says nothing where the byte before the last may be any', () => {
    const variables = Uint8Array.of(0x66, 0x81, 0, 0, 0, 0);
    const drawn = {
      ...program,
      image: imageOf(program.image.slice(116, areas.display), variables),
    };
    const heard = bitsOf(drawn).slice(0, -10);
    expect(settleHoles(heard, budget())).toBe(heard);
    const begun = bitsOf(drawn).slice(0, -7);
    expect(valuesOf(settleHoles(begun, budget()))).toEqual(valuesOf(bitsOf(drawn)));
  });
});

describe('recordings with holes', () => {
  it('are never wrong in silence', () => {
    const hole = fc.tuple(fc.integer({ min: 1, max: 24 }), fc.integer({ min: 1, max: 6 }));
    fc.assert(
      fc.property(fc.nat(100_000), hole, (seed, [ms, count]) => {
        const drawn = { name: drawName(seed), image: drawImage(seed, 40 + (seed % 5) * 40) };
        const sound = soundOf(recordProgram(drawn, { lead: 0.6, tail: 0.4, rate: 22050 }));
        const found = recoverPrograms(wavOf(dropouts(ms, count)(sound, seed)));
        expect(verdictOn(found, drawn)).not.toBe('silent');
      }),
      { numRuns: process.env.FUZZ ? 2000 : 4, seed: 6 },
    );
  });
});
