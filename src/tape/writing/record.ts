/**
 * Programs to sound. The signal's facts are in src/machine/tape-signal.ts.
 *
 * Every bit is one of two shapes, so the samples of each are drawn once for each of PHASES places
 * of its first edge between two samples, and then copied. The time of every bit is worked out from
 * the counts of bits before it, so nothing drifts, and an edge is off by 1/(2 PHASES) sample at most.
 */
import {
  BIT_SECONDS,
  FASTEST,
  LEAD_SECONDS,
  PULSE_HIGH_US,
  PULSE_HZ,
  PULSE_LOW_US,
  PULSES_OF_BIT,
  SLOWEST,
} from '../../machine/tape-signal.js';
import { SoundError } from '../sound-error.js';
import { speakName, spokenSamples } from '../voice/spoken-name.js';
import { type TapeProgram, tapeBytes } from './tape-bytes.js';
import { HEADER_SIZE, putSample, type SampleBits, waveHeader } from './wave-header.js';

/** Fewer samples a pulse, or steps of a sample, than these cannot be read back (measured). */
const SAMPLES_A_PULSE = 2.3;
const FEWEST_STEPS = 0.5;

export interface RecordOptions {
  /** Samples a second, 8000 to 192000. */
  readonly rate?: number;
  /** Bits a sample; 16 unless given. */
  readonly bits?: SampleBits;
  /** Height of the signal, above 0 to 1 (full scale); 0.8 unless given. */
  readonly level?: number;
  /** Turns the signal upside down: pulses go down. */
  readonly invert?: boolean;
  /** Seconds of silence before the first program, or before its spoken name; 5 unless given. */
  readonly lead?: number;
  /** Seconds of silence after the last program; 1 unless given. */
  readonly tail?: number;
  /** Seconds of silence between a program and the next, or its spoken name; 5 unless given. */
  readonly gap?: number;
  /** How much faster than the machine's own SAVE, 0.5 to 2; 1 unless given. */
  readonly speed?: number;
  /** Edges as steep as the rate allows, or eased over half a pulse; `square` unless given. */
  readonly shape?: 'square' | 'rounded';
  /**
   * Says each program's name before it, to be found by ear. After the voice comes the silence that
   * the machine's own SAVE sends, whatever `lead` and `gap` are.
   */
  readonly sayName?: boolean;
}

type Settings = Required<RecordOptions>;

/** What a recording is like where nothing else is asked for. */
export const RECORD_DEFAULTS: Readonly<Settings> = {
  rate: 44100,
  bits: 16,
  level: 0.8,
  invert: false,
  lead: LEAD_SECONDS,
  tail: 1,
  gap: LEAD_SECONDS,
  speed: 1,
  shape: 'square',
  sayName: false,
};

/** Places of a bit's start between two samples that are drawn. */
const PHASES = 64;
/** Bytes of samples that are handed on at a time. */
const PIECE_SIZE = 1 << 16;
/** Seconds in which the level glides between silence and the rest level: no click. */
const GLIDE_SECONDS = 0.04;
/** Microseconds over which an edge of the rounded shape is eased. */
const EASED_US = 150;

/** The same of each of the two bits, in microseconds of tape. */
const BIT_US = BIT_SECONDS.map((seconds) => seconds * 1e6);

/** The whole recording of one program as a RIFF/WAVE file. Throws SoundError. */
export function recordProgram(program: TapeProgram, options: RecordOptions = {}): Uint8Array {
  return recordPrograms([program], options);
}

/** The whole recording of several programs, one after the other, as one RIFF/WAVE file. */
export function recordPrograms(
  programs: readonly TapeProgram[],
  options: RecordOptions = {},
): Uint8Array {
  const plan = planRecording(programs, options);
  const file = new Uint8Array(plan.size);
  let at = 0;
  for (const piece of plan.pieces()) {
    file.set(piece, at);
    at += piece.length;
  }
  return file;
}

