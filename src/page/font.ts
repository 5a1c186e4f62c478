/**
 * A small font of the machine's graphics for listings, drawn from our own glyphs: few systems have
 * all of these characters. The build writes it into the style sheet.
 */
import { Font, Glyph, Path } from 'opentype.js';
import { INVERSE, isGraphic, unicodeOfCode } from '../machine/characters.js';
import { GLYPH_SIZE, runsOfGlyph } from '../machine/glyphs.js';

const EM = 1000;
/** As wide as a sign of most fonts for listings, and as high as a line of the screen's text. */
const WIDTH = 600;
const ASCENT = 950;
const DESCENT = -250;
const ACROSS = WIDTH / GLYPH_SIZE;
const DOWN = (ASCENT - DESCENT) / GLYPH_SIZE;

const GRAPHICS = Array.from({ length: 2 * INVERSE }, (_, code) => code).filter(isGraphic);

const characterOf = (code: number): number => unicodeOfCode(code)!.codePointAt(0)!;

function outline(code: number): Path {
  const path = new Path();
  for (const { row, from, to } of runsOfGlyph(code)) {
    const [top, bottom] = [ASCENT - row * DOWN, ASCENT - (row + 1) * DOWN];
    path.moveTo(from * ACROSS, bottom);
    path.lineTo(from * ACROSS, top);
    path.lineTo(to * ACROSS, top);
    path.lineTo(to * ACROSS, bottom);
    path.close();
  }
  return path;
}

/** The font as an OpenType file. */
export function graphicsFont(): Uint8Array {
  const blank = new Glyph({ name: '.notdef', advanceWidth: WIDTH, path: new Path() });
  const drawn = GRAPHICS.map((code) => {
    const unicode = characterOf(code);
    return new Glyph({
      name: `u${unicode.toString(16)}`,
      unicode,
      advanceWidth: WIDTH,
      path: outline(code),
    });
  });
  const font = new Font({
    familyName: FAMILY,
    styleName: 'Regular',
    unitsPerEm: EM,
    ascender: ASCENT,
    descender: DESCENT,
    glyphs: [blank, ...drawn],
  });
  return undated(new Uint8Array(font.toArrayBuffer()));
}

/**
 * The same without its times, so that every build gives the same bytes, with its sums made good.
 * Source: the OpenType specification, "Organization of an OpenType font" and `head`, from memory.
 */
function undated(file: Uint8Array): Uint8Array {
  const view = new DataView(file.buffer, file.byteOffset, file.length);
  const sum = (from: number, to: number): number => {
    let total = 0;
    for (let at = from; at < to; at += 4) total = (total + view.getUint32(at)) >>> 0;
    return total;
  };
  const records = Array.from({ length: view.getUint16(4) }, (_, index) => 12 + 16 * index);
  const record = records.find(
    (at) => String.fromCharCode(...file.subarray(at, at + 4)) === 'head',
  )!;
  const head = view.getUint32(record + 8);
  view.setUint32(head + 8, 0);
  // Made and changed: eight bytes each.
  file.fill(0, head + 20, head + 36);
  view.setUint32(record + 4, sum(head, head + 4 * Math.ceil(view.getUint32(record + 12) / 4)));
  view.setUint32(head + 8, (0xb1b0afba - sum(0, file.length)) >>> 0);
  return file;
}

const FAMILY = 'Listwright graphics';

/** The rule that brings it into a style sheet, for these characters alone. */
export function fontRule(): string {
  const file = Buffer.from(graphicsFont()).toString('base64');
  const range = GRAPHICS.map((code) => `U+${characterOf(code).toString(16)}`).join(',');
  return `@font-face{font-family:"${FAMILY}";src:url(data:font/otf;base64,${file});unicode-range:${range}}\n`;
}
