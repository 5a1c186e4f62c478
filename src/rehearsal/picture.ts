/** The screen as a picture in SVG, with glyphs of our own. */

import { GLYPH_SIZE, glyphOf } from '../machine/glyphs.js';
import { DISPLAY_COLUMNS, DISPLAY_ROWS } from '../machine/memory-map.js';
import { plainRow } from './show.js';

/** Dots of the machine's picture to a unit, and the border about it, in dots. */
const SCALE = 3;
const BORDER = 24;
const PAPER = '#f4f2ea';
const INK = '#1c1c1c';
const GLASS = '#d9d6c9';

/** Draws 24 rows of at most 32 codes. The text of the screen stands in it for readers that read. */
export function screenPicture(rows: readonly Uint8Array[], title: string): string {
  const width = DISPLAY_COLUMNS * GLYPH_SIZE;
  const height = DISPLAY_ROWS * GLYPH_SIZE;
  const [wide, high] = [width + 2 * BORDER, height + 2 * BORDER];
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${wide * SCALE}" height="${high * SCALE}" viewBox="${-BORDER} ${-BORDER} ${wide} ${high}" role="img">`,
    `<title>${escapeXml(title)}</title>`,
    `<desc>${escapeXml(rows.map(plainRow).join('\n').trimEnd())}</desc>`,
    `<rect x="${-BORDER}" y="${-BORDER}" width="${wide}" height="${high}" rx="10" fill="${GLASS}"/>`,
    `<rect x="-4" y="-4" width="${width + 8}" height="${height + 8}" rx="3" fill="${PAPER}"/>`,
    `<path fill="${INK}" shape-rendering="crispEdges" d="${dots(rows)}"/>`,
    '</svg>',
    '',
  ].join('\n');
}

/** Runs of lit dots, each a rectangle; runs go on from one cell into the next. */
function dots(rows: readonly Uint8Array[]): string {
  let path = '';
  rows.forEach((codes, row) => {
    const glyphs = Array.from(codes, glyphOf);
    for (let line = 0; line < GLYPH_SIZE; line++) {
      const bits = glyphs
        .map((glyph) => glyph[line].toString(2).padStart(GLYPH_SIZE, '0'))
        .join('');
      for (const run of bits.matchAll(/1+/g)) {
        const length = run[0].length;
        path += `M${run.index} ${row * GLYPH_SIZE + line}h${length}v1h-${length}z`;
      }
    }
  });
  return path;
}

export function escapeXml(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}
