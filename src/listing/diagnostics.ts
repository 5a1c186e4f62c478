import { visible, visibleLine } from '../markup/visible.js';
import { unifyLineEnds } from './line-ends.js';
import { firstIndex } from './search.js';

/** What is wrong with a text and where: data here, shown by `showDiagnostic`. */

export type Severity = 'error' | 'warning' | 'note';

export interface Diagnostic {
  readonly severity: Severity;
  /** A short name for this kind of message, such as `no-such-keyword`; it is stable. */
  readonly rule: string;
  /** What is wrong, in a few words. */
  readonly message: string;
  /** Offsets into the text, in UTF-16 units: first, and one past the last. */
  readonly start: number;
  readonly end: number;
  /** Why that is wrong. */
  readonly why?: string;
  /** What to do about it. */
  readonly help?: string;
  /** The statements to write in place of this one, each on its line, where it is known what was meant. */
  readonly instead?: readonly string[];
}

/** A text with the name that messages give it. */
export interface Source {
  readonly name: string;
  readonly text: string;
}

/** Line and column of an offset, both counted from 1; columns count characters, not bytes. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

/** Turns offsets into places; made once for a text, then each look-up is a binary search. */
export class Places {
  private readonly lineStarts: number[] = [0];
  /** By line, where characters of two UTF-16 units begin: a place may be asked for often. */
  private readonly pairs = new Map<number, number[]>();

  private readonly text: string;

  constructor(given: string) {
    const text = unifyLineEnds(given);
    this.text = text;
    for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) {
      this.lineStarts.push(at + 1);
    }
  }

  at(offset: number): Place {
    const { lineStarts } = this;
    // The first line begins at 0: a place before it is counted from there too.
    const line = Math.max(
      1,
      firstIndex(lineStarts.length, (index) => lineStarts[index] > offset),
    );
    const start = lineStarts[line - 1];
    const pairs = this.pairsOf(line);
    const before = firstIndex(pairs.length, (index) => pairs[index] + 2 > offset - start);
    return { line, column: Math.max(0, Math.min(offset, this.text.length) - start) - before + 1 };
  }

  private pairsOf(line: number): number[] {
    const known = this.pairs.get(line);
    if (known !== undefined) return known;
    const found = [...this.lineText(line).matchAll(PAIR)].map(({ index }) => index);
    this.pairs.set(line, found);
    return found;
  }

  /** The text of a line (counted from 1), without its end. */
  lineText(line: number): string {
    const start = this.lineStarts[line - 1];
    const end = this.lineStarts[line] ?? this.text.length + 1;
    return this.text.slice(start, end - 1).replace(/\r$/, '');
  }
}

const PAIR = /[\ud800-\udbff][\udc00-\udfff]/g;

function characterCount(text: string): number {
  let count = 0;
  for (const _ of text) count++;
  return count;
}

/** Paints the parts of a message; the default leaves them plain. */
export type Paint = (text: string, role: Severity | 'place' | 'quiet') => string;

const plain: Paint = (text) => text;

/** Longest piece of a source line that a message quotes, in characters. */
const QUOTE_WIDTH = 100;

/**
 * A diagnostic as text, of several lines without a last newline:
 * `name:line:column: error: what`, the source line with the place marked, why, and what to do.
 */
export function showDiagnostic(
  source: Source,
  diagnostic: Diagnostic,
  places = new Places(source.text),
  paint: Paint = plain,
): string {
  return [
    headOf(source, diagnostic, places, paint),
    ...quoteOf(source, [diagnostic], places, paint),
    ...adviceOf(diagnostic),
  ].join('\n');
}

/**
 * Several diagnostics as text, a string for each. Neighbours on one line of the source share its
 * quotation, below the first of them, with all their places marked.
 */
