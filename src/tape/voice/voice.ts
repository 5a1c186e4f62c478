/**
 * A small voice: pulses of the glottis and noise, through resonances of second order that move.
 * The resonances stand one behind the other, as in D. Klatt, Software for a Cascade/Parallel
 * Formant Synthesizer (1980), from memory; the flow of a pulse after A. Rosenberg, Effect of Glottal
 * Pulse Shape on the Quality of Natural Vowels (1971), from memory. The rest is set by measuring.
 */
import type { Hiss, Part, Resonances } from './speech-sounds.js';

/** Samples a second of the voice itself: all that it says lies well below half of that. */
export const VOICE_RATE = 24000;
/** Samples between two settings of the mouth: a millisecond. */
const STEP = VOICE_RATE / 1000;
/** Silence in ms before a word, and after it so that all resonances have died away. */
export const MARGIN_MS = 30;

const VOWEL_WIDTHS: Resonances = [60, 90, 140];
/** Resonances above the third, which do not move: Hz and width. */
const UPPER: readonly (readonly [number, number])[] = [
  [3400, 220],
  [4200, 300],
  [5300, 500],
  [6400, 700],
];
/** The nose: its resonance, and where its anti-resonance stands closed (the same) and open. */
const NOSE_HZ = 270;
const NOSE_OPEN_HZ = 450;
const NOSE_WIDTH = 100;
/** Above this the voice falls off: Hz, free and muffled. */
const FREE_HZ = 6000;
const MUFFLED_HZ = 180;
/** What brings a vowel, and breath through its mouth, to the level of a hiss. */
const VOICE_GAIN = 10;
const BREATH_GAIN = 0.5;
/** Part of a period in which the glottis is open, and in which it opens. */
const OPEN_PART = 0.62;
const OPENING_PART = 0.42;
/** Milliseconds in which a word's voice rises and falls at its ends, and between two parts. */
const RISE_MS = 70;
const FALL_MS = 110;
const CHANGE_MS = 12;

/** How the pitch of a word goes, in Hz: at its begin, a third of it on, at its end. */
export type Melody = readonly [number, number, number];

/** How long a word is with its margins, in ms. */
export function wordMs(parts: readonly Part[]): number {
  return parts.reduce((sum, part) => sum + part.ms, 2 * MARGIN_MS);
}

/** A word as samples at VOICE_RATE, not scaled. The same parts always give the same samples. */
export function sayWord(parts: readonly Part[], melody: Melody): Float32Array {
  const samples = new Float32Array(wordMs(parts) * STEP);
  const noise = noiseFrom(0x1234567);
  sayThroughMouth(samples, parts, melody, noise);
  let at = MARGIN_MS;
  for (const part of parts) {
    for (const hiss of part.hiss ?? []) addHiss(samples, at, part, hiss, noise);
    at += part.ms;
  }
  return samples;
}

/** Numbers from −1 to 1, the same every time (xorshift, G. Marsaglia 2003). */
function noiseFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state / 0x80000000;
  };
}

/** From 0 at 0 to 1 at 1 with a soft begin and end. */
function ease(x: number): number {
  const part = Math.min(1, Math.max(0, x));
  return part * part * (3 - 2 * part);
}

/** One quantity of the mouth over a word: a value for each millisecond. */
type Course = Float32Array;

/**
 * Draws a quantity over the word: the parts' own values, then an even change from each part to the
 * next, which begins `into(next)` ms before the border and ends `into(last)` ms after it.
 */
function courseOf(
  parts: readonly Part[],
  value: (part: Part, done: number) => number,
  into: (part: Part) => number,
): Course {
  const course = new Float32Array(parts.reduce((sum, part) => sum + part.ms, 0) + 1);
  let at = 0;
  for (const part of parts) {
    for (let ms = 0; ms <= part.ms; ms++) course[at + ms] = value(part, ms / part.ms);
    at += part.ms;
  }
  at = 0;
  for (let i = 1; i < parts.length; i++) {
    const [left, right] = [parts[i - 1], parts[i]];
    at += left.ms;
    const from = at - Math.round(Math.min(into(right), left.ms * 0.5));
    const to = at + Math.round(Math.min(into(left), right.ms * 0.5));
    const begin = from === at ? value(left, 1) : course[from];
    const end = course[to];
    for (let ms = from; ms < to; ms++) {
      course[ms] = begin + (end - begin) * ease((ms - from) / (to - from));
    }
  }
  return course;
}

/** Where a part that moves is: it rests at both ends. */
function place(part: Part, k: number, done: number): number {
  const { at, to } = part;
  return to ? at[k] + (to[k] - at[k]) * ease((done - 0.2) / 0.65) : at[k];
}

interface Mouth {
  readonly resonances: readonly Course[];
  readonly widths: readonly Course[];
  readonly voice: Course;
  readonly breath: Course;
  readonly muffled: Course;
  readonly nose: Course;
}

function mouthOf(parts: readonly Part[]): Mouth {
  const reach = (part: Part) => part.reach;
  const soon = () => CHANGE_MS / 2;
  const plain = (what: 'voice' | 'breath' | 'muffled' | 'nose') =>
    courseOf(parts, (part) => part[what] ?? 0, soon);
  const voice = plain('voice');
  const last = voice.length - 1;
  for (let ms = 0; ms <= last; ms++) voice[ms] *= ease(ms / RISE_MS) * ease((last - ms) / FALL_MS);
  return {
    resonances: [0, 1, 2].map((k) => courseOf(parts, (part, done) => place(part, k, done), reach)),
    widths: [0, 1, 2].map((k) => courseOf(parts, (part) => (part.widths ?? VOWEL_WIDTHS)[k], soon)),
    voice,
    breath: plain('breath'),
    muffled: plain('muffled'),
    nose: plain('nose'),
  };
}

