import { diffArrays } from 'diff';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NotAnImage } from '../../src/image/areas.js';
import { buildImage } from '../../src/image/build.js';
import { type Comparison, compareImages, wordsOf } from '../../src/image/compare.js';
import { readListing } from '../../src/listing/read.js';
import { drawChanged, realImages } from './draw-image.js';

const build = (text: string, ram?: number): Uint8Array => {
  const { listing, diagnostics } = readListing(text);
  expect(diagnostics).toEqual([]);
  return buildImage(listing, { ram }).image!;
};

const compare = (a: string, b: string) => compareImages(build(a), build(b));
/** Differences without their words. */
const plain = (differences: Comparison['lines']) => differences.map(({ key, a, b }) => [key, a, b]);

const PARTS = ['lines', 'variables', 'system', 'display', 'after'] as const;

it('equal images have no difference', () => {
  expect(compare('10 CLS\n', '10  cls\n')).toEqual({
    equal: true,
    lines: [],
    variables: [],
    system: [],
    display: [],
    after: [],
    bytes: [],
  });
});

describe('lines', () => {
  it('that are in one alone, and that are changed', () => {
    const { lines } = compare(
      '10 CLS\n20 PRINT "OAK"\n30 STOP\n',
      '10 CLS\n20 PRINT "ELM"\n25 RUN\n',
    );
    expect(plain(lines)).toEqual([
      ['20', '20 PRINT "OAK"', '20 PRINT "ELM"'],
      ['30', '30 STOP', undefined],
      ['25', undefined, '25 RUN'],
    ]);
    expect(lines[0].words).toEqual([
      { text: '20 PRINT "', in: 'both' },
      { text: 'OAK', in: 'a' },
      { text: 'ELM', in: 'b' },
      { text: '"', in: 'both' },
    ]);
  });
  it('that stand in another order', () => {
    const { lines } = compare(
      '.lines as-written\n20 CLS\n10 RUN\n',
      '.lines as-written\n10 RUN\n20 CLS\n.system S_TOP = 20\n',
    );
    expect(lines.length).toBeGreaterThan(0);
  });
  it('whose stored values differ and whose digits do not', () => {
    const { lines } = compare('10 RUN 3\n', '10 RUN 3[=82 00 00 00 00]\n');
    expect(plain(lines)).toEqual([['10', '10 RUN 3', '10 RUN 3[=82 00 00 00 00]']]);
  });
  it('that are bytes', () => {
    const { lines } = compare('10 RUN\n.raw 40 41\n', '10 RUN\n.raw 40 42\n');
    expect(plain(lines)).toEqual([['.raw', '.raw 40 41', '.raw 40 42']]);
  });
});

it('variables, system variables, display and bytes after the end', () => {
  const one = '.start 10\n10 RUN\n.display\nOAK\n.end\n.var A = 1\n.var B = 2\n';
  const other =
    '10 RUN\n.system DF_SZ = 0\n.display\nELM\n.end\n.var A = 1.5\n.var C$ = "X"\n.raw after 01\n';
  const found = compare(one, other);
  expect(plain(found.variables)).toEqual([
    ['A', '.var A = 1', '.var A = 1.5'],
    ['B', '.var B = 2', undefined],
    ['C$', undefined, '.var C$ = "X"'],
  ]);
  expect(plain(found.system)).toEqual([
    ['.start', '.start 10', undefined],
    ['DF_SZ', undefined, '.system DF_SZ = 0'],
  ]);
  expect(plain(found.display)).toEqual([['row 0', 'OAK', 'ELM']]);
  expect(plain(found.after)).toEqual([['.raw after', undefined, '.raw after 01']]);
});

it('the size of a display whose rows are the same', () => {
  const { display, lines } = compareImages(build('10 RUN\n', 1024), build('10 RUN\n', 16384));
  expect(plain(display)).toEqual([['size', '25 bytes', '793 bytes']]);
  expect(lines).toEqual([]);
});

