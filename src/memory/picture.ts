/**
 * The budget as a picture: a memory map to hang on the wall. Areas to scale with their addresses,
 * the top of the RAM drawn across, what is certain in full colour and what may come to it hatched.
 */

import { count } from '../listing/print.js';
import type { AreaName } from '../machine/memory-map.js';
import { RAM_START } from '../machine/memory-map.js';
import { ramText } from '../machine/ram-size.js';
import { element } from '../markup/markup.js';
import { line, rect, svgFile, text } from '../markup/svg.js';
import type { Budget } from './budget.js';
import { boundsText, roomText } from './table.js';

const WIDTH = 800;
const MAP_LEFT = 96;
const MAP_WIDTH = 260;
const LABEL_LEFT = 392;
const MAP_TOP = 118;
const MAP_HEIGHT = 800;
/** Labels nearer than this would lie on each other. */
const LABEL_STEP = 30;
/** Height of the words above the line at the top of the RAM. */
const LIMIT_ROOM = 42;
const FOOT = 76;

/** Fills that stay apart in grey print: light and dark alternate up the map. */
const FILLS: Readonly<Record<Band['area'], string>> = {
  spare: '#fbfaf5',
  'system variables': '#5b6770',
  program: '#2f6f9f',
  display: '#9cc7e4',
  variables: '#2e8b57',
  'end byte': '#123',
  'edit line': '#b7d7a8',
  workspace: '#7a6a9a',
  'calculator stack': '#c9b8e0',
  'kept free by the ROM': '#e3c66b',
  'machine stack': '#b5542c',
  'GOSUB stack': '#e8a27f',
};

/** What no area takes, even at its most. */
const SPARE = 'spare';

interface Band {
  readonly area: AreaName | typeof SPARE;
  readonly from: number;
  readonly low: number;
  readonly high: number;
}

/** The picture as SVG text. `title` names the program. */
export function budgetPicture(budget: Budget, title: string): string {
  const bands = bandsOf(budget);
  const used = bands.reduce((sum, band) => sum + band.high, 0);
  // The map is as tall as the RAM, or as what is wanted where that is more: the limit then cuts it.
  const whole = Math.max(budget.ram, used);
  const scale = MAP_HEIGHT / whole;
  const yOf = (bytes: number): number => MAP_TOP + MAP_HEIGHT - bytes * scale;
  const height = MAP_TOP + MAP_HEIGHT + FOOT;
  const parts = [
    HATCHING,
    rect(0, 0, WIDTH, height, { fill: '#fff' }),
    head(title, budget),
    rect(MAP_LEFT, MAP_TOP, MAP_WIDTH, MAP_HEIGHT, { fill: '#fbfaf5', stroke: '#777' }),
    ...bands.map((band) => drawBand(band, yOf)),
    ...addresses(bands, budget, yOf),
    ...labels(bands, budget, yOf),
    limit(budget, used, yOf),
    foot(height),
  ];
  const attributes = {
    'font-family': 'DejaVu Sans, Verdana, Helvetica, sans-serif',
    'font-size': 14,
    fill: '#1b1b1b',
  };
  return svgFile({ width: WIDTH, height, title: headline(title, budget), attributes }, parts);
}

/** What may come to an area lies over its colour. */
const PERHAPS = 'url(#perhaps)';
const HATCHING = element(
  'defs',
  {},
  element(
    'pattern',
    {
      id: 'perhaps',
      width: 7,
      height: 7,
      patternUnits: 'userSpaceOnUse',
      patternTransform: 'rotate(45)',
    },
    rect(0, 0, 7, 7, { fill: '#fff', 'fill-opacity': 0.62 }),
    rect(0, 0, 2, 7, { fill: '#000', 'fill-opacity': 0.35 }),
  ),
);

/** Areas that hang from the top of the RAM; between them and the others lies what is spare. */
const FROM_TOP = new Set<AreaName>(['kept free by the ROM', 'machine stack', 'GOSUB stack']);

/** Areas in the order of the map, each as large as it can become; no bound counts as the whole RAM. */
function bandsOf(budget: Budget): Band[] {
  const sizes = budget.areas.map(({ area, low, high }) => {
    return { area, low, high: Number.isFinite(high) ? high : budget.ram };
  });
  const spare = budget.ram - sizes.reduce((sum, { high }) => sum + high, 0);
  const bands: Band[] = [];
  let from = 0;
  for (const { area, low, high } of sizes) {
    if (spare > 0 && FROM_TOP.has(area) && !bands.some((band) => band.area === SPARE)) {
      bands.push({ area: SPARE, from, low: spare, high: spare });
      from += spare;
    }
    bands.push({ area, from, low, high });
    from += high;
  }
  return bands;
}

const headline = (title: string, { ram }: Budget): string => `${title} in ${ramText(ram)} of RAM`;

function head(title: string, budget: Budget): string {
  const { ram, loads, runs } = budget;
  const verdict = (what: string, room: Budget['loads'], y: number): string =>
    text(MAP_LEFT, y, roomText(what, room, ram).replace(' :', ':'));
  return [
    text(MAP_LEFT, 42, headline(title, budget), { 'font-size': 26, 'font-weight': 'bold' }),
    verdict('loads', loads, 70),
    verdict('runs', runs, 92),
  ].join('\n');
}

