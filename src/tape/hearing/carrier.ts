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

/** A wave packet for one fraction of a sample. */
interface Packet {
  /** Samples from the middle at which its first value stands; none of its values at both ends is 0. */
  readonly first: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

export class CarrierFilter {
  private readonly packets: Packet[];
  private readonly reach: number; // samples on each side of the middle
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
    const limit = rate < LIMITED_BELOW ? LIMIT_REACH : 0;
    this.reach = Math.ceil(REACH_SECONDS * rate) + 1 + limit;
    this.stepSize = rate / STEPS_A_SECOND;
    this.packets = Array.from({ length: PHASES + 1 }, (_, phase) =>
      drawPacket(rate, this.reach, phase / PHASES, limit),
    );
    // Before the first sample there is silence.
    this.used = this.reach;
    this.first = -this.reach;
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
    this.push(new Float32Array(this.reach + 1), this.reach + 1);
  }

  /** Where the next step is, in samples. */
  private place(): number {
    return this.begin + this.steps * this.stepSize;
  }

  private shift(): void {
    const keep = Math.floor(this.place()) - this.reach - this.first;
    if (keep <= 0) return;
    this.buffer.copyWithin(0, keep, this.used);
    this.used -= keep;
    this.first += keep;
  }

  private run(): void {
    const { buffer, reach } = this;
    for (;;) {
      const exact = this.place();
      const middle = Math.floor(exact);
      if (middle + reach >= this.first + this.used) return;
      const { first, re, im } = this.packets[Math.round((exact - middle) * PHASES)];
      let sumRe = 0;
      let sumIm = 0;
      let at = middle + first - this.first;
      for (let k = 0; k < re.length; k++, at++) {
        const sample = buffer[at];
        sumRe += re[k] * sample;
        sumIm += im[k] * sample;
      }
      this.steps++;
      this.take(sumRe, sumIm);
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

/** Taps for samples −reach to reach around the middle, which lies `fraction` after sample 0. */
function drawPacket(rate: number, reach: number, fraction: number, limit: number): Packet {
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
  const from = window.findIndex((value) => value !== 0);
  const to = window.findLastIndex((value) => value !== 0) + 1;
  return { first: from - reach, re: re.slice(from, to), im: im.slice(from, to) };
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
