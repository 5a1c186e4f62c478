/** Static verdicts held against rehearsals of the same programs. */
import { hasErrors } from '../../src/listing/diagnostics.js';
import { readListing } from '../../src/listing/read.js';
import { budgetOf } from '../../src/memory/budget.js';
import { rehearse } from '../../src/rehearsal/run.js';
import { measuredOf } from '../../src/rehearsal/telling/measured.js';
import { settledVerdict } from '../../src/rehearsal/telling/settle.js';

export interface Compared {
  /** Did it run to its end in 1K? */
  readonly ran: boolean;
  /** Did the bounds leave it open at 1K? */
  readonly open: boolean;
  /** Did the commands, which settle some of these by a short rehearsal? */
  readonly unsettled: boolean;
  /** Of other sizes of RAM around its peak: how many were tried, and left open. */
  readonly sizes: number;
  readonly openElsewhere: number;
  readonly wrong: readonly string[];
  /** The area that keeps the bounds apart most. */
  readonly why?: string;
}

export interface Tally {
  readonly run: number;
  readonly open: number;
  readonly unsettled: number;
  readonly openElsewhere: number;
  readonly sizes: number;
  readonly wrong: readonly string[];
  readonly why: readonly string[];
}

const RAM = 1024;
const STATEMENTS = 20_000;
const SEEDS = [1, 777, 31000];
/** Those that a settled verdict is held against. */
const MORE_SEEDS = [...SEEDS, 2, 99, 4096, 12345, 54321, 65000];
/** Distances from the peak at which the verdict is asked for too. */
const AROUND = [-40, -20, -12, -1, 0, 1, 20, 60, 120];

export function compareVerdicts({
  text,
  inputs,
  parts,
}: {
  readonly text: string;
  readonly inputs: readonly string[];
  readonly parts?: readonly string[];
}): Compared {
  const { listing, diagnostics } = readListing(text);
  if (hasErrors(diagnostics)) {
    throw new Error(`${diagnostics.map(({ message }) => message).join('\n')}\nin\n${text}`);
  }
  const runIn = (ram: number, seed: number) => {
    const rehearsal = rehearse(listing, { ram, seed, inputs, statements: STATEMENTS });
    const { whole } = measuredOf(rehearsal);
    const full = rehearsal.end.kind === 'report' && rehearsal.end.code === '4';
    return { whole, full, peak: rehearsal.peak.bytes };
  };
  const wrong: string[] = [];
  /** A verdict for this RAM, held against runs in it; was it left open? */
  const check = (ram: number): boolean => {
    const { runs, loads } = budgetOf(listing, { ram });
    if (loads.verdict === 'does not fit') return false;
    for (const seed of SEEDS) {
      const run = runIn(ram, seed);
      if (runs.verdict === 'fits' && (run.full || run.peak > runs.high)) {
        wrong.push(`fits ${ram} (at most ${runs.high}), peak ${run.peak}, seed ${seed}\n${text}`);
      }
      if (runs.verdict === 'does not fit' && run.whole && run.peak < runs.low) {
        wrong.push(`does not fit ${ram} (${runs.low}), peak ${run.peak}, seed ${seed}\n${text}`);
      }
    }
    return runs.verdict === 'tight';
  };
  const budget = budgetOf(listing, { ram: RAM });
  const { loads, runs, areas } = budget;
  if (loads.verdict === 'does not fit') {
    return { ran: false, open: false, unsettled: false, sizes: 0, openElsewhere: 0, wrong };
  }
  const first = runIn(RAM, SEEDS[0]);
  const open = check(RAM);
  const { kind, spare } = settledVerdict(listing, budget);
  for (const seed of open ? MORE_SEEDS : []) {
    const run = runIn(RAM, seed);
    if (kind === 'runs' && run.full)
      wrong.push(`settled as ${spare.worst} to spare, seed ${seed}\n${text}`);
    if (kind === 'does not run' && run.whole) wrong.push(`settled as full, seed ${seed}\n${text}`);
  }
  const sizes = AROUND.map((distance) => first.peak + distance).filter((ram) => ram < 3328);
  const openElsewhere = sizes.filter(check).length;
  const widest = [...areas].sort((a, b) => b.high - b.low - (a.high - a.low))[0];
  const ran = first.whole;
  return {
    ran,
    open,
    unsettled: kind === 'may run',
    sizes: sizes.length,
    openElsewhere,
    wrong,
    why:
      ran && open
        ? `${widest.area}: ${widest.line} (peak ${first.peak} high ${runs.high}) ${parts?.join()}`
        : undefined,
  };
}

export function tallyOf(compared: readonly Compared[]): Tally {
  const ran = compared.filter((one) => one.ran);
  const sum = (of: (one: Compared) => number): number =>
    compared.reduce((total, one) => total + of(one), 0);
  return {
    run: ran.length,
    open: ran.filter((one) => one.open).length,
    unsettled: ran.filter((one) => one.unsettled).length,
    sizes: sum((one) => one.sizes),
    openElsewhere: sum((one) => one.openElsewhere),
    wrong: compared.flatMap((one) => one.wrong),
    why: compared.flatMap((one) => one.why ?? []),
  };
}