export interface Recording {
  /** What will keep `recover`, and perhaps the machine, from reading it. */
  readonly notes: readonly string[];
  /** Bytes of the whole file. */
  readonly size: number;
  /** How long it plays. */
  readonly seconds: number;
  /**
   * The bytes of the file in order, some 64 KB at a time. A piece is valid until the next is asked
   * for: the same memory is filled again.
   */
  pieces(): Generator<Uint8Array>;
}

/** Works out a recording and checks it, without making any sound yet. Throws SoundError. */
export function planRecording(
  programs: readonly TapeProgram[],
  options: RecordOptions = {},
): Recording {
  const settings = checkSettings(options);
  if (programs.length === 0) throw new SoundError('there is no program to record');
  const tapes = programs.map(tapeBytes);
  const { rate, bits } = settings;
  let end = Math.max(settings.lead * rate, samplesBefore(settings));
  const takes = tapes.map((bytes, index): Take => {
    if (index > 0) end += settings.gap * rate;
    const voice = settings.sayName ? voiceAt(programs[index].name, end, settings) : undefined;
    const start = voice ? voice.end + LEAD_SECONDS * rate : end;
    end = start + bitSamples(bytes, settings);
    return { bytes, voice, start };
  });
  const samples = Math.ceil(end + settings.tail * rate);
  const header = waveHeader(rate, bits, samples);
  const dataSize = samples * (bits / 8);
  return {
    notes: notesOn(settings),
    size: HEADER_SIZE + dataSize + (dataSize % 2),
    seconds: samples / rate,
    *pieces() {
      yield header;
      yield* drawPieces(takes, end, samples, settings);
      if (dataSize % 2) yield new Uint8Array(1);
    },
  };
}

/** A spoken name in the recording; places are in whole samples. */
interface Voice {
  readonly name: Uint8Array;
  readonly start: number;
  readonly end: number;
}

/** A program in the recording. */
interface Take {
  readonly bytes: Uint8Array;
  readonly voice?: Voice;
  /** Where its first pulse stands, in samples and parts of one. */
  readonly start: number;
}

function voiceAt(name: Uint8Array, at: number, { rate }: Settings): Voice {
  const start = Math.ceil(at);
  return { name, start, end: start + spokenSamples(name, rate) };
}

/** Seconds that the machine takes for a program, from the first pulse: no silence counted. */
export function secondsOnTape(program: TapeProgram, speed = 1): number {
  return bitSamples(tapeBytes(program), { ...RECORD_DEFAULTS, rate: 1, speed });
}

function checkSettings(options: RecordOptions): Settings {
  const given = Object.entries(options).filter(([, value]) => value !== undefined);
  const settings: Settings = { ...RECORD_DEFAULTS, ...Object.fromEntries(given) };
  const within = (what: keyof Settings, low: number, high: number, unit: string) => {
    const value = settings[what] as number;
    if (!(value >= low && value <= high)) {
      throw new SoundError(`${what} is ${value}; it can be ${low} to ${high}${unit}`);
    }
  };
  within('rate', 8000, 192000, ' samples a second');
  within('level', 0.001, 1, ', where 1 is full scale');
  within('lead', 0, 3600, ' seconds');
  within('tail', 0, 3600, ' seconds');
  within('gap', 0.5, 3600, ' seconds');
  within('speed', 0.5, 2, ', where 1 is the machine’s own');
  if (!Number.isInteger(settings.rate)) {
    throw new SoundError(`rate is ${settings.rate}; it must be a whole number`);
  }
  if (![8, 16, 24].includes(settings.bits)) {
    throw new SoundError(`bits is ${settings.bits}; it can be 8, 16 or 24`);
  }
  if (!['square', 'rounded'].includes(settings.shape)) {
    throw new SoundError(`shape is ${settings.shape}; it can be square or rounded`);
  }
  return settings;
}

