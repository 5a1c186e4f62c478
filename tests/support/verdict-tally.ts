/** Static verdicts held against rehearsals of the same programs. */

import { analyse, type Program } from '../../src/analysis/program.js';
import { hasErrors } from '../../src/listing/diagnostics.js';
import { statementText } from '../../src/listing/print.js';
import { readListing } from '../../src/listing/read.js';
import type { AreaName } from '../../src/machine/memory-map.js';
import { type Budget, budgetOfProgram } from '../../src/memory/budget.js';
import type { RehearseOptions } from '../../src/rehearsal/rehearsal.js';
import { rehearse } from '../../src/rehearsal/run.js';
import { readKeys } from '../../src/rehearsal/state/keys.js';
import { type Measured, measuredOf } from '../../src/rehearsal/telling/measured.js';
import { differenceOf, settledVerdict } from '../../src/rehearsal/telling/settle.js';

export interface Subject {
  readonly text: string;
  /** What is typed at each INPUT in turn. */
  readonly inputs: readonly string[];
  /** Names of the parts that it is made of. */
  readonly parts?: readonly string[];
}

export interface Compared {
  /** Did it run to its end in 1K? */
  readonly ran: boolean;
  /** Did the bounds leave it open at 1K? */
  readonly open: boolean;
  /** Did the commands, which settle some of these by a short rehearsal? */
  readonly unsettled: boolean;
  /** Where it was left open: a run that needs more than 1K, so that it is open in truth. */
  readonly fails?: string;
  /** Of other sizes of RAM around its peak: how many were tried, and left open. */
  readonly sizes: number;
  readonly openElsewhere: number;
  readonly wrong: readonly string[];
  /** Where it was left open and ran well: what holds the bounds apart. */
  readonly loose: readonly Loose[];
}

/** An area whose bound lies above what the fullest rehearsal had in it. */
export interface Loose {
  readonly area: AreaName;
  readonly bytes: number;
  /** The line of the fullest moment, as it is written. */
  readonly line: string;
  /** What only the run knows in the program. */
  readonly unknown: string;
  /** What was given up in following it. */
  readonly undone?: string;
  readonly most: number;
  readonly peak: number;
  readonly parts: string;
}

export interface Tally {
  readonly run: number;
  readonly open: number;
  /** Of these, and of those that the commands leave open: how many need more than 1K in some run. */
  readonly failing: number;
  readonly unsettled: number;
  readonly failingUnsettled: number;
  readonly openElsewhere: number;
  readonly sizes: number;
  readonly wrong: readonly string[];
  readonly loose: readonly (readonly Loose[])[];
}

const RAM = 1024;
const STATEMENTS = 20_000;
export const SEEDS = [
  1, 777, 31000, 2, 99, 4096, 12345, 54321, 65000, 5, 50, 500, 5000, 50000, 7, 70, 7000, 33333,
  44444, 60606,
];
/** Of these so many at sizes of RAM other than 1K. */
const FEW = 3;
/** Distances from the peak at which the verdict is asked for too. */
const AROUND = [-40, -20, -12, -1, 0, 1, 20, 60, 120];
/** What a person may type as well: a number that is long wherever it is printed, and a row of text. */
const OTHER_NUMBERS = ['-1.2345678E-9', '12345678', '-0.012345678', '-1.2345678E-38'];
const OTHER_TEXT = 'W'.repeat(32);

type Run = Pick<Measured, 'whole' | 'peak'> & { readonly full: boolean };

/** How long a person may hold a key, in frames: all the time, or until something is at an edge. */
const HELD_UNTIL = [99999, 24, 48, 72, 96, 120, 144, 192];
/** Values of SEED beside those, for what only few lots bring. */
const RARE_SEEDS = Array.from({ length: 300 }, (_, at) => (1 + at * 40503) & 0xffff);

