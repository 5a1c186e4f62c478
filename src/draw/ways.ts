/** The ways to show a screen: each gives the lines of a listing, without their numbers. */
import { wholeNumberForm } from '../lint/literal-forms.js';
import { displayRowText } from '../listing/directive-text.js';
import { charactersText, remText } from '../listing/print.js';
import { NEWLINE, QUOTE, QUOTE_IMAGE, SPACE } from '../machine/characters.js';
import { LINE_FRAME, LINE_HEAD } from '../machine/image-layout.js';
import { DISPLAY_COLUMNS, PROGRAM_START } from '../machine/memory-map.js';
import {
  BLOCK_COLUMNS,
  blocksOfScreen,
  isBlocks,
  REACHED_BLOCK_ROWS,
  REACHED_ROWS,
  type Screen,
  shownLength,
  usedRows,
} from './screen.js';

export type Way = 'strings' | 'plot' | 'packed' | 'display';
export const WAYS: readonly Way[] = ['strings', 'plot', 'packed', 'display'];

export interface WayLines {
  /** Statements, one for each line; `@N` stands for the number of the Nth of them. */
  readonly statements: readonly string[];
  /** Directives that the program needs, before and after its lines. */
  readonly directives?: readonly string[];
  readonly after?: readonly string[];
}

export interface WayOptions {
  /** Is there a program before these lines? Else data can stand where its address is known. */
  readonly isFirst: boolean;
  /** Names that are free. */
  readonly names: {
    /** Of a loop, and of one within it. */
    readonly outer: string;
    readonly inner: string;
    /** Of two more numbers. */
    readonly more: readonly [string, string];
    /** Of a string. */
    readonly text: string;
  };
}

/** Why a screen cannot be shown in a way. */
export class CannotShow extends Error {}

/** The lines that show a screen. Throws CannotShow where this way cannot. */
export function linesOf(way: Way, screen: Screen, options: WayOptions): WayLines {
  if (way === 'display') return display(screen, options);
  if (usedRows(screen).end > REACHED_ROWS) {
    throw new CannotShow(
      `PRINT and PLOT do not reach the last two rows of the display: only \`display\` does`,
    );
  }
  return { statements: MAKERS[way](screen, options) };
}

const MAKERS = { strings, plot, packed };

// ───────────────────────────────── strings ─────────────────────────────────

const number = (value: number): string => wholeNumberForm(value).text;
const loop = (name: string, bounds: string, ...body: string[]): string[] => [
  `FOR ${name}=${bounds}`,
  ...body,
  `NEXT ${name}`,
];
const numberBytes = (value: number): number => wholeNumberForm(value).bytes;

/** A string literal shows a quote by the code of its image. */
const quotable = (codes: readonly number[]): number[] =>
  codes.map((code) => (code === QUOTE ? QUOTE_IMAGE : code));
const quoted = (codes: readonly number[]): string =>
  `"${charactersText(Uint8Array.from(quotable(codes)), true)}"`;

/** What a PRINT statement shows: codes from a place on, which may go on into the next rows. */
interface Text {
  readonly row: number;
  readonly column: number;
  readonly codes: number[];
  /** Does AT lead to its place? Else it begins where the PRINT before it has left off. */
  readonly moves: boolean;
}

/**
 * PRINT with the rows as strings. Each row goes on in the string of the row before, or begins a
 * statement of its own, or one with AT: whichever takes fewest bytes.
 */
function strings(screen: Screen): string[] {
  const statements: string[] = [];
  let text: Text | undefined;
  const close = (): void => {
    if (text !== undefined) statements.push(printText(text));
  };
  let nextRow = 0;
  screen.forEach((shown, row) => {
    const length = shownLength(shown);
    if (length === 0) return;
    const codes = Array.from(shown.subarray(0, length));
    const indent = codes.findIndex((code) => code !== SPACE);
    const left = text === undefined ? 0 : DISPLAY_COLUMNS - endColumn(text);
    const isNext = text !== undefined && nextRow === row;
    // A space more in a row is a byte of the program, and one of a display below 3¼K.
    if (isNext && (left === 0 || 2 * left + indent < LINE_FRAME + 3 + indent)) {
      text!.codes.push(...new Array<number>(left).fill(SPACE), ...codes);
    } else {
      const isFull = text !== undefined && left === 0;
      close();
      const between = row - nextRow;
      const moveCost = 3 + numberBytes(row) + numberBytes(indent) - indent;
      const moves = between > 0 && (isFull || between * (LINE_FRAME + 1) > moveCost);
      if (!moves) statements.push(...new Array<string>(between).fill('PRINT'));
      text = moves
        ? { row, column: indent, codes: codes.slice(indent), moves }
        : { row, column: 0, codes, moves };
    }
    nextRow = row + 1;
  });
  close();
  return statements;
}

/** The column behind the last code of a text: 32 behind a full row. */
const endColumn = ({ column, codes }: Text): number =>
  ((column + codes.length - 1) % DISPLAY_COLUMNS) + 1;

