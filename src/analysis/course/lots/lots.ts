/**
 * What the lots that RND draws come to, one by one: of each value that SEED may have had, the numbers
 * and the display that they lead to. RND has 65,536 of them and no more, so that all can be followed at
 * once. A lot is the value that SEED had where this began.
 *
 * Arrays have a place for each of the 65,536, of which `alive` says which can be here. They are shared
 * by copies, and made anew where they change. What all lots have alike is in the state alone.
 */
import { nextSeed, SEEDS } from '../../../machine/arithmetic/random.js';
import { DISPLAY_COLUMNS } from '../../../machine/memory-map.js';
import type { Name } from '../../names.js';
import { LAST_PRINT_ROW } from '../../printing.js';

export { SEEDS };

/** What a lot gives. Reads and moves on `drawn.seed` where RND is worked out; NaN where the machine stops. */
export type OfLot = (lot: number) => number;

/** SEED of the lot that is looked at. */
export const drawn = { seed: 0 };

/** Steps of single lots that are followed in a program: half a second, or less. */
const MOST_STEPS = 60_000_000;

/** How much may still be done. */
export class Effort {
  constructor(private left = MOST_STEPS) {}

  spend(lots: number): void {
    this.left -= lots;
  }

  get isSpent(): boolean {
    return this.left <= 0;
  }
}

/** Places of printing, lot by lot. */
export interface Places {
  readonly rows: Uint8Array;
  readonly columns: Uint8Array;
}

/** The widths of the rows, lot by lot where they differ, and what they take together. */
export interface Display {
  readonly rows: (number | Uint8Array)[];
  /** What the rows come to. */
  sums: Int16Array;
  /** The most bytes that they take together: no more than their sum. */
  printed: Int16Array;
}

/** Places to work in what is looked at once; made when they are needed, as few programs draw lots. */
const SCRATCH: (Float64Array | undefined)[] = [undefined, undefined];

/** Where lots begin to be told apart. Only those of the same beginning can be held against each other. */
export class Beginning {
  readonly lots: Uint16Array;

  /** `seeds`: what SEED may hold there. */
  constructor(readonly seeds: Uint16Array = seedsAfter(0)) {
    this.lots = seedsAfter(0).subarray(0, seeds.length);
  }
}

export class Lots {
  /** Lots that can be here. */
  alive: Uint16Array;
  /** What SEED holds now. */
  seeds: Uint16Array;
  /** Values of numbers, lengths of strings. */
  values: ReadonlyMap<Name, Float64Array> = new Map();
  /** The limits of FOR, by its variable. */
  limits: ReadonlyMap<Name, Float64Array> = new Map();
  /** Undefined where all lots have the state's. */
  display: Display | undefined;
  places: Places | undefined;
  /** Is what the rows come to nobody else's? And which of the rows, as bits? */
  private ownsSums = false;
  private ownsRows = 0;

  /** `effort`: what all that comes of this may still take. */
  constructor(
    readonly effort: Effort,
    readonly beginning: Beginning,
  ) {
    this.alive = beginning.lots;
    this.seeds = beginning.seeds;
  }

  /** Places in each array. */
  get size(): number {
    return this.beginning.lots.length;
  }

  /** Is all that is known alike in all lots, and any of several can be here? */
  get areAlike(): boolean {
    return (
      this.size > 1 &&
      this.alive.length === this.size &&
      this.values.size === 0 &&
      this.limits.size === 0 &&
      this.display === undefined &&
      this.places === undefined
    );
  }

  copy(): Lots {
    const copy = new Lots(this.effort, this.beginning);
    copy.alive = this.alive;
    copy.seeds = this.seeds;
    copy.values = this.values;
    copy.limits = this.limits;
    copy.places = this.places;
    copy.takeDisplay(this);
    return copy;
  }

  // ───────────────────────────────── values ─────────────────────────────────

  set(name: Name, values: Float64Array): void {
    this.values = new Map(this.values).set(name, values);
  }

  limit(name: Name, values: Float64Array): void {
    this.limits = new Map(this.limits).set(name, values);
  }

  /** Between which of the values those of the lots lie. */
  rangeOf(values: Float64Array): { low: number; high: number; whole: boolean } {
    let [low, high, whole] = [Infinity, -Infinity, true];
    const { alive } = this;
    const { length } = alive;
    for (let at = 0; at < length; at++) {
      const value = values[alive[at]];
      if (value < low) low = value;
      if (value > high) high = value;
      if (whole && !Number.isInteger(value)) whole = false;
    }
    this.effort.spend(length);
    return { low, high, whole };
  }

  /** What each lot gives, in an array of all. RND is worked out `draws` times in it. */
  workOut(of: OfLot, draws: number): Float64Array {
    return this.workOutIn(new Float64Array(this.size), of, draws);
  }

  /** The same for a short time: until it is asked for once more, or for the other of two places. */
  lookAt(of: OfLot, draws: number, place: 0 | 1 = 0): Float64Array {
    SCRATCH[place] ??= new Float64Array(SEEDS);
    return this.workOutIn(SCRATCH[place], of, draws);
  }

