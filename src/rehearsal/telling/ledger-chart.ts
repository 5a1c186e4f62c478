/** The ledger as a chart in SVG: the areas stacked against statements, and the room between. */

import { RAM_START } from '../../machine/memory-map.js';
import { element } from '../../markup/markup.js';
import { line, rect, svgFile, text } from '../../markup/svg.js';
import { KEPT_AREA, LEDGER_AREAS, type LedgerArea } from '../state/areas.js';
import type { Entry } from '../state/ledger.js';

const WIDTH = 960;
const HEIGHT = 460;
const MARGIN = { left: 70, right: 190, top: 54, bottom: 52 };
const PLOT_WIDTH = WIDTH - MARGIN.left - MARGIN.right;
const PLOT_HEIGHT = HEIGHT - MARGIN.top - MARGIN.bottom;

/** From the bottom of the RAM up, and from its top down: the room left lies between. */
const FROM_TOP: LedgerArea[] = [KEPT_AREA, 'GOSUB stack'];
const FROM_BOTTOM = LEDGER_AREAS.filter((area) => !FROM_TOP.includes(area));
/** Told apart by lightness as well as by hue. */
const COLOURS: Readonly<Record<LedgerArea, string>> = {
  'system variables': '#4a4a4a',
  program: '#2f6690',
  display: '#81a4cd',
  variables: '#e09f3e',
  workspace: '#9e2a2b',
  'calculator stack': '#f2c6c0',
  'GOSUB stack': '#6a994e',
  [KEPT_AREA]: '#a8a8a8',
};
const ROOM = '#fbfaf5';

/** Peaks that are named, and how far apart they must be, in pixels. */
const MOST_PEAKS = 6;
const PEAK_DISTANCE = 120;
/** Half the width of a peak's label, which must not run over the edges. */
const HALF_LABEL = 64;

interface Scale {
  x(statements: number): number;
  y(bytes: number): number;
}

/** Draws a ledger for a machine with so many bytes of RAM. */
export function ledgerChart(entries: readonly Entry[], ram: number, title: string): string {
  const last = Math.max(1, entries.at(-1)?.statements ?? 1);
  const scale: Scale = {
    x: (statements) => MARGIN.left + (PLOT_WIDTH * statements) / last,
    y: (bytes) => MARGIN.top + PLOT_HEIGHT * (1 - bytes / ram),
  };
  const attributes = { 'font-family': 'sans-serif', 'font-size': 13 };
  return svgFile({ width: WIDTH, height: HEIGHT, title, attributes }, [
    rect(0, 0, WIDTH, HEIGHT, { fill: '#ffffff' }),
    text(MARGIN.left, 26, title, { 'font-size': 16, 'font-weight': 'bold' }),
    rect(MARGIN.left, MARGIN.top, PLOT_WIDTH, PLOT_HEIGHT, { fill: ROOM }),
    ...bands(entries, ram, scale),
    ...axes(ram, last, scale),
    ...peaks(entries, scale),
    ...legend(entries, ram, scale),
  ]);
}

/** One shape for each area that is ever there. */
function bands(entries: readonly Entry[], ram: number, scale: Scale): string[] {
  const shapes: string[] = [];
  let floor = entries.map(() => 0);
  for (const area of FROM_BOTTOM) {
    const ceiling = entries.map((entry, at) => floor[at] + entry.sizes[area]);
    shapes.push(band(entries, floor, ceiling, area, scale));
    floor = ceiling;
  }
  let ceiling = entries.map(() => ram);
  for (const area of FROM_TOP) {
    const lower = entries.map((entry, at) => ceiling[at] - entry.sizes[area]);
    shapes.push(band(entries, lower, ceiling, area, scale));
    ceiling = lower;
  }
  return shapes;
}

/** Steps, not slopes: an entry holds for its whole stretch. */
function band(
  entries: readonly Entry[],
  floor: readonly number[],
  ceiling: readonly number[],
  area: LedgerArea,
  scale: Scale,
): string {
  const place = (statements: number, bytes: number): string =>
    `${scale.x(statements).toFixed(1)} ${scale.y(bytes).toFixed(1)}`;
  const upper: string[] = [];
  const lower: string[] = [];
  let from = 0;
  entries.forEach(({ statements }, at) => {
    upper.push(place(from, ceiling[at]), place(statements, ceiling[at]));
    lower.push(place(from, floor[at]), place(statements, floor[at]));
    from = statements;
  });
  if (entries.every((_, at) => ceiling[at] === floor[at])) return '';
  const d = `M${upper.join('L')}L${lower.reverse().join('L')}z`;
  return element('path', { fill: COLOURS[area], d });
}

