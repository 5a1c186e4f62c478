/** Programs whose end is not on the tape. */
import { describe, expect, it } from 'vitest';
import { buildImage } from '../../../src/image/build.js';
import { listingOfImage } from '../../../src/image/read.js';
import { readListing } from '../../../src/listing/read.js';
import { HEADER_SIZE, LINE_HEAD, offsetOf, wordAt } from '../../../src/machine/image-layout.js';
import { IMAGE_START } from '../../../src/machine/memory-map.js';
import { readPrograms } from '../../../src/tape/reading/program-reader.js';
import { recoverPrograms } from '../../../src/tape/recover.js';
import { voteBetween } from '../../../src/tape/voting/takes.js';
import { recordProgram } from '../../../src/tape/writing/record.js';
import { bitsOf } from '../bits.js';
import { type Damage, dropouts, soundOf, splices, stutters, wavOf } from '../damage.js';
import { drawer, drawImage, drawName } from '../images.js';
import { verdictOn } from '../verdict.js';

const FUZZ = Boolean(process.env.FUZZ);

const LISTING = `10 REM A LINE
20 LET A$="STRING WITH ""IMAGES"""
30 FOR I=1 TO 1500.25
40 IF I*2>.5 AND A$<>"" THEN GOTO 70
50 PRINT AT 3,4;A$(2 TO 5);TAB 12;"FIGURES: ";I*1E3
60 NEXT I
70 STOP
`;

/** A program, its sound, and the seconds at which its bytes end. */
function recorded(text: string) {
  const { listing } = readListing(text);
  const program = { name: drawName(7), image: buildImage(listing).image! };
  const { samples, rate } = soundOf(recordProgram(program, { rate: 11025, lead: 0.4, tail: 0.2 }));
  return { program, samples, rate, seconds: samples.length / rate };
}

type Recorded = ReturnType<typeof recorded>;

const cutAt = ({ samples, rate }: Recorded, seconds: number) =>
  recoverPrograms(wavOf({ rate, samples: samples.subarray(0, Math.floor(seconds * rate)) }));

const displayOf = (image: Uint8Array) => wordAt(image, offsetOf('D_FILE')) - IMAGE_START;

/** Ends of the lines of an image, as offsets. */
function lineEnds(image: Uint8Array, display: number): number[] {
  const ends: number[] = [];
  for (let at = HEADER_SIZE; at < display; ) {
    at += LINE_HEAD + wordAt(image, at + 2);
    ends.push(at);
  }
  return ends;
}

/** Looks at one cut: nothing wrong in silence, whole lines whole, and a listing without bytes. */
function check(whole: Recorded, seconds: number): 'program' | 'none' {
  const { program } = whole;
  const recovery = cutAt(whole, seconds);
  const where = `cut at ${seconds.toFixed(2)} s`;
  expect(verdictOn(recovery, program), where).not.toBe('silent');
  const [found] = recovery.programs;
  if (found === undefined) return 'none';
  expect(found.whole, where).toBe(true);
  expect([...found.name], where).toEqual([...program.name]);
  expect(
    found.doubts.filter(({ part }) => part === 'name'),
    where,
  ).toEqual([]);
  const inDoubt = new Set(found.doubts.map(({ offset }) => offset));
  // The last bit before the cut may be half a bit; all before it were heard.
  const heard = (found.doubts.find(({ reason }) => reason === 'unfinished')?.offset ?? 0) - 1;
  for (const end of lineEnds(program.image, displayOf(program.image))) {
    if (end > heard) break;
    for (let at = HEADER_SIZE; at < end; at++) {
      expect(found.image[at], where).toBe(program.image[at]);
      expect(inDoubt.has(at), `${where}, offset ${at}`).toBe(false);
    }
  }
  const listing = listingOfImage(found.image);
  expect(listing.text, where).not.toContain('.raw');
  return 'program';
}

