/** The ledger as a chart in SVG: the areas stacked against statements, and the room between. */
import { RAM_START } from '../machine/memory-map.js';
import { AREA_WORDS, type AreaSizes } from './areas.js';
import type { Entry } from './ledger.js';
import { escapeXml } from './picture.js';

const WIDTH = 960;
const HEIGHT = 460;
const MARGIN = { left: 70, right: 190, top: 54, bottom: 52 };
const PLOT_WIDTH = WIDTH - MARGIN.left - MARGIN.right;
const PLOT_HEIGHT = HEIGHT - MARGIN.top - MARGIN.bottom;

type Area = keyof AreaSizes;
/** From the bottom of the RAM up, and from its top down: the room left lies between. */
const FROM_BOTTOM: Area[] = [
  'system',
  'program',
  'display',
  'variables',
  'workspace',
  'calculator',
];
const FROM_TOP: Area[] = ['kept', 'gosub'];
/** Told apart by lightness as well as by hue. */
const COLOURS: Record<Area, string> = {
  system: '#4a4a4a',
  program: '#2f6690',
  display: '#81a4cd',
  variables: '#e09f3e',
  workspace: '#9e2a2b',
  calculator: '#f2c6c0',
  gosub: '#6a994e',
  kept: '#a8a8a8',
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
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" font-family="sans-serif" font-size="13">`,
    `<title>${escapeXml(title)}</title>`,
    `<rect width="${WIDTH}" height="${HEIGHT}" fill="#ffffff"/>`,
    `<text x="${MARGIN.left}" y="26" font-size="16" font-weight="bold">${escapeXml(title)}</text>`,
    `<rect x="${MARGIN.left}" y="${MARGIN.top}" width="${PLOT_WIDTH}" height="${PLOT_HEIGHT}" fill="${ROOM}"/>`,
    ...bands(entries, ram, scale),
    ...axes(ram, last, scale),
    ...peaks(entries, scale),
    ...legend(entries, ram, scale),
    '</svg>',
    '',
  ].join('\n');
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
  area: Area,
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
  return `<path fill="${COLOURS[area]}" d="M${upper.join('L')}L${lower.reverse().join('L')}z"/>`;
}

function axes(ram: number, last: number, scale: Scale): string[] {
  const bottom = MARGIN.top + PLOT_HEIGHT;
  const marks: string[] = [
    `<rect x="${MARGIN.left}" y="${MARGIN.top}" width="${PLOT_WIDTH}" height="${PLOT_HEIGHT}" fill="none" stroke="#222"/>`,
    `<text x="${MARGIN.left + PLOT_WIDTH / 2}" y="${HEIGHT - 12}" text-anchor="middle">statements run</text>`,
    `<text x="${MARGIN.left - 8}" y="${MARGIN.top - 10}" text-anchor="end">bytes</text>`,
  ];
  for (let quarter = 0; quarter <= 4; quarter++) {
    const bytes = (ram * quarter) / 4;
    const statements = Math.round((last * quarter) / 4);
    const y = scale.y(bytes);
    marks.push(
      `<line x1="${MARGIN.left - 4}" x2="${MARGIN.left}" y1="${y}" y2="${y}" stroke="#222"/>`,
      `<text x="${MARGIN.left - 8}" y="${y + 4}" text-anchor="end">${bytes}</text>`,
      `<text x="${scale.x(statements)}" y="${bottom + 18}" text-anchor="middle">${statements}</text>`,
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
  const near = (a: Entry, b: Entry): boolean =>
    Math.abs(scale.x(a.statements) - scale.x(b.statements)) < PEAK_DISTANCE;
  return namedPeaks(entries, near).map(({ statements, spare, line, sizes }, index) => {
    const used = FROM_BOTTOM.reduce((sum, area) => sum + sizes[area], 0);
    const x = scale.x(statements);
    const y = Math.max(MARGIN.top + 4, scale.y(used));
    const labelX = Math.min(
      Math.max(x, MARGIN.left + HALF_LABEL),
      WIDTH - MARGIN.right - HALF_LABEL,
    );
    const label = `line ${line}: ${spare} left`;
    return (
      `<circle cx="${x.toFixed(1)}" cy="${y.toFixed(1)}" r="3.5" fill="#fff" stroke="#9e2a2b" stroke-width="2"/>` +
      `<text x="${labelX.toFixed(1)}" y="${(y - 9).toFixed(1)}" text-anchor="middle" stroke="#fff" stroke-width="3" paint-order="stroke"${index === 0 ? ' font-weight="bold"' : ''}>${label}</text>`
    );
  });
}

function legend(entries: readonly Entry[], ram: number, scale: Scale): string[] {
  const x = MARGIN.left + PLOT_WIDTH + 16;
  const present = (area: Area): boolean => entries.some((entry) => entry.sizes[area] > 0);
  const items: [string, string][] = [
    ...FROM_TOP.filter(present).map((area): [string, string] => [COLOURS[area], AREA_WORDS[area]]),
    [ROOM, 'room left'],
    ...[...FROM_BOTTOM]
      .reverse()
      .filter(present)
      .map((area): [string, string] => [COLOURS[area], AREA_WORDS[area]]),
  ];
  const shapes = items.map(([colour, words], index) => {
    const y = MARGIN.top + 10 + 24 * index;
    return `<rect x="${x}" y="${y}" width="14" height="14" fill="${colour}" stroke="#222" stroke-width="0.5"/><text x="${x + 22}" y="${y + 12}">${words}</text>`;
  });
  const note = `RAM from ${RAM_START} to ${RAM_START + ram - 1}`;
  return [...shapes, `<text x="${x}" y="${scale.y(0)}" font-size="11" fill="#555">${note}</text>`];
}
