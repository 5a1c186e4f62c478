/**
 * How often the bounds leave a verdict open, and whether one is ever wrong: drawn programs
 * and the samples, each held against its rehearsal.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { drawProgram } from '../support/draw-program.js';
import { compareVerdicts, type Tally, tallyOf } from '../support/verdict-tally.js';

const count = Number(process.env.PROGRAMS ?? 400);
const seed = Number(process.env.SEED ?? 1);

const drawn = Array.from({ length: count }, (_, at) => drawProgram(seed * 100_000 + at));
const samples = readdirSync('samples')
  .filter((name) => name.endsWith('.bas'))
  .map((name) => ({ text: readFileSync(`samples/${name}`, 'utf8'), inputs: [], name }));

row(['programs', 'run well in 1K', 'left open', 'share', 'left open in all', 'of sizes', 'wrong']);
show('drawn', tallyOf(drawn.map(compareVerdicts)));
show('samples', tallyOf(samples.map(compareVerdicts)));

function show(name: string, tally: Tally): void {
  const share = `${((100 * tally.open) / Math.max(1, tally.run)).toFixed(1)} %`;
  row([name, tally.run, tally.open, share, tally.openElsewhere, tally.sizes, tally.wrong.length]);
  for (const wrong of tally.wrong) console.log(wrong);
  if (process.env.WHY) {
    const causes = new Map<string, number>();
    for (const why of tally.why) causes.set(why, (causes.get(why) ?? 0) + 1);
    for (const [why, times] of [...causes].sort((a, b) => b[1] - a[1]))
      console.log(`  ${times} ${why}`);
  }
}

function row(cells: readonly (string | number)[]): void {
  console.log(cells.map((cell) => String(cell).padEnd(17)).join(''));
}
