/** The budget as a table for a terminal. */

import type { Listing } from '../../grammar/tree.js';
import { makingOf } from '../listing/directives.js';
import { count, shortened, shortList, statementText } from '../listing/print.js';
import { ramText } from '../machine/ram-size.js';
import type { Budget } from './budget.js';
import { type Bounds, gap } from './variables.js';
import { type Room, type Verdict, verdictText } from './verdict.js';

/** What the rows of the table are; without it areas in the order of their addresses. */
export type TableOrder = 'area' | 'line' | 'variable';

/** Characters of the longest bar: the whole RAM, or the widest line or variable. */
const BAR_WIDTH = 28;
const TEXT_WIDTH = 40;

/**
 * The table, and under it the verdicts and what they hang on. Lines without a last newline. Of lines
 * and variables at most so many rows are shown.
 */
export function budgetTable(
  budget: Budget,
  listing: Listing,
  by?: TableOrder,
  most = Number.POSITIVE_INFINITY,
): string {
  const rows =
    by === 'line'
      ? lineRows(budget, listing, most)
      : by === 'variable'
        ? variableRows(budget, most)
        : areaRows(budget, by === 'area');
  return [...rows, '', ...verdicts(budget), ...reasons(budget)].join('\n');
}

/** `12`, or `6 to 40`, or `6 to no bound`. */
export function boundsText(low: number, high: number): string {
  if (low === high) return String(low);
  return `${low} to ${Number.isFinite(high) ? high : 'no bound'}`;
}

function areaRows(budget: Budget, widestFirst: boolean): string[] {
  const areas = [...budget.areas];
  if (widestFirst) areas.sort((a, b) => b.high - a.high);
  const row = (name: string, start: string, low: string, high: string, bar = ''): string =>
    `${name.padEnd(22)}${start.padStart(5)}${low.padStart(7)}${high.padStart(9)}  ${bar}`.trimEnd();
  const atOnce = budget.runs.high - areas.reduce((sum, { high }) => sum + high, 0);
  return [
    row('area', 'from', 'least', 'most'),
    ...areas.map(({ area, start, low, high }) =>
      row(area, String(start), String(low), highText(high), bar(low, high, budget.ram)),
    ),
    ...(atOnce < 0 ? [row('not all at once', '', '', String(atOnce))] : []),
    row('together', '', String(budget.runs.low), highText(budget.runs.high)),
    row(`RAM ${ramText(budget.ram)}`, '', '', String(budget.ram)),
  ];
}

const highText = (high: number): string => (Number.isFinite(high) ? String(high) : 'no bound');

/** Full blocks for what is certain, light ones for what may come to it. */
function bar(low: number, high: number, whole: number): string {
  const cells = (bytes: number): number =>
    Math.min(BAR_WIDTH, Math.round((bytes / Math.max(1, whole)) * BAR_WIDTH));
  const sure = low > 0 ? Math.max(1, cells(low)) : 0;
  const most = Math.max(sure, high > 0 ? Math.max(1, cells(high)) : 0);
  return '█'.repeat(sure) + '░'.repeat(most - sure);
}

function lineRows(budget: Budget, listing: Listing, most: number): string[] {
  const rows = budget.lines.map((line, index) => ({ ...line, codes: listing.lines[index].codes }));
  rows.sort((a, b) => b.bytes - a.bytes);
  const widest = rows[0]?.bytes ?? 0;
  const making = makingOf(listing.items);
  const shown = rows.map(({ number, bytes, hidden, codes }) => {
    const short = shortened(statementText(codes, making), TEXT_WIDTH);
    return `${columns(number, bytes, hidden)}  ${bar(bytes, bytes, widest).padEnd(BAR_WIDTH)}  ${short}`;
  });
  const bytes = budget.lines.reduce((sum, line) => sum + line.bytes, 0);
  const hidden = budget.lines.reduce((sum, line) => sum + line.hidden, 0);
  const all = columns('all', bytes, hidden);
  return [columns('line', 'bytes', 'hidden'), ...shortList(shown, false, '  ', most), all];
}

