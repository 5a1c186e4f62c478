/** What reading an image says besides its listing, and what it takes the machine to be. */
import { describe, expect, it } from 'vitest';
import { areasOf, looksLikeImage, NotAnImage } from '../../src/image/areas.js';
import { buildImage } from '../../src/image/build.js';
import { listingOfImage } from '../../src/image/read.js';
import { salvage } from '../../src/image/salvage.js';
import { readListing } from '../../src/listing/read.js';
import { offsetOf, setWord, wordAt } from '../../src/machine/image-layout.js';

const build = (text: string): Uint8Array =>
  buildImage(readListing(text).listing, { anyway: true }).image!;

describe('the RAM that an image was saved from', () => {
  const ramOf = (text: string) => /^\.ram (\S+)/m.exec(listingOfImage(build(text)).text)?.[1];
  const rem = (size: number) => `10 REM ${'X'.repeat(size)}\n`;
  it.each([
    ['1K, which is not said', rem(800), undefined],
    ['1K to the last byte', rem(847), undefined],
    ['2K', rem(848), '2K'],
    ['4K, where the display is collapsed', rem(3072), '4K'],
    ['16K, where the display is full', '.ram 16K\n10 RUN\n', '16K'],
    ['32K', `.ram 32K\n${rem(16_000)}`, '32K'],
    ['48K', `.ram 48K\n${rem(40_000)}`, '48K'],
    ['48K, where nothing would do', `.ram 48K\n${rem(48_215)}`, '48K'],
  ])('is %s', (_, text, ram) => {
    expect(ramOf(text)).toBe(ram);
  });
});

describe('remarks', () => {
  const remarksOf = (text: string, name?: Uint8Array) =>
    listingOfImage(build(text), { name }).remarks;

  it('are none for a plain program', () => {
    expect(remarksOf('10 RUN\n')).toEqual([]);
    expect(remarksOf('10 RUN\n', new Uint8Array())).toEqual([]);
  });

  it('name the lines that the machine would not accept, at most eight of them', () => {
    const odd = (count: number) =>
      Array.from({ length: count }, (_, at) => `${at + 1} [43]\n`).join('');
    const are = 'are not statements that the machine would accept';
    expect(remarksOf(odd(1))).toEqual(['line 1 is not a statement that the machine would accept']);
    expect(remarksOf(odd(2))).toEqual([`lines 1, 2 ${are}`]);
    expect(remarksOf(odd(8))).toEqual([`lines 1, 2, 3, 4, 5, 6, 7, 8 ${are}`]);
    expect(remarksOf(odd(10))).toEqual([`lines 1, 2, 3, 4, 5, 6, 7, 8 and 2 more ${are}`]);
  });

  it('tell lines out of order, a name that cannot be, and variables with no end', () => {
    const order = 'the lines are out of order, or numbered past 9999, or a number comes twice';
    expect(remarksOf('.lines as-written\n20 RUN\n10 RUN\n')).toEqual([order]);
    expect(remarksOf('.lines as-written\n10 RUN\n10 RUN\n')).toEqual([order]);
    expect(remarksOf('10 RUN\n', Uint8Array.of(52, 128))).toEqual([
      'the name on tape has codes that no name can have, and is left out',
    ]);
    expect(remarksOf('10 RUN\n', Uint8Array.of(52, 127))).toEqual([]);
    expect(remarksOf('10 RUN\n.raw variables 20\n')).toEqual([
      'the variables do not end as the machine ends them',
    ]);
  });

  it('a variable whose name comes again is bytes: the machine never finds it', () => {
    const one = [0x66, 0x81, 0, 0, 0, 0].map((byte) => byte.toString(16).padStart(2, '0'));
    const bytes = [...one, ...one, '80'].join(' ').toUpperCase();
    const { text } = listingOfImage(build(`10 RUN\n.raw variables ${bytes}\n`));
    const again = `${one.join(' ')} 80`.toUpperCase();
    expect(text).toBe(`10 RUN\n.var A = 1\n.raw variables ${again}\n`);
  });
});

describe('bytes that are no line', () => {
  const commentOf = (raw: string) => listingOfImage(build(`10 RUN\n${raw}\n`)).text.split('\n')[1];
  it('are counted where they are too few for a head, else shown as what they would be', () => {
    expect(commentOf('.raw 40 41 42')).toBe("' 3 bytes that are no line");
    expect(commentOf('.raw 40 41 42 43')).toBe("' 4 bytes that are no line");
    expect(commentOf('.raw 01 02 FF FF 34 26 30')).toBe(
      "' no line: as number 258 its length would be 65535, which is not true. It reads: OAK",
    );
  });
  it('are shown in part where they are many', () => {
    const shown = commentOf(`.raw 01 02 FF FF ${'26 '.repeat(80).trim()}`);
    expect(shown).toMatch(/It reads: A{60}$/);
  });
});

