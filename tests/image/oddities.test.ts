/** One image for each oddity that images found in the world have, and the text that it gives. */
import { describe, expect, it } from 'vitest';
import { areasOf } from '../../src/image/areas.js';
import { buildImage } from '../../src/image/build.js';
import { listingOfImage } from '../../src/image/read.js';
import { formatListing } from '../../src/listing/format.js';
import { readListing } from '../../src/listing/read.js';
import { offsetOf, setWord } from '../../src/machine/image-layout.js';

const PROGRAM = 116;

function build(text: string): Uint8Array {
  const { listing, diagnostics } = readListing(text);
  expect(diagnostics).toEqual([]);
  return buildImage(listing).image!;
}

/** The image of three plain lines, changed. */
function changed(change: (image: Uint8Array) => void): Uint8Array {
  const image = build('10 PRINT 1\n20 PRINT 2\n30 PRINT 3\n');
  change(image);
  return image;
}

/** The text of an image, after a check that it builds the same bytes again. */
function textOf(image: Uint8Array): string {
  const { text } = listingOfImage(image);
  expect(build(text)).toEqual(image);
  return text;
}

const THREE = '10 PRINT 1\n20 PRINT 2\n30 PRINT 3\n';
/** Bytes of one of the three lines: number, length, PRINT, digit, number, NEWLINE. */
const LINE = 4 + 9;

it('a plain program needs no directive', () => {
  expect(textOf(build(THREE))).toBe(THREE);
});

it('machine code in a REM line: rows of bytes, with its address where a USR points into it', () => {
  const code = Uint8Array.from({ length: 18 }, (_, at) => 0x60 + at);
  const head = build('10 RAND USR 16514\n');
  const rem = [0, 1, code.length + 2, 0, 234, ...code, 118];
  const image = Uint8Array.from([...head.subarray(0, PROGRAM), ...rem, ...head.subarray(PROGRAM)]);
  for (const name of ['D_FILE', 'VARS', 'E_LINE', 'DF_CC', 'CH_ADD', 'STKBOT', 'STKEND']) {
    const at = offsetOf(name);
    setWord(image, at, image[at] + 256 * image[at + 1] + rem.length);
  }
  setWord(image, offsetOf('NXTLIN'), areasOf(image).D_FILE);
  setWord(image, offsetOf('S_TOP'), 1);
  expect(textOf(image)).toBe(
    [
      "' the first byte after REM is at 16514",
      '1 REM [',
      '  60 61 62 63 64 65 66 67 68 69 6A 6B 6C 6D 6E 6F',
      '  70 71',
      ']',
      '10 RAND USR 16514',
      '',
    ].join('\n'),
  );
});

describe('the address of machine code', () => {
  const pointed = (line: string) => textOf(build(`1 REM [76 00 43]\n${line}\n`)).split('\n')[0];
  it.each([
    '10 POKE 16515,0',
    '10 LET A=USR 16516',
    '10 POKE VAL "16514",1',
    '10 PRINT -USR 16514',
  ])('is given for %s', (line) =>
    expect(pointed(line)).toBe("' the first byte after REM is at 16514"),
  );
  it('is given for each REM that is pointed into, in whatever order', () => {
    const text =
      '1 REM [76 00 43]\n2 REM [76 00 43]\n3 REM [76 00 43]\n10 POKE 16533,0\n20 POKE 16514,USR 3\n';
    const rows = textOf(build(text)).split('\n');
    expect(rows.filter((row) => row.startsWith("'"))).toEqual([
      "' the first byte after REM is at 16514",
      "' the first byte after REM is at 16532",
    ]);
  });
  it('is given for a REM after THEN', () => {
    const text = '1 IF A THEN REM [76 00 43]\n10 RAND USR 16517\n';
    expect(textOf(build(text))).toBe(`' the first byte after REM is at 16517\n${text}`);
  });
  it.each([
    '10 POKE 16517,0',
    '10 POKE 16513,0',
    '10 POKE A,0',
    '10 PRINT 16514',
    '10 PRINT "[POKE]16514"',
  ])('is not given for %s', (line) => expect(pointed(line)).toBe('1 REM [76 00 43]'));
});

it('stored values that differ from their digits', () => {
  const image = changed((bytes) => bytes.set([0x82, 0x40, 0, 0, 0], PROGRAM + 7));
  expect(textOf(image)).toBe(THREE.replace('PRINT 1', 'PRINT 1[=82 40 00 00 00]'));
});

it('numbers with no value', () => {
  const image = build('10 PRINT 5[=]+5\n');
  expect([...image.subarray(PROGRAM + 4, PROGRAM + 8)]).toEqual([245, 33, 21, 33]);
  expect(textOf(image)).toBe('10 PRINT 5[=]+5\n');
});