  private workOutIn(values: Float64Array, of: OfLot, draws: number): Float64Array {
    const { alive, seeds } = this;
    const { length } = alive;
    if (draws === 0) {
      for (let at = 0; at < length; at++) {
        const lot = alive[at];
        values[lot] = of(lot);
      }
    } else {
      const after = new Uint16Array(this.size);
      for (let at = 0; at < length; at++) {
        const lot = alive[at];
        drawn.seed = seeds[lot];
        values[lot] = of(lot);
        after[lot] = drawn.seed;
      }
      this.seeds = after;
    }
    this.effort.spend(length);
    return values;
  }

  /** A variable is set to what all lots have alike. */
  forget(name: Name): void {
    if (this.values.has(name)) this.values = without(this.values, name);
  }

  forgetLimit(name: Name): void {
    if (this.limits.has(name)) this.limits = without(this.limits, name);
  }

  forgetAll(): void {
    this.values = new Map();
    this.limits = new Map();
  }

  /** RND is worked out so many times. */
  draw(times: number): void {
    if (times === 0) return;
    const { alive, seeds } = this;
    const after = seedsAfter(times);
    const next = new Uint16Array(this.size);
    for (const lot of alive) next[lot] = after[seeds[lot]];
    this.seeds = next;
    this.effort.spend(alive.length);
  }

  // ───────────────────────────────── the display ─────────────────────────────────

  /** The display lot by lot, each row of which may be widened; by the state's where it is not yet. */
  ownDisplay(widths: Readonly<Uint8Array>, printed: number): Display {
    if (this.display === undefined) {
      this.ownsRows = 0;
      const sum = widths.reduce((total, width) => total + width, 0);
      this.display = {
        rows: [...widths],
        sums: new Int16Array(this.size).fill(sum),
        printed: new Int16Array(this.size).fill(printed),
      };
    } else if (!this.ownsSums) {
      this.display.sums = this.display.sums.slice();
      this.display.printed = this.display.printed.slice();
    }
    this.ownsSums = true;
    return this.display;
  }

  /** A row of the display that may be changed. */
  ownRow(row: number): Uint8Array {
    const { rows } = this.display!;
    const width = rows[row];
    if (typeof width !== 'number' && (this.ownsRows & (1 << row)) !== 0) return width;
    const own = typeof width === 'number' ? new Uint8Array(this.size).fill(width) : width.slice();
    rows[row] = own;
    this.ownsRows |= 1 << row;
    return own;
  }

  /** Rows are widened, or one of several: `most` bytes together. The most that a lot takes then. */
  grow(first: number, last: number, width: number, most: number): number {
    const { alive } = this;
    const { sums, printed } = this.ownDisplay(NO_WIDTHS, 0);
    for (let row = first; row <= Math.min(last, LAST_PRINT_ROW); row++) {
      const widths = this.ownRow(row);
      for (const lot of alive) {
        if (widths[lot] >= width) continue;
        sums[lot] += width - widths[lot];
        widths[lot] = width;
      }
    }
    let all = 0;
    const growth = Math.min(most, MOST_PRINTED);
    const { length } = alive;
    for (let at = 0; at < length; at++) {
      const lot = alive[at];
      const taken = Math.min(printed[lot] + growth, sums[lot]);
      printed[lot] = taken;
      if (taken > all) all = taken;
    }
    this.effort.spend(alive.length * (last - first + 1));
    return all;
  }

  /** The top row goes. The most that a lot takes then. */
  scroll(): number {
    const { alive } = this;
    const { rows, sums, printed } = this.ownDisplay(NO_WIDTHS, 0);
    const [top] = rows;
    rows.shift();
    rows.push(0);
    this.ownsRows >>= 1;
    let all = 0;
    const { length } = alive;
    for (let at = 0; at < length; at++) {
      const lot = alive[at];
      const sum = sums[lot] - (typeof top === 'number' ? top : top[lot]);
      const taken = Math.min(printed[lot], sum);
      sums[lot] = sum;
      printed[lot] = taken;
      if (taken > all) all = taken;
    }
    this.effort.spend(alive.length);
    return all;
  }

  takeDisplay(other: Lots): void {
    const { display, places } = other;
    this.display = display && { ...display, rows: [...display.rows] };
    this.places = places;
    this.ownsSums = other.ownsSums = false;
    this.ownsRows = other.ownsRows = 0;
  }

  /** The most that a lot has printed. */
  get mostPrinted(): number {
    let all = 0;
    for (const lot of this.alive) all = Math.max(all, this.display!.printed[lot]);
    return all;
  }
}

const NO_WIDTHS = new Uint8Array(LAST_PRINT_ROW + 1);
const MOST_PRINTED = (LAST_PRINT_ROW + 1) * DISPLAY_COLUMNS;

function without(
  values: ReadonlyMap<Name, Float64Array>,
  name: Name,
): ReadonlyMap<Name, Float64Array> {
  const rest = new Map(values);
  rest.delete(name);
  return rest;
}

/** What SEED holds after so many times RND, by what it held before. */
export function seedsAfter(times: number): Uint16Array {
  let after = AFTER.get(times);
  if (after === undefined) {
    after =
      times === 0
        ? new Uint16Array(SEEDS).map((_, seed) => seed)
        : seedsAfter(times - 1).map(nextSeed);
    AFTER.set(times, after);
  }
  return after;
}

const AFTER = new Map<number, Uint16Array>();
