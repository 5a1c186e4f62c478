/** Images drawn at random: real builds, with up to a handful of mutations. */
import fc from 'fast-check';
import { areasOf, NotAnImage, programPieces } from '../../src/image/areas.js';
import { buildImage } from '../../src/image/build.js';
import { readListing } from '../../src/listing/read.js';
import { NEWLINE, NUMBER_MARKER } from '../../src/machine/characters.js';
import { offsetOf, setWord, wordAt } from '../../src/machine/image-layout.js';
import { IMAGE_START } from '../../src/machine/memory-map.js';
import { SYSTEM_VARIABLES } from '../../src/machine/system-variables.js';
import { encodeVariable, type SavedVariable } from '../../src/machine/variables.js';
import { drawListing } from '../support/draw-listing.js';

/** Images that the builder makes of `count` drawn listings. */
export function realImages(count: number, seed: number): Uint8Array[] {
  const images: Uint8Array[] = [];
  for (const text of fc.sample(drawListing(), { numRuns: count, seed })) {
    const ram = [1024, 2048, 16384][images.length % 3];
    // Some as other tools make them: their numbers are the nearest.
    const making = images.length % 4 === 3 ? '.numbers nearest\n' : '';
    const { image } = buildImage(readListing(making + text).listing, { ram });
    if (image !== undefined) images.push(image);
  }
  return images;
}

/** One change to an image: numbers that the kind of change takes as it likes. */
interface Mutation {
  readonly kind: keyof typeof CHANGES;
  readonly at: number;
  readonly to: number;
  readonly bytes: Uint8Array;
  readonly variables: readonly SavedVariable[];
}

const letter = fc.constantFrom(...'ABCDEFGHIJKLMNOPQRSTUVWXYZ');
const five = fc.uint8Array({ minLength: 5, maxLength: 5 });
const sizes = fc.array(fc.integer({ min: 1, max: 4 }), { minLength: 1, maxLength: 3 });
const product = (list: readonly number[]): number => list.reduce((one, other) => one * other, 1);
const exactly = (length: number) => fc.uint8Array({ minLength: length, maxLength: length });

/** A variable of any kind. */
export const drawVariable: fc.Arbitrary<SavedVariable> = fc.oneof(
  fc
    .tuple(fc.oneof(letter, fc.stringMatching(/^[A-Z][A-Z0-9]{1,6}$/)), five)
    .map(([name, value]) => ({ kind: 'number' as const, name, value })),
  fc.tuple(letter, five, five, five, fc.nat(65535)).map(([name, value, limit, step, line]) => ({
    kind: 'for' as const,
    name,
    value,
    limit,
    step,
    line,
  })),
  fc
    .tuple(letter, fc.uint8Array({ maxLength: 40 }))
    .map(([name, codes]) => ({ kind: 'string' as const, name: `${name}$`, codes })),
  fc.tuple(letter, sizes).chain(([name, dimensions]) =>
    exactly(5 * product(dimensions)).map((values) => ({
      kind: 'numbers' as const,
      name,
      dimensions,
      values,
    })),
  ),
  fc.tuple(letter, sizes).chain(([name, dimensions]) =>
    exactly(product(dimensions)).map((codes) => ({
      kind: 'characters' as const,
      name: `${name}$`,
      dimensions,
      codes,
    })),
  ),
);

const joined = (...parts: readonly (Uint8Array | readonly number[])[]): Uint8Array =>
  Uint8Array.from(parts.flatMap((part) => [...part]));

/** The image with `bytes` in place of [start, end), and the pointers behind them moved along. */
function replaced(
  image: Uint8Array,
  start: number,
  end: number,
  bytes: Uint8Array | readonly number[],
): Uint8Array {
  const out = joined(image.subarray(0, start), bytes, image.subarray(end));
  for (const name of ['D_FILE', 'VARS', 'E_LINE']) {
    const at = offsetOf(name);
    if (out.length < at + 2) continue;
    const offset = wordAt(out, at) - IMAGE_START;
    if (offset >= end) setWord(out, at, offset + bytes.length - (end - start) + IMAGE_START);
  }
  return out;
}

const pick = <Of>(list: readonly Of[], index: number): Of | undefined =>
  list[index % Math.max(1, list.length)];

/** The lines and loose pieces of an image, as far as it has any. */
function piecesOf(image: Uint8Array) {
  try {
    return programPieces(image, areasOf(image).D_FILE - IMAGE_START);
  } catch (error) {
    if (error instanceof NotAnImage) return [];
    throw error;
  }
}

