/** Sounds that are no program: what stands on a tape between programs. Drawn from a seed. */
import type { Sound } from './damage.js';
import { drawer } from './images.js';

/** One resonance, a second-order section (coefficients after Klatt's cascade, from memory). */
function resonator(hz: number, width: number, rate: number): (x: number) => number {
  const c = -Math.exp((-2 * Math.PI * width) / rate);
  const b = 2 * Math.exp((-Math.PI * width) / rate) * Math.cos((2 * Math.PI * hz) / rate);
  const a = 1 - b - c;
  let [y1, y2] = [0, 0];
  return (x) => {
    const y = a * x + b * y1 + c * y2;
    y2 = y1;
    y1 = y;
    return y;
  };
}

/** Syllables of voiced and hissed sounds with moving resonances, pauses between. */
export function speechLike(seconds: number, seed: number, rate = 22050): Sound {
  const draw = drawer(seed + 1);
  const samples = new Float32Array(Math.round(seconds * rate));
  let at = 0;
  while (at < samples.length) {
    const length = Math.round((0.05 + 0.25 * draw()) * rate);
    const hissed = draw() < 0.35;
    const pitch = 80 + 160 * draw();
    const voices = hissed
      ? [resonator(2500 + 3500 * draw(), 800, rate)]
      : [270 + 500 * draw(), 900 + 1400 * draw(), 2400 + 1400 * draw()].map((hz) =>
          resonator(hz, 60 + 90 * draw(), rate),
        );
    let turn = 0;
    for (let i = 0; i < length && at < samples.length; i++, at++) {
      turn += pitch / rate;
      let source = hissed ? 2 * draw() - 1 : 0;
      if (turn >= 1) {
        turn -= 1;
        if (!hissed) source = 1;
      }
      const swell = Math.sin((Math.PI * i) / length);
      samples[at] = swell * voices.reduce((sum, voice) => sum + voice(source), 0);
    }
    if (draw() < 0.2) at += Math.round(draw() * 0.4 * rate);
  }
  return { rate, samples: toFullScale(samples) };
}

/** Chords and runs of notes, steady and plucked, up to 5 kHz: among them the pulses' own pitch. */
export function musicLike(seconds: number, seed: number, rate = 22050): Sound {
  const draw = drawer(seed + 2);
  const samples = new Float32Array(Math.round(seconds * rate));
  for (let at = 0; at < samples.length; ) {
    const length = Math.round((0.03 + 0.5 * draw() ** 2) * rate);
    const notes = 1 + Math.floor(3 * draw());
    for (let note = 0; note < notes; note++) {
      const hz = 110 * 2 ** (Math.floor(67 * draw()) / 12);
      const plucked = draw() < 0.6 ? 3 + 20 * draw() : 0;
      const tremolo = draw() < 0.3 ? 50 + 350 * draw() : 0;
      for (let i = 0; i < 2 * length && at + i < samples.length; i++) {
        const time = i / rate;
        const swell = Math.min(1, time / 0.005) * Math.exp(-plucked * time);
        const shake = tremolo > 0 ? 0.5 + 0.5 * Math.sin(2 * Math.PI * tremolo * time) : 1;
        samples[at + i] += swell * shake * Math.sin(2 * Math.PI * hz * time);
      }
    }
    at += length;
  }
  return { rate, samples: toFullScale(samples) };
}

function toFullScale(samples: Float32Array): Float32Array {
  let peak = 1e-9;
  for (const sample of samples) peak = Math.max(peak, Math.abs(sample));
  return samples.map((sample) => (0.9 * sample) / peak);
}
