/** What only building a listing can find wrong. */
import { describe, expect, it } from 'vitest';
import { areasOf } from '../../src/image/areas.js';
import { buildImage, remedyFor } from '../../src/image/build.js';
import { readListing } from '../../src/listing/read.js';
import { offsetOf, wordAt } from '../../src/machine/image-layout.js';

function build(text: string, ram?: number) {
  const { listing, diagnostics } = readListing(text);
  expect(diagnostics).toEqual([]);
  return buildImage(listing, { ram });
}

const wrong = (text: string, ram?: number) =>
  build(text, ram).diagnostics.map(
    ({ severity, start, end, message }) => `${severity}: ${text.slice(start, end)}: ${message}`,
  );

describe('a program that is larger than the RAM', () => {
  const text = `10 REM A\n20 REM ${'X'.repeat(900)}\n30 REM B\n`;
  it('is an error at the line with which the room runs out', () => {
    expect(build(text).image).toBeUndefined();
    // 125 bytes of system variables, three lines of 7, 906 and 7 bytes, 25 of display, 1 of end.
    expect(wrong(text)).toEqual([
      expect.stringMatching(
        /^error: 20 REM X{73}: the program does not load in 1K: 67 bytes over at least$/,
      ),
    ]);
    expect(build(text).diagnostics[0].help).toMatch(/say --ram 2K if that much is fitted$/);
  });
  it('says by how much, be it a single byte', () => {
    // 125 bytes of system variables, 6 of the line but its text, 25 of display, 1 of end.
    // The machine's own line takes 2 bytes, and its stack 18 at the least.
    const rem = (size: number, anyway?: boolean) => {
      const { listing } = readListing(`10 REM ${'X'.repeat(size)}\n`);
      return buildImage(listing, { anyway });
    };
    const said = [847, 848, 849].map((size) => rem(size).diagnostics[0]?.message);
    expect(said).toEqual([
      undefined,
      'the program does not load in 1K: 1 byte over at least',
      'the program does not load in 1K: 2 bytes over at least',
    ]);
    expect(rem(848).image).toBeUndefined();
    const { image, diagnostics } = rem(848, true);
    expect(image).toHaveLength(996);
    expect(diagnostics).toEqual([{ ...rem(848).diagnostics[0], severity: 'warning' }]);
  });
  it('is none where more is fitted, by directive or by option', () => {
    expect(wrong(text, 2048)).toEqual([]);
    expect(wrong(`.ram 2K\n${text}`)).toEqual([]);
  });
  it('is one for no RAM at all past 48K', () => {
    const large = `10 REM ${'X'.repeat(49_140)}\n`;
    expect(build(large, 49_152).diagnostics[0].help).toMatch(/^no machine has more than 48K/);
  });
  it('counts bytes that are no line with the line that they follow', () => {
    const raw = `.raw ${'40 '.repeat(900).trim()}`;
    const [{ start, end }] = build(`10 REM A\n${raw}\n20 RUN\n`).diagnostics;
    expect([start, end]).toEqual([0, '10 REM A'.length]);
  });
  it('may come of variables and display alone', () => {
    expect(wrong(`10 RUN\n.var A(200) = ${'1,'.repeat(199)}1\n`)).toHaveLength(1);
  });
});

describe('a listing with errors', () => {
  const text = '10 PRNT 5\n20 STOP\n';
  it('gives no image, and says so', () => {
    const { image, diagnostics } = buildImage(readListing(text).listing);
    expect(image).toBeUndefined();
    expect(diagnostics).toMatchObject([{ severity: 'error', rule: 'not-whole' }]);
  });
  it('gives what could be read of it where it is asked for anyway', () => {
    const { image, diagnostics } = buildImage(readListing(text).listing, { anyway: true });
    expect(diagnostics).toEqual([]);
    expect(image).toBeInstanceOf(Uint8Array);
  });
});

describe('.start', () => {
  it('of a line that is not there starts at the next, with a warning', () => {
    const text = '.start 15\n10 CLS\n20 RUN\n';
    expect(wrong(text)).toEqual([
      'warning: .start 15: there is no line 15: the program starts at line 20',
    ]);
    expect(wordAt(build(text).image!, offsetOf('NXTLIN'))).toBe(16509 + 6);
  });
  it('past all lines is an error', () => {
    expect(wrong('.start 30\n10 CLS\n')).toHaveLength(1);
    expect(build('.start 30\n10 CLS\n').image).toBeUndefined();
  });
});

it('.system sets bytes, words and addresses that move with their area', () => {
  const text =
    '10 RUN\n.system DF_SZ = 0\n.system SEED = 258\n.system X_PTR = VARS+3\n.system COORDS = [01 02]\n';
  const image = build(text).image!;
  const { VARS } = areasOf(image);
  expect(image[offsetOf('DF_SZ')]).toBe(0);
  expect(wordAt(image, offsetOf('SEED'))).toBe(258);
  expect(wordAt(image, offsetOf('X_PTR'))).toBe(VARS + 3);
  expect(wordAt(image, offsetOf('COORDS'))).toBe(0x201);
});

it.each(['D_FILE', 'VARS', 'E_LINE'])('%s cannot be set', (name) => {
  expect(wrong(`10 RUN\n.system ${name} = 20000\n`)).toEqual([
    `error: .system ${name} = 20000: ${name} cannot be set`,
  ]);
});

