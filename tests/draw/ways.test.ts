import { describe, expect, test } from 'vitest';
import { isDrawn, ramFor, tryWay, tryWays } from '../../src/draw/drawing.js';
import { blocksOfText } from '../../src/draw/letters.js';
import {
  BLOCK_COLUMNS,
  type Blocks,
  emptyScreen,
  REACHED_BLOCK_ROWS,
  type Screen,
  screenOfBlocks,
  screenOfCells,
} from '../../src/draw/screen.js';
import { WAYS, type WayOptions } from '../../src/draw/ways.js';
import { readListing } from '../../src/listing/read.js';
import { codesOfText } from '../../src/machine/characters.js';
import { rehearse } from '../../src/rehearsal/run.js';
import { randomFrom } from '../support/random.js';

const LARGE = 16 * 1024;
const PICTURES = process.env.FUZZ ? 5000 : 60;

/** Blocks at random, now scattered, now in bars and boxes, on a part of the screen or all of it. */
function drawnBlocks(seed: number): Screen {
  const random = randomFrom(seed);
  const int = (low: number, high: number): number => low + Math.floor(random() * (high - low + 1));
  const full = random() < 0.2;
  const width = full ? BLOCK_COLUMNS : int(1, BLOCK_COLUMNS);
  const height = full ? REACHED_BLOCK_ROWS : int(1, REACHED_BLOCK_ROWS);
  const dark = new Uint8Array(width * height);
  if (random() < 0.4) {
    const share = random();
    for (let at = 0; at < dark.length; at++) dark[at] = random() < share ? 1 : 0;
  } else {
    for (let boxes = int(0, 12); boxes > 0; boxes--) {
      const [left, top] = [int(0, width - 1), int(0, height - 1)];
      const [right, bottom] = [int(left, width - 1), int(top, height - 1)];
      const ink = random() < 0.7 ? 1 : 0;
      for (let y = top; y <= bottom; y++) dark.fill(ink, y * width + left, y * width + right + 1);
    }
  }
  const place = { row: int(0, REACHED_BLOCK_ROWS - height), column: int(0, BLOCK_COLUMNS - width) };
  return screenOfBlocks({ width, height, dark }, 22, place);
}

/** The 22 rows that a listing leaves on the screen, by a rehearsal of its text and nothing else. */
function shownBy(text: string): number[][] {
  const { listing, diagnostics } = readListing(text);
  expect(diagnostics).toEqual([]);
  const { screen } = rehearse(listing, { ram: LARGE, statements: 100_000 });
  return cellsOf(screen);
}

const cellsOf = (screen: Screen): number[][] =>
  screen.slice(0, 22).map((codes) => Array.from({ length: 32 }, (_, at) => codes[at] ?? 0));

const rowsOf = (screen: Screen): number[][] => screen.slice(0, 22).map((codes) => [...codes]);

const WITHIN: WayOptions = {
  isFirst: false,
  names: { outer: 'K', inner: 'L', more: ['M', 'N'], text: 'Z$' },
};

describe.each(WAYS)('shown as %s', (way) => {
  test(`${PICTURES} drawn pictures come back block for block`, () => {
    for (let seed = 1; seed <= PICTURES; seed++) {
      const screen = drawnBlocks(seed);
      const tried = tryWay(way, screen, LARGE);
      if (!isDrawn(tried)) throw new Error(`picture ${seed}: ${tried.why}`);
      expect(cellsOf(tried.shown), `picture ${seed}`).toEqual(rowsOf(screen));
      // Now and then once more, from the text alone.
      if (seed % 10 === 0) expect(shownBy(tried.text)).toEqual(rowsOf(screen));
    }
  });

  test.skipIf(way === 'display')('within a program, where data stand in a string', () => {
    for (let seed = 1001; seed <= 1000 + PICTURES / 10; seed++) {
      const screen = drawnBlocks(seed);
      const tried = tryWay(way, screen, LARGE, WITHIN);
      if (!isDrawn(tried)) throw new Error(`picture ${seed}: ${tried.why}`);
      expect(tried.text).not.toContain('PEEK');
      expect(shownBy(tried.text), `picture ${seed}`).toEqual(rowsOf(screen));
    }
  });

  test('an empty screen is a listing too', () => {
    const tried = tryWay(way, emptyScreen());
    if (!isDrawn(tried)) throw new Error(tried.why);
    expect(
      shownBy(tried.text)
        .flat()
        .every((code) => code === 0),
    ).toBe(true);
  });
});

test('characters, greys and inverse video come back too', () => {
  const rows = ['LAMP "A" 7', '▒🮏🮎🮐🮑🮒'].map(codesOfText);
  const inverse = codesOfText('LOFT').map((code) => code + 128);
  const width = 10;
  const cells = [...rows, inverse].map((codes) => {
    const row = new Uint8Array(width);
    row.set(codes);
    return row;
  });
  const screen = screenOfCells(cells, 22);
  for (const way of ['strings', 'packed', 'display'] as const) {
    for (const options of way === 'display' ? [undefined] : [undefined, WITHIN]) {
      const tried = tryWay(way, screen, LARGE, options);
      if (!isDrawn(tried)) throw new Error(tried.why);
      expect(shownBy(tried.text), way).toEqual(rowsOf(screen));
    }
  }
  const plot = tryWay('plot', screen);
  expect(isDrawn(plot) ? '' : plot.why).toContain('PLOT draws blocks');
});

test('all 24 rows are for the saved display alone', () => {
  const screen = emptyScreen();
  screen[23].fill(128);
  const tried = tryWays(WAYS, screen);
  expect(tried.filter(isDrawn).map(({ way }) => way)).toEqual(['display']);
  expect(tried.at(-1)).toMatchObject({ why: expect.stringContaining('last two rows') });
});

test('a sign of 40 by 30 blocks goes into 1K', () => {
  const dark = new Uint8Array(40 * 30);
  for (let x = 0; x < 40; x++) dark[x] = dark[29 * 40 + x] = 1;
  for (let y = 0; y < 30; y++) dark[y * 40] = dark[y * 40 + 39] = 1;
  const small = blocksOfText('LANTERN LOFT', 4, 38);
  for (let y = 0; y < small.height; y++) {
    for (let x = 0; x < small.width; x++)
      dark[(y + 8) * 40 + x + 2] |= small.dark[y * small.width + x];
  }
  const sign: Blocks = { width: 40, height: 30, dark };
  const tried = tryWays(WAYS, screenOfBlocks(sign, 22)).filter(isDrawn);
  expect(tried[0]).toMatchObject({ way: 'display' });
  expect(tried[0].bytes).toBeLessThanOrEqual(1024);
  for (const { text } of tried) expect(shownBy(text)).toEqual(rowsOf(screenOfBlocks(sign, 22)));
});

test('the first way needs fewest bytes, and the RAM that is enough is found', () => {
  for (let seed = 1; seed <= 20; seed++) {
    const bytes = tryWays(WAYS, drawnBlocks(seed)).map((one) => (isDrawn(one) ? one.bytes : 1e9));
    expect(bytes).toEqual([...bytes].sort((a, b) => a - b));
  }
  const screen = screenOfBlocks(
    { width: 64, height: 44, dark: new Uint8Array(64 * 44).fill(1) },
    22,
  );
  expect(ramFor('strings', screen)).toBe(2048);
});
