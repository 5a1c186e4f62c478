/**
 * Damage to a clean recording, each kind as it is named here, drawn from a seed. Samples are −1 to 1.
 * Common practice; none of it is modelled on one device.
 */
import { drawer } from './images.js';

export interface Sound {
  readonly rate: number;
  readonly samples: Float32Array;
}

/** A damage: sound to sound. */
export type Damage = (sound: Sound, seed: number) => Sound;

/** The samples of a 16-bit mono file made here (44-byte header). */
export function soundOf(wav: Uint8Array): Sound {
  const view = new DataView(wav.buffer, wav.byteOffset, wav.byteLength);
  const rate = view.getUint32(24, true);
  const samples = new Float32Array((wav.length - 44) >> 1);
  for (let i = 0; i < samples.length; i++) samples[i] = view.getInt16(44 + 2 * i, true) / 32768;
  return { rate, samples };
}

/** A 16-bit mono file of these samples; what is beyond full scale is clipped. */
export function wavOf({ rate, samples }: Sound): Uint8Array {
  const wav = new Uint8Array(44 + 2 * samples.length);
  const view = new DataView(wav.buffer);
  const put = (at: number, text: string) => {
    for (let i = 0; i < text.length; i++) wav[at + i] = text.charCodeAt(i);
  };
  put(0, 'RIFF');
  view.setUint32(4, wav.length - 8, true);
  put(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, 2 * rate, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  put(36, 'data');
  view.setUint32(40, 2 * samples.length, true);
  for (let i = 0; i < samples.length; i++) {
    view.setInt16(44 + 2 * i, Math.round(Math.max(-1, Math.min(1, samples[i])) * 32767), true);
  }
  return wav;
}

function mapSamples(sound: Sound, change: (sample: number, index: number) => number): Sound {
  return { rate: sound.rate, samples: sound.samples.map(change) };
}

/** Root mean square of the samples in which the program plays, its constant part left out. */
function strength({ samples }: Sound): number {
  let peak = 0;
  for (const sample of samples) peak = Math.max(peak, Math.abs(sample));
  const loud = samples.filter((sample) => Math.abs(sample) > 0.3 * peak);
  const mean = loud.reduce((total, sample) => total + sample, 0) / loud.length;
  return Math.sqrt(loud.reduce((total, sample) => total + (sample - mean) ** 2, 0) / loud.length);
}

/** Two normal deviates at a time (Box and Muller). */
function normal(draw: () => number): () => number {
  let spare: number | undefined;
  return () => {
    if (spare !== undefined) {
      const value = spare;
      spare = undefined;
      return value;
    }
    const radius = Math.sqrt(-2 * Math.log(1 - draw()));
    const angle = 2 * Math.PI * draw();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
}

/** White noise over the whole band up to half the rate, `db` below the signal. */
export const noise =
  (db: number): Damage =>
  (sound, seed) => {
    const next = normal(drawer(seed + 101));
    const height = strength(sound) * 10 ** (-db / 20);
    return mapSamples(sound, (sample) => sample + height * next());
  };

/** Plays the sound along a changed time: `place(i)` is where output sample i comes from. */
function warp(sound: Sound, length: number, rate: number, place: (i: number) => number): Sound {
  const { samples } = sound;
  const out = new Float32Array(length);
  const reach = 8;
  // Never pass on more than the slower of the two rates can hold.
  const limit = Math.min(1, rate / sound.rate);
  const half = Math.ceil(reach / limit);
  for (let i = 0; i < length; i++) {
    const from = place(i);
    const middle = Math.floor(from);
    let sum = 0;
    for (let k = middle - half + 1; k <= middle + half; k++) {
      if (k < 0 || k >= samples.length) continue;
      const x = (from - k) * limit;
      const sinc = Math.abs(x) < 1e-9 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
      sum += samples[k] * sinc * (0.5 + 0.5 * Math.cos((Math.PI * x) / (reach + 1))) * limit;
    }
    out[i] = sum;
  }
  return { rate, samples: out };
}

/** Plays `percent` faster (slower if below 0). */
export const speed =
  (percent: number): Damage =>
  (sound) => {
    const factor = 1 + percent / 100;
    const length = Math.floor(sound.samples.length / factor);
    return warp(sound, length, sound.rate, (i) => i * factor);
  };

/** Speed swings by `percent` each way, `hz` times a second. */
export const flutter =
  (percent: number, hz: number): Damage =>
  (sound, seed) => {
    const turn = (2 * Math.PI * hz) / sound.rate;
    const start = drawer(seed + 202)() * 2 * Math.PI;
    const swing = percent / 100 / turn;
    const offset = swing * Math.cos(start);
    return warp(
      sound,
      sound.samples.length,
      sound.rate,
      (i) => i - swing * Math.cos(turn * i + start) + offset,
    );
  };

/** Brought to another rate. */
export const resample =
  (rate: number): Damage =>
  (sound) => {
    const ratio = sound.rate / rate;
    return warp(sound, Math.floor(sound.samples.length / ratio), rate, (i) => i * ratio);
  };

/** One second-order section, run over all samples (coefficients after Bristow-Johnson's notes). */
function section(sound: Sound, kind: 'low' | 'high', hz: number, q: number): Sound {
  const turn = (2 * Math.PI * hz) / sound.rate;
  const alpha = Math.sin(turn) / (2 * q);
  const cos = Math.cos(turn);
  const sign = kind === 'low' ? 1 : -1;
  const b = (1 - sign * cos) / 2 / (1 + alpha);
  const [b0, b1, b2] = [b, sign * 2 * b, b];
  const [a1, a2] = [(-2 * cos) / (1 + alpha), (1 - alpha) / (1 + alpha)];
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  return mapSamples(sound, (x) => {
    const y = b0 * x + b1 * x1 + b2 * x2 - a1 * y1 - a2 * y2;
    [x2, x1, y2, y1] = [x1, x, y1, y];
    return y;
  });
}

/** A cassette's band: 80 Hz (second order) up to `hz` (Butterworth, fourth order). */
export const band =
  (hz: number): Damage =>
  (sound) => {
    if (hz >= sound.rate / 2) return section(sound, 'high', 80, Math.SQRT1_2);
    const low = section(section(sound, 'low', hz, 0.5411961), 'low', hz, 1.306563);
    return section(low, 'high', 80, Math.SQRT1_2);
  };

/** Mains hum of 50 Hz with its third and fifth, `db` against the signal. */
export const hum =
  (db: number): Damage =>
  (sound, seed) => {
    const height = strength(sound) * 10 ** (db / 20) * Math.SQRT2;
    const start = drawer(seed + 303)() * 2 * Math.PI;
    return mapSamples(sound, (sample, i) => {
      const turn = (2 * Math.PI * 50 * i) / sound.rate + start;
      return sample + height * (Math.sin(turn) + Math.sin(3 * turn) / 3 + Math.sin(5 * turn) / 5);
    });
  };

/** Louder or softer by `db`, rounded to 16 bits and clipped at full scale. */
export const level =
  (db: number): Damage =>
  (sound) =>
    mapSamples(sound, (sample) => {
      const value = Math.max(-1, Math.min(1, sample * 10 ** (db / 20)));
      return Math.round(value * 32767) / 32767;
    });

/** Upside down. */
export const inversion: Damage = (sound) => mapSamples(sound, (sample) => -sample);

/** A constant added. */
export const offset =
  (height: number): Damage =>
  (sound) =>
    mapSamples(sound, (sample) => sample + height);

/** `count` places where the tape gives nothing for `ms`, edges of half a millisecond. */
export const dropouts =
  (ms: number, count: number): Damage =>
  (sound, seed) => {
    const draw = drawer(seed + 404);
    const samples = sound.samples.slice();
    const length = Math.round((ms / 1000) * sound.rate);
    const ease = 0.0005 * sound.rate;
    const first = samples.findIndex((sample) => Math.abs(sample) > 0.1);
    for (let n = 0; n < count; n++) {
      const from = first + Math.floor(draw() * (samples.length - first - length));
      for (let i = 0; i < length; i++) {
        const depth = Math.min(1, i / ease, (length - 1 - i) / ease);
        samples[from + i] *= 1 - depth;
      }
    }
    return { rate: sound.rate, samples };
  };

/** The sound with nothing from one second to another. */
export function wiped({ rate, samples }: Sound, from: number, to: number): Sound {
  const rest = samples.slice();
  rest.fill(0, Math.round(from * rate), Math.round(to * rate));
  return { rate, samples: rest };
}

/** One damage after the other. */
export const mix =
  (...damages: Damage[]): Damage =>
  (sound, seed) =>
    damages.reduce((result, damage, index) => damage(result, seed + 7919 * index), sound);

/** `count` places where the tape was cut and joined: `ms` of it are gone. */
export const splices =
  (ms: number, count: number): Damage =>
  (sound, seed) => {
    const draw = drawer(seed + 505);
    const length = Math.round((ms / 1000) * sound.rate);
    const first = sound.samples.findIndex((sample) => Math.abs(sample) > 0.1);
    let samples = [...sound.samples];
    for (let n = 0; n < count; n++) {
      const from = first + Math.floor(draw() * (samples.length - first - length));
      samples = [...samples.slice(0, from), ...samples.slice(from + length)];
    }
    return { rate: sound.rate, samples: Float32Array.from(samples) };
  };

/** `count` places where `ms` of the sound come twice, as a player does that stutters. */
export const stutters =
  (ms: number, count: number): Damage =>
  (sound, seed) => {
    const draw = drawer(seed + 606);
    const length = Math.round((ms / 1000) * sound.rate);
    const first = sound.samples.findIndex((sample) => Math.abs(sample) > 0.1);
    let samples = [...sound.samples];
    for (let n = 0; n < count; n++) {
      const at = first + length + Math.floor(draw() * (samples.length - first - length));
      samples = [...samples.slice(0, at), ...samples.slice(at - length, at), ...samples.slice(at)];
    }
    return { rate: sound.rate, samples: Float32Array.from(samples) };
  };

/** `count` crackles: `ms` of noise as loud as the signal on top of it. */
export const crackles =
  (ms: number, count: number): Damage =>
  (sound, seed) => {
    const draw = drawer(seed + 707);
    const samples = sound.samples.slice();
    const length = Math.round((ms / 1000) * sound.rate);
    const height = strength(sound) * 1.5;
    const first = samples.findIndex((sample) => Math.abs(sample) > 0.1);
    for (let n = 0; n < count; n++) {
      const from = first + Math.floor(draw() * (samples.length - first - length));
      for (let i = 0; i < length; i++) samples[from + i] += height * (2 * draw() - 1);
    }
    return { rate: sound.rate, samples };
  };

/** `count` places where the tape is `db` softer for `ms`. */
export const fades =
  (db: number, ms: number, count: number): Damage =>
  (sound, seed) => {
    const draw = drawer(seed + 808);
    const samples = sound.samples.slice();
    const length = Math.round((ms / 1000) * sound.rate);
    const first = samples.findIndex((sample) => Math.abs(sample) > 0.1);
    for (let n = 0; n < count; n++) {
      const from = first + Math.floor(draw() * (samples.length - first - length));
      for (let i = 0; i < length; i++) {
        const depth = Math.sin((Math.PI * i) / length);
        samples[from + i] *= 10 ** ((-db / 20) * depth);
      }
    }
    return { rate: sound.rate, samples };
  };