function notesOn({ rate, bits, level, speed }: Settings): string[] {
  const notes: string[] = [];
  if (speed < SLOWEST || speed > FASTEST) {
    notes.push(
      `recover follows tapes from ${SLOWEST} to ${FASTEST} times the machine’s speed only`,
    );
  }
  if (rate < SAMPLES_A_PULSE * PULSE_HZ * speed) {
    notes.push(`${rate} samples a second are too few for pulses at ${speed} times the speed`);
  }
  if (level * 2 ** (bits - 1) < FEWEST_STEPS) {
    notes.push(`of a level of ${level} samples of ${bits} bits have nothing left`);
  }
  return notes;
}

/** Samples in a microsecond of tape. */
function samplesOfUs(settings: Settings): number {
  return settings.rate / 1e6 / settings.speed;
}

/** How long these bytes are, in samples and parts of one. */
function bitSamples(bytes: Uint8Array, settings: Settings): number {
  let ones = 0;
  for (let byte of bytes) {
    for (; byte > 0; byte &= byte - 1) ones++;
  }
  const zeros = bytes.length * 8 - ones;
  return (zeros * BIT_US[0] + ones * BIT_US[1]) * samplesOfUs(settings);
}

/** The samples of a bit, for one phase: as bytes, in the two lengths that can be needed. */
interface DrawnBit {
  readonly short: Uint8Array;
  readonly long: Uint8Array;
}

/** Samples over which one edge spreads. */
function edgeWidth(settings: Settings): number {
  // One sample at least: each sample is the mean of the signal over its own time, which puts the
  // edge to a fraction of a sample.
  return settings.shape === 'square' ? 1 : Math.max(1, EASED_US * samplesOfUs(settings));
}

/** How much of an edge at 0 has happened at `x` (in samples): 0 before, 1 after. */
function edge(x: number, width: number, shape: Settings['shape']): number {
  const part = Math.min(1, Math.max(0, x / width + 0.5));
  return shape === 'square' ? part : part - Math.sin(2 * Math.PI * part) / (2 * Math.PI);
}

/** Draws one bit whose first edge is `start` samples after the first sample. */
function drawBit(bit: 0 | 1, start: number, settings: Settings): DrawnBit {
  const width = edgeWidth(settings);
  const unit = samplesOfUs(settings);
  const shortLength = Math.floor(BIT_US[bit] * unit);
  const bytes = new Uint8Array((shortLength + 1) * (settings.bits / 8));
  for (let i = 0; i <= shortLength; i++) {
    let high = 0;
    for (let pulse = 0; pulse < PULSES_OF_BIT[bit]; pulse++) {
      const up = start + pulse * (PULSE_HIGH_US + PULSE_LOW_US) * unit;
      high += edge(i - up, width, settings.shape);
      high -= edge(i - up - PULSE_HIGH_US * unit, width, settings.shape);
    }
    putSample(bytes, i, settings.bits, signalLevel(high, settings));
  }
  return { short: bytes.subarray(0, shortLength * (settings.bits / 8)), long: bytes };
}

/** Sample value of a signal that is 0 at rest and 1 in a pulse. */
function signalLevel(high: number, settings: Settings): number {
  const value = settings.level * (2 * high - 1);
  return settings.invert ? -value : value;
}

/** Samples that are drawn before the first edge of a bit, so that the edge has room to rise. */
function samplesBefore(settings: Settings): number {
  return Math.ceil(edgeWidth(settings) / 2) + 1;
}

function* drawPieces(
  takes: readonly Take[],
  end: number,
  samples: number,
  settings: Settings,
): Generator<Uint8Array> {
  const before = samplesBefore(settings);
  const bits = drawBits(settings);
  let done = 0;
  let left = Number.NEGATIVE_INFINITY;
  for (const { bytes, voice, start: first } of takes) {
    const start = first - before;
    if (voice) {
      yield* drawSilence(done, voice.start, left, Number.POSITIVE_INFINITY, settings);
      yield* drawVoice(voice, settings);
      done = voice.end;
      left = Number.NEGATIVE_INFINITY;
    }
    yield* drawSilence(done, Math.floor(start), left, start, settings);
    yield* drawProgram(bytes, start, bits, settings);
    left = start + bitSamples(bytes, settings);
    done = Math.floor(left);
  }
  yield* drawSilence(done, samples, end, Number.POSITIVE_INFINITY, settings);
}

