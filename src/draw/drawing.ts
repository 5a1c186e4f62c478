/** A screen as a listing that shows it: made, rehearsed, and measured. */
import { readListing } from '../listing/read.js';
import { FULL_DISPLAY_RAM } from '../machine/memory-map.js';
import { LARGEST_RAM, ramText, SMALLEST_RAM, smallestRam } from '../machine/ram-size.js';
import { budgetOf } from '../memory/budget.js';
import type { Rehearsal } from '../rehearsal/rehearsal.js';
import { rehearse } from '../rehearsal/run.js';
import { measuredOf } from '../rehearsal/telling/measured.js';
import { measuredBudget } from '../rehearsal/telling/measured-budget.js';
import { firstDifference, REACHED_ROWS, type Screen } from './screen.js';
import { CannotShow, linesOf, type Way, type WayLines, type WayOptions } from './ways.js';

/** A way that was tried. */
export type Tried =
  | {
      readonly way: Way;
      /** The listing that shows the screen: a rehearsal gave the very same cells. */
      readonly text: string;
      /** Its statements, without their numbers. */
      readonly statements: readonly string[];
      /** Bytes of RAM that it needs at its peak. */
      readonly bytes: number;
      /** How long the machine takes to show it. */
      readonly seconds: number;
      /** The screen when it ends. */
      readonly shown: Screen;
    }
  | { readonly way: Way; readonly why: string };

export type Drawn = Extract<Tried, { text: string }>;

export const isDrawn = (tried: Tried): tried is Drawn => 'text' in tried;

/** The names that a listing of its own has for its loops and its text. */
const OWN_NAMES = { outer: 'I', inner: 'J', more: ['N', 'C'] as const, text: 'A$' };
const OWN: WayOptions = { isFirst: true, names: OWN_NAMES };
/** As many statements as the slowest way can need: three for each block of the screen, and then some. */
const MOST_STATEMENTS = 50_000;

/**
 * Tries a way to show a screen, and measures it by the budget for the RAM. Throws Error where the
 * rehearsal of the listing shows another screen than was drawn: that is a fault of its maker.
 */
export function tryWay(
  way: Way,
  screen: Screen,
  ram = SMALLEST_RAM,
  options: WayOptions = OWN,
): Tried {
  let lines: WayLines;
  try {
    lines = linesOf(way, screen, options);
  } catch (error) {
    if (error instanceof CannotShow) return { way, why: error.message };
    throw error;
  }
  const text = listingText(lines, ram);
  const measured = measureAt(text, measuringRam(ram)) ?? measureAt(text, LARGEST_RAM);
  if (measured === undefined) return { way, why: 'it is larger than the largest memory' };
  const { rehearsal, bytes } = measured;
  const different = firstDifference(
    screen,
    rehearsal.screen,
    way === 'display' ? screen.length : REACHED_ROWS,
  );
  if (different !== undefined) {
    throw new Error(
      `shown as ${way}, row ${different.row} column ${different.column} is not what was drawn`,
    );
  }
  const { statements } = lines;
  return { way, text, statements, bytes, seconds: rehearsal.seconds, shown: rehearsal.screen };
}

/** Below 3¼K a row of the display is as long as what it shows: all such RAM needs the same. */
const measuringRam = (ram: number): number =>
  ram < FULL_DISPLAY_RAM ? FULL_DISPLAY_RAM - 1 : LARGEST_RAM;

/** A run of a listing with so much RAM; undefined where that is too little for it. */
function measureAt(text: string, ram: number): { rehearsal: Rehearsal; bytes: number } | undefined {
  const { listing, diagnostics } = readListing(text);
  const bad = diagnostics.find(({ severity }) => severity === 'error');
  if (bad !== undefined) throw new Error(`its listing has an error: ${bad.message}`);
  const bounds = budgetOf(listing, { ram });
  if (bounds.verdict.kind === 'does not load') return undefined;
  const rehearsal = rehearse(listing, { ram, statements: MOST_STATEMENTS });
  if (rehearsal.end.code === '4') return undefined;
  const { needed } = measuredBudget(bounds, measuredOf(rehearsal)).verdict;
  return { rehearsal, bytes: needed.high };
}

const STEP = 10;

/** The whole listing, its RAM said where it is not the least. */
function listingText({ statements, directives = [], after = [] }: WayLines, ram: number): string {
  const numbers = statements.map((_, index) => STEP * (index + 1));
  const head = ram === SMALLEST_RAM ? [] : [`.ram ${ramText(ram)}`];
  const rows = [...head, ...directives, ...numberedLines(statements, numbers), ...after];
  return `${rows.map((row) => named(row, numbers)).join('\n')}\n`;
}

export function numberedLines(statements: readonly string[], numbers: readonly number[]): string[] {
  return statements.map((statement, index) => `${numbers[index]} ${statement}`);
}

const named = (row: string, numbers: readonly number[]): string =>
  row.startsWith('.start') ? row.replace(/@(\d+)/, (_, place) => String(numbers[place - 1])) : row;

/** All ways that were asked for, the one of fewest bytes first and those that cannot last. */
export function tryWays(
  ways: readonly Way[],
  screen: Screen,
  ram?: number,
  options?: WayOptions,
): Tried[] {
  const size = (tried: Tried): number => (isDrawn(tried) ? tried.bytes : Number.POSITIVE_INFINITY);
  return ways
    .map((way) => tryWay(way, screen, ram, options))
    .sort((a, b) => (size(a) === size(b) ? 0 : size(a) - size(b)));
}

/** The smallest usual RAM in which a screen can be shown in a way; undefined where none is enough. */
export function ramFor(way: Way, screen: Screen): number | undefined {
  return smallestRam((ram) => {
    const tried = tryWay(way, screen, ram);
    return isDrawn(tried) && tried.bytes <= ram;
  });
}