it('spaces in odd places', () => {
  const text = '10 [sp]PRINT [sp]A[sp];[sp]\n20 PRINT "  A "\n30 REM  TWO  [sp]\n';
  const image = build(text);
  const codes = [0, 245, 0, 38, 0, 25, 0];
  expect([...image.subarray(PROGRAM + 4, PROGRAM + 4 + codes.length)]).toEqual(codes);
  expect(build(textOf(image))).toEqual(image);
  expect(textOf(image)).toContain('20 PRINT "  A "\n30 REM  TWO  [sp]\n');
});

it('codes that no key types', () => {
  const image = build('10 PRINT "[43 C3]A[7F]"\n');
  expect(textOf(image)).toBe('10 PRINT "[43 C3]A[7F]"\n');
});

it('codes that no key types outside strings: a line that is shown and not checked', () => {
  const image = changed((bytes) => {
    bytes[PROGRAM + LINE + 4] = 67;
  });
  expect(textOf(image)).toBe(THREE.replace('20 PRINT 2', '20 [43]2'));
  expect(listingOfImage(image).remarks).toEqual([
    'line 20 is not a statement that the machine would accept',
  ]);
});

it('lines out of order', () => {
  const image = changed((bytes) => {
    bytes[PROGRAM + 1] = 25;
  });
  expect(textOf(image)).toBe(
    `.lines as-written\n.system S_TOP = 10\n${THREE.replace('10 PRINT', '25 PRINT')}`,
  );
});

it('lines numbered past 9999, and twice', () => {
  const image = changed((bytes) => {
    bytes.set([0x40, 0], PROGRAM);
    bytes[PROGRAM + 2 * LINE + 1] = 20;
  });
  expect(textOf(image)).toBe(
    '.lines as-written\n.system S_TOP = 10\n16384 PRINT 1\n20 PRINT 2\n20 PRINT 3\n',
  );
});

it('a length that takes in the next line, to hide it', () => {
  const image = changed((bytes) => {
    bytes[PROGRAM + 2] += LINE;
  });
  expect(textOf(image)).toBe(
    [
      "' the length of line 10 takes in what reads: 20 PRINT 2",
      '10 [F5]1[76][sp]=[09][sp] PRINT 2',
      '30 PRINT 3',
      '',
    ].join('\n'),
  );
});

it('a NEWLINE within a string hides what follows too, up to the next', () => {
  const first = (text: string) => textOf(build(text)).split('\n')[0];
  expect(first('10 PRINT "[76 00 14 02 00 F5 41 76 42]";A\n')).toBe(
    "' the length of line 10 takes in what reads: 20 PRINT INKEY$",
  );
  // Too few bytes for a line hide nothing.
  expect(first('10 PRINT "[76 00 14]"\n')).toMatch(/^10 PRINT/);
});

it('a length that cannot be true: bytes, and the lines after them as lines', () => {
  const image = changed((bytes) => {
    bytes[PROGRAM + LINE + 2] = 250;
  });
  expect(textOf(image)).toBe(
    [
      '10 PRINT 1',
      "' no line: as number 20 its length would be 250, which is not true. It reads: [PRINT]2[7E]▙    [76]",
      '.raw 00 14 FA 00 F5 1E 7E 82 00 00 00 00 76',
      '30 PRINT 3',
      '',
    ].join('\n'),
  );
  expect(listingOfImage(image).remarks[0]).toMatch(/^13 bytes .* no lines/);
});

it('saved variables of every kind', () => {
  const text = [
    '10 PRINT A',
    '.var A = 3.5',
    '.var SCORE = -0.001',
    '.var K for 1 to 9 step 2 at 40',
    '.var J for 0 to 255 at 11',
    '.var N$ = "OAK [~ELM] ""▚"""',
    '.var B(2,3) = 1,2,3,4,5,1E20',
    '.var C$(2,4) = "NORTEAST"',
    '',
  ].join('\n');
  expect(textOf(build(text))).toBe(text);
});

it('a variable whose five bytes no decimal gives', () => {
  const text = '10 PRINT A\n.var A = 0[=00 01 00 00 00]\n';
  expect(textOf(build(text))).toBe(text);
});

it('variables that make no sense, and variables with no end', () => {
  expect(textOf(build('10 RUN\n.var A = 1\n.raw variables 20 21 22\n'))).toBe(
    '10 RUN\n.var A = 1\n.raw variables 20 21 22\n',
  );
  expect(textOf(build('10 RUN\n.raw variables\n'))).toBe('10 RUN\n.raw variables\n');
  expect(textOf(build('10 RUN\n.raw variables 80 05\n'))).toBe('10 RUN\n.raw variables 80 05\n');
  const twice = '10 RUN\n.var A = 1\n.raw variables 66 81 00 00 00 00 80\n';
  expect(textOf(build(twice))).toBe(twice);
});

