/**
 * The railroad diagram: every rule of the grammar as tracks, read from left to right. Round boxes
 * hold what is written as it stands, square ones the name of another rule.
 */
import { escapeMarkup } from '../../src/markup/markup.js';
import { svgFile } from '../../src/markup/svg.js';
import type { Rule, Shape } from './shapes.js';

/** A drawn piece: its tracks come in at (x, y) and leave at (x + width, y). */
interface Piece {
  readonly width: number;
  /** Room above and below the track. */
  readonly up: number;
  readonly down: number;
  draw(x: number, y: number): string;
}

const RADIUS = 9;
const GAP = 12;
/** Room between tracks that lie over one another. */
const APART = 12;
const BOX = 13;
const CHARACTER_WIDTH = 7.9;
const ROW = 19;
const WIDEST_PANEL = 480;

const idOf = (name: string): string => name.toLowerCase().replace(/[^a-z]+/g, '-');
const track = (path: string): string => `<path class="track" d="${path}"/>`;
const label = (x: number, y: number, content: string, kind = ''): string =>
  `<text x="${round(x)}" y="${round(y)}"${kind}>${escapeMarkup(content)}</text>`;
const round = (value: number): number => Math.round(value * 10) / 10;

/** A quarter of a circle: how far to the right and down it leads, and whether clockwise. */
const turn = (right: 1 | -1, down: 1 | -1, clockwise: 0 | 1): string =>
  `a${RADIUS} ${RADIUS} 0 0 ${clockwise} ${right * RADIUS} ${down * RADIUS}`;

export function pieceOf(shape: Shape): Piece {
  switch (shape.kind) {
    case 'words':
      return shape.words.length === 1 ? box(shape.words[0], 'word') : panel(shape.words);
    case 'rule':
      return linked(shape.name, box(shape.name, 'rule'));
    case 'said':
      return box(shape.text, 'said');
    case 'sequence':
      return inARow(shape.parts.map(pieceOf));
    case 'choice':
      return oneOf(shape.ways.map(pieceOf));
    case 'optional':
      return bypassed(pieceOf(shape.part));
    case 'loop':
      return repeated(pieceOf(shape.part), shape.between && pieceOf(shape.between));
  }
}

function box(content: string, kind: 'word' | 'rule' | 'said'): Piece {
  const width = round([...content].length * CHARACTER_WIDTH + 18);
  const corner = kind === 'rule' ? 0 : kind === 'said' ? 5 : BOX;
  return {
    width,
    up: BOX,
    down: BOX,
    draw: (x, y) =>
      `<g class="${kind}"><rect x="${round(x)}" y="${round(y - BOX)}" width="${width}" height="${2 * BOX}" rx="${corner}"/>${label(x + width / 2, y + 4.5, content)}</g>`,
  };
}

function linked(name: string, piece: Piece): Piece {
  return {
    ...piece,
    draw: (x, y) => `<a href="#${idOf(name)}">${piece.draw(x, y)}</a>`,
  };
}

/** Many words, any of which may stand there, in columns. */
function panel(words: readonly string[]): Piece {
  const longest = Math.max(...words.map((one) => one.length));
  const column = longest * CHARACTER_WIDTH + 16;
  const most = Math.max(1, Math.floor(WIDEST_PANEL / column));
  const rows = Math.ceil(words.length / most);
  const columns = Math.ceil(words.length / rows);
  const width = round(columns * column + 8);
  const half = (rows * ROW + 8 + ROW) / 2;
  return {
    width,
    up: half,
    down: half,
    draw(x, y) {
      const top = y - half;
      const shown = words.map((one, at) =>
        label(
          x + 4 + ((at % columns) + 0.5) * column,
          top + ROW * (Math.floor(at / columns) + 2) - 3,
          one,
        ),
      );
      return `<g class="word"><rect x="${round(x)}" y="${round(top)}" width="${width}" height="${2 * half}" rx="${BOX}"/>${label(x + width / 2, top + 16, 'one of', ' class="note"')}${shown.join('')}</g>`;
    },
  };
}

