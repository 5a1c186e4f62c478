/** The screen as a picture in SVG, with glyphs of our own. */

import { GLYPH_SIZE, glyphOf } from '../../machine/glyphs.js';
import { DISPLAY_COLUMNS, DISPLAY_ROWS } from '../../machine/memory-map.js';
import { element } from '../../markup/markup.js';
import { rect, svgFile } from '../../markup/svg.js';
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
  const file = {
    width: wide * SCALE,
    height: high * SCALE,
    viewBox: [-BORDER, -BORDER, wide, high] as const,
    title,
    description: rows.map(plainRow).join('\n').trimEnd(),
  };
  return svgFile(file, [
    rect(-BORDER, -BORDER, wide, high, { rx: 10, fill: GLASS }),
    rect(-4, -4, width + 8, height + 8, { rx: 3, fill: PAPER }),
    element('path', { fill: INK, 'shape-rendering': 'crispEdges', d: dots(rows) }),
  ]);
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