describe('bytes', () => {
  it('have offset and address, and a line more does not make the rest differ', () => {
    const { bytes } = compare('10 CLS\n30 RUN\n', '10 CLS\n20 STOP\n30 RUN\n');
    expect(bytes.filter(({ area }) => area !== 'system variables')).toEqual([
      {
        area: 'program',
        offset: { a: 116 + 6 + 1, b: 116 + 6 + 1 },
        address: { a: 16509 + 7, b: 16509 + 7 },
        a: new Uint8Array(),
        b: Uint8Array.of(20, 2, 0, 227, 118, 0),
      },
    ]);
  });
  it('of areas of one size are shown run by run', () => {
    const { bytes } = compare('10 PRINT "OAK"\n', '10 PRINT "OWL"\n');
    expect(bytes.map(({ offset, a, b }) => [offset.a, [...a], [...b]])).toEqual([
      [116 + 7, [38, 48], [60, 49]],
    ]);
    const parted = compare('10 PRINT "OAKS"\n', '10 PRINT "EAKT"\n').bytes;
    expect(parted.map(({ area, offset, a, b }) => [area, offset.b, [...a], [...b]])).toEqual([
      ['program', 116 + 6, [52], [42]],
      ['program', 116 + 9, [56], [57]],
    ]);
  });
});

describe('names that come again', () => {
  it('have a count', () => {
    const { lines } = compare(
      '.lines as-written\n10 RUN\n10 STOP\n10 CLS\n',
      '.lines as-written\n10 RUN\n10 NEW\n10 FAST\n',
    );
    expect(plain(lines)).toEqual([
      ['10 (2)', '10 STOP', '10 NEW'],
      ['10 (3)', '10 CLS', '10 FAST'],
    ]);
  });
});

it('the numbers of both are written in the same way', () => {
  // .1 is stored otherwise where numbers are the nearest; 3 is not.
  const { lines } = compare('10 RUN .1\n20 RUN 3\n', '.numbers nearest\n10 RUN .1\n20 RUN 3\n');
  expect(lines).toHaveLength(1);
  expect(lines[0].a).toBe('10 RUN .1');
  expect(lines[0].b).toMatch(/^10 RUN \.1\[=7D 4C CC CC C[CD]\]$/);
  const swapped = compare('.numbers nearest\n10 RUN .1\n20 RUN 3\n', '10 RUN .1\n20 RUN 3\n').lines;
  expect(plain(swapped)).toEqual([['10', lines[0].b, lines[0].a]]);
  const both = compare('.numbers nearest\n10 RUN .1\n', '.numbers nearest\n10 RUN .1+.3\n').lines;
  expect(plain(both)).toEqual([['10', '10 RUN .1', '10 RUN .1+.3']]);
});

it('frames a second, the order of lines, and a display that is none', () => {
  const { system } = compare('10 RUN\n', '.tv 60\n10 RUN\n');
  expect(plain(system)).toEqual([['.tv', undefined, '.tv 60']]);
  const { display, variables } = compare(
    '10 RUN\n',
    '10 RUN\n.raw display 76 05\n.raw variables 20\n',
  );
  expect(plain(display)).toEqual([['.raw display', undefined, '.raw display 76 05']]);
  expect(plain(variables)).toEqual([['.raw variables', undefined, '.raw variables 20']]);
  const rows = '10 RUN\n.display\nOAK\n.end\n';
  const raw = '10 RUN\n.raw display 76 05\n';
  expect(compare(raw, rows).display.map(({ key }) => key)).toEqual(['.raw display', '.display']);
  expect(plain(compare('10 RUN\n', rows).display)).toEqual([['row 0', '', 'OAK']]);
  expect(compare('10 RUN\n', '10 STOP\n').display).toEqual([]);
  expect(plain(compare('10 RUN\n', '.lines as-written\n20 RUN\n10 RUN\n').system)).toContainEqual([
    '.lines',
    undefined,
    '.lines as-written',
  ]);
});

it('two texts that have next to nothing in common stand one after the other', () => {
  const many = (sign: string) => sign.repeat(1500);
  expect(wordsOf(many('+'), many('-'))).toBeUndefined();
  expect(wordsOf('A+B', 'A+B')).toEqual([{ text: 'A+B', in: 'both' }]);
  // Names, bytes in brackets and spaces are words of their own.
  expect(wordsOf('LET A1=2', 'LET A2=2')).toEqual([
    { text: 'LET ', in: 'both' },
    { text: 'A1', in: 'a' },
    { text: 'A2', in: 'b' },
    { text: '=2', in: 'both' },
  ]);
  expect(wordsOf('[01 02]', '[01 03]')).toEqual([
    { text: '[01 02]', in: 'a' },
    { text: '[01 03]', in: 'b' },
  ]);
});

