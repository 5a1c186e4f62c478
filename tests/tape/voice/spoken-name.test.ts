/**
 * Spoken names: what is said, measured from the samples, and that nobody takes it for a program.
 * Vowels against G. Peterson and H. Barney, Control Methods Used in a Study of the Vowels (1952),
 * table of means for men, from memory: written down here again, not taken from the source.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { codesOfText } from '../../../src/machine/characters.js';
import { recoverPrograms } from '../../../src/tape/recover.js';
import { VOWELS } from '../../../src/tape/voice/speech-sounds.js';
import { speakName, spokenSamples } from '../../../src/tape/voice/spoken-name.js';
import { sayWord, VOICE_RATE } from '../../../src/tape/voice/voice.js';
import { planRecording, recordProgram, recordPrograms } from '../../../src/tape/writing/record.js';
import { soundOf, wavOf } from '../damage.js';
import { drawImage, drawName } from '../images.js';

const ALL = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789';
const SIGNS = '"£$:?()><=+-*/;,.';
const RATES = [8000, 22050, 192000];
const FUZZ = Boolean(process.env.FUZZ);

/** The pieces of a spoken name, each in memory of its own. */
function piecesOf(codes: Uint8Array, rate: number): Float32Array[] {
  return Array.from(speakName(codes, rate), (piece) => piece.slice());
}

function spoken(text: string, rate: number): Float32Array {
  return joined(piecesOf(codesOfText(text), rate));
}

function joined(pieces: readonly Float32Array[]): Float32Array {
  const whole = new Float32Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}

function peakOf(samples: Float32Array): number {
  let most = 0;
  for (const sample of samples) most = Math.max(most, Math.abs(sample));
  return most;
}

/** Power at these frequencies in `size` samples from `from`, under a cosine window: a plain DFT. */
function powers(samples: Float32Array, rate: number, from: number, size: number, hz: number[]) {
  const piece = Float64Array.from({ length: size }, (_, i) => {
    const window = 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / size);
    return window * (samples[from + i] ?? 0);
  });
  return hz.map((f) => {
    // The sums with cosine and sine, each step turned from the last (Goertzel).
    const turn = 2 * Math.cos((2 * Math.PI * f) / rate);
    let [last, before] = [0, 0];
    for (const x of piece) {
      const next = x + turn * last - before;
      before = last;
      last = next;
    }
    return (last * last + before * before - turn * last * before) / size;
  });
}

/** Where, in Hz, a mean spectrum of the samples has its peaks. */
function peaks(samples: Float32Array, rate: number): number[] {
  const step = 10;
  const hz = Array.from({ length: 400 }, (_, i) => i * step);
  const size = Math.round(0.04 * rate);
  const mean = new Float64Array(hz.length);
  for (let at = 0; at + size <= samples.length; at += size) {
    const row = powers(samples, rate, at, size, hz);
    row.forEach((power, i) => {
      mean[i] += power;
    });
  }
  return hz.filter((_, i) => mean[i] > (mean[i - 1] ?? 0) && mean[i] >= (mean[i + 1] ?? 0));
}

describe('the vowels of the voice', () => {
  it.each<[keyof typeof VOWELS, number[]]>([
    ['iy', [270, 2290, 3010]],
    ['ih', [390, 1990, 2550]],
    ['eh', [530, 1840, 2480]],
    ['ae', [660, 1720, 2410]],
    ['aa', [730, 1090, 2440]],
    ['ao', [570, 840, 2410]],
    ['uh', [440, 1020, 2240]],
    ['uw', [300, 870, 2240]],
    ['ah', [640, 1190, 2390]],
    ['er', [490, 1350, 1690]],
  ])('%s has its resonances where the table has them', (name, table) => {
    // The pitch sweeps, so that its overtones pass over every frequency.
    const word = sayWord([{ ms: 800, at: VOWELS[name], voice: 1, reach: 0 }], [70, 100, 150]);
    const found = peaks(word, VOICE_RATE);
    for (const hz of table) {
      const near = found.reduce((best, f) => (Math.abs(f - hz) < Math.abs(best - hz) ? f : best));
      expect(Math.abs(near - hz), `${hz} of ${found}`).toBeLessThanOrEqual(Math.max(30, 0.04 * hz));
    }
  });

  it('keep them in a name at the rate of the recording', () => {
    for (const rate of [11025, 44100]) {
      const samples = spoken('E', rate);
      const found = peaks(samples.slice(0.08 * rate, 0.3 * rate), rate);
      // Between overtones of some 100 Hz a peak is not seen nearer than by half of that.
      for (const hz of [270, 2290, 3010]) {
        expect(Math.min(...found.map((f) => Math.abs(f - hz)))).toBeLessThan(70);
      }
    }
  });
});

