/** Recordings to programs: what goes in comes out, at every form of sound; and damaged, marked. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Recovery } from '../../src/tape/reading/recovery.js';
import { Recoverer, recoverPrograms } from '../../src/tape/recover.js';
import { SoundError } from '../../src/tape/sound-error.js';
import { recordProgram, recordPrograms } from '../../src/tape/writing/record.js';
import {
  crackles,
  type Damage,
  dropouts,
  fades,
  mix,
  noise,
  soundOf,
  speed,
  splices,
  stutters,
  wavOf,
} from './damage.js';
import { drawImage, drawName, imageOf } from './images.js';
import { musicLike, speechLike } from './other-sounds.js';
import { type Verdict, verdictOn } from './verdict.js';

const program = { name: drawName(1), image: drawImage(1) };
const FUZZ = Boolean(process.env.FUZZ);

describe('a clean recording gives the program back', () => {
  it.each([
    ['as it is', {}],
    ['rounded', { shape: 'rounded' }],
    ['8 bits', { bits: 8 }],
    ['24 bits at 96000 Hz', { bits: 24, rate: 96000 }],
    ['8000 Hz', { rate: 8000 }],
    ['upside down', { invert: true }],
    ['a quarter faster', { speed: 1.25 }],
    ['a quarter slower', { speed: 0.75 }],
    ['without a lead or tail', { lead: 0, tail: 0 }],
  ] as const)('%s', (_, options) => {
    const recovery = recoverPrograms(recordProgram(program, { lead: 0.5, ...options }));
    expect(verdictOn(recovery, program)).toBe('whole');
    const [found] = recovery.programs;
    expect(found.speed).toBeCloseTo('speed' in options ? options.speed : 1, 2);
    expect(found.start).toBeCloseTo('lead' in options ? 0 : 0.5, 2);
  });

  it('whatever bytes the program holds', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 60 }),
        fc.uint8Array({ minLength: 1, maxLength: 10 }),
        (bytes, codes) => {
          // A REM line may hold anything; the structure of the image is not of the bytes' making.
          const line = Uint8Array.of(0, 1, bytes.length + 2, 0, 234, ...bytes, 118);
          const image = imageOf(line, new Uint8Array(0));
          const name = codes.map((code) => code & 63);
          const wav = recordProgram({ name, image }, { rate: 11025, lead: 0.3, tail: 0.2 });
          expect(verdictOn(recoverPrograms(wav), { name, image })).toBe('whole');
        },
      ),
      { seed: 16, numRuns: FUZZ ? 2000 : 6 },
    );
  });

  it('in pieces of any size', () => {
    const wav = recordProgram(program, { rate: 16000, lead: 0.3 });
    const recoverer = new Recoverer();
    for (let at = 0; at < wav.length; at += 777) recoverer.push(wav.subarray(at, at + 777));
    expect(verdictOn(recoverer.finish(), program)).toBe('whole');
  });

  it.each([0.5, 1.1])('of several programs each, %f s apart, across blocks of reading', (gap) => {
    const programs = [2, 3, 4, 5].map((seed) => ({ name: drawName(seed), image: drawImage(seed) }));
    const recovery = recoverPrograms(recordPrograms(programs, { rate: 22050, gap }));
    expect(recovery.programs.map(({ name, image }) => ({ name, image }))).toEqual(programs);
    expect(recovery.programs.every(({ doubts }) => doubts.length === 0)).toBe(true);
  });
});

describe('while one listens', () => {
  const PIECE = 4096;
  const TAIL = 4;

  /** What is known after each piece, and what is at the end. */
  function heard(wav: Uint8Array): { appeared: number[]; recovery: Recovery } {
    const { rate } = soundOf(wav);
    const recoverer = new Recoverer();
    recoverer.push(wav.subarray(0, 44));
    const appeared: number[] = [];
    for (let at = 44; at < wav.length; at += 2 * PIECE) {
      recoverer.push(wav.subarray(at, at + 2 * PIECE));
      const seconds = (at + 2 * PIECE - 44) / 2 / rate;
      while (appeared.length < recoverer.soFar().length) appeared.push(seconds);
    }
    return { appeared, recovery: recoverer.finish() };
  }

  it.each<[string, Damage]>([
    ['as it is', (sound) => sound],
    ['with hiss', noise(20)],
    ['a tenth too slow', speed(-10)],
  ])('a program appears within three seconds of its end: %s', (_, damage) => {
    const wav = recordProgram(program, { rate: 11025, lead: 1, tail: TAIL });
    const { appeared, recovery } = heard(wavOf(damage(soundOf(wav), 1)));
    expect(verdictOn(recovery, program)).toBe('whole');
    const [found] = recovery.programs;
    expect(appeared).toHaveLength(1);
    expect(appeared[0] - found.end).toBeGreaterThan(0);
    expect(appeared[0] - found.end).toBeLessThan(3);
  });

  it('each of several appears, and none twice or in parts', () => {
    const programs = [2, 3, 4].map((seed) => ({ name: drawName(seed), image: drawImage(seed) }));
    const wav = recordPrograms(programs, { rate: 11025, gap: 3, tail: TAIL });
    const { appeared, recovery } = heard(wav);
    expect(recovery.programs.map(({ name, image }) => ({ name, image }))).toEqual(programs);
    const delays = recovery.programs.map(({ end }, index) => appeared[index] - end);
    expect(Math.max(...delays)).toBeLessThan(3);
    expect(Math.min(...delays)).toBeGreaterThan(0);
  });

  it('two seconds without sound within a program costs no more than it does in a whole recording', () => {
    const wav = recordProgram(program, { rate: 11025, lead: 1, tail: TAIL });
    const { samples, rate } = soundOf(wav);
    const from = Math.round(samples.length / 2);
    samples.fill(0, from, from + 2 * rate);
    const broken = wavOf({ samples, rate });
    const whole = recoverPrograms(broken).programs.map(({ image, doubts }) => ({ image, doubts }));
    const { recovery } = heard(broken);
    expect(recovery.programs.map(({ image, doubts }) => ({ image, doubts }))).toEqual(whole);
  });
});

