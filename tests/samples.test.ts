/** The bench programs of samples/: clean, in tidy form, and small enough for the RAM they name. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it, test } from 'vitest';
import { buildImage } from '../src/image/build.js';
import { listingOfImage } from '../src/image/read.js';
import { statementText } from '../src/listing/print.js';
import { readListing } from '../src/listing/read.js';
import { FIRST_DIGIT, QUOTE } from '../src/machine/characters.js';
import { KEYS } from '../src/machine/keyboard.js';
import { MACHINE_STACK_HIGH, RAM_START, ROOM_MARGIN } from '../src/machine/memory-map.js';

const folder = new URL('../samples/', import.meta.url);
const names = readdirSync(folder).filter((name) => name.endsWith('.bas'));

const read = (name: string) => {
  const text = readFileSync(new URL(name, folder), 'utf8');
  return { text, ...readListing(text) };
};

/** Name on tape, RAM in bytes: what README's table says of each. */
const BENCH: Record<string, [name: string, ram: number]> = {
  'address-lines.bas': ['LINES', 16384],
  'bars.bas': ['BARS', 1024],
  'characters.bas': ['CHARACTERS', 1024],
  'frames.bas': ['FRAMES', 1024],
  'grid-halves.bas': ['HALVES', 1024],
  'grid.bas': ['GRID', 2048],
  'keyboard.bas': ['KEYBOARD', 1024],
  'keywords.bas': ['KEYWORDS', 1024],
  'loft.bas': ['LOFT', 16384],
  'night-watch.bas': ['WATCH', 1024],
  'ram-size.bas': ['RAMSIZE', 1024],
  'ram-test.bas': ['RAMTEST', 1024],
  'rom-sum.bas': ['ROMSUM', 1024],
  'ruler.bas': ['RULER', 1024],
  'stock-book.bas': ['STOCKBOOK', 16384],
  'tape-level.bas': ['LEVEL', 1024],
  'towpath.bas': ['TOWPATH', 1024],
};

test('the folder holds the programs of the table and no others', () => {
  expect(names.sort()).toEqual(Object.keys(BENCH));
});

describe.each(names)('%s', (name) => {
  const { text, listing, diagnostics } = read(name);
  const built = buildImage(listing);

  it('reads without an error or a warning', () => {
    expect(diagnostics).toEqual([]);
    expect(listing.lines.length).toBeGreaterThan(0);
    expect(listing.lines.every((line) => line.statement !== undefined)).toBe(true);
  });

  it('is in tidy form', () => {
    for (const line of listing.lines) {
      expect(text.slice(line.start, line.end)).toBe(`${line.number} ${statementText(line.codes)}`);
    }
    const lines = text.split('\n');
    expect(lines.filter((row) => row !== row.trimEnd())).toEqual([]);
    expect(text.endsWith('\n')).toBe(true);
  });

  it('says first what it proves, what it needs and how its result is read', () => {
    expect(listing.items[0].kind).toBe('comment');
    const said = listing.items
      .filter((item) => item.kind === 'comment')
      .map((item) => item.text)
      .join('\n');
    expect(said).toMatch(/^ Proves /m);
    expect(said).toMatch(/^ Needs {5}\d+K/m);
    expect(said).toMatch(/^ (Result|Read|Play) /m);
    const [tapeName, ram] = BENCH[name];
    expect(text).toContain(`.name "${tapeName}"`);
    expect(said).toContain(` Needs     ${ram / 1024}K.`);
  });

  it('builds an image that leaves the machine its stack', () => {
    expect(built.diagnostics).toEqual([]);
    expect(built.ram).toBe(BENCH[name][1]);
    const room = RAM_START + built.ram - built.areas.E_LINE;
    expect(room).toBeGreaterThan(ROOM_MARGIN + MACHINE_STACK_HIGH);
  });

  it('reads back from its image and builds the same bytes again', () => {
    const image = built.image!;
    const back = listingOfImage(image);
    expect(back.diagnostics).toEqual([]);
    expect(back.listing.lines.map((line) => [line.number, line.codes])).toEqual(
      listing.lines.map((line) => [line.number, line.codes]),
    );
    expect(buildImage(readListing(back.text).listing).image).toEqual(image);
  });
});

test('the tape level program looks for the sums that its own pattern has', () => {
  const { text, listing } = read('tape-level.bas');
  const { lineAddresses } = buildImage(listing);
  const pattern = listing.lines[0].codes.slice(1);
  const first = lineAddresses[0] + 5;
  expect(text).toContain(`FOR N=VAL "${first}" TO VAL "${first + pattern.length - 1}"`);
  let sum = 0;
  let steps = 0;
  for (const byte of pattern) {
    sum += byte;
    steps += sum;
  }
  expect(text).toContain(`IF S=VAL "${sum}" AND T=VAL "${steps}" THEN PRINT "GOOD LOAD"`);
  expect(text).toContain(`IF S<>VAL "${sum}" OR T<>VAL "${steps}" THEN PRINT "BAD BYTES"`);
});

test('the keyboard check asks for every key, and for what the machine gives for it', () => {
  const { listing } = read('keyboard.bas');
  /** The codes of the nth string of a line. */
  const stringIn = (number: number, nth: number): number[] => {
    const { codes } = listing.lines.find((line) => line.number === number)!;
    const quotes = [...codes.keys()].filter((at) => codes[at] === QUOTE);
    return [...codes.slice(quotes[2 * nth] + 1, quotes[2 * nth + 1])];
  };
  const textKeys = KEYS.filter(({ name }) => !['SHIFT', 'NEWLINE', 'SPACE'].includes(name));
  expect(stringIn(20, 0)).toEqual(textKeys.map((key) => key.plain));

  const shifted = new Map(textKeys.map((key) => [key.plain!, key.shifted!]));
  const editing = stringIn(70, 1);
  // Line 80 adds these digits to 112.
  const added = stringIn(80, 1).map((digit) => digit - FIRST_DIGIT);
  expect(editing.map((code) => shifted.get(code))).toEqual(added.map((digit) => 112 + digit));
  const typed = stringIn(120, 1);
  expect(typed.map((code) => shifted.get(code))).toEqual(stringIn(130, 0));
  // The quote cannot stand in a string, so SHIFT P is asked for by itself.
  const rest = [...shifted].filter(([code]) => ![...editing, ...typed].includes(code));
  expect(rest.map(([, code]) => code)).toEqual([QUOTE]);
});