function inARow(pieces: readonly Piece[]): Piece {
  const width = pieces.reduce((sum, piece) => sum + piece.width + GAP, -GAP);
  return {
    width,
    up: Math.max(...pieces.map(({ up }) => up)),
    down: Math.max(...pieces.map(({ down }) => down)),
    draw(x, y) {
      let at = x;
      const drawn = pieces.map((piece, index) => {
        const line = index === 0 ? '' : track(`M${round(at - GAP)} ${round(y)}h${GAP}`);
        const shown = line + piece.draw(at, y);
        at += piece.width + GAP;
        return shown;
      });
      return drawn.join('');
    },
  };
}

/** The first way goes straight on, the others below it. */
function oneOf(ways: readonly Piece[]): Piece {
  const inner = Math.max(...ways.map(({ width }) => width));
  const offsets: number[] = [0];
  for (let at = 1; at < ways.length; at++) {
    const step = ways[at - 1].down + APART + ways[at].up;
    offsets.push(offsets[at - 1] + Math.max(step, at === 1 ? 2 * RADIUS : 0));
  }
  const width = inner + 4 * RADIUS;
  return {
    width,
    up: ways[0].up,
    down: offsets[offsets.length - 1] + ways[ways.length - 1].down,
    draw(x, y) {
      const drawn = ways.map((way, at) => {
        const level = y + offsets[at];
        const from = x + 2 * RADIUS;
        const end = from + way.width;
        const right = x + width;
        const [into, out] =
          at === 0
            ? [
                `M${round(x)} ${round(y)}H${round(from)}`,
                `M${round(end)} ${round(y)}H${round(right)}`,
              ]
            : [
                `M${round(x)} ${round(y)}${turn(1, 1, 1)}V${round(level - RADIUS)}${turn(1, 1, 0)}`,
                `M${round(end)} ${round(level)}H${round(right - 2 * RADIUS)}${turn(1, -1, 0)}V${round(y + RADIUS)}${turn(1, -1, 1)}`,
              ];
        return track(into) + way.draw(from, level) + track(out);
      });
      return drawn.join('');
    },
  };
}

/** A track leads past the piece, above it. */
function bypassed(piece: Piece): Piece {
  const height = Math.max(piece.up + APART, 2 * RADIUS);
  const width = piece.width + 4 * RADIUS;
  return {
    width,
    up: height,
    down: piece.down,
    draw(x, y) {
      const from = x + 2 * RADIUS;
      const end = from + piece.width;
      const past = `M${round(x)} ${round(y)}${turn(1, -1, 0)}V${round(y - height + RADIUS)}${turn(1, -1, 1)}H${round(end)}${turn(1, 1, 1)}V${round(y - RADIUS)}${turn(1, 1, 0)}`;
      return (
        track(past) +
        track(`M${round(x)} ${round(y)}H${round(from)}`) +
        piece.draw(from, y) +
        track(`M${round(end)} ${round(y)}H${round(x + width)}`)
      );
    },
  };
}

/** A track leads back, below the piece, by what stands between two. */
function repeated(piece: Piece, between?: Piece): Piece {
  const inner = Math.max(piece.width, between?.width ?? 0);
  const depth = Math.max(piece.down + APART + (between?.up ?? 0), 2 * RADIUS);
  const width = inner + 2 * RADIUS;
  return {
    width,
    up: piece.up,
    down: depth + Math.max(between?.down ?? 0, 5),
    draw(x, y) {
      const from = x + RADIUS;
      const end = from + inner;
      const level = y + depth;
      const back = `M${round(end)} ${round(y)}${turn(1, 1, 1)}V${round(level - RADIUS)}${turn(-1, 1, 1)}H${round(from)}${turn(-1, -1, 1)}V${round(y + RADIUS)}${turn(1, -1, 1)}`;
      const side = (inner - piece.width) / 2;
      const middle = from + (inner - (between?.width ?? 0)) / 2;
      const arrow = between === undefined ? (from + end) / 2 : middle + between.width + 4;
      return (
        track(back) +
        track(`M${round(x)} ${round(y)}H${round(from + side)}`) +
        piece.draw(from + side, y) +
        track(`M${round(end - side)} ${round(y)}H${round(x + width)}`) +
        `<path class="arrow" d="M${round(arrow - 4)} ${round(level)}l7 -4v8z"/>` +
        (between?.draw(middle, level) ?? '')
      );
    },
  };
}

