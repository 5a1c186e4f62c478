/**
 * Every sample, rehearsed to its end, with its last screen and its report as they stand in
 * tests/rehearsal/screens. Where a sample has changed, delete its screen there, run this once with
 * DRAW_SCREENS=1, and look at what was drawn.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import type { RehearseOptions } from '../../src/rehearsal/rehearsal.js';
import { rehearse } from '../../src/rehearsal/run.js';
import { readKeys } from '../../src/rehearsal/state/keys.js';
import { framedScreen } from '../../src/rehearsal/telling/show.js';

const SAMPLES = new URL('../../samples/', import.meta.url);
const SCREENS = new URL('./screens/', import.meta.url);

/** Every key of the keyboard check, in the order in which it asks for them. */
const ALL_KEYS = [
  ...'1234567890QWERTYUIOPASDFGHJKLZXCVBNM.',
  ...[...'1567890234QWERTYUIOASDFGHJKLZXCVBNM.P'].map((key) => `SHIFT+${key}`),
  'NEWLINE',
  'SHIFT+NEWLINE',
  'SPACE',
].join(' ');

/** The shortest way to the light. */
const LOFT =
  'E,GET OIL,W,N,GET MATCHES,U,GET LANTERN,FILL LANTERN,LIGHT LANTERN,U,N,GET KEY,S,D,OPEN DOOR,E,GET FUSE,W,D,D,FIT FUSE';

/** What is done with each sample. */
const REHEARSALS: Record<string, RehearseOptions> = {
  'address-lines': {},
  bars: {},
  'bench-card': { keys: readKeys('60-70:Y 120-130:N 180-190:Y 240-250:Y 300-310:Y') },
  characters: {},
  frames: {},
  'grid-halves': { keys: readKeys('5000:A 9000:A') },
  grid: { keys: readKeys('8000:A') },
  keyboard: { keys: readKeys(ALL_KEYS) },
  keywords: {},
  loft: { inputs: LOFT.split(',') },
  'night-watch': { seed: 1, keys: readKeys('60:1 400:9'), statements: 2000 },
  'ram-size': {},
  'ram-test': {},
  'rom-sum': {},
  ruler: {},
  sign: {},
  'stock-book': { inputs: ['3'] },
  'tape-level': {},
  towpath: { seed: 1, keys: readKeys('120-150:8 300-310:5'), statements: 3000 },
};

const names = readdirSync(SAMPLES)
  .filter((file) => file.endsWith('.bas'))
  .map((file) => file.slice(0, -4));

test('every sample is rehearsed here', () => {
  expect(names.sort()).toEqual(Object.keys(REHEARSALS).sort());
});

test.each(Object.entries(REHEARSALS))('%s', (name, options) => {
  const { listing } = readListing(readFileSync(new URL(`${name}.bas`, SAMPLES), 'utf8'));
  const { end, line, screen } = rehearse(listing, { statements: 100_000, ...options });
  const shown = `${framedScreen(screen)}\nended: ${end.code ?? end.kind}/${line}\n`;
  const file = new URL(`${name}.txt`, SCREENS);
  if (process.env.DRAW_SCREENS && !existsSync(file)) writeFileSync(file, shown);
  expect(shown).toBe(readFileSync(file, 'utf8'));
});
