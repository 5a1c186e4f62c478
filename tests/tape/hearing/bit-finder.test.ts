/** What is done before a block is full, while somebody listens. */
import { expect, it } from 'vitest';
import { BitFinder, SURE_ENOUGH, type TapeBit } from '../../../src/tape/hearing/bit-finder.js';
import { recordProgram } from '../../../src/tape/writing/record.js';
import { soundOf } from '../damage.js';
import { drawImage, drawName } from '../images.js';

const { rate, samples } = soundOf(
  recordProgram({ name: drawName(1), image: drawImage(1) }, { rate: 22050, lead: 1, tail: 1 }),
);

/** The bits of the recording, and how far they were settled each time that somebody looked. */
function heard(looks: boolean): { bits: TapeBit[]; settled: number[] } {
  const bits: TapeBit[] = [];
  const settled: number[] = [];
  const finder = new BitFinder(rate, (bit) => bits.push(bit));
  for (let at = 0; at < samples.length; at += rate / 2) {
    const piece = samples.subarray(at, at + rate / 2);
    finder.push(piece, piece.length);
    if (looks) finder.settleInQuiet();
    settled.push(finder.settledSeconds);
  }
  finder.finish();
  return { bits, settled };
}

it('what comes first is heard within two seconds, as code that runs for the first time is slow', () => {
  expect(heard(true).settled[3]).toBeGreaterThan(0.5);
  expect(heard(false).settled[3]).toBe(0);
});

it('and the bits are the same', () => {
  const read = (looks: boolean) =>
    heard(looks).bits.map(({ bit, sure }) => [bit, sure >= SURE_ENOUGH]);
  expect(read(true)).toEqual(read(false));
});