/** Bands of a sixth to a third of an octave, over 12 slices of the word: what an ear goes by. */
function portrait(samples: Float32Array, rate: number): number[] {
  const loud = 0.02 * peakOf(samples);
  const from = samples.findIndex((sample) => Math.abs(sample) > loud);
  const to = samples.findLastIndex((sample) => Math.abs(sample) > loud);
  const hz = Array.from({ length: 60 }, (_, i) => 150 * 1.065 ** i);
  const size = Math.round(0.03 * rate);
  return Array.from({ length: 24 }, (_, slice) => {
    const middle = from + ((slice + 0.5) / 24) * (to - from);
    const row = powers(samples, rate, Math.max(0, Math.round(middle - size / 2)), size, hz);
    return Array.from({ length: 15 }, (_, band) => {
      const power = row.slice(4 * band, 4 * band + 4).reduce((a, b) => a + b);
      return 10 * Math.log10(power + 1e-4);
    });
  }).flat();
}

function apart(a: readonly number[], b: readonly number[]): number {
  return Math.sqrt(a.reduce((sum, value, i) => sum + (value - b[i]) ** 2, 0) / a.length);
}

describe('each letter and digit', () => {
  const portraits = [...ALL].map((character) => portrait(spoken(character, 16000), 16000));

  it('sounds unlike all the others: by 2 dB over its bands at least', () => {
    let nearest = { pair: '', distance: Number.POSITIVE_INFINITY };
    for (let i = 0; i < ALL.length; i++) {
      for (let k = 0; k < i; k++) {
        const distance = apart(portraits[i], portraits[k]);
        if (distance < nearest.distance) nearest = { pair: ALL[i] + ALL[k], distance };
      }
    }
    expect(nearest.distance, nearest.pair).toBeGreaterThan(2);
  });

  it('is still known from the others at another rate', () => {
    [...ALL].forEach((character, own) => {
      const heard = portrait(spoken(character, 22050), 22050);
      const distances = portraits.map((other) => apart(heard, other));
      expect(ALL[distances.indexOf(Math.min(...distances))]).toBe(ALL[own]);
    });
  });

  it('hisses where it should: S above 3 kHz at its end, C at its begin, E nowhere', () => {
    const rate = 22050;
    const share = (text: string, from: number, to: number) => {
      const samples = spoken(text, rate);
      const hz = Array.from({ length: 60 }, (_, i) => 100 + 100 * i);
      const power = powers(
        samples,
        rate,
        Math.round(from * rate),
        Math.round((to - from) * rate),
        hz,
      );
      const sum = (values: number[]) => values.reduce((a, b) => a + b);
      return sum(power.slice(29)) / sum(power);
    };
    expect(share('S', 0.25, 0.33)).toBeGreaterThan(0.9);
    expect(share('S', 0.08, 0.16)).toBeLessThan(0.1);
    expect(share('C', 0.07, 0.15)).toBeGreaterThan(0.9);
    expect(share('C', 0.3, 0.4)).toBeLessThan(0.1);
    expect(share('E', 0.1, 0.2)).toBeLessThan(0.1);
  });
});

