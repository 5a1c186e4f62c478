/** What differs between two images, in the words of their listings and in their bytes. */
import { diffArrays } from 'diff';
import type { Directive, DisplayDirective, Item, Line } from '../../grammar/tree.js';
import { directiveText, displayRowText, kindOf } from '../listing/directive-text.js';
import { makingOf } from '../listing/directives.js';
import { count } from '../listing/print.js';
import { firstIndex } from '../listing/search.js';
import { sameBytes } from '../machine/bytes.js';
import { HEADER_SIZE } from '../machine/image-layout.js';
import { DISPLAY_ROWS, IMAGE_START } from '../machine/memory-map.js';
import { sharedName } from '../machine/variables.js';
import { areasOf } from './areas.js';
import { type ImageListing, listingOfImage } from './read.js';

/** A word of a text, or what stands between words; it is in both texts, or in one alone. */
export interface Word {
  readonly text: string;
  readonly in: 'both' | 'a' | 'b';
}

/** One thing that differs. What is missing in one of the two is undefined there. */
export interface Difference {
  /** The line's number, a variable's or a system variable's name, a row of the display. */
  readonly key: string;
  readonly a?: string;
  readonly b?: string;
  /** Where both have it: the words of both, those that differ apart. */
  readonly words?: readonly Word[];
  /** More words differ than are told apart: all of both are marked. */
  readonly coarse?: true;
}

export type Part = 'lines' | 'variables' | 'system' | 'display' | 'after';

/** Bytes that differ, from an offset on; the two need not be as many. */
export interface ByteDifference {
  readonly area: 'system variables' | 'program' | 'display' | 'variables' | 'after the end';
  /** Offset and address in each of the two images. */
  readonly offset: { readonly a: number; readonly b: number };
  readonly address: { readonly a: number; readonly b: number };
  readonly a: Uint8Array;
  readonly b: Uint8Array;
}

export interface Comparison extends Record<Part, readonly Difference[]> {
  /** Are the bytes the same? */
  readonly equal: boolean;
  readonly bytes: readonly ByteDifference[];
}

/** Compares two images. Throws NotAnImage where one has no readable header. */
export function compareImages(a: Uint8Array, b: Uint8Array): Comparison {
  const equal = sameBytes(a, b);
  if (equal) {
    const none = { lines: [], variables: [], system: [], display: [], after: [] };
    return { equal, ...none, bytes: [] };
  }
  const [one, other] = alike(listingOfImage(a), listingOfImage(b));
  const compare = (entries: (read: ImageListing) => Entry[]): Difference[] =>
    compareEntries(entries(one), entries(other));
  return {
    equal,
    lines: compare(lineEntries),
    variables: compare((read) => directiveEntries(read, 'var', 'raw variables')),
    system: compare((read) => directiveEntries(read, 'tv', 'start', 'lines', 'system')),
    display: displayDifferences(one, other),
    after: compare((read) => directiveEntries(read, 'raw after')),
    bytes: byteDifferences(a, b),
  };
}

/** Two listings whose numbers are written in the same way, so that other values show. */
function alike(one: ImageListing, other: ImageListing): [ImageListing, ImageListing] {
  const makings = [one, other].map(({ listing }) => makingOf(listing.items));
  if (makings[0] === makings[1]) return [one, other];
  return [
    listingOfImage(one.image, { numbers: 'typed' }),
    listingOfImage(other.image, { numbers: 'typed' }),
  ];
}

/** Something with a name of its own, and its text. */
interface Entry {
  readonly key: string;
  readonly text: string;
}

/** Gives entries whose names come again names with a count. */
function withCounts(entries: readonly Entry[]): Entry[] {
  const counts = new Map<string, number>();
  return entries.map(({ key, text }) => {
    const count = (counts.get(key) ?? 0) + 1;
    counts.set(key, count);
    return { key: count === 1 ? key : `${key} (${count})`, text };
  });
}

function lineEntries({ listing, text }: ImageListing): Entry[] {
  const entries: Entry[] = [];
  for (const item of listing.items) {
    const own = text.slice(item.start, item.end);
    if (item.kind === 'line') entries.push({ key: String((item as Line).number), text: own });
    else if (kindOf(item) === 'raw program') entries.push({ key: '.raw', text: own });
  }
  return withCounts(entries);
}

function directiveEntries({ listing }: ImageListing, ...kinds: string[]): Entry[] {
  const wanted = listing.items.filter((item) => kinds.includes(kindOf(item)));
  return withCounts(
    wanted.map((item) => ({ key: nameOf(item), text: directiveText(item as Directive) })),
  );
}

function nameOf(item: Item): string {
  if (item.kind === 'system') return item.name;
  if (item.kind === 'var') return sharedName(item.variable);
  return `.${kindOf(item)}`;
}

/** What is the same stays together in the order of both; names decide what is held against what. */
function compareEntries(a: readonly Entry[], b: readonly Entry[]): Difference[] {
  const differences: Difference[] = [];
  let [atA, atB] = [0, 0];
  const upTo = (endA: number, endB: number): void => {
    while (atA < endA) differences.push({ key: a[atA].key, a: a[atA++].text });
    while (atB < endB) differences.push({ key: b[atB].key, b: b[atB++].text });
  };
  for (const pair of pairsOf(a, b)) {
    upTo(pair.a, pair.b);
    const [{ key, text: own }, { text: other }] = [a[atA++], b[atB++]];
    if (own !== other) differences.push(changed(key, own, other));
  }
  upTo(a.length, b.length);
  return differences;
}

