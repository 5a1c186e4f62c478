/**
 * How often a verdict is left open, by the bounds and by the commands, which settle some by a short
 * rehearsal; and whether one is ever wrong: drawn programs, the samples, and listings as a person
 * types them, each held against its rehearsal. The last are there to measure with, not to tune by.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { drawProgram } from '../support/draw-program.js';
import { compareVerdicts, type Tally, tallyOf } from '../support/verdict-tally.js';

/** What a listing's first line says is answered at INPUT, in turn. */
const ANSWERS = /^' answers: (.*)/;

const count = Number(process.env.PROGRAMS ?? 400);
const seed = Number(process.env.SEED ?? 1);

const drawn = Array.from({ length: count }, (_, at) => drawProgram(seed * 100_000 + at));
row(['programs', 'run well in 1K', 'open by bounds', 'open in all', 'at other sizes', 'wrong']);
show('drawn', tallyOf(drawn.map(compareVerdicts)));
show('samples', tallyOf(listingsIn('samples').map(compareVerdicts)));
show('typed', tallyOf(listingsIn('tests/bench/typed').map(compareVerdicts)));

function listingsIn(folder: string) {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.bas'))
    .map((name) => {
      const text = readFileSync(`${folder}/${name}`, 'utf8');
      return { text, inputs: ANSWERS.exec(text)?.[1].split(',') ?? [], parts: [name] };
    });
}

function show(
  name: string,
  { run, open, unsettled, openElsewhere, sizes, wrong, why }: Tally,
): void {
  const share = (of: number): string => `${of}, ${((100 * of) / Math.max(1, run)).toFixed(1)} %`;
  row([name, run, share(open), share(unsettled), `${openElsewhere} of ${sizes}`, wrong.length]);
  for (const one of wrong) console.log(one);
  if (process.env.WHY) for (const one of why) console.log(`  ${one}`);
}

function row(cells: readonly (string | number)[]): void {
  console.log(cells.map((cell) => String(cell).padEnd(17)).join(''));
}
