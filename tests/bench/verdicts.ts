/**
 * How often a verdict is left open, by the bounds and by the commands, which settle some by a short
 * rehearsal; and whether one is ever wrong: drawn programs, the samples, and listings as a person
 * types them, each held against its rehearsal. The last are there to measure with, not to tune by.
 *
 * A program that a run fills with other lots, other answers or a key held is rightly left open: the
 * second figure of each pair is without these. Under the table stand the causes of what is left, by
 * their share; WHY=1 shows each program's.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { drawProgram } from '../support/draw-program.js';
import {
  compareVerdicts,
  type Loose,
  SEEDS,
  type Tally,
  tallyOf,
} from '../support/verdict-tally.js';

/** What a listing's first line says is answered at INPUT, in turn. */
const ANSWERS = /^' answers: (.*)/;

const count = Number(process.env.PROGRAMS ?? 300);
const seed = Number(process.env.SEED ?? 1);

const drawn = Array.from({ length: count }, (_, at) => drawProgram(seed * 100_000 + at));
const subjects = {
  drawn,
  samples: listingsIn('samples'),
  typed: listingsIn('tests/bench/typed'),
};
row(['programs', 'run well in 1K', 'open by bounds', 'open in all', 'at other sizes', 'wrong']);
const left: (readonly Loose[])[] = [];
for (const [name, programs] of Object.entries(subjects)) {
  const tally = tallyOf(programs.map((program) => compareVerdicts(program, SEEDS, true)));
  show(name, tally);
  left.push(...tally.loose);
}
showCauses(left);

function listingsIn(folder: string) {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.bas'))
    .map((name) => {
      const text = readFileSync(`${folder}/${name}`, 'utf8');
      return { text, inputs: ANSWERS.exec(text)?.[1].split(',') ?? [], parts: [name] };
    });
}

function show(name: string, tally: Tally): void {
  const { run, openElsewhere, sizes, wrong } = tally;
  const share = (of: number, ran: number): string =>
    `${of}, ${((100 * of) / Math.max(1, ran)).toFixed(1)} %`;
  row([
    name,
    run,
    share(tally.open, run),
    share(tally.unsettled, run),
    `${openElsewhere} of ${sizes}`,
    wrong.length,
  ]);
  const { failing, failingUnsettled } = tally;
  const well = run - failing;
  row([
    '  of them well',
    well,
    share(tally.open - failing, well),
    share(tally.unsettled - failingUnsettled, well),
  ]);
  for (const one of wrong) console.log(one);
}

/** The causes of open verdicts, by the bytes that the bounds lie above the fullest rehearsals. */
function showCauses(programs: readonly (readonly Loose[])[]): void {
  const causes = new Map<string, { bytes: number; programs: number }>();
  let all = 0;
  for (const { area, bytes, line, unknown } of programs.flat()) {
    const cause = `${area}, at ${/[A-Z]+/.exec(line)?.[0] ?? 'no line'}, unknown: ${unknown}`;
    const known = causes.get(cause) ?? { bytes: 0, programs: 0 };
    causes.set(cause, { bytes: known.bytes + bytes, programs: known.programs + 1 });
    all += bytes;
  }
  console.log(
    '\ncauses of open verdicts: the share of the bytes between bound and fullest rehearsal',
  );
  const sorted = [...causes].sort(([, a], [, b]) => b.bytes - a.bytes);
  for (const [cause, { bytes, programs: many }] of sorted) {
    console.log(`${((100 * bytes) / all).toFixed(1).padStart(5)} %  ${many} programs  ${cause}`);
  }
  if (!process.env.WHY) return;
  console.log();
  for (const loose of programs) {
    const [{ most, peak, undone, parts }] = loose;
    console.log(
      `at most ${most}, fullest ${peak}: ${parts}${undone === undefined ? '' : `; ${undone}`}`,
    );
    for (const { area, bytes, line } of loose) console.log(`    ${bytes} ${area}: ${line}`);
  }
}

function row(cells: readonly (string | number)[]): void {
  console.log(
    cells
      .map((cell) => String(cell).padEnd(17))
      .join('')
      .trimEnd(),
  );
}