export function showDiagnostics(
  source: Source,
  diagnostics: readonly Diagnostic[],
  places = new Places(source.text),
  paint: Paint = plain,
): string[] {
  const shown: string[] = [];
  for (let at = 0; at < diagnostics.length; ) {
    const { line } = places.at(diagnostics[at].start);
    let end = at + 1;
    while (end < diagnostics.length && places.at(diagnostics[end].start).line === line) end++;
    const together = diagnostics.slice(at, end);
    for (const [index, diagnostic] of together.entries()) {
      const quote = index === 0 ? quoteOf(source, together, places, paint) : [];
      const head = headOf(source, diagnostic, places, paint);
      shown.push([head, ...quote, ...adviceOf(diagnostic)].join('\n'));
    }
    at = end;
  }
  return shown;
}

function headOf(source: Source, diagnostic: Diagnostic, places: Places, paint: Paint): string {
  const { line, column } = places.at(diagnostic.start);
  const place = `${visibleLine(source.name)}:${line}:${column}:`;
  const severity = paint(`${diagnostic.severity}:`, diagnostic.severity);
  return `${paint(place, 'place')} ${severity} ${visibleLine(diagnostic.message)}`;
}

function adviceOf({ why, help }: Diagnostic): string[] {
  const advice: string[] = [];
  if (why) advice.push(`  why: ${visible(why)}`);
  if (help) advice.push(`  do:  ${visible(help)}`);
  return advice;
}

/** The line of the source, and under it marks at the places of diagnostics that begin on it. */
function quoteOf(
  source: Source,
  together: readonly Diagnostic[],
  places: Places,
  paint: Paint,
): string[] {
  const { line, column } = places.at(together[0].start);
  const characters = [...places.lineText(line)];
  if (characters.length === 0) return [];
  const from = column > QUOTE_WIDTH - 20 ? column - 40 : 0;
  const quoted = characters.slice(from, from + QUOTE_WIDTH).map(visible);
  // Of marks that go on past what is quoted, only the first part is counted and kept.
  const beyond = from + Math.max(quoted.length, column - from) + 1;
  const marked = new Map<number, Severity>();
  let last = 0;
  for (const { start, end, severity } of together) {
    const first = places.at(start).column - 1;
    const most = Math.min(characters.length, beyond) - first;
    const text = source.text.slice(start, Math.min(end, start + 2 * Math.max(0, most)));
    const width = Math.max(1, Math.min(characterCount(text), most));
    for (let at = Math.max(first, from); at < first + width && at < beyond; at++) {
      if (!marked.has(at)) marked.set(at, severity);
      last = Math.max(last, at - from);
    }
  }
  let marks = '';
  for (let at = 0; at <= last; ) {
    const severity = marked.get(at + from);
    let run = '';
    // What is marked alike is painted in one piece.
    do {
      const width = Math.max(1, characterCount(quoted[at] ?? ' '));
      // Tabs are kept in the margin under them, so that the marks stand where the reader looks.
      run +=
        severity !== undefined ? '^'.repeat(width) : quoted[at] === '\t' ? '\t' : ' '.repeat(width);
      at++;
    } while (at <= last && marked.get(at + from) === severity);
    marks += severity === undefined ? run : paint(run, severity);
  }
  return [`    ${from > 0 ? '…' : ''}${quoted.join('')}`, `    ${from > 0 ? ' ' : ''}${marks}`];
}

/** A diagnostic as `--format json` gives it. */
export interface PlacedDiagnostic extends Diagnostic {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
}

/** Adds file, line and column to diagnostics. */
export function placeDiagnostics(
  source: Source,
  diagnostics: readonly Diagnostic[],
): PlacedDiagnostic[] {
  const places = new Places(source.text);
  return diagnostics.map((diagnostic) => {
    const start = places.at(diagnostic.start);
    const end = places.at(Math.max(diagnostic.start, diagnostic.end));
    return {
      file: source.name,
      line: start.line,
      column: start.column,
      endLine: end.line,
      endColumn: end.column,
      ...diagnostic,
    };
  });
}

export function hasErrors(diagnostics: readonly Diagnostic[]): boolean {
  return diagnostics.some((diagnostic) => diagnostic.severity === 'error');
}