describe('every character that a name can have', () => {
  it('is said at full height, without a constant part, and begins and ends in silence', () => {
    for (const rate of RATES) {
      const characters = rate > 50000 ? 'KS5*' : `${ALL}${SIGNS}`;
      for (const [at, samples] of piecesOf(codesOfText(characters), rate).entries()) {
        const character = characters[at];
        expect(peakOf(samples), `${character} at ${rate}`).toBeCloseTo(1, 5);
        const mean = samples.reduce((sum, sample) => sum + sample, 0) / samples.length;
        expect(Math.abs(mean)).toBeLessThan(0.001);
        expect(Math.abs(samples[0])).toBeLessThan(0.002);
        expect(Math.abs(samples[samples.length - 1])).toBeLessThan(0.002);
      }
    }
  });

  it('is a pause for a space, and a soft tone of 600 Hz where there is no word', () => {
    const [pause, tone, keyword] = piecesOf(Uint8Array.of(0, 6, 66), 16000);
    expect(pause.length).toBe(0.35 * 16000);
    expect(pause.every((sample) => sample === 0)).toBe(true);
    for (const samples of [tone, keyword]) {
      expect(peakOf(samples)).toBeCloseTo(0.5, 2);
      const [below, at, above] = powers(samples, 16000, 0, 4000, [450, 600, 750]);
      expect(at).toBeGreaterThan(1000 * Math.max(below, above));
    }
    const codes = Uint8Array.from({ length: 128 }, (_, code) => code);
    for (const [code, samples] of piecesOf(codes, 8000).entries()) {
      expect(peakOf(samples) > 0, `code ${code}`).toBe(code !== 0);
    }
  });

  it('has nothing above 8 kHz, and nothing folded down at a low rate', () => {
    const rate = 44100;
    const samples = spoken('SXT', rate);
    const band = (from: number) => Array.from({ length: 60 }, (_, i) => from + 60 * i);
    const sum = (sound: Float32Array, soundRate: number, from: number) => {
      let total = 0;
      for (let at = 0; at + 1024 <= sound.length; at += 512) {
        total += powers(sound, soundRate, at, 1024, band(from)).reduce((a, b) => a + b);
      }
      return total;
    };
    const low = sum(samples, rate, 3500);
    expect(sum(samples, rate, 8500) / low).toBeLessThan(1e-5);
    // S hisses at 4.6 and 6.3 kHz: at 8000 samples a second those would come down to 3.4 and 1.7.
    const narrow = spoken('S', 8000);
    const end = narrow.slice(0.25 * 8000, 0.33 * 8000);
    const wide = spoken('S', rate).slice(0.25 * rate, 0.33 * rate);
    const hiss = (sound: Float32Array, soundRate: number) => {
      const vowel = powers(
        spoken('S', soundRate),
        soundRate,
        0.08 * soundRate,
        0.08 * soundRate,
        [550],
      )[0];
      const hz = Array.from({ length: 40 }, (_, i) => 1500 + 10 * i);
      return powers(sound, soundRate, 0, sound.length, hz).reduce((a, b) => a + b) / vowel;
    };
    expect(hiss(end, 8000) / hiss(wide, rate)).toBeLessThan(1.5);
  });
});

describe('a recording with spoken names', () => {
  const programs = [1, 2].map((seed) => ({ name: drawName(seed), image: drawImage(seed, 30) }));

  it('is recovered whole: no fragment, no doubt', () => {
    for (const options of [
      { gap: 0.5, lead: 0, rate: FUZZ ? 44100 : 11025 },
      { rate: 8000 },
      { rate: 16000, level: 0.2 },
    ]) {
      const wav = recordPrograms(programs, { sayName: true, ...options });
      const { programs: found, fragments } = recoverPrograms(wav);
      expect(fragments).toEqual([]);
      expect(
        found.map(({ name, image, doubts, whole }) => ({ name, image, doubts, whole })),
      ).toEqual(programs.map((program) => ({ ...program, doubts: [], whole: true })));
    }
  });

  it('has the size that its plan says, in pieces of 64 KB at most, the same every time', () => {
    for (const bits of [8, 16, 24] as const) {
      const plan = planRecording(programs, { sayName: true, bits, rate: 16000 });
      const [first, second] = [0, 1].map(() => {
        const pieces: Buffer[] = [];
        for (const piece of plan.pieces()) {
          expect(piece.length).toBeLessThanOrEqual(65536);
          pieces.push(Buffer.from(piece));
        }
        return Buffer.concat(pieces);
      });
      expect(first.length).toBe(plan.size);
      expect(first.equals(second)).toBe(true);
      expect(plan.seconds).toBeCloseTo((first.length - 44) / (bits / 8) / 16000, 3);
    }
  });

  it('adds the voice and the five seconds of silence after it, at any speed of the program', () => {
    const rate = 16000;
    for (const speed of [0.5, 1, 2]) {
      const plain = planRecording(programs, { rate, speed, lead: 1, gap: 2 }).seconds;
      const said = planRecording(programs, { rate, speed, lead: 1, gap: 2, sayName: true }).seconds;
      const voices = programs.reduce((sum, { name }) => sum + spokenSamples(name, rate), 0);
      expect(said - plain).toBeCloseTo(voices / rate + 10, 3);
    }
  });

  it('has the voice where it belongs, silence around it, and keeps to its level', () => {
    const rate = 16000;
    const [program] = programs;
    const voice = spoken('K', rate);
    const name = codesOfText('K');
    const wav = (invert: boolean) =>
      soundOf(
        recordProgram({ ...program, name }, { rate, lead: 2, level: 0.3, sayName: true, invert }),
      ).samples;
    const samples = wav(false);
    expect(samples.slice(0, 2 * rate).every((sample) => sample === 0)).toBe(true);
    const said = samples.slice(2 * rate, 2 * rate + voice.length);
    expect(peakOf(said)).toBeCloseTo(0.3, 3);
    said.forEach((sample, i) => {
      if (Math.abs(sample - 0.3 * voice[i]) > 1e-4) expect(sample).toBeCloseTo(0.3 * voice[i], 4);
    });
    const after = samples.slice(2 * rate + voice.length, (2 + 4.9) * rate + voice.length);
    expect(after.every((sample) => sample === 0)).toBe(true);
    const upside = wav(true);
    expect(samples.every((sample, i) => Math.abs(sample + upside[i]) <= 1 / 32768)).toBe(true);
  });

  it('is no different without the voice', () => {
    const [left, plain] = [{}, { sayName: false }].map((options) =>
      Buffer.from(recordPrograms(programs, { rate: 11025, ...options })),
    );
    expect(left.equals(plain)).toBe(true);
  });
});