/** A stereo file from two of the same length. */
function stereo(left: Float32Array, right: Float32Array, rate: number): Uint8Array {
  const both = new Float32Array(2 * left.length);
  left.forEach((sample, i) => {
    both[2 * i] = sample;
    both[2 * i + 1] = right[i];
  });
  const wav = wavOf({ rate, samples: both });
  const view = new DataView(wav.buffer);
  view.setUint16(22, 2, true);
  view.setUint32(28, rate * 4, true);
  view.setUint16(32, 4, true);
  return wav;
}

describe('two channels', () => {
  const { samples, rate } = soundOf(recordProgram(program, { rate: 22050, lead: 0.4 }));
  const music = musicLike(samples.length / rate, 5).samples.subarray(0, samples.length);
  const inverted = samples.map((sample) => -sample);
  const shared = (sign: number) => music.map((note, i) => 0.5 * note + 0.3 * sign * samples[i]);
  it.each([
    ['the same', samples, samples, 'mix'],
    ['the program on the left', samples, music, 'left'],
    ['the program on the right', music, samples, 'right'],
    ['in opposite phase', samples, inverted, undefined],
    ['the program in the difference, music in both', shared(1), shared(-1), 'difference'],
  ])('%s', (_, left, right, channel) => {
    const recovery = recoverPrograms(stereo(left, right, rate));
    expect(verdictOn(recovery, program)).toBe('whole');
    if (channel) expect(recovery.programs[0].channel).toBe(channel);
  });

  it('one channel on demand, and none where there is none', () => {
    const wav = stereo(samples, music, rate);
    expect(recoverPrograms(wav, { channel: 'right' }).programs).toEqual([]);
    expect(verdictOn(recoverPrograms(wav, { channel: 'left' }), program)).toBe('whole');
    expect(() => recoverPrograms(wavOf({ rate, samples }), { channel: 'right' })).toThrow(
      SoundError,
    );
  });
});

/** Did a fade swallow whole characters of the name, from the first on? They leave no trace. */
function hasLostCharacters({ programs }: Recovery, name: Uint8Array): boolean {
  return (
    programs.length === 1 &&
    programs[0].name.length < name.length &&
    Buffer.from(name).subarray(-programs[0].name.length).equals(programs[0].name)
  );
}

describe('a hole in the head', () => {
  // The hole's first reading has a bit too many, and the head makes sense a bit further on only.
  it.each([45, 150])('is undone where the structure tells what is under it: program %i', (seed) => {
    const truth = { name: drawName(seed), image: drawImage(seed, 40 + (seed % 5) * 40) };
    const clean = soundOf(recordProgram(truth, { rate: 22050, lead: 0.6, tail: 0.4 }));
    expect(verdictOn(recoverPrograms(wavOf(dropouts(5, 4)(clean, seed))), truth)).toBe('whole');
  });
});

it.each([
  ['right before the last bits', 42],
  ['over the last bits', 232],
  ['of 20 ms with a rest before it', 140],
])('a hole %s is undone', (_, seed) => {
  const truth = { name: drawName(seed), image: drawImage(seed, 40 + (seed % 5) * 40) };
  const clean = soundOf(recordProgram(truth, { rate: 22050, lead: 0.6, tail: 0.4 }));
  expect(verdictOn(recoverPrograms(wavOf(dropouts(20, 4)(clean, seed))), truth)).toBe('whole');
});

