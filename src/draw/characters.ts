/** Rows of characters as a drawing: in the notation of listings, or `#` for a dark block. */
import type { Diagnostic } from '../listing/diagnostics.js';
import { unifyLineEnds } from '../listing/line-ends.js';
import { readListing } from '../listing/read.js';
import { BLOCK_COLUMNS, BLOCK_ROWS, type Blocks, type Cells } from './screen.js';

export interface DrawnRows {
  /** Cells, all rows of one length. */
  readonly cells?: Cells;
  readonly blocks?: Blocks;
  /** What is wrong, with places in the text. */
  readonly diagnostics: readonly Diagnostic[];
}

const HEAD = '.display\n';
const NO_ROWS: Diagnostic = {
  severity: 'error',
  rule: 'no-rows',
  message: 'there are no rows of characters here',
  start: 0,
  end: 1,
};
const END_ROW = {
  severity: 'error',
  rule: 'row-ends',
  message: 'this row would end the display',
  help: 'write its full stop as a byte: [1B]END',
} as const;

/**
 * Reads rows of characters, as a listing's `.display` has them. A text of nothing but `#`, full
 * stops and spaces is rows of blocks: the machine has no `#`.
 */
export function drawnRows(given: string): DrawnRows {
  const text = unifyLineEnds(given).replace(/\n+$/, '');
  if (/^[#. \n]*$/.test(text) && text.includes('#')) return blockRows(text);
  const ending = /^[ \t]*\.end[ \t]*$/im.exec(text);
  if (ending !== null) {
    const { index } = ending;
    return { diagnostics: [{ ...END_ROW, start: index, end: index + ending[0].length }] };
  }
  const { listing, diagnostics } = readListing(`${HEAD}${text}\n.end\n`);
  const item = listing.items.find(({ kind }) => kind === 'display');
  // What follows the first mistake is no longer read as rows.
  const first = diagnostics.find(({ severity }) => severity === 'error');
  if (item?.kind !== 'display' || first !== undefined) {
    const { start = HEAD.length, end = HEAD.length + 1 } = first ?? {};
    const placed = { start: Math.max(0, start - HEAD.length), end: Math.max(1, end - HEAD.length) };
    return { diagnostics: [{ ...(first ?? NO_ROWS), ...placed }] };
  }
  const width = Math.max(...item.rows.map((codes) => codes.length));
  const cells = item.rows.map((codes) => {
    const row = new Uint8Array(width);
    row.set(codes);
    return row;
  });
  return { cells, diagnostics: [] };
}

function blockRows(text: string): DrawnRows {
  const rows = text.split('\n');
  const width = Math.max(...rows.map((row) => row.trimEnd().length));
  const wide = rows.findIndex((row) => row.trimEnd().length > BLOCK_COLUMNS);
  const bad = wide >= 0 ? wide : rows.length > BLOCK_ROWS ? BLOCK_ROWS : -1;
  if (bad >= 0) {
    const start = rows.slice(0, bad).join('\n').length + (bad > 0 ? 1 : 0);
    const diagnostic: Diagnostic = {
      severity: 'error',
      rule: 'too-large',
      message:
        wide >= 0
          ? `this row has ${rows[bad].trimEnd().length} blocks`
          : 'there are more rows than the display has',
      start,
      end: start + rows[bad].length,
      help: `the display has ${BLOCK_ROWS} rows of ${BLOCK_COLUMNS} blocks`,
    };
    return { diagnostics: [diagnostic] };
  }
  const dark = new Uint8Array(width * rows.length);
  rows.forEach((row, y) => {
    for (let x = 0; x < width; x++) dark[y * width + x] = row[x] === '#' ? 1 : 0;
  });
  return { blocks: { width, height: rows.length, dark }, diagnostics: [] };
}

/** The rows that `rehearse --format json` gave, as text; undefined for any other text. */
export function rowsOfRehearsal(text: string): string | undefined {
  if (!text.trimStart().startsWith('{')) return undefined;
  let screen: unknown;
  try {
    screen = (JSON.parse(text) as { screen?: unknown }).screen;
  } catch {
    return undefined;
  }
  if (!Array.isArray(screen) || !screen.every((row) => typeof row === 'string')) return undefined;
  return screen.join('\n');
}