function printText({ row, column, codes, moves }: Text): string {
  const items = moves ? [`AT ${number(row)},${number(column)}`] : [];
  let start = 0;
  for (let at = 0; at < codes.length; ) {
    let end = at;
    while (codes[end] === SPACE) end++;
    const place = column + end;
    const isWithin =
      Math.floor((column + at) / DISPLAY_COLUMNS) === Math.floor(place / DISPLAY_COLUMNS);
    const tab = number(place % DISPLAY_COLUMNS);
    // Two quotes, two semicolons and TAB.
    const cost = 5 + numberBytes(place % DISPLAY_COLUMNS);
    if (end - at > cost && isWithin) {
      if (at > start) items.push(quoted(codes.slice(start, at)));
      items.push(`TAB ${tab}`);
      start = end;
    }
    at = Math.max(end, at + 1);
  }
  items.push(quoted(codes.slice(start)));
  return `PRINT ${items.join(';')}`;
}

// ───────────────────────────────── data for a loop ─────────────────────────────────

/** Data in a program, and how a loop reads them. */
interface Data {
  /** The line that holds them. */
  readonly statement: string;
  /** How often they stand in memory. */
  readonly copies: number;
  /** The bounds of the loop over them, in steps of `step`. */
  readonly bounds: string;
  /** The value of the item `offset` places behind the loop's own. */
  readonly item: (offset: number) => string;
}

/**
 * A REM as the first line of a program stands at a known address, and is read by PEEK; elsewhere a
 * string holds the data, at the price of a second copy among the variables.
 *
 * @param step items that belong together
 */
function dataOf(values: Uint8Array, step: number, { isFirst, names }: WayOptions): Data {
  const every = step === 1 ? '' : ` STEP ${number(step)}`;
  const place = (offset: number): string =>
    offset === 0 ? names.outer : `(${names.outer}+${number(offset)})`;
  if (isFirst) {
    const start = PROGRAM_START + LINE_HEAD + 1;
    const last = start + values.length - step;
    return {
      statement: `REM${remText(values)}`,
      copies: 1,
      bounds: `${number(start)} TO ${number(last)}${every}`,
      item: (offset) => `PEEK ${place(offset)}`,
    };
  }
  return {
    statement: `LET ${names.text}="${charactersText(values, true)}"`,
    copies: 2,
    bounds: `${number(1)} TO LEN ${names.text}${every}`,
    item: (offset) => `CODE ${names.text}${offset === 0 ? `(${names.outer})` : place(offset)}`,
  };
}

// ───────────────────────────────── plot ─────────────────────────────────

/** A run of dark blocks along a row or a column: from, to, and the other coordinate. */
type Run = readonly [from: number, to: number, across: number];

/** PLOT for each block, from data of runs; a few blocks as statements of their own. */
function plot(screen: Screen, options: WayOptions): string[] {
  if (!isBlocks(screen)) {
    throw new CannotShow('PLOT draws blocks: greys and characters are for the other ways');
  }
  const { dark } = blocksOfScreen(screen);
  const isDark = (x: number, y: number): boolean =>
    dark[(REACHED_BLOCK_ROWS - 1 - y) * BLOCK_COLUMNS + x] === 1;
  const along = runsOf(BLOCK_COLUMNS, REACHED_BLOCK_ROWS, isDark);
  const up = runsOf(REACHED_BLOCK_ROWS, BLOCK_COLUMNS, (y, x) => isDark(x, y));
  const isUp = up.length < along.length;
  const runs = isUp ? up : along;
  const point = (moving: string, still: string): string =>
    `PLOT ${isUp ? `${still},${moving}` : `${moving},${still}`}`;
  const { inner, outer } = options.names;
  const single = runs.flatMap(([from, to, across]) =>
    from === to
      ? [point(number(from), number(across))]
      : [...loop(inner, `${number(from)} TO ${number(to)}`, point(inner, number(across)))],
  );
  if (runs.length <= 3) return single;
  const values = runs.flat();
  // A string cannot hold the code of a quote: then all values stand as codes of inverse characters.
  const shift = !options.isFirst && values.includes(QUOTE) ? 128 : 0;
  const minus = shift === 0 ? '' : `-${number(shift)}`;
  const data = dataOf(
    Uint8Array.from(values, (value) => value + shift),
    3,
    options,
  );
  const item = (offset: number): string => data.item(offset) + minus;
  const run = loop(inner, `${item(0)} TO ${item(1)}`, point(inner, item(2)));
  return [data.statement, ...loop(outer, data.bounds, ...run)];
}

function runsOf(
  length: number,
  count: number,
  isDark: (along: number, across: number) => boolean,
): Run[] {
  const runs: Run[] = [];
  for (let across = 0; across < count; across++) {
    for (let from = 0; from < length; from++) {
      if (!isDark(from, across)) continue;
      let to = from;
      while (to + 1 < length && isDark(to + 1, across)) to++;
      runs.push([from, to, across]);
      from = to;
    }
  }
  return runs;
}