describe('damage that cannot be undone is marked, never silent', () => {
  it.each<[string, number, Damage, Verdict?]>([
    ['a bit that looks like the other one, nearly', 279, stutters(1, 3)],
    ['a number that nothing before it holds in step, a bit cut out', 100, splices(1, 3)],
    ['a number that nothing before it holds in step, two bits twice', 321, stutters(5, 3), 'right'],
    ['a line by chance, in a head and lines out of step', 281, stutters(5, 3)],
    ['a line by chance, behind a head out of step', 678, stutters(5, 3), 'right'],
    ['two zeros that look like a 1 with a pulse missing', 1671, splices(1, 3)],
    ['a 0 that nearly looks like a 1', 7, stutters(1.3, 3)],
    ['01 with a hole that looks like 10', 76659, dropouts(3, 4)],
    ['a last line that lost bytes, and took some of the display', 33, splices(29.3, 1)],
    ['the same, where the end is new', 111, splices(26, 4)],
    ['a display with bytes too many, behind a new head', 60, stutters(26, 5)],
    ['lines where the buffer of a lost head should be', 7, stutters(24, 5)],
    ['a buffer out of step, behind a new head', 105, splices(34, 1)],
    ['a head with bits lost, and as many twice', 105, mix(splices(21, 2), stutters(21, 2))],
    ['the same, behind new pointers', 103, mix(splices(20.3, 2), stutters(20.3, 2))],
    ['pointers that promise far too much', 60, mix(splices(20.3, 2), stutters(20.3, 2))],
    ['a character lost in a hole behind its first bit', 82407, dropouts(19, 2)],
    ['a character lost in a fade', 154, mix(noise(12), fades(30, 50, 3))],
    [
      'a head out of step between three bits lost and three twice',
      43,
      mix(splices(7.6, 1), stutters(7.6, 1)),
    ],
  ])('%s: program %i', (_, seed, damage, verdict = 'marked') => {
    const truth = { name: drawName(seed), image: drawImage(seed, 40 + (seed % 5) * 40) };
    const clean = soundOf(recordProgram(truth, { rate: 22050, lead: 0.6, tail: 0.4 }));
    expect(verdictOn(recoverPrograms(wavOf(damage(clean, seed))), truth)).toBe(verdict);
  });

  it.each<[string, Damage]>([
    ['a hole of 5 ms', dropouts(5, 1)],
    ['four holes of 10 ms', dropouts(10, 4)],
    ['holes and a wrong speed', mix(speed(-12), dropouts(3, 3))],
    ['crackles', crackles(10, 4)],
    ['fades', fades(40, 50, 3)],
    ['a player that stutters', stutters(3, 2)],
    ['cuts in the tape', splices(1, 3)],
    ['longer cuts', splices(5, 2)],
    ['cuts of about a byte', splices(26, 2)],
    ['a player that repeats about a byte', stutters(29, 4)],
    ['as much cut as repeated', mix(splices(12, 1), stutters(12, 1))],
  ])('%s', (_, damage) => {
    for (let seed = 1; seed <= (FUZZ ? 200 : 2); seed++) {
      const truth = { name: drawName(seed), image: drawImage(seed) };
      const clean = soundOf(recordProgram(truth, { rate: 22050, lead: 0.4, tail: 0.3 }));
      const recovery = recoverPrograms(wavOf(damage(clean, seed)));
      if (!hasLostCharacters(recovery, truth.name)) {
        expect([seed, verdictOn(recovery, truth)]).not.toEqual([seed, 'silent']);
      }
    }
  });

  it('a doubt has its time, its address, its line and what was read', () => {
    const clean = soundOf(recordProgram(program, { rate: 22050, lead: 0.4 }));
    const [found] = recoverPrograms(wavOf(dropouts(30, 2)(clean, 12))).programs;
    expect(found.doubts.length).toBeGreaterThan(0);
    for (const { part, offset, address, byte, other, seconds, place } of found.doubts) {
      expect(seconds).toBeGreaterThanOrEqual(found.start);
      expect(seconds).toBeLessThan(found.end);
      if (part === 'name') continue;
      expect(address).toBe(16393 + offset);
      expect(byte).toBe(found.image[offset]);
      expect(other).not.toBe(byte);
      expect(place?.area).toBeDefined();
    }
    const inProgram = found.doubts.filter(({ place }) => place?.area === 'program');
    for (const { place } of inProgram) expect(place!.line! % 10).toBe(0);
  });
});

describe('no program where there is none', () => {
  // Ten minutes under FUZZ, a few seconds otherwise.
  const [pieces, seconds] = FUZZ ? [20, 30] : [1, 12];
  it.each([
    ['speech', speechLike],
    ['music', musicLike],
  ])('%s', (_, make) => {
    for (let seed = 0; seed < pieces; seed++) {
      const recovery = recoverPrograms(wavOf(make(seconds, seed)));
      expect(recovery.programs).toEqual([]);
    }
  });

  it('and the program is found between them', () => {
    const clean = soundOf(recordProgram(program, { rate: 22050, lead: 0.4 }));
    const parts = [speechLike(3, 1).samples, clean.samples, musicLike(3, 1).samples];
    const samples = Float32Array.from(parts.flatMap((part) => [...part]));
    expect(verdictOn(recoverPrograms(wavOf({ rate: 22050, samples })), program)).toBe('whole');
  });

  it('a piece that holds no lines is a fragment', () => {
    const { samples, rate } = soundOf(recordProgram(program, { rate: 22050, lead: 0.4 }));
    const piece = wavOf({ rate, samples: samples.subarray(rate, 3.4 * rate) });
    const { programs, fragments } = recoverPrograms(piece);
    expect(programs).toEqual([]);
    expect(fragments.length).toBe(1);
    expect(fragments[0].bits).toBeGreaterThan(320);
  });
});
