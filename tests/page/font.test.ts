/** The page's font of the machine's graphics: every graphic is there, and looks as on the screen. */
import { parse } from 'opentype.js';
import { expect, test, vi } from 'vitest';
import { codeOfUnicode } from '../../src/machine/characters.js';
import { GLYPH_SIZE, glyphOf } from '../../src/machine/glyphs.js';
import { fontRule, graphicsFont } from '../../src/page/font.js';

const font = parse(graphicsFont().slice().buffer);
const GRAPHICS = [...'▘▝▀▖▌▞▛▒\u{1FB8F}\u{1FB8E}█▟▙▄▜▐▚▗\u{1FB90}\u{1FB91}\u{1FB92}'];

/** The rows of a glyph's dots, as the font's outline covers their middles. */
function dotsOf(character: string): number[] {
  const { commands } = font.charToGlyph(character).getPath(0, 0, font.unitsPerEm);
  const points = commands.flatMap((command) => ('x' in command ? [command] : []));
  const boxes = Array.from({ length: points.length / 4 }, (_, at) => {
    const corners = points.slice(4 * at, 4 * at + 4);
    return {
      left: Math.min(...corners.map(({ x }) => x)),
      right: Math.max(...corners.map(({ x }) => x)),
      top: Math.min(...corners.map(({ y }) => y)),
      bottom: Math.max(...corners.map(({ y }) => y)),
    };
  });
  const [across, down] = [600 / GLYPH_SIZE, 1200 / GLYPH_SIZE];
  return Array.from({ length: GLYPH_SIZE }, (_, row) => {
    const y = (row + 0.5) * down - font.ascender;
    let bits = 0;
    for (let column = 0; column < GLYPH_SIZE; column++) {
      const x = (column + 0.5) * across;
      const isInk = boxes.some(
        (box) => box.left < x && x < box.right && box.top < y && y < box.bottom,
      );
      bits = 2 * bits + Number(isInk);
    }
    return bits;
  });
}

test.each(GRAPHICS)('%s', (character) => {
  expect(dotsOf(character)).toEqual([...glyphOf(codeOfUnicode(character)!)]);
});

test('it has the graphics alone, and is used for them alone', () => {
  expect(font.glyphs.length).toBe(GRAPHICS.length + 1);
  const range = /unicode-range:([^}]+)/.exec(fontRule())![1].split(',');
  const written = GRAPHICS.map((one) => `U+${one.codePointAt(0)!.toString(16)}`);
  expect(range.sort()).toEqual(written.sort());
});

test('its sum is what the specification asks', () => {
  const file = graphicsFont();
  const view = new DataView(file.buffer, file.byteOffset, file.length);
  expect(file.length % 4).toBe(0);
  let sum = 0;
  for (let at = 0; at < file.length; at += 4) sum = (sum + view.getUint32(at)) >>> 0;
  expect(sum).toBe(0xb1b0afba);
});

test('it is the same at every build', () => {
  const now = fontRule();
  vi.setSystemTime(Date.now() + 86_400_000);
  expect(fontRule()).toBe(now);
  vi.useRealTimers();
});
