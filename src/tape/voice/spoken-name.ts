/**
 * The name of a program, spoken before it as people spoke it onto a cassette: to find it by ear.
 * Letters are spelled, digits and signs said, a space is a pause; a graphic or a keyword, which has
 * no short name, is a soft tone. The voice does not play faster with --speed.
 */
import { type Utterance, utteranceOf } from './speech-sounds.js';
import { type Melody, sayWord, VOICE_RATE, wordMs } from './voice.js';

/** Milliseconds between two characters, of a space, and of the tone. */
const BETWEEN_MS = 70;
const PAUSE_MS = 350;
const TONE_MS = 250;
const TONE_HZ = 600;
const TONE_EASE_MS = 30;

/** The voice stays level from character to character, and falls on the last. */
const GOING_ON: Melody = [116, 122, 106];
const ENDING: Melody = [114, 112, 82];

/** Nothing is said above this many Hz, nor above this part of the rate. */
const TOP_HZ = 7500;
const TOP_PART = 0.45;
/** Zero crossings on each side of the curve that brings the voice to the rate. */
const CROSSINGS = 16;
/** Places between two samples of the voice for which that curve is worked out. */
const PLACES = 1024;

/** How many samples the spoken name has. */
export function spokenSamples(name: Uint8Array, rate: number): number {
  return sampleAt(spokenMs(name), rate);
}

function spokenMs(name: Uint8Array): number {
  return name.reduce((sum, code) => sum + utteranceMs(utteranceOf(code)), 0);
}

function utteranceMs(utterance: Utterance): number {
  if (utterance === 'pause') return PAUSE_MS;
  return BETWEEN_MS + (utterance === 'tone' ? TONE_MS : wordMs(utterance));
}

function sampleAt(ms: number, rate: number): number {
  return Math.round((ms * rate) / 1000);
}

/**
 * The spoken name, a character at a time: samples of −1 to 1, each word at its full height. A piece
 * is valid until the next is asked for: the same memory is filled again.
 * @param rate samples a second, 8000 or more
 */
export function* speakName(name: Uint8Array, rate: number): Generator<Float32Array> {
  const curve = curveTo(rate);
  let memory = new Float32Array(0);
  let begin = 0;
  for (let i = 0; i < name.length; i++) {
    const utterance = utteranceOf(name[i]);
    const end = begin + utteranceMs(utterance);
    const first = sampleAt(begin, rate);
    const count = sampleAt(end, rate) - first;
    if (memory.length < count) memory = new Float32Array(count);
    const samples = memory.subarray(0, count).fill(0);
    if (utterance === 'tone') drawTone(samples, rate);
    else if (utterance !== 'pause') {
      const word = sayWord(utterance, i === name.length - 1 ? ENDING : GOING_ON);
      curve(word, first / rate - begin / 1000, samples);
      toFullHeight(samples);
    }
    yield samples;
    begin = end;
  }
}

function drawTone(samples: Float32Array, rate: number): void {
  for (let i = 0; i < samples.length; i++) {
    const ms = (1000 * i) / rate;
    const near = Math.min(1, Math.max(0, Math.min(ms, TONE_MS - ms) / TONE_EASE_MS));
    const height = 0.25 * (1 - Math.cos(Math.PI * near));
    samples[i] = height * Math.sin((2 * Math.PI * TONE_HZ * i) / rate);
  }
}

function toFullHeight(samples: Float32Array): void {
  let peak = 0;
  for (const sample of samples) peak = Math.max(peak, Math.abs(sample));
  for (let i = 0; i < samples.length; i++) samples[i] /= peak;
}

/**
 * Brings a word to `rate`, with nothing above what that rate can hold: each sample is a sum of the
 * word's own samples around its time, weighed by a sinc curve under a cosine window.
 */
function curveTo(rate: number) {
  const perSample = (2 * Math.min(TOP_HZ, TOP_PART * rate)) / VOICE_RATE;
  const reach = Math.floor(CROSSINGS / perSample);
  const rowAt = (place: number): Float64Array =>
    Float64Array.from({ length: 2 * reach }, (_, i) => {
      const x = Math.abs(i - reach + 1 - place / PLACES) * perSample;
      const sinc = x < 1e-9 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
      const window = 0.5 + 0.5 * Math.cos((Math.PI * Math.min(x, CROSSINGS)) / CROSSINGS);
      return perSample * sinc * window;
    });
  // Made when first asked for: most rates meet few of the places.
  const rows: Float64Array[] = [];
  /** @param start the time of the first sample asked for, in seconds of the word */
  return (word: Float32Array, start: number, samples: Float32Array): void => {
    for (let i = 0; i < samples.length; i++) {
      const time = (start + i / rate) * VOICE_RATE;
      const whole = Math.floor(time);
      const place = Math.round((time - whole) * PLACES);
      rows[place] ??= rowAt(place);
      const row = rows[place];
      const first = whole - reach + 1;
      const to = Math.min(row.length, word.length - first);
      let sum = 0;
      for (let k = Math.max(0, -first); k < to; k++) sum += word[first + k] * row[k];
      samples[i] = sum;
    }
  };
}
