/**
 * `npm run bench:rehearsal`: a FOR loop of simple LETs, in statements a second and against the same
 * loop in plain JavaScript; and the process's memory over ten million statements.
 */
import { readListing } from '../../src/listing/read.js';
import { rehearse } from '../../src/rehearsal/run.js';
import { row } from './measure.js';

const TURNS = 300_000;

/** Each listing, and the same loop in JavaScript: what the machine does, without its rounding. */
const LOOPS: [name: string, lines: string[], plain: (turns: number) => number][] = [
  [
    'whole numbers',
    ['LET A=0', 'LET B=0', 'FOR N=1 TO TURNS', 'LET A=A+N', 'LET B=A-B', 'NEXT N', 'PRINT A+B'],
    (turns) => {
      let a = 0;
      let b = 0;
      for (let n = 1; n <= turns; n++) {
        a = a + n;
        b = a - b;
      }
      return a + b;
    },
  ],
  [
    'fractions',
    [
      'LET A=0',
      'LET B=1',
      'FOR N=1 TO TURNS',
      'LET A=A+N/3',
      'LET B=B*.5+A',
      'NEXT N',
      'PRINT A+B',
    ],
    (turns) => {
      let a = 0;
      let b = 1;
      for (let n = 1; n <= turns; n++) {
        a = a + n / 3;
        b = b * 0.5 + a;
      }
      return a + b;
    },
  ],
];

const JS_RUNS = 100;

/** Seconds of the processor's own time, the least of several runs: other work on it does not count. */
function best(run: () => void, times: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let at = 0; at < times; at++) {
    const start = process.cpuUsage();
    run();
    least = Math.min(least, process.cpuUsage(start).user / 1e6);
  }
  return least;
}

for (const [name, lines, plain] of LOOPS) {
  const text = lines
    .map((line, at) => `${10 * (at + 1)} ${line.replace('TURNS', String(TURNS))}`)
    .join('\n');
  const { listing } = readListing(text);
  let statements = 0;
  const ours = best(() => {
    statements = rehearse(listing).statements;
  }, 10);
  let sum = 0;
  const theirs = best(() => {
    for (let at = 0; at < JS_RUNS; at++) sum += plain(TURNS);
  }, 10);
  if (!Number.isFinite(sum)) throw new Error('the loop in JavaScript went wrong');
  row(
    `rehearsal, a loop of ${name}: time over plain JavaScript`,
    ours / (theirs / JS_RUNS),
    '<= 100',
    `${(statements / ours / 1e6).toFixed(1)} million statements a second (goal >= 1)`,
  );
}

const endless = readListing(
  '10 LET A$="OAK"\n20 LET A=LEN A$+RND\n30 PRINT AT 0,0;A\n40 GOTO 10',
).listing;
const heapAfter = (statements: number): number => {
  rehearse(endless, { statements });
  globalThis.gc?.();
  return process.memoryUsage().heapUsed / 2 ** 20;
};
heapAfter(100_000);
const few = heapAfter(1_000_000);
const many = heapAfter(10_000_000);
row(
  'rehearsal, memory after ten million statements over after one',
  many / few,
  '<= 1.1',
  `${few.toFixed(1)} and ${many.toFixed(1)} MiB`,
);
