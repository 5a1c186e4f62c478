/** The verdict, and the memory map under it. */
import { $, make } from '../dom.js';
import { TEXTS } from '../texts.js';
import type { Known, KnownArea } from '../workers/known.js';

/** Which of the colours an area has. */
const COLOURS: Record<string, string> = {
  'system variables': 'area-4',
  program: 'area-1',
  display: 'area-2',
  variables: 'area-3',
};

export const colourOf = (area: string): string => COLOURS[area] ?? 'area-5';

export function showFit({ verdict, areas, ram, lines }: Known): void {
  const words = $('verdict');
  words.textContent = verdict?.text ?? (lines === 0 ? '' : TEXTS.fit.broken);
  words.dataset.kind = verdict?.kind ?? '';
  // While a listing has errors the last map stays, paler: a page that jumps is hard to write on.
  $('fit').classList.toggle('stale', verdict === undefined);
  if (verdict === undefined) return;
  $('fit').hidden = false;
  const map = $('map');
  const bounded = areas.map(({ area, low, high }) => ({ area, low, high: high ?? low + ram / 4 }));
  const whole = Math.max(ram, ...[bounded.reduce((sum, { high }) => sum + high, 0)]);
  map.replaceChildren(
    ...bounded.flatMap(({ area, low, high }) => {
      const sure = strip(area, low / whole);
      return high > low ? [sure, strip(area, (high - low) / whole, 'may')] : [sure];
    }),
  );
  if (whole > ram) {
    const limit = make('span', { className: 'limit' });
    limit.style.insetInlineStart = `${(100 * ram) / whole}%`;
    map.append(limit);
  }
  map.setAttribute('aria-label', `${TEXTS.fit.map(ram)}: ${verdict.text}`);
  $('map-table').replaceChildren(tableOf(areas));
}

/** A stretch of a map, as wide as its part of the whole. */
export function strip(area: string, part: number, more = ''): HTMLElement {
  const piece = make('span', { className: `${colourOf(area)} ${more}`, title: area });
  piece.style.width = `${100 * part}%`;
  return piece;
}

function tableOf(areas: readonly KnownArea[]): HTMLTableElement {
  const { fit } = TEXTS;
  const head = [fit.area, fit.least, fit.most].map((words) => make('th', { scope: 'col' }, words));
  const rows = areas.map(({ area, low, high }) => {
    const swatch = make('span', { className: `swatch ${colourOf(area)}` });
    const cells = [String(low), high === null ? fit.noBound : String(high)];
    return make(
      'tr',
      {},
      make('th', { scope: 'row' }, swatch, area),
      ...cells.map((words) => make('td', {}, words)),
    );
  });
  return make(
    'table',
    {},
    make('caption', { className: 'quiet' }, fit.legend),
    make('thead', {}, make('tr', {}, ...head)),
    make('tbody', {}, ...rows),
  );
}