// ───────────────────────────────── the page ─────────────────────────────────

const MARGIN = 28;
const HEAD = 112;
const TITLE = 30;
const AFTER = 26;

/** Light, and dark where the reader's screen is: each in one place. */
const PAPER = { light: '#ffffff', dark: '#16191d' };
const COLOURS: readonly (readonly [part: string, property: string, light: string, dark: string])[] =
  [
    ['.paper', 'fill', PAPER.light, PAPER.dark],
    ['text', 'fill', '#1b1b1b', '#e8e6e1'],
    ['.note', 'fill', '#5d5d5d', '#a9adb3'],
    ['.track,.end', 'stroke', '#5b6770', '#9aa7b3'],
    ['.arrow', 'fill', '#5b6770', '#9aa7b3'],
    ['.word rect', 'fill', '#e3f0e6', '#1f3a2a'],
    ['.word rect', 'stroke', '#2e8b57', '#63b987'],
    ['.rule rect', 'fill', '#e4eef7', '#1c3347'],
    ['.rule rect', 'stroke', '#2f6f9f', '#6fabd6'],
    ['.said rect', 'fill', '#f6f1e0', '#3a3421'],
    ['.said rect', 'stroke', '#a08a3c', '#c9b26a'],
  ];

function styles(): string {
  const rules = (light: boolean): string =>
    COLOURS.map(
      ([part, property, day, night]) => `${part}{${property}:${light ? day : night}}`,
    ).join('');
  return [
    'text{font:13px "DejaVu Sans Mono",Menlo,Consolas,monospace;text-anchor:middle}',
    '.track,.end{fill:none;stroke-width:2}.arrow{stroke:none}',
    '.title{font:bold 15px "DejaVu Sans",Verdana,sans-serif;text-anchor:start}',
    '.note{font:12px "DejaVu Sans",Verdana,sans-serif}.left{text-anchor:start}',
    rules(true),
    '.said text{font-style:italic}',
    `@media (prefers-color-scheme:dark){${rules(false)}}`,
  ].join('\n');
}

/** All rules, one below the other, as the text of an SVG file. */
export function railroad(rules: readonly Rule[]): string {
  const pieces = rules.map(({ name, shape }) => ({ name, piece: pieceOf(shape) }));
  const width = Math.ceil(Math.max(...pieces.map(({ piece }) => piece.width)) + 2 * (MARGIN + 20));
  let y = HEAD;
  const drawn = pieces.map(({ name, piece }) => {
    const level = round(y + TITLE + piece.up);
    const start = MARGIN + 20;
    const end = round(start + piece.width);
    y = level + piece.down + AFTER;
    return [
      `<g id="${idOf(name)}">`,
      label(MARGIN, level - piece.up - 12, name, ' class="title"'),
      `<path class="end" d="M${MARGIN} ${level - 7}v14M${MARGIN + 5} ${level - 7}v14M${end + 15} ${level - 7}v14M${end + 20} ${level - 7}v14"/>`,
      track(`M${MARGIN + 5} ${level}H${start}M${end} ${level}h15`),
      piece.draw(start, level),
      '</g>',
    ].join('\n');
  });
  const height = Math.ceil(y);
  const title = 'The language of a listing, as railroad diagrams';
  return svgFile({ width, height, title }, [
    `<style>${styles()}</style>`,
    `<rect class="paper" width="${width}" height="${height}"/>`,
    label(MARGIN, 36, 'The language of a listing', ' class="title"'),
    ...HOW_TO_READ.map((note, at) => label(MARGIN, 58 + 18 * at, note, ' class="note left"')),
    ...drawn,
  ]);
}

const HOW_TO_READ = [
  'Follow the tracks from left to right. Green: written as it stands, in either case. Blue: see the rule of that name. Yellow: said in words.',
  'Between words, numbers and signs spaces are layout; within the rules from numeric name on there are none but those that are drawn.',
  'What the tracks do not show: arrays and the variables of FOR have names of one letter, and numbers and strings do not mix.',
];