function areaOffsets(image: Uint8Array) {
  try {
    const { D_FILE, VARS, E_LINE } = areasOf(image);
    return { display: D_FILE - IMAGE_START, vars: VARS - IMAGE_START, end: E_LINE - IMAGE_START };
  } catch (error) {
    if (error instanceof NotAnImage) return undefined;
    throw error;
  }
}

/** Displays of every size, right and wrong. */
function drawnDisplay({ at, to, bytes }: Mutation): Uint8Array {
  const rows = at % 6 === 0 ? at % 30 : 24;
  const full = to % 3 === 0;
  const out: number[] = [NEWLINE];
  for (let row = 0; row < rows; row++) {
    const length = full ? 32 : (to + row * at) % (to % 5 === 0 ? 40 : 33);
    for (let column = 0; column < length; column++) {
      out.push(bytes.length === 0 ? 0 : bytes[(row * length + column) % bytes.length]);
    }
    out.push(NEWLINE);
  }
  return Uint8Array.from(out);
}

/** Every way in which an image is changed. */
const CHANGES = {
  /** One byte anywhere. */
  byte: (image: Uint8Array, { at, to }: Mutation) => {
    const out = image.slice();
    if (out.length > 0) out[at % out.length] = to;
    return out;
  },
  /** One bit anywhere. */
  bit: (image: Uint8Array, { at, to }: Mutation) => {
    const out = image.slice();
    if (out.length > 0) out[at % out.length] ^= 1 << (to % 8);
    return out;
  },
  /** A system variable, the pointers among them. */
  system: (image: Uint8Array, { at, to }: Mutation) => {
    const out = image.slice();
    const variable = pick(SYSTEM_VARIABLES, at)!;
    const offset = variable.address - IMAGE_START;
    if (offset >= 0 && offset + 2 <= out.length) {
      if (variable.size === 1) out[offset] = to;
      else setWord(out, offset, at % 2 ? to : wordAt(out, offset) + (to % 64) - 32);
    }
    return out;
  },
  /** A system variable that points into the image. */
  pointer: (image: Uint8Array, { at, to }: Mutation) => {
    const out = image.slice();
    const name = pick(['DF_CC', 'DEST', 'CH_ADD', 'X_PTR', 'STKBOT', 'NXTLIN'], at)!;
    if (out.length >= 116) setWord(out, offsetOf(name), IMAGE_START + (to % (out.length + 40)));
    return out;
  },
  /** The image runs one of its lines. */
  start: (image: Uint8Array, { at }: Mutation) => {
    const out = image.slice();
    const piece = pick(piecesOf(out), at);
    if (piece !== undefined) setWord(out, offsetOf('NXTLIN'), piece.start + IMAGE_START);
    return out;
  },
  /** A line's number. */
  number: (image: Uint8Array, { at, to }: Mutation) => {
    const out = image.slice();
    const piece = pick(piecesOf(out), at);
    if (piece !== undefined) out.set([to >> 8, to & 255], piece.start);
    return out;
  },
  /** A line's length, by much or by little. */
  length: (image: Uint8Array, { at, to }: Mutation) => {
    const out = image.slice();
    const piece = pick(piecesOf(out), at);
    if (piece === undefined || piece.end - piece.start < 4) return out;
    const length = wordAt(out, piece.start + 2);
    setWord(out, piece.start + 2, at % 3 ? length + (to % 80) - 40 : to);
    return out;
  },
  /** A line's length, so that it takes the lines after it in. */
  hide: (image: Uint8Array, { at, to }: Mutation) => {
    const out = image.slice();
    const pieces = piecesOf(out);
    const first = at % Math.max(1, pieces.length);
    const last = pick(pieces.slice(first), to);
    if (last === undefined) return out;
    const { start } = pieces[first];
    if (start + 4 <= last.end) setWord(out, start + 2, last.end - start - 4);
    return out;
  },
  /** A line twice, at another place. */
  spliceLine: (image: Uint8Array, { at, to }: Mutation) => {
    const pieces = piecesOf(image);
    const from = pick(pieces, at);
    const place = pick(pieces, to);
    if (from === undefined || place === undefined) return image;
    return replaced(image, place.start, place.start, image.slice(from.start, from.end));
  },
  /** A line with other text. */
  text: (image: Uint8Array, { at, to, bytes }: Mutation) => {
    const piece = pick(piecesOf(image), at);
    if (piece === undefined) return image;
    const length = bytes.length + 1;
    return replaced(image, piece.start, piece.end, [
      to >> 8,
      to & 255,
      length & 255,
      length >> 8,
      ...bytes,
      NEWLINE,
    ]);
  },
  /** Bytes put into the text of a line, with its length right. */
  into: (image: Uint8Array, { at, to, bytes }: Mutation) => {
    const piece = pick(piecesOf(image), at);
    if (piece === undefined || piece.number === undefined) return image;
    const place = piece.start + 4 + (to % (piece.end - piece.start - 4));
    const out = replaced(image, place, place, bytes);
    setWord(out, piece.start + 2, piece.end - piece.start - 4 + bytes.length);
    return out;
  },
  /** Machine code in a first REM line. */
  code: (image: Uint8Array, { to, bytes }: Mutation) => {
    if (image.length < 116) return image;
    const code = Array.from({ length: to % 90 }, (_, at) => bytes[at % bytes.length] ?? at);
    const length = code.length + 2;
    return replaced(image, 116, 116, [0, to % 12, length & 255, length >> 8, 234, ...code, 118]);
  },
  /** The five bytes of a number. */
  value: (image: Uint8Array, { at, bytes }: Mutation) => {
    const out = image.slice();
    const markers: number[] = [];
    for (let place = 116; place < out.length - 5; place++) {
      if (out[place] === NUMBER_MARKER) markers.push(place);
    }
    const marker = pick(markers, at);
    if (marker !== undefined) out.set(bytes.subarray(0, 5), marker + 1);
    return out;
  },
  /** A part moved, without regard to anything. */
  move: (image: Uint8Array, { at, to, bytes }: Mutation) => {
    const start = at % (image.length + 1);
    const cut = joined(image.subarray(0, start), image.subarray(start + bytes.length));
    const place = to % (cut.length + 1);
    const moved = image.subarray(start, start + bytes.length);
    return joined(cut.subarray(0, place), moved, cut.subarray(place));
  },
  /** Bytes put in anywhere, with the pointers moved along. */
  insert: (image: Uint8Array, { at, bytes }: Mutation) => {
    const place = at % (image.length + 1);
    return replaced(image, place, place, bytes);
  },
  /** Saved variables. */
  variables: (image: Uint8Array, { variables }: Mutation) => {
    const areas = areaOffsets(image);
    if (areas === undefined) return image;
    const bytes = joined(...variables.map(encodeVariable));
    const out = replaced(image, areas.vars, areas.vars, bytes);
    setWord(out, offsetOf('VARS'), areas.vars + IMAGE_START);
    return out;
  },
  /** Something else where the variables stand. */
  noVariables: (image: Uint8Array, { bytes }: Mutation) => {
    const areas = areaOffsets(image);
    if (areas === undefined) return image;
    const out = replaced(image, areas.vars, areas.end, bytes);
    setWord(out, offsetOf('VARS'), areas.vars + IMAGE_START);
    return out;
  },
  /** A saved display. */
  display: (image: Uint8Array, mutation: Mutation) => {
    const areas = areaOffsets(image);
    if (areas === undefined) return image;
    const out = replaced(image, areas.display, areas.vars, drawnDisplay(mutation));
    setWord(out, offsetOf('D_FILE'), areas.display + IMAGE_START);
    return out;
  },
  /** Bytes after the end. */
  after: (image: Uint8Array, { bytes }: Mutation) => joined(image, bytes),
  /** Cut short. */
  cut: (image: Uint8Array, { at, to }: Mutation) =>
    image.slice(0, to % 4 === 0 ? at % (image.length + 1) : Math.max(0, image.length - (at % 5))),
};