describe('a pointer that a plain image does not have', () => {
  const THREE = '10 PRINT 1\n20 PRINT 2\n30 PRINT 3\n';
  const pointing = (to: (areas: { D_FILE: number; VARS: number; E_LINE: number }) => number) => {
    const image = build(THREE);
    setWord(image, offsetOf('X_PTR'), to(areasOf(image)));
    return /^\.system X_PTR = (.*)$/m.exec(listingOfImage(image).text)?.[1];
  };
  it('is told from the area that it points into, whose first and last bytes are its own', () => {
    expect(pointing(({ D_FILE }) => D_FILE - 1)).toMatch(/^\d+$/);
    expect(pointing(({ D_FILE }) => D_FILE)).toBe('D_FILE');
    expect(pointing(({ VARS }) => VARS - 1)).toBe('D_FILE+24');
    expect(pointing(({ VARS }) => VARS)).toBe('VARS');
    expect(pointing(({ E_LINE }) => E_LINE)).toBe('E_LINE');
    expect(pointing(({ E_LINE }) => E_LINE + 511)).toBe('E_LINE+511');
    expect(pointing(({ E_LINE }) => E_LINE + 512)).toMatch(/^\d+$/);
  });
});

describe('what is no image', () => {
  const refusal = (bytes: Uint8Array): NotAnImage => {
    try {
      areasOf(bytes);
    } catch (error) {
      return error as NotAnImage;
    }
    throw new Error('it is one');
  };
  const plain = build('10 RUN\n');
  const with_ = (name: string, value: number) => {
    const image = plain.slice();
    setWord(image, offsetOf(name), value);
    return image;
  };
  it('is said to be so, with why and what to do', () => {
    const { E_LINE } = areasOf(plain);
    const wrong = [
      plain.subarray(0, 115),
      new Uint8Array(65_537),
      with_('D_FILE', 16508),
      with_('VARS', 16509),
      with_('E_LINE', 16509),
      plain.subarray(0, plain.length - 1),
    ];
    for (const bytes of wrong) {
      const { message, why, help } = refusal(bytes);
      for (const said of [message, why, help]) expect(said).toMatch(/^\S.{9,}\S$/);
      expect(looksLikeImage(bytes)).toBe(false);
    }
    const { message, why } = refusal(wrong[5]);
    expect(message).toBe(
      `it is cut short: ${plain.length - 1} bytes are there, and its own E_LINE says ${plain.length}`,
    );
    expect(why).toBe(`E_LINE is ${E_LINE}, and the bytes end at ${E_LINE - 1}`);
    expect(looksLikeImage(plain)).toBe(true);
    expect(refusal(new Uint8Array(65_536))).toBeInstanceOf(NotAnImage);
    expect(refusal(new Uint8Array(65_536)).message).toMatch(/^its pointers make no sense/);
  });
  it('is none where areas are empty', () => {
    const empty = plain.slice(0, 116);
    for (const name of ['D_FILE', 'VARS', 'E_LINE']) setWord(empty, offsetOf(name), 16509);
    expect(areasOf(empty)).toEqual({ D_FILE: 16509, VARS: 16509, E_LINE: 16509 });
  });

  it('is made readable, and what was changed is said', () => {
    expect(salvage(plain)).toEqual({ image: plain, remarks: [] });
    const filled = salvage(plain.slice(0, 115));
    expect(filled.remarks[0]).toBe('1 byte of the system variables is missing and was filled in');
    expect(filled.image.slice(0, 3)).toEqual(plain.slice(0, 3));
    const { image, remarks } = salvage(with_('D_FILE', 16508));
    // One line of 6 bytes leads from 16509 to the display.
    expect(remarks).toEqual(['D_FILE is 16508, which makes no sense here, and was taken as 16515']);
    expect(wordAt(image, offsetOf('D_FILE'))).toBe(16515);
    const end = 16393 + plain.length;
    expect(salvage(with_('VARS', 16509)).remarks).toEqual(
      [
        `VARS is 16509, which makes no sense here, and was taken as ${end}`,
        `E_LINE is ${end}, which makes no sense here, and was taken as ${end}`,
      ].slice(0, 1),
    );
    expect(salvage(with_('E_LINE', end + 1)).remarks).toEqual([
      `E_LINE is ${end + 1}, which makes no sense here, and was taken as ${end}`,
    ]);
    const long = new Uint8Array(65_540);
    long.set(plain);
    setWord(long, offsetOf('E_LINE'), 0);
    expect(salvage(long).remarks[0]).toBe('16398 bytes past the end of all memory left out');
  });
});