function columns(name: string | number, bytes: string | number, hidden: string | number): string {
  return `${String(name).padStart(5)}${String(bytes).padStart(8)}${String(hidden).padStart(8)}`;
}

function variableRows(budget: Budget, most: number): string[] {
  const rows = [...budget.variables].sort((a, b) => b.high - a.high);
  const widest = Math.min(budget.ram, rows[0]?.high ?? 0);
  const row = (name: string, low: string, high: string, line: string, bar = ''): string =>
    `${name.padEnd(12)}${low.padStart(7)}${high.padStart(10)}${line.padStart(7)}  ${bar}`.trimEnd();
  const shown = rows.map(({ name, low, high, line }) =>
    row(name, String(low), highText(high), String(line ?? '–'), bar(low, high, widest)),
  );
  return [row('variable', 'least', 'most', 'line'), ...shortList(shown, false, '  ', most)];
}

function verdicts(budget: Budget): string[] {
  const { ram, loads, runs, verdict } = budget;
  return [
    roomText('loads', loads, ram),
    roomText('runs', runs, ram),
    '',
    verdictText(verdict),
    basisText(verdict),
  ];
}

function basisText({ kind, basis }: Verdict): string {
  if (basis.on === 'bounds') {
    return kind === 'may run'
      ? '  the bounds above leave it open'
      : '  by the bounds above, whatever the run brings';
  }
  if (basis.alike) return '  the bounds leave it open; by a rehearsal, and each run does the same';
  if (basis.seeds !== undefined) {
    return `  the bounds leave it open; by ${basis.seeds} rehearsals to the end, each with other lots drawn by RND`;
  }
  return basis.whole
    ? '  by a rehearsal to its end; a run that is given something else may need more'
    : '  by a rehearsal that did not come to its end: what follows may need more';
}

/** `loads: fits, 212 bytes to spare (needs 743 to 812 of 1024)`. */
export function roomText(what: string, room: Room, ram: number): string {
  return `${what.padEnd(5)}: ${room.verdict}, ${spareText(room, ram)} (needs ${boundsText(room.low, room.high)} of ${ram})`;
}

function spareText({ verdict, low, high, spare }: Room, ram: number): string {
  const bytes = (size: number): string => count(size, 'byte');
  if (verdict === 'fits') return `${bytes(spare)} to spare`;
  if (verdict === 'does not fit') return `${low === high ? '' : 'at least '}${bytes(-spare)} over`;
  const best = `${bytes(ram - low)} to spare at best`;
  return Number.isFinite(high)
    ? `${best}, ${bytes(high - ram)} over at worst`
    : `${best}, no bound at worst`;
}

/** Variables that are named as loose; the rest are counted. */
const LOOSE_NAMED = 6;

/** Why least and most differ, the loosest first: areas and variables, and the lines that cause it. */
function reasons(budget: Budget): string[] {
  const open = budget.areas.filter((area) => area.low !== area.high && area.why !== undefined);
  if (open.length === 0) return [];
  open.sort((a, b) => gap(b) - gap(a));
  const rows = open.flatMap((area) => [
    `  ${reasonText(area.area, area)}`,
    ...(area.area === 'variables' ? looseVariables(budget) : []),
  ]);
  return ['', 'least and most differ, the loosest first:', ...rows];
}

/** Each variable of which the size is not certain, where there are several. */
function looseVariables({ variables }: Budget): string[] {
  const loose = variables.filter((variable) => gap(variable) > 0);
  if (loose.length < 2) return [];
  loose.sort((a, b) => gap(b) - gap(a));
  const more = loose.length - LOOSE_NAMED;
  const rows = loose.slice(0, LOOSE_NAMED).map((one) => `    ${reasonText(one.name, one)}`);
  return more > 0 ? [...rows, `    and ${count(more, 'more variable')}`] : rows;
}

function reasonText(name: string, { low, high, line, why }: Bounds): string {
  const place = line === undefined ? '' : ` (line ${line})`;
  return `${name} ${boundsText(low, high)}${place}${why === undefined ? '' : `: ${why}`}`;
}