// ───────────────────────────────── packed ─────────────────────────────────

/** The code of NEWLINE would end the line that holds the data. */
const LONGEST_RUN = NEWLINE - 1;
/** The codes of graphics end here; what is above says how often the one before comes again. */
const LAST_GRAPHIC = 138;
const LARGEST_CODE = 255;

/** Runs of like characters as data, and a loop that prints them: the smaller of two forms. */
function packed(screen: Screen, options: WayOptions): string[] {
  const { first, end } = usedRows(screen);
  const all = quotable(screen.slice(0, end).flatMap((codes) => [...codes]));
  while (all.at(-1) === SPACE) all.pop();
  const move = `PRINT AT ${number(first)},${number(0)};`;
  const cost = LINE_FRAME + 4 + numberBytes(first) + numberBytes(0);
  const sizes = [pairs, repeats].flatMap((form) => {
    const whole = form(all, options);
    const below = form(all.slice(first * DISPLAY_COLUMNS), options);
    if (whole === undefined || below === undefined) return [];
    const saves = whole.bytes - below.bytes > cost;
    return saves
      ? [{ bytes: below.bytes + cost, statements: [move, ...below.statements] }]
      : [whole];
  });
  return sizes.reduce((least, one) => (one.bytes < least.bytes ? one : least)).statements;
}

interface Packed {
  /** What differs between the forms: data, lines and variables. */
  readonly bytes: number;
  readonly statements: string[];
}

const runsIn = (codes: readonly number[]): { code: number; length: number }[] => {
  const runs: { code: number; length: number }[] = [];
  for (const code of codes) {
    const last = runs.at(-1);
    if (last?.code === code) last.length++;
    else runs.push({ code, length: 1 });
  }
  return runs;
};

/** Pairs of a length and a code. */
function pairs(codes: readonly number[], options: WayOptions): Packed {
  const longest = options.isFirst ? LONGEST_RUN : QUOTE - 1;
  const values = runsIn(codes).flatMap(({ code, length }) => {
    const whole = new Array<number[]>(Math.floor(length / longest)).fill([longest, code]).flat();
    return length % longest === 0 ? whole : [...whole, length % longest, code];
  });
  const { inner, outer, text } = options.names;
  const data = dataOf(Uint8Array.from(values), 2, options);
  const code = options.isFirst ? `CHR$ ${data.item(1)}` : `${text}(${outer}+${number(1)})`;
  const run = loop(inner, `${number(1)} TO ${data.item(0)}`, `PRINT ${code};`);
  const statements = [data.statement, ...loop(outer, data.bounds, ...run)];
  return { bytes: data.copies * values.length + PAIRS_COST, statements };
}

/** Bytes of the lines and variables of the two forms, by the manual's sizes. */
const PAIRS_COST = 60;
const REPEATS_COST = 103;

/** Codes as they are, and how often the one before comes again where it does so more than once. */
function repeats(codes: readonly number[], options: WayOptions): Packed | undefined {
  if (codes.some((code) => code > LAST_GRAPHIC)) return undefined;
  const longest = LARGEST_CODE - LAST_GRAPHIC + 1;
  const values = runsIn(codes).flatMap(({ code, length }) => {
    const row = [code];
    for (let left = length - 1; left > 0; ) {
      const again = Math.min(left, longest);
      row.push(again === 1 ? code : LAST_GRAPHIC - 1 + again);
      left -= again;
    }
    return row;
  });
  const { inner, outer } = options.names;
  const [value, shown] = options.names.more;
  const data = dataOf(Uint8Array.from(values), 1, options);
  const each = [
    `LET ${value}=${data.item(0)}`,
    `IF ${value}<=${number(LAST_GRAPHIC)} THEN LET ${shown}=${value}`,
    `PRINT CHR$ ${shown};`,
    ...loop(inner, `${number(LAST_GRAPHIC + 1)} TO ${value}`, `PRINT CHR$ ${shown};`),
  ];
  const statements = [data.statement, ...loop(outer, data.bounds, ...each)];
  return { bytes: data.copies * values.length + REPEATS_COST, statements };
}

// ───────────────────────────────── display ─────────────────────────────────

/** The display itself, saved with the program, which waits for a key and leaves it as it is. */
function display(screen: Screen, { isFirst }: WayOptions): WayLines {
  if (!isFirst) {
    throw new CannotShow(
      'a saved display is there when the program begins: it cannot be put in at a line',
    );
  }
  const { end } = usedRows(screen);
  const rows = screen
    .slice(0, end)
    .map((codes) => displayRowText(codes.subarray(0, shownLength(codes))));
  return {
    statements: [`PAUSE ${wholeNumberForm(40_000, '4E4').text}`],
    directives: ['.start @1'],
    after: ['.display', ...rows, '.end'],
  };
}