describe('a saved display', () => {
  const rows = (first: string[]) => ['.display', ...first, '.end', ''].join('\n');

  it('that is collapsed', () => {
    const text = `10 PRINT\n${rows([' OAK', '', '[~LAMP]▚[sp]', '[1B]END', '.E', '[43]A'])}`;
    expect(textOf(build(text))).toBe(text);
  });
  it('that is full', () => {
    const text = `.ram 16K\n10 PRINT\n${rows([`${'X'.repeat(32)}`, '', 'A'])}`;
    const image = build(text);
    const { D_FILE, VARS } = areasOf(image);
    expect(VARS - D_FILE).toBe(793);
    expect(textOf(image)).toBe(text);
  });
  it.each([
    ['collapsed', ''],
    ['full', '.ram 16K\n'],
  ])('that is %s comes back as it was written, without the empty rows below', (_, ram) => {
    const text = `${ram}10 PRINT\n${rows(['OAK'])}`;
    expect(textOf(build(text))).toBe(text);
    const spelt = `${ram}10 PRINT\n${rows(['OAK', ...new Array(23).fill('')])}`;
    expect(build(spelt)).toEqual(build(text));
    expect(formatListing(readListing(spelt))).toBe(text);
    const last = `${ram}10 PRINT\n${rows([...new Array(23).fill(''), 'OAK'])}`;
    expect(textOf(build(last))).toBe(last);
  });
  it('with rows of bytes that no key types, longer than a row of machine code', () => {
    const text = `10 PRINT\n${rows([`[${Array(20).fill('43').join(' ')}]`])}`;
    expect(textOf(build(text))).toBe(text);
  });
  it('of rows of spaces alone, where these are stored', () => {
    const text = `10 PRINT\n${rows(['', '[sp]'])}`;
    expect(textOf(build(text))).toBe(text);
  });
  it('that the machine would not make', () => {
    const bytes = `${'76 '.repeat(16).trim()}\n.raw display 76 05`;
    const text = `10 PRINT\n.raw display ${bytes}\n`;
    expect(textOf(build(text))).toBe(text);
    expect(listingOfImage(build(text)).remarks).toEqual([
      'the display is not one that the machine would make with this RAM',
    ]);
  });
});

it('system variables set for a start once loaded', () => {
  const image = changed((bytes) => setWord(bytes, offsetOf('NXTLIN'), 16509 + LINE));
  expect(textOf(image)).toBe(`.start 20\n${THREE}`);
});

it('a start at a line whose number cannot be typed, or leads elsewhere', () => {
  const startOf = (number: number) => {
    const image = changed((bytes) => {
      bytes.set([number >> 8, number & 255], PROGRAM);
      setWord(bytes, offsetOf('NXTLIN'), 16509);
    });
    return textOf(image).match(/^\.start.*|^\.system NXTLIN.*/m)?.[0];
  };
  expect(startOf(0)).toBe('.system NXTLIN = 16509');
  expect(startOf(10_000)).toBe('.system NXTLIN = 16509');
  expect(startOf(1)).toBe('.start 1');
  expect(startOf(9999)).toBe('.start 9999');
});

it('a word that is no pointer is a number, whatever address it is', () => {
  const image = changed((bytes) => setWord(bytes, offsetOf('SEED'), areasOf(bytes).VARS));
  expect(textOf(image)).toMatch(/^\.system SEED = \d+$/m);
});

it('system variables set for protection', () => {
  const image = changed((bytes) => {
    bytes[offsetOf('DF_SZ')] = 0;
    setWord(bytes, offsetOf('E_PPC'), 9999);
    setWord(bytes, offsetOf('X_PTR'), areasOf(bytes).VARS);
    setWord(bytes, offsetOf('NXTLIN'), 16520);
    bytes[offsetOf('MARGIN')] = 31;
    bytes[offsetOf('PRBUFF') + 1] = 40;
  });
  expect(textOf(image)).toBe(
    [
      '.tv 60',
      '.system E_PPC = 9999',
      '.system X_PTR = VARS',
      '.system DF_SZ = 0',
      '.system NXTLIN = 16520',
      `.system PRBUFF = [00 28 ${'00 '.repeat(30)}76]`,
      THREE,
    ].join('\n'),
  );
});

