/** What the page makes of files, without a browser: every kind that the command line knows. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type FileContent, Impossible, TapeJobs } from '../../src/page/workers/tape.js';
import { isPlain, soundKindOf } from '../../src/tape/samples/sound-kind.js';
import { recordProgram } from '../../src/tape/writing/record.js';
import { ROOT } from '../support/run-cli.js';

const SOUNDS = join(ROOT, 'tests/tape/samples/sounds');
const sounds = readdirSync(SOUNDS).filter((name) => !/\.(sh|img)$/.test(name));
const image = Uint8Array.from(readFileSync(join(SOUNDS, 'oak.img')));

const read = (bytes: Uint8Array, file = 'file'): FileContent =>
  new TapeJobs(() => {}).read({ bytes, file });
const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

describe('sound', () => {
  test.each(sounds)('%s is read here where its samples are plain, else by the browser', (name) => {
    const bytes = Uint8Array.from(readFileSync(join(SOUNDS, name)));
    const kind = soundKindOf(bytes)!;
    const content = read(bytes, name);
    if (isPlain(kind)) expect(content).toMatchObject({ kind: 'programs', programs: [{ image }] });
    else expect(content).toEqual({ kind: 'sound', sound: kind });
  });

  test('that is cut within a program says so, and one without its beginning where it is', () => {
    const wave = recordProgram(
      { name: Uint8Array.of(38), image },
      { rate: 11025, lead: 0, tail: 0 },
    );
    const late = Uint8Array.from([...wave.subarray(0, 44), ...wave.subarray(wave.length - 40_000)]);
    const content = read(late);
    expect(content).toMatchObject({ kind: 'programs', programs: [] });
    expect((content as { piece: object }).piece).toBeDefined();
    expect(() => read(wave.subarray(0, 20))).toThrow(Impossible);
  });

  test('of two channels is heard in whichever is the better', () => {
    const rate = 11025;
    const wave = recordProgram({ name: Uint8Array.of(38), image }, { rate, lead: 0.5, tail: 0.5 });
    const samples = Float32Array.from(
      new Int16Array(wave.slice(44).buffer),
      (sample) => sample / 0x8000,
    );
    const silence = new Float32Array(samples.length);
    const jobs = new TapeJobs(() => {});
    const half = samples.length >> 1;
    for (const [from, to] of [
      [0, half],
      [half, samples.length],
    ]) {
      const channels = [silence, samples].map((channel) => channel.subarray(from, to));
      jobs.soundPiece({ rate, channels });
    }
    const { programs } = jobs.soundEnd();
    expect(programs).toMatchObject([{ name: 'A', image, doubts: { bytes: 0, name: 0 } }]);
  });
});

describe('text', () => {
  const LISTING = '10 PRINT "OAK"\n';
  test.each([
    ['a listing', utf8(LISTING), 'a.txt', { kind: 'listing', text: LISTING }],
    [
      'one with a mark of its order',
      utf8(`\ufeff${LISTING}`),
      'a',
      { kind: 'listing', text: LISTING },
    ],
    [
      'UTF-16',
      Uint8Array.from(Buffer.from(`\ufeff${LISTING}`, 'utf16le')),
      'a',
      { kind: 'listing', text: LISTING },
    ],
    ['a listing with a mistake, by its name', utf8('10 PRUNT\n'), 'a.bas', { kind: 'listing' }],
    ['a page', utf8('10 PRUNT "OAK"\n'), 'page.txt', { kind: 'page' }],
    ['bytes that are no UTF-8', Uint8Array.of(0x31, 0x30, 0xa3), 'a.txt', { kind: 'unknown' }],
    ['other bytes', Uint8Array.of(0, 1, 2, 3), 'junk', { kind: 'unknown' }],
  ])('%s', (_, bytes, file, content) => {
    expect(read(bytes, file)).toMatchObject(content);
  });

  test('that no listing can be is refused before any work on it', () => {
    const rows = utf8('The lamp was lit in the loft.\n'.repeat(150_000));
    expect(() => read(rows, 'prose.txt')).toThrow(
      /more than \d+ characters; no program is so large/,
    );
    expect(() => read(rows, 'prose.bas')).toThrow(Impossible);
  });

  test('an image is read as its listing, under the name of its file', () => {
    const content = read(image, 'oak.img');
    expect(content).toMatchObject({ kind: 'programs', programs: [{ name: 'OAK', image }] });
  });
});
