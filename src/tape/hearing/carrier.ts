/**
 * From samples of any rate to the pulses' own strength and phase, STEPS_A_SECOND times a second.
 *
 * Each step is one correlation of the samples with a short wave packet at the pulses' pitch: a band
 * filter (so that hum, a constant offset and most noise drop out), a down-mixer and a change of rate
 * in one. Half a millisecond long, it is shorter than the shortest rest, and wide enough in pitch
 * for tapes that run a third too slow or too fast.
 */
import { PULSE_HZ } from '../../machine/tape-signal.js';

/** Steps a second of the result. */
export const STEPS_A_SECOND = 12000;

/** Half the length of the wave packet, in seconds. */
const REACH_SECONDS = 0.00025;
/** Fractions of a sample for which the packet is worked out. */
const PHASES = 32;
/** Below this rate the packet itself has to be limited to what the samples can hold. */
const LIMITED_BELOW = 22050;
/** Samples on each side over which that limiting spreads. */
const LIMIT_REACH = 16;
/** Samples kept in hand. */
const BUFFER = 1 << 14;

/** Takes one step: the real and imaginary part of the pulses' strength. */
export type TakeStep = (re: number, im: number) => void;

/** Wave packets for samples of one rate, for every fraction of a sample, all of the same length. */
interface Packets {
  readonly rate: number;
  /** Samples on each side of the middle that they look at. */
  readonly reach: number;
  /** Samples from the middle at which the first value stands. */
  readonly first: number;
  readonly re: readonly Float64Array[];
  readonly im: readonly Float64Array[];
}

/** The last that were worked out: a recording is heard at one rate, by several filters. */
let known: Packets | undefined;

export class CarrierFilter {
  private readonly packets: Packets;
  private readonly stepSize: number; // samples a step
  private readonly buffer = new Float32Array(BUFFER);
  private used = 0;
  private first = 0; // number of the first sample in the buffer
  private steps = 0;

  /** @param begin where the first step is, in samples and parts of one from the first sample on */
  constructor(
    rate: number,
    private readonly take: TakeStep,
    private readonly begin = 0,
  ) {
    if (known?.rate !== rate) known = drawPackets(rate);
    this.packets = known;
    this.stepSize = rate / STEPS_A_SECOND;
    // Before the first sample there is silence.
    this.used = known.reach;
    this.first = -known.reach;
  }

  push(samples: Float32Array, count: number): void {
    for (let done = 0; done < count; ) {
      if (this.used === BUFFER) this.shift();
      const part = Math.min(count - done, BUFFER - this.used);
      this.buffer.set(samples.subarray(done, done + part), this.used);
      this.used += part;
      done += part;
      this.run();
    }
  }

  /** The end: gives the last steps, as if silence followed. */
  finish(): void {
    const { reach } = this.packets;
    this.push(new Float32Array(reach + 1), reach + 1);
  }

  /** Where the next step is, in samples. */
  private place(): number {
    return this.begin + this.steps * this.stepSize;
  }

  private shift(): void {
    const keep = Math.floor(this.place()) - this.packets.reach - this.first;
    if (keep <= 0) return;
    this.buffer.copyWithin(0, keep, this.used);
    this.used -= keep;
    this.first += keep;
  }

  private run(): void {
    const { buffer, packets, first, used, begin, stepSize } = this;
    const { reach, re, im } = packets;
    const length = re[0].length;
    const end = first + used - reach;
    // Two steps at once: each sum waits for its own last term, and none for another's. Numbers by
    // themselves, not in pairs: these would be made anew for every step.
    for (;;) {
      const one = begin + this.steps * stepSize;
      if (Math.floor(one) >= end) return;
      const next = begin + (this.steps + 1) * stepSize;
      const isOne = Math.floor(next) >= end;
      const other = isOne ? one : next;
      const phase1 = phaseOf(one);
      const phase2 = phaseOf(other);
      const re1 = re[phase1];
      const im1 = im[phase1];
      const re2 = re[phase2];
      const im2 = im[phase2];
      const begin1 = Math.floor(one) + packets.first - first;
      const begin2 = Math.floor(other) + packets.first - first;
      let sumRe1 = 0;
      let sumIm1 = 0;
      let sumRe2 = 0;
      let sumIm2 = 0;
      for (let k = 0; k < length; k++) {
        const sample1 = buffer[begin1 + k];
        const sample2 = buffer[begin2 + k];
        sumRe1 += re1[k] * sample1;
        sumIm1 += im1[k] * sample1;
        sumRe2 += re2[k] * sample2;
        sumIm2 += im2[k] * sample2;
      }
      this.steps++;
      this.take(sumRe1, sumIm1);
      if (isOne) continue;
      this.steps++;
      this.take(sumRe2, sumIm2);
    }
  }
}

