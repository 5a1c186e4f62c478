/** Programs to sound: size, form, settings, and what is refused. */
import { describe, expect, it } from 'vitest';
import { recoverPrograms } from '../../../src/tape/recover.js';
import { SoundError } from '../../../src/tape/sound-error.js';
import {
  planRecording,
  recordProgram,
  recordPrograms,
  secondsOnTape,
} from '../../../src/tape/writing/record.js';
import { tapeBytes } from '../../../src/tape/writing/tape-bytes.js';
import { soundOf } from '../damage.js';
import { drawImage, drawName } from '../images.js';

const program = { name: drawName(1), image: drawImage(1) };

describe('a recording', () => {
  it('has the size and the length that the plan says, in pieces of 64 KB at most', () => {
    for (const bits of [8, 16, 24] as const) {
      const plan = planRecording([program], { bits, rate: 11025 });
      let size = 0;
      for (const piece of plan.pieces()) {
        expect(piece.length).toBeLessThanOrEqual(65536);
        size += piece.length;
      }
      expect(size).toBe(plan.size);
      expect(recordProgram(program, { bits, rate: 11025 }).length).toBe(size);
      expect(plan.seconds).toBeCloseTo(secondsOnTape(program) + 6, 3);
    }
  });

  it('is silent before the program and after it, and glides to the rest level without a step', () => {
    const { samples, rate } = soundOf(recordProgram(program, { lead: 2, tail: 1 }));
    expect(samples.slice(0, 1.9 * rate).every((sample) => sample === 0)).toBe(true);
    expect(samples.slice(-0.9 * rate).every((sample) => sample === 0)).toBe(true);
    for (let i = 1; i < 1.99 * rate; i++) {
      expect(Math.abs(samples[i] - samples[i - 1])).toBeLessThan(0.002);
    }
  });

  it('keeps to its level, and turns upside down on demand', () => {
    const height = (level: number) =>
      soundOf(recordProgram(program, { level })).samples.reduce((a, b) => Math.max(a, b), 0);
    expect(height(0.8)).toBeCloseTo(0.8, 4);
    expect(height(0.25)).toBeCloseTo(0.25, 4);
    const upright = soundOf(recordProgram(program)).samples;
    const inverted = soundOf(recordProgram(program, { invert: true })).samples;
    const off = inverted.reduce(
      (most, sample, i) => Math.max(most, Math.abs(sample + upright[i])),
      0,
    );
    expect(off).toBeLessThanOrEqual(1 / 32768);
  });

  it('holds several programs with the gap between them', () => {
    const other = { name: drawName(2), image: drawImage(2) };
    const plan = planRecording([program, other], { lead: 1, gap: 2, tail: 3 });
    expect(plan.seconds).toBeCloseTo(secondsOnTape(program) + secondsOnTape(other) + 6, 3);
  });

  it('plays faster with a speed above 1', () => {
    expect(secondsOnTape(program, 1.25)).toBeCloseTo(secondsOnTape(program) / 1.25, 6);
  });
});

describe('the bytes on tape', () => {
  it('are the name with bit 7 set on its last character, then the image', () => {
    const bytes = tapeBytes({ name: Uint8Array.of(38, 39), image: program.image });
    expect([...bytes.slice(0, 2)]).toEqual([38, 39 + 128]);
    expect(bytes.slice(2)).toEqual(program.image);
  });
});

describe('what cannot be read back is said beforehand', () => {
  it.each([
    [{}, []],
    [{ rate: 8000 }, []],
    [{ speed: 0.7 }, []],
    [{ level: 0.005, bits: 8 }, []],
    [{ speed: 0.5 }, [/from 0\.68 to 1\.36 times/]],
    [{ rate: 8000, speed: 1.2 }, [/8000 samples a second are too few/]],
    [{ level: 0.001, bits: 8 }, [/have nothing left/]],
  ] as const)('%j', (options, words) => {
    const { notes } = planRecording([program], options);
    expect(notes.length).toBe(words.length);
    words.forEach((word, i) => {
      expect(notes[i]).toMatch(word);
    });
    const read = recoverPrograms(recordProgram(program, { lead: 0.4, ...options })).programs;
    const same = read.length === 1 && Buffer.from(read[0].image).equals(program.image);
    expect(same).toBe(words.length === 0);
  });
});

describe('refused with a word on what is wrong', () => {
  const { name, image } = program;
  it.each([
    ['no name', { name: new Uint8Array(0), image }, {}, /no name/],
    ['bit 7 in the name', { name: Uint8Array.of(38, 166), image }, {}, /character 2 .* code 166/],
    ['an image cut short', { name, image: image.slice(0, 100) }, {}, /has 100 bytes.*E_LINE/],
    ['an image without E_LINE', { name, image: image.slice(0, 5) }, {}, /only 5 bytes/],
    ['a low rate', program, { rate: 7999 }, /rate is 7999; it can be 8000 to 192000/],
    ['a broken rate', program, { rate: 44100.5 }, /whole number/],
    ['no level', program, { level: 0 }, /level is 0/],
    ['not a number', program, { lead: Number.NaN }, /lead is NaN/],
    ['a strange depth', program, { bits: 12 as 16 }, /bits is 12/],
    ['a strange shape', program, { shape: 'round' as 'rounded' }, /shape is round/],
    ['a strange speed', program, { speed: 3 }, /speed is 3/],
  ])('%s', (_, wrong, options, message) => {
    expect(() => recordProgram(wrong, options)).toThrow(SoundError);
    expect(() => recordProgram(wrong, options)).toThrow(message);
  });

  it('nothing to record', () => {
    expect(() => recordPrograms([])).toThrow(/no program/);
  });

  it('more than a WAV file can hold', () => {
    const many = Array.from({ length: 12 }, () => program);
    expect(() => planRecording(many, { rate: 192000, bits: 24, gap: 3600 })).toThrow(
      /more than a WAV file can hold/,
    );
  });
});
