/** The keyboard drawn as SVG: our own drawing, every key with what it gives. */

import { KEYWORDS, quartersOfCode } from '../machine/characters.js';
import { KEYS, type Key } from '../machine/keyboard.js';
import { element, escapeMarkup } from '../markup/markup.js';
import { rect, text } from '../markup/svg.js';
import { nameOfCode } from './keys.js';

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
    label('word', width / 2, 16, keywordOf(key)),
    label('shifted', width - 6, 31, shiftedOf(key), 10.5, 'end'),
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

function keywordOf(key: Key): string {
  return key.keyword === undefined || key.keyword === key.plain
    ? ''
    : (KEYWORDS.get(key.keyword) ?? '');
}

const CONTROLS = new Map([
  [112, '↑'],
  [113, '↓'],
  [114, '←'],
  [115, '→'],
  [116, 'GRAPH'],
  [117, 'EDIT'],
  [119, 'RUB'],
  [121, 'FUNC'],
]);

function shiftedOf(key: Key): string {
  if (key.shifted === undefined) return '';
  return CONTROLS.get(key.shifted) ?? nameOfCode(key.shifted);
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
const INK = { class: 'ink' };

/** The graphic of a key, drawn from its quarters; the grey ones as a hatched half or whole. */
function drawGraphic(key: Key): string {
  const code = key.graphic;
  if (code === undefined || code === 0) return '';
  const isGrey = (code >= 8 && code <= 10) || (code >= 136 && code <= 138);
  const quarters = isGrey ? 0 : quartersOfCode(code);
  if (quarters === undefined) return '';
  const half = CELL / 2;
  const pieces = [rect(CELL_X, CELL_Y, CELL, CELL, { class: 'cell' })];
  for (let bit = 0; bit < 4; bit++) {
    if ((quarters & (1 << bit)) === 0) continue;
    const x = CELL_X + (bit & 1) * half;
    const y = CELL_Y + (bit >> 1) * half;
    pieces.push(rect(x, y, half, half, INK));
  }
  if (isGrey) pieces.push(drawGrey(code));
  return pieces.join('');
}

/** Grey: a chequer of small squares in the halves that are grey, ink in those that are black. */
function drawGrey(code: number): string {
  const top = code === 8 || code === 10 || code === 136 || code === 138;
  const bottom = code === 8 || code === 9 || code === 136 || code === 137;
  const unit = CELL / 6;
  const squares: string[] = [];
  for (let row = 0; row < 6; row++) {
    const isGrey = row < 3 ? top : bottom;
    for (let column = 0; column < 6; column++) {
      const isInk = isGrey ? (row + column + (code >= 136 ? 1 : 0)) % 2 === 0 : code >= 136;
      if (!isInk) continue;
      squares.push(rect(CELL_X + column * unit, CELL_Y + row * unit, unit, unit, INK));
    }
  }
  return squares.join('');
}
