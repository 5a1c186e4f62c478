/** Lines put into a listing at a line number, and what stands there moved on. */

import type { Listing } from '../../grammar/tree.js';
import { analyse } from '../analysis/program.js';
import { buildImage } from '../image/build.js';
import { addressesIn, PEEK, POKE, USR } from '../listing/addresses.js';
import type { Diagnostic } from '../listing/diagnostics.js';
import type { ListingText } from '../listing/join-pieces.js';
import { count } from '../listing/print.js';
import { readListing } from '../listing/read.js';
import { renumber } from '../listing/renumber.js';
import { HIGHEST_LINE } from '../machine/memory-map.js';
import { numberedLines } from './drawing.js';
import type { WayOptions } from './ways.js';

export interface PutIn {
  /** The whole text; undefined where something stops it. */
  readonly text?: string;
  /** The numbers of the new lines, and how many of the old ones moved. */
  readonly numbers: readonly number[];
  readonly moved: number;
  readonly diagnostics: readonly Diagnostic[];
}

const LETTERS = Array.from({ length: 26 }, (_, index) => String.fromCharCode(65 + index));

/** What lines at a place may use: names that the program has not, and whether they come first. */
export function optionsFor(listing: Listing, at: number): WayOptions {
  const taken = new Set([
    ...[...analyse(listing).names.all.keys()].map((name) => name.replace('()', '')),
    ...listing.items.flatMap((item) => (item.kind === 'var' ? [item.variable.name] : [])),
  ]);
  const [outer, inner, value, shown] = ['I', 'J', 'N', 'C', ...LETTERS].filter(
    (name, index, names) => !taken.has(name) && names.indexOf(name) === index,
  );
  const text = LETTERS.map((letter) => `${letter}$`).find((name) => !taken.has(name));
  if (shown === undefined || text === undefined) {
    throw new RangeError('the program has used up the letters that loops and strings are named by');
  }
  const isFirst = !listing.lines.some(({ number }) => number < at);
  return { isFirst, names: { outer, inner, more: [value, shown], text } };
}

/**
 * Puts statements into a listing that was read without errors, from line `at` on. Lines that stand
 * there and behind move on as far as they must, and whatever names them follows.
 */
export function putInto(
  { text, listing }: ListingText,
  at: number,
  statements: readonly string[],
): PutIn {
  const olds = listing.lines.map(({ number }) => number);
  const first = olds.findIndex((number) => number >= at);
  const next = first < 0 ? HIGHEST_LINE + 1 : olds[first];
  const step = [10, 5, 2, 1].find((one) => at + one * (statements.length - 1) < next) ?? 1;
  const numbers = statements.map((_, index) => at + index * step);
  const news = movedNumbers(olds, first, numbers.at(-1)!);
  if (numbers.at(-1)! > HIGHEST_LINE || news.some((number) => number > HIGHEST_LINE)) {
    return { numbers: [], moved: 0, diagnostics: [noNumbers(text, at, statements.length)] };
  }
  const renumbered = renumber({ text, listing }, { numbers: news });
  const diagnostics = [...renumbered.diagnostics, ...movedAddresses(listing, first)];
  if (renumbered.text === undefined) return { numbers: [], moved: 0, diagnostics };
  const moved = news.filter((number, index) => number !== olds[index]).length;
  const rows = numberedLines(statements, numbers);
  const whole = withRows(renumbered.text, first < 0 ? undefined : news[first], rows);
  return { text: whole, numbers, moved, diagnostics };
}

/** Each line keeps its number, or gets the next round one behind the line before it. */
function movedNumbers(olds: readonly number[], first: number, last: number): number[] {
  const news = [...olds];
  let before = last;
  for (let index = first; index >= 0 && index < news.length && news[index] <= before; index++) {
    const round = before - (before % 10) + 10;
    const after = olds[index + 1] ?? HIGHEST_LINE + 1;
    // A round number only where it pushes nobody on who could stay.
    news[index] = round < after || after <= before + 1 ? round : before + 1;
    before = news[index];
  }
  if (news.every((number) => number <= HIGHEST_LINE)) return news;
  return olds.map((number, index) =>
    first < 0 || index < first ? number : Math.max(number, last + 1 + index - first),
  );
}

function noNumbers(text: string, at: number, lines: number): Diagnostic {
  return {
    severity: 'error',
    rule: 'no-room-for-lines',
    message: `${count(lines, 'line')} from ${at} on would push others beyond ${HIGHEST_LINE}`,
    start: 0,
    end: Math.min(1, text.length),
    help: '`listwright renumber` makes the steps between the lines smaller',
  };
}

/** Constant addresses of what moves up in memory. */
function movedAddresses(listing: Listing, first: number): Diagnostic[] {
  const { lineAddresses } = buildImage(listing, { anyway: true });
  if (first < 0) return [];
  const from = lineAddresses[first];
  return listing.lines.flatMap((line): Diagnostic[] => {
    const address = addressesIn(line.codes, [USR, POKE, PEEK]).find((one) => one >= from);
    if (address === undefined) return [];
    return [
      {
        severity: 'warning',
        rule: 'moved-address',
        message: `line ${line.number} names address ${address}, and what stands there has moved`,
        start: line.start,
        end: line.end,
        why: 'the lines of the picture stand before it in memory',
        help: 'put the picture behind it, or set the address right by hand',
      },
    ];
  });
}

/** The text with rows before the line of a number and the comments above it, or behind all lines. */
function withRows(text: string, before: number | undefined, rows: readonly string[]): string {
  const end = text.includes('\r\n') ? '\r\n' : '\n';
  const { items } = readListing(text).listing;
  const piece = rows.map((row) => row + end).join('');
  const index = items.findIndex((item) => item.kind === 'line' && item.number === before);
  if (index >= 0) {
    let top = index;
    while (top > 0 && items[top - 1].kind === 'comment') top--;
    // A comment at the very top is about the listing as a whole.
    const { start } = items[top === 0 ? index : top];
    return text.slice(0, start) + piece + text.slice(start);
  }
  const last = items.findLastIndex((item) => item.kind === 'line');
  const at = last < 0 ? text.length : items[last].end;
  const isOpen = at > 0 && text[at - 1] !== '\n';
  const rest = text.slice(at).replace(/^\r?\n/, '');
  return text.slice(0, at) + (isOpen ? end : '') + piece + rest;
}
