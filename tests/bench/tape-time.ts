/**
 * How long reading takes against how long the recording plays, for inputs that give a reader the most to
 * do. Prints the worst twenty; exit status 1 if one takes more than a fifth. SECONDS=240 makes them longer.
 */
import { BIT_SECONDS, PULSES_OF_BIT } from '../../src/machine/tape-signal.js';
import { Recoverer } from '../../src/tape/recover.js';
import { recordProgram } from '../../src/tape/writing/record.js';
import { tapeBytes } from '../../src/tape/writing/tape-bytes.js';
import {
  crackles,
  dropouts,
  fades,
  flutter,
  mix,
  noise,
  type Sound,
  soundOf,
  speed,
  splices,
  stutters,
  wavOf,
} from '../tape/damage.js';
import { drawer, drawImage, drawName } from '../tape/images.js';
import { musicLike, speechLike } from '../tape/other-sounds.js';

const RATE = 22050;
const SECONDS = Number(process.env.SECONDS ?? 60);
const SHOWN = 20;
const GOAL = 0.2;

const program = (seed: number, size: number) => ({
  name: drawName(seed),
  image: drawImage(seed, size),
});
/** A program that plays about as long as is asked for. */
const long = (seed: number) => program(seed, Math.round(SECONDS * 40) - 250);
const clean = soundOf(recordProgram(long(1), { rate: RATE, lead: 0.5, tail: 0.5 }));

/** Sound of these bits, with gaps (in seconds) that are drawn for some of them. */
function soundOfBits(bits: Iterable<0 | 1>, gap: () => number): Sound {
  const samples = new Float32Array(SECONDS * RATE);
  let at = RATE / 2;
  for (const bit of bits) {
    for (let pulse = 0; pulse < PULSES_OF_BIT[bit]; pulse++) {
      const from = Math.round(at + pulse * 0.0003 * RATE);
      samples.fill(0.7, from, from + Math.round(0.00015 * RATE));
    }
    at += (BIT_SECONDS[bit] + gap()) * RATE;
    if (at > samples.length - RATE / 2) break;
  }
  return { rate: RATE, samples };
}

function* drawnBits(seed: number): Generator<0 | 1> {
  const draw = drawer(seed);
  for (;;) yield draw() < 0.5 ? 0 : 1;
}

/** The first bytes of a program, again and again. */
function* heads(bytes: number, seed: number): Generator<0 | 1> {
  for (let n = seed; ; n++) {
    for (const byte of tapeBytes(program(n, 400)).subarray(0, bytes)) {
      for (let i = 7; i >= 0; i--) yield (byte >> i) & 1 ? 1 : 0;
    }
  }
}

/** Pulses of drawn heights at drawn times, `rate` of them a second. */
function drawnPulses(seed: number, rate: number): Sound {
  const draw = drawer(seed);
  const samples = new Float32Array(SECONDS * RATE);
  for (let at = 0; at < samples.length; at += (2 * draw() * RATE) / rate) {
    samples.fill(draw(), Math.round(at), Math.round(at) + 3);
  }
  return { rate: RATE, samples };
}

function silence(): Sound {
  return { rate: RATE, samples: new Float32Array(SECONDS * RATE) };
}

const never = () => 0;
const sometimes = (seed: number, part: number, seconds: number) => {
  const draw = drawer(seed);
  return () => (draw() < part ? seconds * (0.5 + draw()) : 0);
};
const minutes = SECONDS / 60;

/** Two sounds at once, as the channels of one file. */
function stereo(left: Sound, right: Sound): Uint8Array {
  const length = Math.min(left.samples.length, right.samples.length);
  const samples = new Float32Array(2 * length);
  for (let i = 0; i < length; i++) {
    samples[2 * i] = left.samples[i];
    samples[2 * i + 1] = right.samples[i];
  }
  const wav = wavOf({ rate: RATE, samples });
  const view = new DataView(wav.buffer);
  view.setUint16(22, 2, true);
  view.setUint32(28, RATE * 4, true);
  view.setUint16(32, 4, true);
  return wav;
}

const holes = (ms: number, count: number, seed = 1) =>
  dropouts(ms, Math.round(count * minutes))(clean, seed);

/** The same, a program's first time: what runs first is slow until it is compiled. */
new Recoverer().push(wavOf(clean));

