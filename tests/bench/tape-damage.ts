/**
 * What becomes of recordings that are damaged in known ways. Prints a table; exit status 1 if a goal
 * is missed. PROGRAMS=200 tries more programs a row than the usual 50; KINDS='noise|speed' only some
 * rows; SEEDS=1 names the programs that the sound would have allowed to be read whole, and that were not.
 *
 * Allowed is the share of programs for which what is left of the sound leaves one reading only
 * (tape-allowed.ts), where that is known; reached is how many of these came out whole.
 */
import type { Verdict } from '../tape/verdict.js';
import { ROWS, tryRow } from './tape-damage-rows.js';

const programs = Number(process.env.PROGRAMS ?? 50);
const COLUMNS: [Verdict, string][] = [
  ['whole', 'whole'],
  ['right', 'right, some marked'],
  ['marked', 'wrong, all marked'],
  ['none', 'not found'],
  ['silent', 'wrong in silence'],
];

console.log(
  `Share of ${programs} programs a row, in %. Damage and goals: tests/bench/tape-damage-rows.ts`,
);
console.log(
  [
    'damage'.padEnd(40),
    ...COLUMNS.map(([, title]) => title.padStart(20)),
    ...['allowed', 'reached'].map((title) => title.padStart(9)),
    '  goal',
  ].join(''),
);
let missed = 0;
let kind = '';
const silentTotal = { silent: 0, all: 0 };
const kinds = new RegExp(process.env.KINDS ?? '');
const rows = ROWS.filter((row) => kinds.test(row.kind));
for (const row of rows) {
  if (row.kind !== kind) console.log(row.kind);
  kind = row.kind;
  const counts = new Map<Verdict, number>();
  const left: number[] = [];
  let allowed = 0;
  for (let seed = 1; seed <= programs; seed++) {
    const tried = tryRow(row, seed);
    counts.set(tried.verdict, (counts.get(tried.verdict) ?? 0) + 1);
    if (tried.allowed) allowed++;
    if (tried.allowed && tried.verdict !== 'whole') left.push(seed);
  }
  const silent = counts.get('silent') ?? 0;
  silentTotal.silent += silent;
  silentTotal.all += programs;
  const reached = silent === 0 && (!row.wholeWanted || counts.get('whole') === programs);
  if (!reached) missed++;
  const percent = (part: number, whole: number, width: number) =>
    ((100 * part) / whole).toFixed(0).padStart(width);
  const shares = COLUMNS.map(([verdict]) => percent(counts.get(verdict) ?? 0, programs, 20));
  const bounds = row.leaves
    ? [percent(allowed, programs, 9), percent(allowed - left.length, allowed, 9)]
    : ['–'.padStart(9), '–'.padStart(9)];
  const goal = `${row.wholeWanted ? 'whole' : 'none silent'}${reached ? '' : '  MISSED'}`;
  console.log([`  ${row.what}`.padEnd(40), ...shares, ...bounds, `  ${goal}`].join(''));
  if (process.env.SEEDS && left.length > 0) console.log(`    not reached: ${left.join(' ')}`);
}
console.log(
  `${rows.length} rows; wrong in silence: ${silentTotal.silent} of ${silentTotal.all}; goals missed: ${missed}`,
);
if (missed > 0) process.exitCode = 1;
