/** The rows of the damage table: what is done to clean recordings, and what is hoped for. */

import { recoverPrograms } from '../../src/tape/recover.js';
import { recordProgram } from '../../src/tape/writing/record.js';
import {
  band,
  crackles,
  type Damage,
  dropouts,
  fades,
  flutter,
  hum,
  inversion,
  level,
  mix,
  noise,
  offset,
  resample,
  soundOf,
  speed,
  splices,
  stutters,
  wavOf,
} from '../tape/damage.js';
import { drawImage, drawName } from '../tape/images.js';
import { type Verdict, verdictOn } from '../tape/verdict.js';
import { isAllowed } from './tape-allowed.js';

export interface Row {
  readonly kind: string;
  readonly what: string;
  readonly damage: Damage;
  /** Every program is to come out whole. */
  readonly wholeWanted: boolean;
  /** Samples a second of the clean recording; noise and all else fill the band up to half of it. */
  readonly rate: number;
  /** What it leaves of the sound, if that is known: all that tells the bits, or all but the samples that are gone. */
  readonly leaves?: 'all' | 'part';
}

const RATE = 22050;

function row(kind: string, what: string, damage: Damage, wholeWanted = true, rate = RATE): Row {
  return { kind, what, damage, wholeWanted, rate };
}

function leaving(leaves: 'all' | 'part', rows: Row[]): Row[] {
  return rows.map((one) => ({ ...one, leaves }));
}

const plain: Row[] = [
  ...[30, 24, 18, 15, 12].map((db) => row('noise', `white, ${db} dB`, noise(db))),
  ...[9, 6].map((db) => row('noise', `white, ${db} dB`, noise(db), false)),
  ...[-25, -20, -15, -10, -5, 5, 10, 15, 20, 25].map((percent) =>
    row('speed', `${percent > 0 ? '+' : ''}${percent} %`, speed(percent), Math.abs(percent) <= 20),
  ),
  ...[1, 2, 3, 5].flatMap((percent) =>
    [0.5, 2, 5, 10].map((hz) =>
      row('flutter', `${percent} % at ${hz} Hz`, flutter(percent, hz), percent <= 3),
    ),
  ),
  ...[6000, 5000, 4000, 3500].map((hz) =>
    row('band', `up to ${hz} Hz`, band(hz), hz >= 4000, 44100),
  ),
  ...[-20, -10].map((db) => row('hum', `${db} dB`, hum(db))),
  row('level', '−40 dB', level(-40)),
  row('level', 'clipped by 12 dB', level(12)),
  ...[8000, 11025, 16000, 22050, 32000, 48000, 96000].map((rate) =>
    row('rate', `${rate} Hz`, resample(rate), rate >= 11025, 44100),
  ),
  row('other', 'upside down', inversion),
  row('other', 'constant of 0.2', offset(0.2)),
  ...leaving(
    'part',
    [1, 2, 5, 10, 20].flatMap((ms) =>
      [1, 4].map((count) => row('dropouts', `${count} of ${ms} ms`, dropouts(ms, count), ms === 1)),
    ),
  ),
  ...[1, 3, 10].map((ms) => row('worse', `4 crackles of ${ms} ms`, crackles(ms, 4), ms === 1)),
  ...leaving(
    'all',
    [20, 40].map((db) => row('worse', `3 fades of ${db} dB, 50 ms`, fades(db, 50, 3), false)),
  ),
  // Not 1.5 ms: by so much a 1 is longer than a 0. Cut from a 1 it leaves a 0, in a 0 it makes a 1 with
  // a hole in it, and nothing in the sound tells that from what was recorded.
  ...[0.3, 0.6, 1, 2, 5].flatMap((ms) =>
    [1, 3].flatMap((count) => [
      row('worse', `${count} × ${ms} ms cut out`, splices(ms, count), false),
      row('worse', `${count} × ${ms} ms twice`, stutters(ms, count), false),
    ]),
  ),
];

const MILD: [string, Damage][] = [
  ['noise 15 dB', noise(15)],
  ['+10 %', speed(10)],
  ['−10 %', speed(-10)],
  ['flutter 2 % at 5 Hz', flutter(2, 5)],
  ['band 5 kHz', band(5000)],
  ['hum −20 dB', hum(-20)],
  ['−30 dB', level(-30)],
  ['clipped by 6 dB', level(6)],
  ['16 kHz', resample(16000)],
  ['upside down', inversion],
];

const HARD: [string, Damage][] = [
  ['noise 12 dB', noise(12)],
  ['+20 %', speed(20)],
  ['−20 %', speed(-20)],
  ['flutter 3 % at 5 Hz', flutter(3, 5)],
  ['band 4 kHz', band(4000)],
  ['11 kHz', resample(11025)],
  ['1 hole of 5 ms', dropouts(5, 1)],
  ['3 fades of 30 dB', fades(30, 50, 3)],
];

function pairs(kind: string, damages: [string, Damage][], wholeWanted: boolean): Row[] {
  return damages.flatMap(([first, one], i) =>
    damages
      .slice(i + 1)
      .map(([second, other]) =>
        row(kind, `${first} + ${second}`, mix(one, other), wholeWanted, RATE),
      ),
  );
}

const opposite = ({ what }: Row) => /10 %.*10 %|20 %.*20 %/.test(what);

export const ROWS: readonly Row[] = [
  ...plain,
  ...pairs('mild mix', MILD, true).filter((one) => !opposite(one)),
  ...pairs('hard mix', HARD, false).filter((one) => !opposite(one)),
];

/** What became of one drawn program, and what its damaged sound allowed. */
export interface Tried {
  readonly verdict: Verdict;
  /** The sound left it no other reading; undefined where that is not known. */
  readonly allowed: boolean | undefined;
}

/** Damages one drawn program and reads it back. */
export function tryRow({ damage, rate, leaves }: Row, seed: number): Tried {
  const program = { name: drawName(seed), image: drawImage(seed, 40 + (seed % 5) * 40) };
  const clean = soundOf(recordProgram(program, { lead: 0.6, tail: 0.4, rate }));
  const damaged = damage(clean, seed);
  return {
    verdict: verdictOn(recoverPrograms(wavOf(damaged)), program),
    allowed: leaves && (leaves === 'all' || isAllowed(program, clean, damaged)),
  };
}