/** The spoken name, as high as the pulses. */
function* drawVoice({ name }: Voice, settings: Settings): Generator<Uint8Array> {
  const { bits, rate } = settings;
  const height = settings.invert ? -settings.level : settings.level;
  const piece = new Uint8Array(PIECE_SIZE);
  const most = Math.floor(PIECE_SIZE / (bits / 8));
  for (const word of speakName(name, rate)) {
    for (let at = 0; at < word.length; at += most) {
      const count = Math.min(most, word.length - at);
      for (let i = 0; i < count; i++) putSample(piece, i, bits, height * word[at + i]);
      yield piece.subarray(0, count * (bits / 8));
    }
  }
}

/** Both bits, for every phase of the first edge. */
function drawBits(settings: Settings): DrawnBit[][] {
  const before = samplesBefore(settings);
  return ([0, 1] as const).map((bit) =>
    Array.from({ length: PHASES + 1 }, (_, phase) =>
      drawBit(bit, before + phase / PHASES, settings),
    ),
  );
}

/** The bits of one program. `start` counts samples and parts of one. */
function* drawProgram(
  tape: Uint8Array,
  start: number,
  drawn: DrawnBit[][],
  settings: Settings,
): Generator<Uint8Array> {
  const frame = settings.bits / 8;
  const unit = samplesOfUs(settings);
  const [zeroLength, oneLength] = [BIT_US[0] * unit, BIT_US[1] * unit];
  const piece = new Uint8Array(PIECE_SIZE);
  const room = PIECE_SIZE - 8 * (Math.ceil(oneLength) + 1) * frame;
  let [zeros, ones, used] = [0, 0, 0];
  let exact = start;
  let at = Math.floor(start);
  for (const byte of tape) {
    for (let mask = 128; mask > 0; mask >>= 1) {
      const bit = byte & mask ? 1 : 0;
      const { short, long } = drawn[bit][Math.round((exact - at) * PHASES)];
      if (bit) ones++;
      else zeros++;
      exact = start + zeros * zeroLength + ones * oneLength;
      const next = Math.floor(exact);
      const samples = (next - at) * frame === long.length ? long : short;
      piece.set(samples, used);
      used += samples.length;
      at = next;
    }
    if (used > room) {
      yield piece.subarray(0, used);
      used = 0;
    }
  }
  yield piece.subarray(0, used);
}

/**
 * Samples `from` to `to` of silence, gliding down from the rest level that was `left` and up to the
 * rest level that is `due` (both in samples): a step there would be heard as a click.
 */
function* drawSilence(
  from: number,
  to: number,
  left: number,
  due: number,
  settings: Settings,
): Generator<Uint8Array> {
  const frame = settings.bits / 8;
  const glide = GLIDE_SECONDS * settings.rate;
  const rest = signalLevel(0, settings);
  const silent = new Uint8Array(PIECE_SIZE - (PIECE_SIZE % frame));
  if (settings.bits === 8) silent.fill(128);
  const perPiece = silent.length / frame;
  for (let at = from; at < to; ) {
    const next = Math.min(to, at + perPiece);
    if (at - left >= glide && due - next >= glide) {
      yield silent.subarray(0, (next - at) * frame);
    } else {
      const piece = new Uint8Array((next - at) * frame);
      for (let i = at; i < next; i++) {
        const near = Math.max(0, 1 - Math.min(i - left, due - i) / glide);
        const part = 0.5 - 0.5 * Math.cos(Math.PI * Math.min(1, near));
        putSample(piece, i - at, settings.bits, rest * part);
      }
      yield piece;
    }
    at = next;
  }
}