function drawBand({ area, from, low, high }: Band, yOf: (bytes: number) => number): string {
  if (high === 0) return '';
  const part = (start: number, end: number, fill: string): string =>
    rect(MAP_LEFT, yOf(end), MAP_WIDTH, yOf(start) - yOf(end), { fill });
  const top = yOf(from + high);
  const edge = line(MAP_LEFT, top, MAP_LEFT + MAP_WIDTH, top, { stroke: '#fff' });
  const perhaps = high > low ? part(from + low, from + high, PERHAPS) : '';
  return part(from, from + high, FILLS[area]) + perhaps + edge;
}

/** Addresses at the foot of each area, left of the map, where there is room for them. */
function addresses(
  bands: readonly Band[],
  budget: Budget,
  yOf: (bytes: number) => number,
): string[] {
  let last = Number.POSITIVE_INFINITY;
  const shown: string[] = [];
  const put = (bytes: number): void => {
    const y = yOf(bytes);
    if (last - y < 15) return;
    last = y;
    shown.push(
      text(MAP_LEFT - 10, y + 5, String(RAM_START + bytes), { 'text-anchor': 'end' }),
      line(MAP_LEFT - 6, y, MAP_LEFT, y, { stroke: '#777' }),
    );
  };
  const limitY = yOf(budget.ram);
  for (const { from, high } of bands) {
    if (high > 0 && Math.abs(yOf(from) - limitY) >= 15) put(from);
  }
  return shown;
}

/** Names and sizes right of the map, moved apart where areas are thin, each led to its area. */
function labels(bands: readonly Band[], budget: Budget, yOf: (bytes: number) => number): string[] {
  const wanted = bands
    .filter((band) => band.high > 0)
    .map((band) => ({ band, at: yOf(band.from + band.high / 2), y: 0 }));
  // The line across the map has words of its own, above it: labels keep away from them.
  const limitY = yOf(budget.ram);
  const keepClear = (y: number): number =>
    y > limitY - LIMIT_ROOM && y < limitY + LABEL_STEP / 2 ? limitY - LIMIT_ROOM : y;
  let below = MAP_TOP + MAP_HEIGHT + LABEL_STEP / 2;
  for (const label of wanted) {
    label.y = keepClear(Math.min(label.at, below - LABEL_STEP));
    below = label.y;
  }
  // What was pushed above the top comes back down, and pushes what is under it.
  let above = MAP_TOP - LABEL_STEP / 2;
  for (const label of [...wanted].reverse()) {
    if (label.y >= above + LABEL_STEP) break;
    label.y = above + LABEL_STEP;
    if (keepClear(label.y) !== label.y) label.y = limitY + LABEL_STEP / 2 + 4;
    above = label.y;
  }
  return wanted.map(({ band, at, y }) => {
    const area = budget.areas.find((one) => one.area === band.area);
    const bounds = boundsText(band.low, area?.high ?? band.high);
    const known = band.low === band.high || area?.line === undefined;
    const place = known ? '' : `, line ${area.line}`;
    const edge = MAP_LEFT + MAP_WIDTH;
    const corners = [
      [edge, at],
      [edge + 14, at],
      [LABEL_LEFT - 18, y],
      [LABEL_LEFT - 6, y],
    ];
    const points = corners
      .map((corner) => corner.map((value) => value.toFixed(1)).join())
      .join(' ');
    return [
      element('polyline', { points, fill: 'none', stroke: '#777' }),
      element(
        'text',
        { x: LABEL_LEFT, y: y + 5 },
        element('tspan', { 'font-weight': 'bold' }, band.area),
        element('tspan', { dx: 8 }, `${bounds}${place}`),
      ),
    ].join('');
  });
}

/** The top of the RAM: a line across the whole picture. */
function limit(budget: Budget, used: number, yOf: (bytes: number) => number): string {
  const y = yOf(budget.ram);
  const over = used > budget.ram ? `: ${count(used - budget.ram, 'byte')} over at most` : '';
  return [
    line(24, y, WIDTH - 24, y, {
      stroke: '#c1121f',
      'stroke-width': 3,
      'stroke-dasharray': '12 5',
    }),
    text(WIDTH - 24, y - 8, `top of the RAM, ${RAM_START + budget.ram}${over}`, {
      'text-anchor': 'end',
      'font-weight': 'bold',
      fill: '#c1121f',
      stroke: '#fff',
      'stroke-width': 4,
      'paint-order': 'stroke',
    }),
  ].join('\n');
}

function foot(height: number): string {
  const y = height - 34;
  const patch = (left: number, fill: string): string => rect(left, y - 12, 22, 15, { fill });
  return [
    patch(MAP_LEFT, FILLS.program),
    text(MAP_LEFT + 30, y, 'certain'),
    patch(MAP_LEFT + 110, FILLS.program),
    patch(MAP_LEFT + 110, PERHAPS),
    text(MAP_LEFT + 140, y, 'depends on the run'),
    text(WIDTH - 24, y, 'addresses with every area at its most', {
      'text-anchor': 'end',
      fill: '#555',
    }),
  ].join('\n');
}
