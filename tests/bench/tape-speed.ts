/** How fast recordings are written and read, against their own length and a plain pass over the samples. */

import { Recoverer } from '../../src/tape/recover.js';
import { planRecording, type RecordOptions } from '../../src/tape/writing/record.js';
import type { TapeProgram } from '../../src/tape/writing/tape-bytes.js';
import { drawImage, drawName } from '../tape/images.js';
import { row } from './measure.js';

/** Processor seconds of the quickest of some runs: what else the machine does counts little. */
function quickest(times: number, run: () => unknown): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < times; i++) {
    const before = process.cpuUsage();
    run();
    const { user, system } = process.cpuUsage(before);
    least = Math.min(least, (user + system) / 1e6);
  }
  return least;
}

/** One plain pass: every sample is read once and added up. */
function plainPass(samples: Int16Array): number {
  let sum = 0;
  const seconds = quickest(5, () => {
    for (let i = 0; i < samples.length; i++) sum += samples[i];
  });
  if (!Number.isFinite(sum)) throw new Error('the samples do not add up');
  return seconds;
}

function speeds(): void {
  const program = { name: drawName(1), image: drawImage(1, 16000) };
  const plan = planRecording([program]);
  const plain = plainPass(new Int16Array(plan.size >> 1).map((_, i) => i & 0x7fff));
  const write = quickest(5, () => {
    let bytes = 0;
    for (const piece of plan.pieces()) bytes += piece.length;
    if (bytes !== plan.size) throw new Error('the recording has another size than planned');
  });
  const read = quickest(3, () => readWhole([program], {}));
  const minutes = `${(plan.seconds / 60).toFixed(1)} min`;
  const times = (seconds: number) => `${(plan.seconds / seconds).toFixed(0)} times real time`;
  row(`writing ${minutes} / one plain pass`, write / plain, '≥ 500×', times(write));
  row(`reading ${minutes} / one plain pass`, (read - write) / plain, '≥ 50×', times(read - write));
}

/** Writes and reads at once, piece by piece; gives the most megabytes that were in use. */
function readWhole(programs: readonly TapeProgram[], options: RecordOptions): number {
  const recoverer = new Recoverer();
  let most = 0;
  for (const piece of planRecording(programs, options).pieces()) {
    recoverer.push(piece);
    most = Math.max(most, process.memoryUsage.rss() / 1e6);
  }
  const found = recoverer.finish().programs;
  most = Math.max(most, process.memoryUsage.rss() / 1e6);
  if (found.length !== programs.length || found.some(({ doubts }) => doubts.length > 0)) {
    throw new Error('a clean recording was not read whole');
  }
  return most;
}

/** Megabytes of the whole process, which it does not give back: from little to much. */
function memory(): void {
  const programs = (count: number, size: number) =>
    Array.from({ length: count }, (_, i) => ({ name: drawName(i), image: drawImage(i, size) }));
  const show = (what: string, tape: readonly TapeProgram[], options: RecordOptions) => {
    globalThis.gc?.();
    row(`megabytes in all, writing and reading ${what}`, readWhole(tape, options), 'flat');
  };
  for (const lead of [5, 60, 1800]) {
    show(`a 1K program after ${lead} s of silence`, programs(1, 1000), { lead });
  }
  show('40 programs of 1K', programs(40, 1000), {});
  show('a program of 16K', programs(1, 15000), {});
  show('8 programs of 16K', programs(8, 15000), {});
}

memory();
speeds();