describe('a recording that ends before its program does', () => {
  const whole = recorded(LISTING);

  it('is never wrong in silence, wherever it is cut', () => {
    const results: string[] = [];
    const step = FUZZ ? 0.1 : 1.3;
    for (let at = 0.4; at < whole.seconds - 0.2; at += step) results.push(check(whole, at));
    expect(results.lastIndexOf('none')).toBeLessThan(results.indexOf('program'));
  });

  it('with holes or cuts in it as well', () => {
    const damages: Damage[] = [dropouts(5, 1), dropouts(10, 3), splices(1, 2), stutters(3, 1)];
    for (let seed = 1; seed <= (FUZZ ? 200 : 4); seed++) {
      const draw = drawer(seed);
      const program = { name: drawName(seed), image: drawImage(seed, 200) };
      const clean = soundOf(recordProgram(program, { rate: 11025, lead: 0.4, tail: 0.2 }));
      const { samples, rate } = damages[seed % damages.length](clean, seed);
      const end = Math.floor(samples.length * (0.3 + 0.65 * draw()));
      const recovery = recoverPrograms(wavOf({ rate, samples: samples.subarray(0, end) }));
      expect([seed, verdictOn(recovery, program)]).not.toEqual([seed, 'silent']);
    }
  });

  it('has the lines that were heard, the cut one closed, and the rest of a plain build', () => {
    const bits = bitsOf(whole.program);
    const ends = lineEnds(whole.program.image, displayOf(whole.program.image));
    // Ten bytes into the line that loops: its number and FOR I=1, without the bytes of the 1.
    const heard = 8 * (whole.program.name.length + ends[1] + 10);
    const [found] = readPrograms(bits.slice(0, heard), 'mono').programs;
    const { text } = listingOfImage(found.image);
    const lines = LISTING.split('\n');
    expect(text.split('\n')).toEqual([lines[0], lines[1], '30 [EB]I=1', '']);
    expect(found.lostBytes).toBe(whole.program.image.length - ends[1]);
    const inProgram = found.doubts.filter(({ place }) => place?.area === 'program');
    expect(new Set(inProgram.map(({ place }) => place?.line))).toEqual(new Set([30]));
  });

  it('keeps the rows of the display that were heard, and its size', () => {
    const { program } = recorded('.ram 16K\n10 REM A\n.display\nAN EARLY ROW\n.end\n');
    const bits = bitsOf(program);
    const display = displayOf(program.image);
    const heard = bits.slice(0, 8 * (program.name.length + display + 20));
    const [found] = readPrograms(heard, 'mono').programs;
    // The only thing that it has lost is what a plain build has there as well.
    expect([...found.image]).toEqual([...program.image]);
    expect(found.doubts[0].offset).toBe(display);
  });

  it('keeps the variables that were heard whole', () => {
    const { program } = recorded('10 REM\n.var A = 5\n.var B$ = "TEXT"\n.var C = 7\n');
    const bits = bitsOf(program);
    const [found] = readPrograms(bits.slice(0, -8 * 4), 'mono').programs;
    const { text } = listingOfImage(found.image);
    expect(text).toContain('.var B$');
    expect(text).not.toContain('.var C');
    expect(text).not.toContain('.raw');
  });

  it('keeps those before the cut wherever it comes within a string', () => {
    const { program } = recorded('10 REM\n.var A = 5\n.var B$ = "TEXT"\n');
    const bits = bitsOf(program);
    // B$ has seven bytes, and the end one: of eight lost, the last bit of A is in doubt as well.
    for (let lost = 2; lost <= 7; lost++) {
      const [found] = readPrograms(bits.slice(0, -8 * lost), 'mono').programs;
      const { text } = listingOfImage(found.image);
      expect(text, `${lost} bytes lost`).toContain('.var A = 5');
      expect(text, `${lost} bytes lost`).not.toMatch(/\.var B|\.raw/);
    }
  });

  it('gives way to a take that has its end', () => {
    const full = recoverPrograms(wavOf(whole));
    const cut = cutAt(whole, 0.7 * whole.seconds);
    for (const takes of [
      [full, cut],
      [cut, full],
    ]) {
      const [voted] = voteBetween(takes);
      expect(voted.takes.length).toBe(2);
      expect(voted.program.doubts).toEqual([]);
      expect([...voted.program.image]).toEqual([...whole.program.image]);
    }
    const shorter = cutAt(whole, 0.6 * whole.seconds);
    const [best] = voteBetween([shorter, cut]);
    expect([...best.program.image]).toEqual([...cut.programs[0].image]);
  });
});