interface Pair {
  readonly a: number;
  readonly b: number;
  /** The pair before it in the longest row that ends with it. */
  readonly before?: Pair;
}

/** The most pairs of the same name that stand in the order of both. Each of the two has a name once. */
function pairsOf(a: readonly Entry[], b: readonly Entry[]): Pair[] {
  const places = new Map(b.map(({ key }, at) => [key, at]));
  /** The least place in b with which rows of one pair, of two, and so on end. */
  const ends: Pair[] = [];
  for (const [at, { key }] of a.entries()) {
    const place = places.get(key);
    if (place === undefined) continue;
    const length = firstIndex(ends.length, (index) => ends[index].b > place);
    ends[length] = { a: at, b: place, before: ends[length - 1] };
  }
  const pairs: Pair[] = [];
  for (let pair = ends.at(-1); pair !== undefined; pair = pair.before) pairs.push(pair);
  return pairs.reverse();
}

/** Most words to leave out and to put in that are looked for: the work is their square. */
export const MOST_STEPS = 400;

/** Brackets, names and numbers, rows of bytes, space, and every other character for itself. */
const WORDS = /\[[^\]\n]*\]|[A-Z0-9.]+\$?|\n *|[^\S\n]+|./gsu;

/** The words of two texts: those of both, and those of one alone. Undefined where too many differ. */
export function wordsOf(a: string, b: string): Word[] | undefined {
  const parts = diffArrays(a.match(WORDS) ?? [], b.match(WORDS) ?? [], {
    maxEditLength: MOST_STEPS,
  });
  return parts?.map(({ value, removed, added }) => ({
    text: value.join(''),
    in: removed ? 'a' : added ? 'b' : 'both',
  }));
}

function changed(key: string, a: string, b: string): Difference {
  const words = wordsOf(a, b);
  if (words !== undefined) return { key, a, b, words };
  const all: Word[] = [
    { text: a, in: 'a' },
    { text: b, in: 'b' },
  ];
  return { key, a, b, words: all, coarse: true };
}

function displayDifferences(one: ImageListing, other: ImageListing): Difference[] {
  const [a, b] = [one, other].map(displayOf);
  if (a === undefined || b === undefined) {
    return compareEntries(
      directiveEntries(one, 'display', 'raw display'),
      directiveEntries(other, 'display', 'raw display'),
    );
  }
  const rows = (display: readonly string[]): Entry[] =>
    display.map((text, row) => ({ key: `row ${row}`, text }));
  const differences = compareEntries(rows(a), rows(b));
  const [sizeA, sizeB] = [one, other].map(({ image }) => {
    const { D_FILE, VARS } = areasOf(image);
    return count(VARS - D_FILE, 'byte');
  });
  if (sizeA === sizeB || differences.length > 0) return differences;
  return [changed('size', sizeA, sizeB)];
}

/** The rows of a display, or undefined for one that the machine would not make. */
function displayOf({ listing }: ImageListing): string[] | undefined {
  if (listing.items.some((item) => kindOf(item) === 'raw display')) return undefined;
  const display = listing.items.find((item): item is DisplayDirective => item.kind === 'display');
  return Array.from({ length: DISPLAY_ROWS }, (_, row) => {
    const codes = display?.rows[row];
    return codes === undefined ? '' : displayRowText(codes);
  });
}

// ───────────────────────────────── bytes ─────────────────────────────────

/**
 * The bytes that differ, area by area: so that a line more in one does not make all that follows
 * differ. In an area of another size, all from the first difference to the last is one.
 */
function byteDifferences(a: Uint8Array, b: Uint8Array): ByteDifference[] {
  const ends = [a, b].map((image) => {
    const { D_FILE, VARS, E_LINE } = areasOf(image);
    return [HEADER_SIZE, D_FILE - IMAGE_START, VARS - IMAGE_START, E_LINE - IMAGE_START].concat(
      image.length,
    );
  });
  const areas = ['system variables', 'program', 'display', 'variables', 'after the end'] as const;
  return areas.flatMap((area, index) => {
    const starts = ends.map((list) => (index === 0 ? 0 : list[index - 1]));
    const parts = [a, b].map((image, of) => image.subarray(starts[of], ends[of][index]));
    return runsOf(parts[0], parts[1]).map(({ start, endA, endB }) => ({
      area,
      offset: { a: starts[0] + start, b: starts[1] + start },
      address: { a: starts[0] + start + IMAGE_START, b: starts[1] + start + IMAGE_START },
      a: parts[0].subarray(start, endA),
      b: parts[1].subarray(start, endB),
    }));
  });
}

interface Run {
  readonly start: number;
  readonly endA: number;
  readonly endB: number;
}

function runsOf(a: Uint8Array, b: Uint8Array): Run[] {
  if (a.length === b.length) return evenRuns(a, b);
  const shorter = Math.min(a.length, b.length);
  let start = 0;
  while (start < shorter && a[start] === b[start]) start++;
  let same = 0;
  while (same < shorter - start && a[a.length - 1 - same] === b[b.length - 1 - same]) same++;
  return [{ start, endA: a.length - same, endB: b.length - same }];
}

function evenRuns(a: Uint8Array, b: Uint8Array): Run[] {
  const runs: Run[] = [];
  for (let at = 0; at < a.length; at++) {
    if (a[at] === b[at]) continue;
    const start = at;
    while (at < a.length && a[at] !== b[at]) at++;
    runs.push({ start, endA: at, endB: at });
  }
  return runs;
}
