/**
 * What becomes of recordings that are damaged in known ways. Prints a table; exit status 1 if a goal
 * is missed. PROGRAMS=200 tries more programs a row than the usual 50; KINDS='noise|speed' only some rows.
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
  ['damage'.padEnd(52), ...COLUMNS.map(([, title]) => title.padStart(20)), '  goal'].join(''),
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
  for (let seed = 1; seed <= programs; seed++) {
    const verdict = tryRow(row, seed);
    counts.set(verdict, (counts.get(verdict) ?? 0) + 1);
  }
  const silent = counts.get('silent') ?? 0;
  silentTotal.silent += silent;
  silentTotal.all += programs;
  const reached = silent === 0 && (!row.wholeWanted || counts.get('whole') === programs);
  if (!reached) missed++;
  const shares = COLUMNS.map(([verdict]) =>
    ((100 * (counts.get(verdict) ?? 0)) / programs).toFixed(0).padStart(20),
  );
  const goal = `${row.wholeWanted ? 'whole' : 'none silent'}${reached ? '' : '  MISSED'}`;
  console.log([`  ${row.what}`.padEnd(52), ...shares, `  ${goal}`].join(''));
}
console.log(
  `${rows.length} rows; wrong in silence: ${silentTotal.silent} of ${silentTotal.all}; goals missed: ${missed}`,
);
if (missed > 0) process.exitCode = 1;
