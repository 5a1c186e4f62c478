/**
 * The verdict: whether a program loads and runs in the RAM that is fitted, and with how many bytes
 * to spare. Every command and the library take it from here.
 */
import { areasOf } from '../image/areas.js';
import { doesNotLoad, loadingNeeds, type Needs } from '../image/loading.js';
import { count } from '../listing/print.js';
import { IMAGE_START } from '../machine/memory-map.js';
import { ramText } from '../machine/ram-size.js';

/** `tight`: it depends on the run, or on what is not known of the machine stack. */
export type RoomVerdict = 'fits' | 'tight' | 'does not fit';

export interface Room {
  readonly verdict: RoomVerdict;
  /** Bytes needed at least and at most; Infinity where nothing bounds them. */
  readonly low: number;
  readonly high: number;
  /**
   * Bytes to spare, or below 0 over: at the most that is needed; for `does not fit` at the least.
   */
  readonly spare: number;
}

/** What can be said of a program: each is worse than the one before it. */
export type VerdictKind = 'runs' | 'may run' | 'does not run' | 'does not load';

/**
 * What a verdict rests on: on what the listing shows, or on a rehearsal. `undone`: what was
 * given up in following the program, so that the bounds may lie wider than they need, and where;
 * `fillingSeed`: a value of SEED with which a rehearsal asks for more than there is. A rehearsal that did not come to
 * the program's end says nothing of what follows: `line` is the last that ran. `alike`: every run
 * does the same, with nobody at the keys. Where it does not, `seeds` counts the rehearsals, each with
 * other lots drawn by RND; the fullest of them is told.
 */
export type Basis =
  | {
      readonly on: 'bounds';
      readonly undone?: { readonly why: string; readonly line?: number };
      readonly fillingSeed?: number;
    }
  | {
      readonly on: 'rehearsal';
      readonly whole: boolean;
      readonly line: number;
      readonly alike?: boolean;
      readonly seeds?: number;
    };

export interface Verdict {
  readonly kind: VerdictKind;
  /** Bytes of RAM fitted. */
  readonly ram: number;
  /** Bytes needed at least and at most to load and to run; Infinity where nothing bounds them. */
  readonly needed: Needs;
  /** Bytes to spare at worst and at best; below 0 over. */
  readonly spare: { readonly worst: number; readonly best: number };
  readonly basis: Basis;
}

/** So much of the RAM has to be left before savings are no longer worth a line each. */
const ENOUGH_LEFT = 1 / 10;

/** Is so little room left, or none, that each saving may be wanted? */
export const isShortOfRoom = ({ kind, spare, ram }: Verdict): boolean =>
  kind !== 'runs' || spare.worst < ram * ENOUGH_LEFT;

/** The verdict for RAM of which so many bytes are needed at least and at most. */
export function room(ram: number, { low, high }: Needs): Room {
  const verdict = high <= ram ? 'fits' : low > ram ? 'does not fit' : 'tight';
  return { verdict, low, high, spare: ram - (verdict === 'does not fit' ? low : high) };
}

/** The first address behind what an image loads: its own E_LINE, or its end where that comes first. */
export function endOfImage(image: Uint8Array): number {
  return Math.min(areasOf(image).E_LINE, IMAGE_START + image.length);
}

/** Can an image be loaded that ends before the address `end`? */
export function loadRoom(end: number, ram: number): Room {
  return room(ram, loadingNeeds(end, ram));
}

/** The one verdict, of what loading needs and what running needs. */
export function verdictOf(ram: number, loads: Room, runs: Room, basis: Basis): Verdict {
  const kind = kindOf(loads, runs, basis);
  // A program that does not load is told by what loading lacks: that is certain.
  const needed =
    kind === 'does not load'
      ? { low: loads.low, high: loads.high }
      : { low: Math.max(loads.low, runs.low), high: Math.max(loads.high, runs.high) };
  const spare = { worst: ram - needed.high, best: ram - needed.low };
  return { kind, ram, needed, spare, basis };
}

function kindOf(loads: Room, runs: Room, basis: Basis): VerdictKind {
  if (loads.verdict === 'does not fit') return 'does not load';
  if (runs.verdict === 'does not fit') return 'does not run';
  if (loads.verdict === 'tight' || runs.verdict === 'tight') return 'may run';
  return basis.on === 'bounds' || basis.whole ? 'runs' : 'may run';
}

/** `runs in 1K, 212 bytes to spare`: the verdict as every command says it. */
export function verdictText(verdict: Verdict): string {
  const { kind, ram, spare, basis } = verdict;
  const size = ramText(ram);
  const rehearsed = rehearsedText(basis);
  switch (kind) {
    case 'does not load':
      return doesNotLoad(-spare.best, ram);
    case 'does not run':
      return `does not run in ${size}: ${count(-spare.best, 'byte')} over at least${rehearsed}`;
    case 'runs':
      return `runs in ${size}, ${count(spare.worst, 'byte')} to spare${rehearsed}`;
    case 'may run': {
      const best = `${count(spare.best, 'byte')} to spare at best`;
      const bounds =
        spare.worst >= 0
          ? `${count(spare.worst, 'byte')} to spare`
          : Number.isFinite(spare.worst)
            ? `${best}, ${-spare.worst} over at worst`
            : `${best}, no bound at worst`;
      if (basis.on === 'bounds') return `may run in ${size}: ${bounds}${openText(basis)}`;
      if (basis.whole) return `may run in ${size}: ${bounds}${rehearsed}`;
      return `may run in ${size}: as far as it ran, up to line ${basis.line}, ${bounds}`;
    }
  }
}

function openText({ undone, fillingSeed }: Basis & { readonly on: 'bounds' }): string {
  if (fillingSeed !== undefined) return `; with ${fillingSeed} in SEED it runs out of room`;
  if (undone === undefined) return '';
  const where = undone.line === undefined ? '' : ` (line ${undone.line})`;
  return `; ${undone.why}${where}`;
}

function rehearsedText(basis: Basis): string {
  if (basis.on === 'bounds') return '';
  const many = (basis.seeds ?? 1) > 1;
  return many ? `, as rehearsed with ${basis.seeds} seeds of RND` : ', as rehearsed';
}

/** The verdict in the form of `--format json`, which has no field for what is undefined; null where nothing bounds a number. */
export function verdictJson({ kind, ram, needed, spare, basis }: Verdict) {
  const bounded = (bytes: number): number | null => (Number.isFinite(bytes) ? bytes : null);
  return {
    is: kind,
    ram,
    needed: { low: needed.low, high: bounded(needed.high) },
    spare: { worst: bounded(spare.worst), best: spare.best },
    basis: basis.on,
    ...(basis.on === 'bounds'
      ? { undone: basis.undone, fillingSeed: basis.fillingSeed }
      : { upToLine: basis.whole ? undefined : basis.line, rehearsals: basis.seeds }),
  };
}