const MIDDLE = { 'text-anchor': 'middle' };
const END = { 'text-anchor': 'end' };

function axes(ram: number, last: number, scale: Scale): string[] {
  const bottom = MARGIN.top + PLOT_HEIGHT;
  const marks: string[] = [
    rect(MARGIN.left, MARGIN.top, PLOT_WIDTH, PLOT_HEIGHT, { fill: 'none', stroke: '#222' }),
    text(MARGIN.left + PLOT_WIDTH / 2, HEIGHT - 12, 'statements run', MIDDLE),
    text(MARGIN.left - 8, MARGIN.top - 10, 'bytes', END),
  ];
  for (let quarter = 0; quarter <= 4; quarter++) {
    const bytes = (ram * quarter) / 4;
    const statements = Math.round((last * quarter) / 4);
    const y = scale.y(bytes);
    marks.push(
      line(MARGIN.left - 4, y, MARGIN.left, y, { stroke: '#222' }),
      text(MARGIN.left - 8, y + 4, String(bytes), END),
      text(scale.x(statements), bottom + 18, String(statements), MIDDLE),
    );
  }
  return marks;
}

/** The entries with the least room, far enough from one another to be named, fullest first. */
export function namedPeaks(entries: readonly Entry[], near: (a: Entry, b: Entry) => boolean) {
  const isPeak = (at: number): boolean =>
    entries[at].spare < (entries[at - 1]?.spare ?? Infinity) &&
    entries[at].spare <= (entries[at + 1]?.spare ?? Infinity);
  const found = entries.filter((_, at) => isPeak(at)).sort((a, b) => a.spare - b.spare);
  const named: Entry[] = [];
  for (const entry of found) {
    if (named.length === MOST_PEAKS) break;
    if (!named.some((other) => near(entry, other))) named.push(entry);
  }
  return named;
}

function peaks(entries: readonly Entry[], scale: Scale): string[] {
  const labelX = (entry: Entry): number =>
    Math.min(
      Math.max(scale.x(entry.statements), MARGIN.left + HALF_LABEL),
      WIDTH - MARGIN.right - HALF_LABEL,
    );
  const near = (a: Entry, b: Entry): boolean => Math.abs(labelX(a) - labelX(b)) < PEAK_DISTANCE;
  return namedPeaks(entries, near).map((entry, index) => {
    const { statements, spare, line: number, sizes } = entry;
    const used = FROM_BOTTOM.reduce((sum, area) => sum + sizes[area], 0);
    const x = scale.x(statements);
    const y = Math.max(MARGIN.top + 4, scale.y(used));
    return [
      element('circle', {
        cx: x,
        cy: y,
        r: 3.5,
        fill: '#fff',
        stroke: '#9e2a2b',
        'stroke-width': 2,
      }),
      text(labelX(entry), y - 9, `line ${number}: ${spare} left`, {
        ...MIDDLE,
        stroke: '#fff',
        'stroke-width': 3,
        'paint-order': 'stroke',
        'font-weight': index === 0 ? 'bold' : undefined,
      }),
    ].join('');
  });
}

function legend(entries: readonly Entry[], ram: number, scale: Scale): string[] {
  const x = MARGIN.left + PLOT_WIDTH + 16;
  const present = (area: LedgerArea): boolean => entries.some((entry) => entry.sizes[area] > 0);
  const items: [string, string][] = [
    ...FROM_TOP.filter(present).map((area): [string, string] => [COLOURS[area], area]),
    [ROOM, 'room left'],
    ...[...FROM_BOTTOM]
      .reverse()
      .filter(present)
      .map((area): [string, string] => [COLOURS[area], area]),
  ];
  const shapes = items.map(([colour, words], index) => {
    const y = MARGIN.top + 10 + 24 * index;
    const patch = rect(x, y, 14, 14, { fill: colour, stroke: '#222', 'stroke-width': 0.5 });
    return patch + text(x + 22, y + 12, words);
  });
  const note = `RAM from ${RAM_START} to ${RAM_START + ram - 1}`;
  return [...shapes, text(x, scale.y(0), note, { 'font-size': 11, fill: '#555' })];
}