/** `thorough`: looks for lots, answers and keys that fill a program that is left open, for long. */
export function compareVerdicts(
  subject: Subject,
  seeds: readonly number[] = SEEDS,
  thorough = false,
): Compared {
  const { text, inputs } = subject;
  const { listing, diagnostics } = readListing(text);
  if (hasErrors(diagnostics)) {
    throw new Error(`${diagnostics.map(({ message }) => message).join('\n')}\nin\n${text}`);
  }
  // Without lots each seed gives the same run.
  const drawn = /\bRND\b/.test(text) ? seeds : seeds.slice(0, 1);
  const runIn = (ram: number, seed: number, other: Partial<RehearseOptions> = {}): Run => {
    const rehearsal = rehearse(listing, { ram, seed, inputs, statements: STATEMENTS, ...other });
    const { whole, peak } = measuredOf(rehearsal);
    return { whole, peak, full: rehearsal.end.kind === 'report' && rehearsal.end.code === '4' };
  };
  const wrong: string[] = [];
  const program = analyse(listing);
  /** A verdict for this RAM, held against runs in it; was it left open? */
  const check = (ram: number, some: readonly number[]): boolean => {
    const { runs, loads } = budgetOfProgram(program, ram);
    if (loads.verdict === 'does not fit') return false;
    for (const seed of some) {
      const { full, whole, peak } = runIn(ram, seed);
      if (runs.verdict === 'fits' && (full || peak.bytes > runs.high)) {
        wrong.push(`fits ${ram} (at most ${runs.high}), peak ${peak.bytes}, seed ${seed}\n${text}`);
      }
      if (runs.verdict === 'does not fit' && whole && peak.bytes < runs.low) {
        wrong.push(`does not fit ${ram} (${runs.low}), peak ${peak.bytes}, seed ${seed}\n${text}`);
      }
    }
    return runs.verdict === 'tight';
  };
  const budget = budgetOfProgram(program, RAM);
  const nothing = { open: false, unsettled: false, sizes: 0, openElsewhere: 0, wrong, loose: [] };
  if (budget.loads.verdict === 'does not fit') return { ran: false, ...nothing };
  const first = runIn(RAM, drawn[0]);
  const open = check(RAM, drawn);
  const { kind, spare } = settledVerdict(listing, budget);
  const all = open ? drawn.map((seed) => runIn(RAM, seed)) : [];
  all.forEach(({ full, whole }, at) => {
    const seed = drawn[at];
    if (kind === 'runs' && full)
      wrong.push(`settled as ${spare.worst} to spare, seed ${seed}\n${text}`);
    if (kind === 'does not run' && whole) wrong.push(`settled as full, seed ${seed}\n${text}`);
  });
  const sizes = AROUND.map((distance) => first.peak.bytes + distance).filter((ram) => ram < 3328);
  const openElsewhere = sizes.filter((ram) => check(ram, drawn.slice(0, FEW))).length;
  const counted = first.whole && open;
  const fails = counted ? failing(subject, drawn, all, runIn, thorough) : undefined;
  const fullest = all.reduce((a, b) => (b.peak.bytes > a.peak.bytes ? b : a), first);
  return {
    ran: first.whole,
    open,
    unsettled: kind === 'may run',
    fails,
    sizes: sizes.length,
    openElsewhere,
    wrong,
    loose: counted && fails === undefined ? looseAreas(program, budget, fullest, subject) : [],
  };
}

/** A run that comes to report 4: with other lots, other answers, or a key held. */
function failing(
  { text, inputs }: Subject,
  drawn: readonly number[],
  all: readonly Run[],
  runIn: (ram: number, seed: number, other: Partial<RehearseOptions>) => Run,
  thorough: boolean,
): string | undefined {
  const seed = all.findIndex(({ full }) => full);
  if (seed >= 0) return `full with seed ${drawn[seed]}`;
  const answers =
    inputs.length === 0
      ? [inputs]
      : OTHER_NUMBERS.map((number) =>
          inputs.map((input) => (/^[-.\d]/.test(input) ? number : OTHER_TEXT)),
        );
  const held = new Set(Array.from(text.matchAll(/INKEY\$\s*=\s*"(.)"/g), ([, key]) => key));
  const spans = thorough ? HELD_UNTIL : HELD_UNTIL.slice(0, 1);
  const keys = [
    undefined,
    ...[...held].flatMap((key) => spans.map((until) => `0-${until}:${key}`)),
  ];
  for (const typed of answers) {
    for (const key of keys) {
      for (const lot of drawn.slice(0, FEW)) {
        const other = { inputs: typed, keys: key === undefined ? [] : readKeys(key) };
        if (runIn(RAM, lot, other).full) return `full with ${key ?? typed.join()}, seed ${lot}`;
      }
    }
  }
  if (!thorough || drawn.length === 1) return undefined;
  const rare = RARE_SEEDS.find((lot) => runIn(RAM, lot, {}).full);
  return rare === undefined ? undefined : `full with seed ${rare}`;
}

function looseAreas(
  program: Program,
  { areas, runs, verdict }: Budget,
  { peak }: Run,
  { parts = [] }: Subject,
): Loose[] {
  const had: Partial<Record<AreaName, number>> = peak.areas;
  const { basis } = verdict;
  const undone = basis.on === 'bounds' ? basis.undone?.why : undefined;
  const difference = differenceOf(program);
  const unknown = difference === 'none' ? 'nothing' : difference === 'lots' ? 'RND' : 'a person';
  return areas
    .flatMap(({ area, high, line }) => {
      const bytes = high - (had[area] ?? high);
      const stored = program.listing.lines.find(({ number }) => number === line);
      const written = stored === undefined ? '' : `${line} ${statementText(stored.codes)}`;
      const { high: most } = runs;
      if (bytes <= 0) return [];
      return {
        area,
        bytes,
        line: written,
        unknown,
        undone,
        most,
        peak: peak.bytes,
        parts: parts.join(),
      };
    })
    .sort((a, b) => b.bytes - a.bytes);
}

export function tallyOf(compared: readonly Compared[]): Tally {
  const ran = compared.filter((one) => one.ran);
  const sum = (of: (one: Compared) => number): number =>
    compared.reduce((total, one) => total + of(one), 0);
  const open = ran.filter((one) => one.open);
  const unsettled = ran.filter((one) => one.unsettled);
  const fails = ({ fails }: Compared): boolean => fails !== undefined;
  return {
    run: ran.length,
    open: open.length,
    failing: open.filter(fails).length,
    unsettled: unsettled.length,
    failingUnsettled: unsettled.filter(fails).length,
    sizes: sum((one) => one.sizes),
    openElsewhere: sum((one) => one.openElsewhere),
    wrong: compared.flatMap((one) => one.wrong),
    loose: open.flatMap(({ loose }) => (loose.length > 0 ? [loose] : [])),
  };
}
