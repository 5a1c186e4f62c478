/**
 * The budget as a picture: a memory map to hang on the wall. Areas to scale with their addresses,
 * the top of the RAM drawn across, what is certain in full colour and what may come to it hatched.
 */

import { escapeMarkup } from '../listing/markup.js';
import { RAM_START } from '../machine/memory-map.js';
import { ramText } from '../machine/ram-size.js';
import type { AreaName, Budget } from './budget.js';
import { boundsText, verdictText } from './table.js';

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
    head(title, budget),
    `<rect x="${MAP_LEFT}" y="${MAP_TOP}" width="${MAP_WIDTH}" height="${MAP_HEIGHT}" fill="#fbfaf5" stroke="#777"/>`,
    ...bands.map((band) => drawBand(band, yOf)),
    ...addresses(bands, budget, yOf),
    ...labels(bands, budget, yOf),
    limit(budget, used, yOf),
    foot(height),
  ];
  return `${opening(height)}\n${parts.join('\n')}\n</svg>\n`;
}

function opening(height: number): string {
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${height}" viewBox="0 0 ${WIDTH} ${height}" font-family="DejaVu Sans, Verdana, Helvetica, sans-serif" font-size="14" fill="#1b1b1b">`,
    '<defs><pattern id="perhaps" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="7" height="7" fill="#fff" fill-opacity="0.62"/><rect width="2" height="7" fill="#000" fill-opacity="0.35"/></pattern></defs>',
    `<rect width="${WIDTH}" height="${height}" fill="#fff"/>`,
  ].join('\n');
}

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

function head(title: string, { ram, loads, runs }: Budget): string {
  const verdict = (what: string, room: Budget['loads'], y: number): string =>
    `<text x="${MAP_LEFT}" y="${y}">${escapeMarkup(verdictText(what, room, ram).replace(' :', ':'))}</text>`;
  return [
    `<text x="${MAP_LEFT}" y="42" font-size="26" font-weight="bold">${escapeMarkup(title)} in ${ramText(ram)} of RAM</text>`,
    verdict('loads', loads, 70),
    verdict('runs', runs, 92),
  ].join('\n');
}

function drawBand({ area, from, low, high }: Band, yOf: (bytes: number) => number): string {
  if (high === 0) return '';
  const rect = (start: number, end: number, fill: string): string =>
    `<rect x="${MAP_LEFT}" y="${yOf(end).toFixed(1)}" width="${MAP_WIDTH}" height="${(yOf(start) - yOf(end)).toFixed(1)}" fill="${fill}"/>`;
  const edge = `<line x1="${MAP_LEFT}" x2="${MAP_LEFT + MAP_WIDTH}" y1="${yOf(from + high).toFixed(1)}" y2="${yOf(from + high).toFixed(1)}" stroke="#fff" stroke-width="1"/>`;
  const perhaps = high > low ? rect(from + low, from + high, 'url(#perhaps)') : '';
  return rect(from, from + high, FILLS[area]) + perhaps + edge;
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
      `<text x="${MAP_LEFT - 10}" y="${(y + 5).toFixed(1)}" text-anchor="end">${RAM_START + bytes}</text><line x1="${MAP_LEFT - 6}" x2="${MAP_LEFT}" y1="${y.toFixed(1)}" y2="${y.toFixed(1)}" stroke="#777"/>`,
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
    return (
      `<polyline points="${MAP_LEFT + MAP_WIDTH},${at.toFixed(1)} ${MAP_LEFT + MAP_WIDTH + 14},${at.toFixed(1)} ${LABEL_LEFT - 18},${y.toFixed(1)} ${LABEL_LEFT - 6},${y.toFixed(1)}" fill="none" stroke="#777"/>` +
      `<text x="${LABEL_LEFT}" y="${(y + 5).toFixed(1)}"><tspan font-weight="bold">${band.area}</tspan><tspan dx="8">${bounds}${place}</tspan></text>`
    );
  });
}

/** The top of the RAM: a line across the whole picture. */
function limit(budget: Budget, used: number, yOf: (bytes: number) => number): string {
  const y = yOf(budget.ram);
  const over = used > budget.ram ? `: ${used - budget.ram} bytes over at most` : '';
  return [
    `<line x1="24" x2="${WIDTH - 24}" y1="${y.toFixed(1)}" y2="${y.toFixed(1)}" stroke="#c1121f" stroke-width="3" stroke-dasharray="12 5"/>`,
    `<text x="${WIDTH - 24}" y="${(y - 8).toFixed(1)}" text-anchor="end" font-weight="bold" fill="#c1121f" stroke="#fff" stroke-width="4" paint-order="stroke">top of the RAM, ${RAM_START + budget.ram}${over}</text>`,
  ].join('\n');
}

function foot(height: number): string {
  const y = height - 34;
  return [
    `<rect x="${MAP_LEFT}" y="${y - 12}" width="22" height="15" fill="#2f6f9f"/><text x="${MAP_LEFT + 30}" y="${y}">certain</text>`,
    `<rect x="${MAP_LEFT + 110}" y="${y - 12}" width="22" height="15" fill="#2f6f9f"/><rect x="${MAP_LEFT + 110}" y="${y - 12}" width="22" height="15" fill="url(#perhaps)"/><text x="${MAP_LEFT + 140}" y="${y}">depends on the run</text>`,
    `<text x="${WIDTH - 24}" y="${y}" text-anchor="end" fill="#555">addresses with every area at its most</text>`,
  ].join('\n');
}