const INPUTS: [string, () => Sound | Uint8Array][] = [
  ['a good recording', () => clean],
  ['white noise', () => noise(0)({ rate: RATE, samples: silence().samples.fill(0.3) }, 1)],
  ['a good recording in noise of 3 dB', () => noise(3)(clean, 1)],
  ['a good recording in noise of 0 dB', () => noise(0)(clean, 1)],
  ['music', () => musicLike(SECONDS, 1)],
  ['speech', () => speechLike(SECONDS, 1)],
  ...[300, 1000, 3000].map((rate): [string, () => Sound] => [
    `${rate} drawn pulses a second`,
    () => drawnPulses(1, rate),
  ]),
  ['drawn bits', () => soundOfBits(drawnBits(1), never)],
  [
    'drawn bits, each fifth with a gap of 10 ms',
    () => soundOfBits(drawnBits(2), sometimes(1, 0.2, 0.01)),
  ],
  [
    'drawn bits, each tenth with a gap of 3 ms',
    () => soundOfBits(drawnBits(5), sometimes(5, 0.1, 0.003)),
  ],
  ['drawn bits in bursts of 200', () => soundOfBits(drawnBits(3), sometimes(2, 0.005, 0.5))],
  ['drawn bits in bursts of 1000', () => soundOfBits(drawnBits(3), sometimes(2, 0.001, 0.5))],
  ['drawn bits in noise of 6 dB', () => noise(6)(soundOfBits(drawnBits(4), never), 1)],
  ...[40, 125, 200].flatMap((bytes): [string, () => Sound][] => [
    [`the first ${bytes} bytes of programs`, () => soundOfBits(heads(bytes, 1), never)],
    [
      `the same ${bytes} with gaps of 10 ms`,
      () => soundOfBits(heads(bytes, 1), sometimes(3, 0.01, 0.01)),
    ],
    [
      `the same ${bytes} with holes`,
      () => dropouts(5, Math.round(100 * minutes))(soundOfBits(heads(bytes, 1), never), 1),
    ],
  ]),
  ...[20, 60, 300, 1000].flatMap((count): [string, () => Sound][] => [
    [`${count} holes of 2 ms a minute`, () => holes(2, count)],
    [`${count} holes of 5 ms a minute`, () => holes(5, count)],
    [`${count} holes of 20 ms a minute`, () => holes(20, count)],
  ]),
  ['3000 holes of 1 ms a minute', () => holes(1, 3000)],
  ['60 cuts of 1 ms a minute', () => splices(1, Math.round(60 * minutes))(clean, 1)],
  ['60 stutters of 2 ms a minute', () => stutters(2, Math.round(60 * minutes))(clean, 1)],
  ['100 crackles of 10 ms a minute', () => crackles(10, Math.round(100 * minutes))(clean, 1)],
  ['100 fades of 30 dB a minute', () => fades(30, 50, Math.round(100 * minutes))(clean, 1)],
  [
    'holes at +20 % and with flutter',
    () => mix(dropouts(5, Math.round(60 * minutes)), speed(20), flutter(3, 5))(clean, 1),
  ],
  [
    'programs of 1K in a row, holes of 5 ms',
    () => dropouts(5, Math.round(100 * minutes))(soundOfBits(heads(2000, 1), never), 1),
  ],
  [
    'a recording without its beginning',
    () => ({ rate: RATE, samples: clean.samples.subarray(4 * RATE) }),
  ],
  [
    'and with 60 holes a minute',
    () => ({ rate: RATE, samples: holes(5, 60).samples.subarray(4 * RATE) }),
  ],
  [
    'a recording without its end, 60 holes',
    () => ({ rate: RATE, samples: holes(5, 60).samples.subarray(0, -5 * RATE) }),
  ],
  ['two channels, holes in each', () => stereo(holes(5, 60, 1), holes(5, 60, 2))],
  [
    'two channels, another program on each',
    () => stereo(clean, soundOf(recordProgram(long(2), { rate: RATE, lead: 0.5 }))),
  ],
];

function seconds(wav: Uint8Array): { ratio: number; megabytes: number; note: string } {
  const before = process.cpuUsage();
  const recoverer = new Recoverer();
  let most = 0;
  for (let at = 0; at < wav.length; at += 1 << 16) {
    recoverer.push(wav.subarray(at, at + (1 << 16)));
    most = Math.max(most, process.memoryUsage.rss() / 1e6);
  }
  const recovery = recoverer.finish();
  const { user, system } = process.cpuUsage(before);
  const undone = recovery.notes.some((note) => note.startsWith('too much is unclear'));
  const found = `${recovery.programs.length} programs${undone ? ', some left undone and told' : ''}`;
  return { ratio: (user + system) / 1e6 / recovery.seconds, megabytes: most, note: found };
}

const results = INPUTS.map(([what, make]) => {
  const sound = make();
  const wav = sound instanceof Uint8Array ? sound : wavOf(sound);
  return { what, ...seconds(wav) };
}).sort((a, b) => b.ratio - a.ratio);

console.log(
  `Processor seconds for each second that plays, ${INPUTS.length} inputs of ${SECONDS} s; the worst ${SHOWN}`,
);
for (const { what, ratio, megabytes, note } of results.slice(0, SHOWN)) {
  console.log(
    `${what.padEnd(46)} ${ratio.toFixed(3)}  ${megabytes.toFixed(0).padStart(4)} MB  ${note}`,
  );
}
const good = results.find(({ what }) => what === 'a good recording')!;
console.log(`a good recording: ${(1 / good.ratio).toFixed(0)} times real time`);
if (results[0].ratio > GOAL) process.exitCode = 1;
