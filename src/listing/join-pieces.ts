/** A listing of the pieces that were read one by one, with what is wrong only among them. */
import type { Directive, Item, Line, Listing, Problem, Span } from '../../grammar/tree.js';
import { HIGHEST_LINE, LOWEST_LINE } from '../machine/memory-map.js';
import { type Diagnostic, hasErrors } from './diagnostics.js';
import { checkDirectives } from './directive-conflicts.js';

/** A listing, and the text that it was read from. */
export interface ListingText {
  readonly text: string;
  readonly listing: Listing;
}

export interface ReadListing extends ListingText {
  /** In the order of the text. */
  readonly diagnostics: Diagnostic[];
}

/** The highest line number that two bytes hold: with `.lines as-written`. */
const HIGHEST_STORED_LINE = 65535;

/** The listing of pieces in the order of the text. */
export function joinPieces(text: string, items: Item[], diagnostics: Diagnostic[]): ReadListing {
  const report = (severity: Diagnostic['severity'], problem: Problem): void => {
    diagnostics.push({ severity, ...problem });
  };
  const lines = items.filter((item) => item.kind === 'line');
  const directives = items.filter(
    (item): item is Directive => item.kind !== 'line' && item.kind !== 'comment',
  );
  const asWritten = checkDirectives(directives, (problem) => report('error', problem));
  checkNumbers(lines, asWritten, report);
  const stored = asWritten ? lines : inOrder(lines, report);
  diagnostics.sort((a, b) => a.start - b.start);
  const listing = { items, lines: stored, isWhole: !hasErrors(diagnostics) };
  return { text, listing, diagnostics };
}

type Report = (severity: Diagnostic['severity'], problem: Problem) => void;

/** Where a line's number stands. */
const spanOfNumber = ({ start, number }: Line): Span => ({
  start,
  end: start + String(number).length,
});

function checkNumbers(lines: readonly Line[], asWritten: boolean, report: Report): void {
  const [lowest, highest] = asWritten ? [0, HIGHEST_STORED_LINE] : [LOWEST_LINE, HIGHEST_LINE];
  for (const line of lines) {
    if (line.number >= lowest && line.number <= highest) continue;
    report('error', {
      ...spanOfNumber(line),
      rule: 'line-number',
      message: `${shortNumber(line.number)} cannot be a line number`,
      why: `the machine takes ${lowest} to ${highest}`,
      help: 'renumber the line',
    });
  }
}

/** Lines sorted by number, with what is wrong with the numbers reported. */
function inOrder(lines: Line[], report: Report): Line[] {
  const late = lines.findIndex(({ number }, at) => at > 0 && number < lines[at - 1].number);
  if (late > 0) {
    report('warning', {
      ...spanOfNumber(lines[late]),
      rule: 'line-order',
      message: `line ${lines[late].number} stands after line ${lines[late - 1].number}`,
      why: 'the machine keeps its lines in the order of their numbers, and so will the image',
      help: '`listwright format` puts them in order',
    });
  }
  const sorted = late < 0 ? lines : [...lines].sort((a, b) => a.number - b.number);
  for (let at = 1; at < sorted.length; at++) {
    if (sorted[at].number !== sorted[at - 1].number) continue;
    report('error', {
      ...spanOfNumber(sorted[at]),
      rule: 'line-twice',
      message: `there are two lines ${shortNumber(sorted[at].number)}`,
      why: 'the machine would keep only the one typed last',
      help: 'delete one of them, or give it another number',
    });
  }
  return sorted;
}

function shortNumber(number: number): string {
  return number > 1e9 ? 'a number so large' : String(number);
}