/** The packet's value at `seconds` from its middle: a raised cosine times a turn of the pitch. */
function packetAt(seconds: number): [re: number, im: number, window: number] {
  if (Math.abs(seconds) >= REACH_SECONDS) return [0, 0, 0];
  const window = 0.5 + 0.5 * Math.cos((Math.PI * seconds) / REACH_SECONDS);
  const turn = 2 * Math.PI * PULSE_HZ * seconds;
  return [window * Math.cos(turn), -window * Math.sin(turn), window];
}

/** Which of the PHASES packets fits a place, in samples and parts of one. */
function phaseOf(place: number): number {
  return Math.round((place - Math.floor(place)) * PHASES);
}

function drawPackets(rate: number): Packets {
  const limit = rate < LIMITED_BELOW ? LIMIT_REACH : 0;
  const reach = Math.ceil(REACH_SECONDS * rate) + 1 + limit;
  const all = Array.from({ length: PHASES + 1 }, (_, phase) =>
    drawPacket(rate, reach, phase / PHASES, limit),
  );
  const isUsed = (k: number) => all.some(({ re, im }) => re[k] !== 0 || im[k] !== 0);
  let [from, to] = [0, 2 * reach];
  while (!isUsed(from)) from++;
  while (!isUsed(to)) to--;
  const parts = (rows: Float64Array[]) => rows.map((row) => row.slice(from, to + 1));
  const re = parts(all.map((packet) => packet.re));
  const im = parts(all.map((packet) => packet.im));
  return { rate, reach, first: from - reach, re, im };
}

/** Taps for samples −reach to reach around the middle, which lies `fraction` after sample 0. */
function drawPacket(
  rate: number,
  reach: number,
  fraction: number,
  limit: number,
): { re: Float64Array; im: Float64Array } {
  const length = 2 * reach + 1;
  const re = new Float64Array(length);
  const im = new Float64Array(length);
  const window = new Float64Array(length);
  for (let k = 0; k < length; k++) {
    const at = (k - reach - fraction) / rate;
    [re[k], im[k], window[k]] = limit > 0 ? limitedPacketAt(at, rate, limit) : packetAt(at);
  }
  const sum = (values: Float64Array) => values.reduce((total, value) => total + value, 0);
  const total = sum(window);
  // No answer to a constant, in either part; and an answer of 1 to a tone of height 1.
  const offsetRe = sum(re) / total;
  const offsetIm = sum(im) / total;
  for (let k = 0; k < length; k++) {
    re[k] = (2 * (re[k] - offsetRe * window[k])) / total;
    im[k] = (2 * (im[k] - offsetIm * window[k])) / total;
  }
  return { re, im };
}

/** The packet at `seconds`, freed of every pitch that samples of this rate cannot hold. */
function limitedPacketAt(
  seconds: number,
  rate: number,
  limit: number,
): [re: number, im: number, window: number] {
  const parts = 64;
  let [re, im, window] = [0, 0, 0];
  for (let i = 0; i < parts; i++) {
    const from = REACH_SECONDS * ((2 * (i + 0.5)) / parts - 1);
    const samples = (seconds - from) * rate;
    if (Math.abs(samples) >= limit) continue;
    const sinc = samples === 0 ? 1 : Math.sin(Math.PI * samples) / (Math.PI * samples);
    const weight = sinc * (0.5 + 0.5 * Math.cos((Math.PI * samples) / limit));
    const [partRe, partIm, partWindow] = packetAt(from);
    re += weight * partRe;
    im += weight * partIm;
    window += weight * partWindow;
  }
  return [re, im, window];
}