describe('spoken names alone', () => {
  it('are no program, not even a piece of one', () => {
    for (const [rate, height] of [
      [8000, 0.05],
      [FUZZ ? 22050 : 11025, 1],
    ]) {
      const samples = spoken(`${ALL}${SIGNS}`, rate);
      const wav = wavOf({ rate, samples: samples.map((sample) => height * sample) });
      const { programs, fragments } = recoverPrograms(wav);
      expect(programs).toEqual([]);
      expect(fragments).toEqual([]);
    }
  });
});

describe('property: any name', () => {
  it('has as many samples as announced, stays within full scale, and comes a character at a time', () => {
    const name = fc.uint8Array({ min: 0, max: 127, minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(name, fc.integer({ min: 8000, max: 48000 }), (codes, rate) => {
        const pieces = piecesOf(codes, rate);
        expect(pieces.length).toBe(codes.length);
        const samples = joined(pieces);
        expect(samples.length).toBe(spokenSamples(codes, rate));
        expect(peakOf(samples)).toBeLessThanOrEqual(1);
        expect(samples.every(Number.isFinite)).toBe(true);
        const mean = samples.reduce((sum, sample) => sum + sample, 0) / samples.length;
        expect(Math.abs(mean)).toBeLessThan(0.001);
      }),
      { numRuns: FUZZ ? 3000 : 15, seed: 41 },
    );
  });

  it('before a program leaves the program as it is', () => {
    const draw = fc.record({
      name: fc.uint8Array({ min: 0, max: 63, minLength: 1, maxLength: 6 }),
      rate: fc.integer({ min: 8000, max: 32000 }),
      seed: fc.integer({ min: 1, max: 1000 }),
      gap: fc.constantFrom(0.5, 1.5, 5),
      invert: fc.boolean(),
      shape: fc.constantFrom('square' as const, 'rounded' as const),
    });
    fc.assert(
      fc.property(draw, ({ name, seed, ...options }) => {
        const both = [
          { name, image: drawImage(seed, 30) },
          { name: name.slice().reverse(), image: drawImage(seed + 1, 30) },
        ];
        const plan = planRecording(both, { ...options, lead: 0.5, sayName: true });
        const wav = recordPrograms(both, { ...options, lead: 0.5, sayName: true });
        expect(wav.length).toBe(plan.size);
        const { programs, fragments } = recoverPrograms(wav);
        expect(fragments).toEqual([]);
        expect(programs.map(({ image, doubts }) => ({ image, doubts }))).toEqual(
          both.map(({ image }) => ({ image, doubts: [] })),
        );
        expect(programs.map((program) => program.name)).toEqual(
          both.map((program) => program.name),
        );
      }),
      { numRuns: FUZZ ? 300 : 3, seed: 42 },
    );
  });
});
