/** The keyboard drawn as SVG: our own drawing, every key with what it gives. */

import { isGraphic } from '../machine/characters.js';
import { GLYPH_SIZE, runsOfGlyph } from '../machine/glyphs.js';
import { KEYS, type Key } from '../machine/keyboard.js';
import { element, escapeMarkup } from '../markup/markup.js';
import { rect, text } from '../markup/svg.js';
import { keywordName, nameOfCode, shiftedName } from './key-names.js';

const KEY_WIDTH = 86;
const KEY_HEIGHT = 74;
const GAP = 8;
/** How far each row stands to the right, in units of the drawing. */
const ROW_SHIFT = [0, 40, 62, 20];

export const DRAWING_WIDTH = 10 * (KEY_WIDTH + GAP) + 62 + GAP;
export const DRAWING_HEIGHT = 4 * (KEY_HEIGHT + GAP) + GAP;

/** The whole keyboard; every key is a group with `data-key`, which a page can light. */
export function drawKeyboard(): string {
  return element(
    'svg',
    {
      class: 'keyboard',
      viewBox: `0 0 ${DRAWING_WIDTH} ${DRAWING_HEIGHT}`,
      role: 'img',
      'aria-label': "the machine's keyboard",
    },
    `\n${KEYS.map(drawKey).join('\n')}\n`,
  );
}

function drawKey(key: Key): string {
  const { x, width } = acrossOf(key);
  const y = GAP + (key.row - 1) * (KEY_HEIGHT + GAP);
  const parts = [
    rect(0, 0, width, KEY_HEIGHT, { class: 'cap', rx: 7 }),
    ...faceOf(key, width / 2),
    label('word', width / 2, 16, keywordName(key)),
    label('shifted', width - 6, 31, shiftedName(key), 10.5, 'end'),
    label('function', width / 2, 68, key.function === undefined ? '' : nameOfCode(key.function)),
    drawGraphic(key),
  ];
  return element(
    'g',
    { class: 'key', 'data-key': key.name, transform: `translate(${x} ${y})` },
    element('title', {}, escapeMarkup(key.name)),
    ...parts,
  );
}

/** Where a key begins in its row, and how wide it is: those with long names take what room is free beside them. */
function acrossOf({ name, place, row }: Key): { x: number; width: number } {
  const shift = ROW_SHIFT[row - 1];
  if (name === 'SHIFT') return { x: GAP, width: KEY_WIDTH + shift };
  const x = GAP + place * (KEY_WIDTH + GAP) + shift;
  const isLast = name === 'SPACE';
  return { x, width: isLast ? DRAWING_WIDTH - GAP - x : KEY_WIDTH };
}

/** The key's name; one that is too long for large letters in two rows. */
function faceOf({ name }: Key, middle: number): string[] {
  if (name === 'NEWLINE') {
    return [
      label('face long upper', middle, 46, 'NEW', 14),
      label('face long lower', middle, 62, 'LINE', 14),
    ];
  }
  const isLong = name.length > 1;
  return [label(isLong ? 'face long' : 'face', middle, 52, name, isLong ? 14 : 22)];
}

function label(
  role: string,
  x: number,
  y: number,
  words: string,
  size = 11.5,
  anchor = 'middle',
): string {
  if (words === '') return '';
  return text(x, y, words, { class: role, 'font-size': size, 'text-anchor': anchor });
}

const CELL = 13;
const CELL_X = 7;
const CELL_Y = 22;

/** The graphic of a key, dot for dot as the machine shows it. */
function drawGraphic({ graphic }: Key): string {
  if (graphic === undefined || !isGraphic(graphic)) return '';
  const runs = runsOfGlyph(graphic).map(
    ({ row, from, to }) => `M${from} ${row}h${to - from}v1h${from - to}z`,
  );
  const transform = `translate(${CELL_X} ${CELL_Y}) scale(${CELL / GLYPH_SIZE})`;
  return (
    rect(CELL_X, CELL_Y, CELL, CELL, { class: 'cell' }) +
    element('path', { class: 'ink', d: runs.join(''), transform })
  );
}