const nearly = fc.oneof(fc.nat(40), fc.nat(400), fc.nat(65535));
const ODD = fc.constantFrom(0, 11, 26, 28, 42, 66, 117, 118, 126, 127, 128, 139, 192, 195, 234);

const mutation: fc.Arbitrary<Mutation> = fc.record({
  kind: fc.constantFrom(...(Object.keys(CHANGES) as (keyof typeof CHANGES)[])),
  at: nearly,
  to: nearly,
  bytes: fc.oneof(
    fc.uint8Array({ maxLength: 40 }),
    fc.array(ODD, { maxLength: 12 }).map((list) => Uint8Array.from(list)),
  ),
  variables: fc.array(drawVariable, { maxLength: 3 }),
});

/** One of the images, changed up to five times; sometimes bytes that never were an image. */
export function drawChanged(images: readonly Uint8Array[]): fc.Arbitrary<Uint8Array> {
  const changed = fc
    .tuple(fc.nat(images.length - 1), fc.array(mutation, { maxLength: 5 }))
    .map(([index, mutations]) =>
      mutations.reduce(
        (image: Uint8Array, change) => CHANGES[change.kind](image, change),
        images[index],
      ),
    );
  return fc.oneof(
    { weight: 60, arbitrary: changed },
    { weight: 1, arbitrary: fc.uint8Array({ maxLength: 300 }) },
  );
}