/** A resonance of second order with gain 1 at 0 Hz, or its inverse. */
class Resonance {
  private a = 1;
  private b = 0;
  private c = 0;
  private last = 0;
  private before = 0;

  set(hz: number, width: number): void {
    const radius = Math.exp((-Math.PI * width) / VOICE_RATE);
    this.c = -radius * radius;
    this.b = 2 * radius * Math.cos((2 * Math.PI * hz) / VOICE_RATE);
    this.a = 1 - this.b - this.c;
  }

  pass(x: number): number {
    const y = this.a * x + this.b * this.last + this.c * this.before;
    this.before = this.last;
    this.last = y;
    return y;
  }

  /** Takes out what `pass` would put in. */
  absorb(x: number): number {
    const y = (x - this.b * this.last - this.c * this.before) / this.a;
    this.before = this.last;
    this.last = x;
    return y;
  }
}

/** The air that has flowed by a place in the period, 0 to 1: it opens slowly and closes fast. */
function flow(turn: number): number {
  if (turn >= OPEN_PART) return 0;
  if (turn < OPENING_PART) return ease(turn / OPENING_PART);
  const closing = (turn - OPENING_PART) / (OPEN_PART - OPENING_PART);
  return 1 - closing * closing;
}

/** The pitch at a part of the word, with the slow unsteadiness of a living voice. */
function pitch(melody: Melody, done: number, ms: number): number {
  const third = 1 / 3;
  const [begin, top, end] = melody;
  const hz =
    done < third
      ? begin + (top - begin) * ease(done / third)
      : top + (end - top) * ease((done - third) / (1 - third));
  return hz * (1 + 0.006 * Math.sin(ms * 0.0798) + 0.004 * Math.sin(ms * 0.0446 + 1));
}

/** Everything that goes through the mouth: voice and breath. */
function sayThroughMouth(
  samples: Float32Array,
  parts: readonly Part[],
  melody: Melody,
  noise: () => number,
): void {
  const mouth = mouthOf(parts);
  const length = mouth.voice.length - 1;
  const moving = [0, 1, 2].map(() => new Resonance());
  const upper = UPPER.map(() => new Resonance());
  upper.forEach((resonance, i) => {
    resonance.set(...UPPER[i]);
  });
  const [nose, anti] = [new Resonance(), new Resonance()];
  nose.set(NOSE_HZ, NOSE_WIDTH);
  const all = [...moving, ...upper];
  let [turn, flowed, soft, softer, breathed] = [0, 0, 0, 0, 0];
  for (let i = MARGIN_MS * STEP; i < samples.length; i++) {
    const ms = Math.min(length, i / STEP - MARGIN_MS);
    const now = Math.floor(ms);
    if (i % STEP === 0) {
      moving.forEach((resonance, k) => {
        resonance.set(mouth.resonances[k][now], mouth.widths[k][now]);
      });
      anti.set(NOSE_HZ + (NOSE_OPEN_HZ - NOSE_HZ) * mouth.nose[now], NOSE_WIDTH);
    }
    const next = Math.min(length, now + 1);
    const between = (course: Course) => course[now] + (course[next] - course[now]) * (ms - now);
    turn += pitch(melody, ms / length, ms) / VOICE_RATE;
    if (turn >= 1) turn -= 1;
    const air = flow(turn);
    // The difference of the flow is what leaves the lips, and has no part at 0 Hz.
    const pulse = (air - flowed) * between(mouth.voice);
    flowed = air;
    const ease = 1 - Math.exp((-2 * Math.PI * cutoff(mouth.muffled[now])) / VOICE_RATE);
    soft += ease * (pulse - soft);
    softer += mouth.muffled[now] > 0 ? ease * (soft - softer) : soft - softer;
    const breath = noise() * between(mouth.breath);
    let x = VOICE_GAIN * softer + BREATH_GAIN * (breath - breathed);
    breathed = breath;
    x = nose.pass(anti.absorb(x));
    for (const resonance of all) x = resonance.pass(x);
    samples[i] = x;
  }
}

function cutoff(muffled: number): number {
  return FREE_HZ * (MUFFLED_HZ / FREE_HZ) ** muffled;
}

/** Adds the noise of one narrow place, from `fromMs` on. */
function addHiss(
  samples: Float32Array,
  fromMs: number,
  part: Part,
  hiss: Hiss,
  noise: () => number,
): void {
  const turn = (2 * Math.PI * hiss.hz) / VOICE_RATE;
  const alpha = (Math.sin(turn) * hiss.width) / (2 * hiss.hz);
  const cos = Math.cos(turn);
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  const ease0 = part.burst ? 1 : Math.min(25, part.ms / 3);
  const tail = 20;
  const from = Math.round((fromMs - ease0 / 2) * STEP);
  const to = Math.min(samples.length, (fromMs + part.ms + tail) * STEP);
  for (let i = from; i < to; i++) {
    const ms = i / STEP - fromMs;
    const height = part.burst
      ? ease(ms + 0.5) * Math.exp((-3 * Math.max(0, ms)) / part.ms)
      : ease(ms / ease0 + 0.5) * ease((part.ms - ms) / ease0 + 0.5);
    const x = noise() * height;
    const y = (alpha * (x - x2) + 2 * cos * y1 - (1 - alpha) * y2) / (1 + alpha);
    [x2, x1, y2, y1] = [x1, x, y1, y];
    samples[i] += hiss.level * y;
  }
}
