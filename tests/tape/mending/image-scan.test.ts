import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ImageScan } from '../../../src/tape/mending/image-scan.js';
import { areaOffsets, checkStructure } from '../../../src/tape/mending/image-structure.js';
import { nameLength } from '../../../src/tape/reading/beginning.js';
import { tapeBytes } from '../../../src/tape/writing/tape-bytes.js';
import { timed, valuesOf } from '../bits.js';
import { drawImage, drawName, imageOf } from '../images.js';

const VARIABLES = Uint8Array.of(
  ...[0x66, 0x81, 0, 0, 0, 0], // A
  ...[0xa6, 0x27, 0xa8, 0x81, 0, 0, 0, 0], // ABC
  ...[0x46, 3, 0, 38, 39, 40], // A$
  ...[0x87, 8, 0, 1, 1, 0, 0x81, 0, 0, 0, 0], // B(1)
  ...[0xe8, ...new Array<number>(17).fill(0)], // FOR C
);

/** Is this a name and an image without an odd code, by what checks whole images? */
function isWhole(bytes: Uint8Array): boolean {
  const nameSize = nameLength(timed(valuesOf(bytes)), 0);
  if (nameSize === undefined) return false;
  const image = bytes.subarray(nameSize);
  const { whole, walk } = checkStructure(image);
  return areaOffsets(image) !== undefined && whole && walk.oddities === 0;
}

/** Does the scan take all of it, and is it done then? */
function takes(bytes: Uint8Array): boolean {
  const scan = new ImageScan();
  return valuesOf(bytes).every((bit) => scan.push(bit)) && scan.piece === 'done';
}

const tapes = fc.tuple(fc.nat(1000), fc.boolean()).map(([seed, variables]) =>
  tapeBytes({
    name: drawName(seed),
    image: variables ? imageOf(programOf(seed), VARIABLES) : drawImage(seed),
  }),
);

function programOf(seed: number): Uint8Array {
  const image = drawImage(seed);
  return image.subarray(116, areaOffsets(image)!.display);
}

describe('an image bit by bit', () => {
  it('is taken where it holds together whole', () => {
    fc.assert(
      fc.property(tapes.filter(isWhole), (tape) => takes(tape)),
      { numRuns: process.env.FUZZ ? 2000 : 30, seed: 3 },
    );
  });

  it('is taken or not as the check of whole images has it', () => {
    const changes = fc.array(fc.tuple(fc.nat(), fc.nat(255)), { maxLength: 3 });
    fc.assert(
      fc.property(tapes, changes, fc.constantFrom(0, 1, -1), (tape, changed, more) => {
        const bytes = new Uint8Array(tape.length + more);
        bytes.set(tape.subarray(0, bytes.length));
        for (const [at, byte] of changed) bytes[at % bytes.length] = byte;
        expect(takes(bytes)).toBe(isWhole(bytes));
      }),
      { numRuns: process.env.FUZZ ? 20_000 : 60, seed: 4 },
    );
  });

  it('goes on alike from the same state', () => {
    const tape = tapeBytes({ name: Uint8Array.of(40), image: drawImage(3) });
    const other = tape.slice();
    other[tape.length - 60] = tape[tape.length - 60] === 45 ? 46 : 45;
    const [one, two] = [tape, other].map((bytes) => {
      const scan = new ImageScan();
      for (const bit of valuesOf(bytes.subarray(0, -30))) scan.push(bit);
      return scan.state;
    });
    expect(two).toBe(one);
  });
});