it('bytes after the end', () => {
  const image = Uint8Array.from([...build(THREE), 0, 1, 2]);
  expect(textOf(image)).toBe(`${THREE}.raw after 00 01 02\n`);
  expect(listingOfImage(image).remarks).toEqual([
    '3 bytes follow the end that the image gives itself',
  ]);
});

it('a single byte where none should be', () => {
  const image = Uint8Array.from([...build(THREE), 7]);
  expect(listingOfImage(image).remarks).toEqual([
    '1 byte follows the end that the image gives itself',
  ]);
  const { text, remarks } = listingOfImage(build(`${THREE}.raw 40\n`));
  expect(remarks).toEqual([
    '1 byte of the program area is no line: a length field there is not true',
  ]);
  expect(text).toBe(`${THREE}' 1 byte that is no line\n.raw 40\n`);
});

it('one line changed by hand leaves everything else untouched', () => {
  const image = changed((bytes) => {
    bytes.set([0x82, 0x40, 0, 0, 0], PROGRAM + 7);
    setWord(bytes, offsetOf('X_PTR'), areasOf(bytes).VARS);
    bytes[offsetOf('DF_SZ')] = 0;
  });
  const after = build(textOf(image).replace('PRINT 3', 'PRINT 3;"OAK"'));
  const grown = after.length - image.length;
  expect(grown).toBe(6);
  // Before the line only pointers differ, and those by what the line has grown.
  const differ = [...image.subarray(0, PROGRAM + 2 * LINE)]
    .map((byte, at) => (byte === after[at] ? -1 : at))
    .filter((at) => at >= 0);
  for (const name of ['D_FILE', 'VARS', 'E_LINE', 'X_PTR']) {
    const at = offsetOf(name);
    expect(after[at] + 256 * after[at + 1]).toBe(image[at] + 256 * image[at + 1] + grown);
  }
  const moved = 'D_FILE DF_CC VARS E_LINE CH_ADD X_PTR STKBOT STKEND NXTLIN'.split(' ');
  const allowed = new Set(moved.flatMap((name) => [offsetOf(name), offsetOf(name) + 1]));
  expect(differ.filter((at) => !allowed.has(at))).toEqual([]);
});

describe('what is no image', () => {
  const reason = (image: Uint8Array) => {
    try {
      return listingOfImage(image).text;
    } catch (error) {
      return (error as Error).message;
    }
  };
  it('is refused with the reason', () => {
    expect(reason(new Uint8Array(50))).toBe(
      'it has 50 bytes, and the system variables alone take 116',
    );
    expect(reason(build(THREE).slice(0, 170))).toMatch(/^it is cut short: 170 bytes are there/);
    expect(reason(changed((bytes) => setWord(bytes, offsetOf('VARS'), 16400)))).toMatch(
      /^its pointers make no sense: D_FILE \d+, VARS 16400, E_LINE \d+$/,
    );
    expect(reason(new Uint8Array(2 ** 21))).toMatch(/^it has more than 65536 bytes/);
  });
  it('is read with salvage as far as it makes sense, and what was changed is said', () => {
    const cut = build(THREE).slice(0, 160);
    const { text, remarks, image } = listingOfImage(cut, { salvage: true });
    expect(text).toContain(THREE);
    expect(text).toMatch(/^\.raw display 76/m);
    expect(remarks[0]).toMatch(/^VARS is \d+, which makes no sense here, and was taken as \d+$/);
    expect(build(text)).toEqual(image);
  });
  it('gives what there is of a header, and a plain one for the rest', () => {
    const { text, remarks, image } = listingOfImage(build(THREE).slice(0, 60), { salvage: true });
    expect(remarks[0]).toBe('56 bytes of the system variables are missing and were filled in');
    expect(build(text)).toEqual(image);
  });
  it('is read up to the highest address, though no machine has room for so much', () => {
    const { text, image } = listingOfImage(new Uint8Array(60_000), { salvage: true });
    expect(image).toHaveLength(65_535 - 16_393);
    expect(buildImage(readListing(text).listing, { anyway: true }).image).toEqual(image);
  });
  it('is never built past the highest address, even if it is wanted anyway', () => {
    const lines = (size: number) => `10 REM ${'A'.repeat(30_000)}\n20 REM ${'A'.repeat(size)}\n`;
    const built = (size: number) =>
      buildImage(readListing(lines(size)).listing, { ram: 49_152, anyway: true });
    const room = 65_535 - built(0).areas.E_LINE;
    expect(listingOfImage(built(room).image!).text).toContain(lines(room));
    const { image, diagnostics } = built(room + 1);
    expect(image).toBeUndefined();
    expect(diagnostics).toMatchObject([
      { severity: 'error', why: expect.stringContaining('65536, and the pointers') },
    ]);
  });
});
