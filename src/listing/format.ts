/** A listing in its tidy form: what a person wrote, in the order and the spelling of the notation. */
import type { Directive, Item, Line, Listing, Statement } from '../../grammar/tree.js';
import { innermost } from '../../grammar/visit.js';
import { REM } from '../machine/characters.js';
import { directiveText, isOfProgram, kindOf } from './directive-text.js';
import { makingOf } from './directives.js';
import type { ListingText } from './join-pieces.js';
import { statementText } from './print.js';
import { readListing } from './read.js';
import { grouped } from './search.js';
import { TidyLines } from './tidy.js';

/** An item with the comments above it: they go where it goes. */
interface Group {
  readonly item?: Item;
  /** Rows of text, empty ones among them; the first may be empty, to keep groups apart. */
  readonly rows: string[];
}

/**
 * The tidy form of a text that was read without errors: directives for the whole program first,
 * then the lines in their order, then display, variables and bytes. Comments stay above what they
 * stand above; of several blank lines one stays. The image is the same, and the tidy form of the
 * result is the result.
 */
export function formatListing({ text, listing }: ListingText): string {
  const lines = lineTexts(text, listing);
  const groups = groupsOf(text, listing.items, lines);
  const placed = inPlace(groups, listing.lines);
  const rows = placed.flatMap((group) => group.rows);
  const end = text.includes('\r\n') ? '\r\n' : '\n';
  const tidy = withoutSpareBlanks(rows).flatMap((row) => row.split('\n'));
  return tidy.map((row) => row + end).join('');
}

/** The tidy text of each line; a REM that names a file keeps its own words. */
function lineTexts(text: string, { items, lines }: Listing): Map<Item, string> {
  const tidy = new TidyLines(lines, makingOf(items));
  const own = lines.map((line) => textWithFile(text, line));
  const check = tidy.texts.map((tried, index) => (own[index] === undefined ? tried : '1 REM'));
  tidy.mend(readListing([tidy.directives, ...check].join('\n')));
  return new Map(lines.map((line, index) => [line, own[index] ?? tidy.texts[index]]));
}

/** The text of a line that puts a file in, or undefined for all others. */
function textWithFile(text: string, line: Line): string | undefined {
  const source = text.slice(line.start, line.end).replaceAll('\r', '');
  if (!/\[\s*file\s/i.test(source)) return undefined;
  const rem = remOf(line.statement);
  if (rem === undefined) return /\bREM\b/i.test(source) && isUnchecked(line) ? source : undefined;
  const before = line.codes.subarray(0, line.codes.length - rem.codes.length - 1);
  const words = text.slice(rem.start + 'REM'.length, line.end).replaceAll('\r', '');
  return /\[\s*file\s/i.test(words)
    ? `${line.number} ${statementText(Uint8Array.of(...before, REM))}${words}`
    : undefined;
}

const isUnchecked = (line: Line): boolean => line.statement?.kind === 'unchecked';

function remOf(statement: Statement | undefined) {
  const inner = statement && innermost(statement);
  return inner?.kind === 'REM' ? inner : undefined;
}

function groupsOf(text: string, items: readonly Item[], lines: Map<Item, string>): Group[] {
  const groups: Group[] = [];
  let rows: string[] = [];
  let end = 0;
  for (const [index, item] of items.entries()) {
    const between = text.slice(end, item.start);
    const blank = index > 0 && (between.match(/\r\n|\n|\r/g)?.length ?? 0) > 1;
    end = item.end;
    if (blank && item.kind !== 'comment' && index === firstBlock(items) && rows.length > 0) {
      // Comments at the top, with a blank line after them, are about the listing as a whole.
      groups.push({ rows });
      rows = [];
    }
    if (blank) rows.push('');
    if (item.kind === 'comment') rows.push(`'${item.text}`.trimEnd());
    else {
      rows.push(lines.get(item) ?? directiveText(item as Directive));
      groups.push({ item, rows });
      rows = [];
    }
  }
  if (rows.length > 0) groups.push({ rows });
  return groups;
}

/** How many comments stand at the very top. */
function firstBlock(items: readonly Item[]): number {
  const index = items.findIndex((item) => item.kind !== 'comment');
  return index < 0 ? items.length : index;
}

/** The order of what stands before the lines, and after them. */
const HEAD = ['name', 'ram', 'tv', 'start', 'lines', 'numbers', 'system'];
const TAIL = ['display', 'raw display', 'var', 'raw variables', 'raw after'];

function inPlace(groups: readonly Group[], lines: readonly Line[]): Group[] {
  const of = (kind: string): Group[] =>
    groups.filter(({ item }) => isDirective(item) && kindOf(item) === kind);
  let line: Item | undefined;
  const ofProgram = groups.filter(({ item }) => item !== undefined && isOfProgram(item));
  const withLine = grouped(ofProgram, ({ item }) => {
    if (item?.kind === 'line') line = item;
    return line;
  });
  const loose = groups.filter(({ item }) => item === undefined);
  const top = loose.filter((group) => group === groups[0] && groups.length > 1);
  return [
    ...top,
    ...headFirst(HEAD.flatMap(of), groups[0]),
    ...(withLine.get(undefined) ?? []),
    ...lines.flatMap((item) => withLine.get(item) ?? []),
    ...TAIL.flatMap(of),
    ...loose.filter((group) => !top.includes(group)),
  ];
}

/** Comments at the top of a file stay there when the directive below them moves down. */
function headFirst(head: readonly Group[], first: Group | undefined): Group[] {
  const at = first === undefined ? -1 : head.indexOf(first);
  if (first === undefined || at <= 0) return [...head];
  const { item, rows } = first;
  const rest = head.filter((group) => group !== first);
  rest.splice(at, 0, { item, rows: rows.slice(-1) });
  return [{ rows: rows.slice(0, -1) }, ...rest];
}

const isDirective = (item: Item | undefined): item is Directive =>
  item !== undefined && item.kind !== 'line' && item.kind !== 'comment';

function withoutSpareBlanks(rows: readonly string[]): string[] {
  const tidy = rows.filter((row, index) => row !== '' || (index > 0 && rows[index - 1] !== ''));
  while (tidy.at(-1) === '') tidy.pop();
  return tidy;
}