it('addresses of lines count raw bytes before them', () => {
  const { lineAddresses } = build('.raw 01 02\n10 CLS\n.raw 03\n20 RUN\n');
  expect(lineAddresses).toEqual([16511, 16511 + 6 + 1]);
});

it('every error and warning of the build says why or what to do, under a rule', () => {
  const texts = {
    start: ['.start 15\n10 CLS\n20 RUN\n', '.start 30\n10 CLS\n'],
    system: ['10 RUN\n.system VARS = 20000\n'],
    'no-room': [`10 REM ${'X'.repeat(900)}\n`],
  };
  for (const [name, each] of Object.entries(texts)) {
    for (const text of each) {
      const [{ rule, severity, message, why, help }] = build(text).diagnostics;
      expect(rule).toBe(name);
      expect(message).toMatch(/^\S.{9,}\S$/);
      expect(help).toMatch(/^\S.{9,}\S$/);
      if (severity === 'error') expect(why).toMatch(/^\S.{9,}\S$/);
    }
  }
  expect(build('.start 15\n10 CLS\n20 RUN\n').diagnostics[0].help).toBe('write .start 20');
  expect(build('.start 30\n10 CLS\n').diagnostics[0].message).toBe(
    'there is no line 30 to start from, nor one after it',
  );
  const [{ message, why, help }] = buildImage(readListing('10 PRNT 5\n').listing).diagnostics;
  for (const said of [message, why, help]) expect(said).toMatch(/^\S.{9,}\S$/);
});

it('a start at the very line that is named is no warning', () => {
  const { diagnostics, image, lineAddresses } = build('.start 20\n10 CLS\n20 RUN\n30 STOP\n');
  expect(diagnostics).toEqual([]);
  expect(wordAt(image!, offsetOf('NXTLIN'))).toBe(lineAddresses[1]);
});

it('several rows of raw bytes at one place follow one another, before the first line too', () => {
  const { image } = build('.raw 01\n.raw 02\n10 CLS\n.raw 03\n.raw 04\n');
  const { D_FILE } = areasOf(image!);
  const line = [0, 10, 2, 0, 251, 118];
  expect([...image!.subarray(116, D_FILE - 16393)]).toEqual([1, 2, ...line, 3, 4]);
});

describe('what a person is told to do about a program that does not load', () => {
  // The display alone takes 768 bytes more from 3¼K on.
  it.each([
    [16509 - 16384 + 900 + 25, 1024, '2K'],
    [2048 + 200, 2048, '3K'],
    [3072 - 19, 3072, '4K'],
    [3072 + 256, 3072, '8K'],
    [4096, 4096, '8K'],
    [16384, 16384, '32K'],
    [32768 - 19, 32768, '48K'],
    [32768, 32768, '48K'],
  ])('of %i bytes in %i: to fit %s', (needed, ram, larger) => {
    expect(remedyFor(needed, ram)).toMatch(
      new RegExp(`; say --ram ${larger} if that much is fitted$`),
    );
  });
  it('of more than there can be: to make it shorter', () => {
    expect(remedyFor(49_152 - 20, 49_152)).toMatch(/say --ram 48K/);
    expect(remedyFor(49_152 - 19, 49_152)).toMatch(
      /^no machine has more than 48K: make it shorter; /,
    );
  });
});

describe('the system variables of a plain image', () => {
  it('point behind the areas, at the first line and at the one that runs', () => {
    const at = (text: string) => {
      const { image } = build(text);
      const { D_FILE, E_LINE } = areasOf(image!);
      const word = (name: string) => wordAt(image!, offsetOf(name));
      return { image: image!, D_FILE, E_LINE, word };
    };
    const { image, D_FILE, E_LINE, word } = at('300 CLS\n310 RUN\n');
    expect(word('S_TOP')).toBe(300);
    expect(word('NXTLIN')).toBe(D_FILE);
    expect(word('DF_CC')).toBe(D_FILE + 1);
    for (const name of ['CH_ADD', 'STKBOT', 'STKEND']) expect(word(name)).toBe(E_LINE + 1);
    expect(word('MEM')).toBe(16477);
    expect([word('LAST_K'), word('FRAMES'), word('T_ADDR')]).toEqual([0xffff, 0xffff, 3213]);
    // The column and the row at which printing begins, and the end of the printer's buffer.
    expect([...image.subarray(offsetOf('S_POSN'), offsetOf('S_POSN') + 2)]).toEqual([33, 24]);
    expect(image[offsetOf('MEMBOT') - 1]).toBe(118);
    expect(at('').word('S_TOP')).toBe(0);
    expect(at('.tv 60\n').image[offsetOf('MARGIN')]).toBe(31);
  });

  // From memory: what a machine at rest has there; a program that reads the keys after RUN needs it.
  it.each([
    ['DEBOUNCE', 255],
    ['DF_SZ', 2],
    ['PR_CC', 188],
    ['CDFLAG', 64],
    ['MARGIN', 55],
  ])('%s is %i', (name, value) => {
    expect(build('10 CLS\n').image![offsetOf(name)]).toBe(value);
  });
});