it('bytes of areas of other sizes are one run, from the first that differs to the last', () => {
  const { bytes } = compare('10 RUN\n.raw after 01 02 03 04\n', '10 RUN\n.raw after 01 04\n');
  expect(bytes).toEqual([
    expect.objectContaining({
      area: 'after the end',
      a: Uint8Array.of(2, 3),
      b: new Uint8Array(),
    }),
  ]);
  // A byte that stands once more where it repeats is not counted for both ends.
  const again = compare('10 RUN\n.raw after 07 07\n', '10 RUN\n.raw after 07 07 07\n').bytes;
  expect(again.map(({ a, b }) => [[...a], [...b]])).toEqual([[[], [7]]]);
  const end = build('10 RUN\n').length;
  expect(again[0].offset).toEqual({ a: end + 2, b: end + 2 });
  expect(again[0].address).toEqual({ a: 16393 + end + 2, b: 16393 + end + 2 });
});

it('words are in both or in one, and come to the two texts again', () => {
  const letters = fc.string({ unit: fc.constantFrom(...'AB1[] "\n.;'), maxLength: 30 });
  fc.assert(
    fc.property(letters, letters, (a, b) => {
      const words = wordsOf(a, b)!;
      const side = (of: string) =>
        words
          .filter((word) => word.in === 'both' || word.in === of)
          .map(({ text }) => text)
          .join('');
      expect([side('a'), side('b')]).toEqual([a, b]);
    }),
    { numRuns: 300, seed: 5 },
  );
});

it('of two drawn images, something is said to differ just when bytes do', () => {
  const images = realImages(40, 13);
  const drawn = fc.tuple(fc.constantFrom(...images), drawChanged(images));
  fc.assert(
    fc.property(drawn, fc.boolean(), ([real, changed], swap) => {
      const [a, b] = swap ? [changed, real] : [real, changed];
      try {
        const found = compareImages(a, b);
        expect(found.equal).toBe(Buffer.compare(a, b) === 0);
        expect(PARTS.some((part) => found[part].length > 0)).toBe(!found.equal);
        expect(found.bytes.length > 0).toBe(!found.equal);
        // Applied to A, the differences in the bytes give B.
        const out: Uint8Array[] = [];
        let done = 0;
        for (const { offset, a: own, b: other } of found.bytes) {
          out.push(a.subarray(done, offset.a), other);
          done = offset.a + own.length;
        }
        expect(Buffer.concat([...out, a.subarray(done)]).equals(b)).toBe(true);
      } catch (error) {
        if (!(error instanceof NotAnImage)) throw error;
      }
    }),
    { numRuns: process.env.FUZZ ? 50_000 : 120, seed: 9 },
  );
});

describe('what stands in another order', () => {
  const names = 'ABCDEFGH'.split('');
  const variables = (order: readonly string[]) =>
    `10 CLS\n${order.map((name) => `.var ${name}=1\n`).join('')}`;

  it('is told as removed and added, as little of it as can be', () => {
    const order = fc.shuffledSubarray(names);
    fc.assert(
      fc.property(order, order, (a, b) => {
        const { variables: differences } = compare(variables(a), variables(b));
        const apart = diffArrays(a, b).filter(({ added, removed }) => added || removed);
        expect(differences).toHaveLength(apart.reduce((sum, { count }) => sum + count, 0));
        const left = a.filter((name) => !differences.some((one) => one.key === name && one.a));
        expect(left).toEqual(
          b.filter((name) => !differences.some((one) => one.key === name && one.b)),
        );
      }),
      { seed: 14 },
    );
  });

  it('has what is in one alone beside what was there before', () => {
    const { variables: told } = compare(variables(['A', 'B', 'C']), variables(['A', 'C', 'B']));
    expect(told.map(({ key, a }) => [key, a === undefined ? 'b' : 'a'])).toHaveLength(2);
    expect(new Set(told.map(({ key }) => key)).size).toBe(1);
  });
});

it('marks all of two lines that differ in more than is looked for', () => {
  const many = (word: string, count: number) => `10 PRINT ${Array(count).fill(word).join(';')}`;
  const [{ words, coarse }] = compare(many('A', 250), many('B', 250)).lines;
  expect([words?.map((word) => word.in), coarse]).toEqual([['a', 'b'], true]);
  const [few] = compare(many('A', 100), many('B', 100)).lines;
  expect([few.words?.some((word) => word.in === 'both'), few.coarse]).toEqual([true, undefined]);
});
