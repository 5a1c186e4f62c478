/** What a browser is told to install the page: its names and its icon, drawn from our own glyphs. */

import { codesOfText } from '../machine/characters.js';
import { runsOfGlyph } from '../machine/glyphs.js';
import { rect, svgFile } from '../markup/svg.js';
import { TEXTS } from './texts.js';

const PAPER = '#fdfdfb';
const ACCENT = '#0b625d';

/** An L on the accent, a unit of the picture for each dot of the glyph. */
export const ICON = svgFile(
  { width: 512, height: 512, viewBox: [-2, -2, 12, 12], title: TEXTS.name },
  [
    rect(-2, -2, 12, 12, { fill: ACCENT }),
    ...runsOfGlyph(codesOfText('L')[0]).map(({ row, from, to }) =>
      rect(from, row, to - from, 1, { fill: PAPER }),
    ),
  ],
);

export function manifest(): string {
  return JSON.stringify({
    name: TEXTS.title,
    short_name: TEXTS.name,
    description: TEXTS.lede,
    lang: TEXTS.lang,
    start_url: './',
    scope: './',
    display: 'standalone',
    background_color: PAPER,
    theme_color: ACCENT,
    icons: [{ src: 'icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any maskable' }],
  });
}
