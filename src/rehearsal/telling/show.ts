/** A rehearsal in words and characters. */
import { charactersText, count } from '../../listing/print.js';
import { INVERSE, unicodeOfCode } from '../../machine/characters.js';
import { DISPLAY_COLUMNS } from '../../machine/memory-map.js';
import { wordsOf } from '../halt.js';
import type { Rehearsal } from '../rehearsal.js';
import { LEDGER_AREAS, STACK_SHARE } from '../state/areas.js';
import type { Peak } from '../state/ledger.js';

/** Stands for a code that no cell can show. */
const NO_GLYPH = '\u{FFFD}';

/** Has this code no character of its own but that of its inverse? */
const isInverse = (code: number): boolean => code >= INVERSE && unicodeOfCode(code) === undefined;

function characterOf(code: number): string {
  return unicodeOfCode(code) ?? unicodeOfCode(code & ~INVERSE) ?? NO_GLYPH;
}

/** A row's characters, inverse video shown as plain. */
export function plainRow(codes: Uint8Array): string {
  return Array.from(codes, characterOf).join('');
}

/** Shows text in inverse video, where it can be. */
export type Invert = (text: string) => string;

/**
 * Rows of the screen in a frame. Where inverse video cannot be shown, lines under the frame say
 * where it stands.
 */
export function framedScreen(rows: readonly Uint8Array[], invert?: Invert): string {
  const edge = '─'.repeat(DISPLAY_COLUMNS);
  const shown = rows.map((codes) => `│${rowText(codes, invert)}│`);
  const notes = invert === undefined ? inverseNotes(rows) : [];
  return [`┌${edge}┐`, ...shown, `└${edge}┘`, ...notes].join('\n');
}

function rowText(codes: Uint8Array, invert: Invert | undefined): string {
  const padding = ' '.repeat(DISPLAY_COLUMNS - codes.length);
  if (invert === undefined) return plainRow(codes) + padding;
  let text = '';
  for (let at = 0; at < codes.length; ) {
    let end = at + 1;
    while (end < codes.length && isInverse(codes[end]) === isInverse(codes[at])) end++;
    const piece = plainRow(codes.subarray(at, end));
    text += isInverse(codes[at]) ? invert(piece) : piece;
    at = end;
  }
  return text + padding;
}

/** Rows with inverse video that are named; a picture shows the rest better than words. */
const ROWS_NAMED = 6;

function inverseNotes(rows: readonly Uint8Array[]): string[] {
  const notes = rows.flatMap((codes, row) => {
    const columns = inverseColumns(codes);
    return columns.length === 0 ? [] : [`row ${row} column ${columns.join(', ')}`];
  });
  if (notes.length === 0) return [];
  const more = notes.length - ROWS_NAMED;
  if (more > 0) notes.splice(ROWS_NAMED, more, `and in ${count(more, 'more row')}`);
  return [`inverse video: ${notes.join('; ')}`];
}

/** `4`, `7 to 9`: where a row is in inverse video. */
function inverseColumns(codes: Uint8Array): string[] {
  const columns: string[] = [];
  for (let at = 0; at < codes.length; at++) {
    if (!isInverse(codes[at])) continue;
    const start = at;
    while (at + 1 < codes.length && isInverse(codes[at + 1])) at++;
    columns.push(at === start ? String(start) : `${start} to ${at}`);
  }
  return columns;
}

/** The rows of the printer's strip, in a frame without ends. */
export function framedStrip(rows: readonly Uint8Array[], invert?: Invert): string {
  return rows.map((codes) => `┆${rowText(codes, invert)}┆`).join('\n');
}

/** The report as the machine writes it, in words, and why; of one line, or two with what to do. */
export function endText({ end, line }: Rehearsal): string {
  const help = end.help === undefined ? '' : `\n  do:  ${end.help}`;
  if (end.code === undefined) {
    return `ended in line ${line} without a report: ${end.why}${help}`;
  }
  return `report ${end.code}/${line}, ${wordsOf(end.code)}: ${end.why}${help}`;
}

/**
 * `10, 20–40`: numbers of lines, neighbours in the program joined. Of more than `most` stretches the
 * rest are counted.
 */
export function lineRanges(
  numbers: readonly number[],
  all: readonly number[],
  most = Number.POSITIVE_INFINITY,
): string {
  const place = new Map(all.map((number, index) => [number, index]));
  const ranges: string[] = [];
  for (let at = 0; at < numbers.length; ) {
    if (ranges.length === most) {
      ranges.push(`and ${count(numbers.length - at, 'more line')}; --all names them`);
      break;
    }
    let end = at;
    while (place.get(numbers[end + 1]) === place.get(numbers[end])! + 1) end++;
    if (end - at < 2) ranges.push(String(numbers[at]));
    else ranges.push(`${numbers[at]}–${numbers[end]}`);
    at = end - at < 2 ? at + 1 : end + 1;
  }
  return ranges.join(', ');
}

/** Variables named in the sum of the peak; the rest are counted. */
const VARIABLES_NAMED = 8;

/** The fullest moment, in a few lines: how full, where, and what held it. */
export function peakText(peak: Peak, ram: number): string {
  const areas = LEDGER_AREAS.filter((name) => peak.sizes[name] > 0).map(
    (name) => `${name} ${peak.sizes[name]}`,
  );
  const { spare } = peak;
  const room =
    spare < 0 ? `${count(-spare, 'byte')} more than there are` : `${count(spare, 'byte')} to spare`;
  const lines = [
    `most memory: ${peak.bytes} of ${ram} bytes, in line ${peak.line}, ${room}`,
    `  held by: ${areas.join(', ')}`,
  ];
  if (peak.variables.length > 0) {
    const largest = [...peak.variables].sort((a, b) => b.bytes - a.bytes);
    const named = largest.slice(0, VARIABLES_NAMED).map(({ name, bytes }) => `${name} ${bytes}`);
    const more = largest.length - named.length;
    lines.push(`  variables: ${named.join(', ')}${more > 0 ? ` and ${more} more` : ''}`);
  }
  lines.push(
    `  (the machine's own stack is taken to need ${STACK_SHARE} of the bytes that the ROM keeps)`,
  );
  return lines.join('\n');
}

/**
 * What a rehearsal comes to, in one word: `done`, `stopped` (by STOP), `broken off` (by BREAK or
 * STOP typed at INPUT), `error` (any other report); `limit` where it had not ended, and otherwise
 * what it could not go beyond: `key`, `input`, `usr`, `tape`, `new`, `unchecked`, `memory`.
 */
export function outcomeOf({ end }: Rehearsal): string {
  if (end.code === undefined) return end.kind;
  return { '0': 'done', '9': 'stopped', D: 'broken off' }[end.code as string] ?? 'error';
}

/** A rehearsal as `--format json` gives it. Rows of text are in the notation of listings. */
export function rehearsalJson(rehearsal: Rehearsal) {
  const { end, line, peak, statements, frames, ram, variables, remarks, unrun } = rehearsal;
  const rowJson = (codes: Uint8Array): string => charactersText(codes, false).trimEnd();
  return {
    report: { code: end.code ?? null, line, why: end.why, help: end.help },
    outcome: outcomeOf(rehearsal),
    statements,
    frames,
    seconds: rehearsal.seconds,
    ram,
    peak,
    largest: variables,
    deepestGosub: rehearsal.deepestGosub,
    screen: rehearsal.screen.map(rowJson),
    printer: rehearsal.printer.map(rowJson),
    unrun,
    remarks,
  };
}
