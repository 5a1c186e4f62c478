import { readListing } from '../../src/listing/read.js';
import type { InspectOptions, Rehearsal } from '../../src/rehearsal/rehearsal.js';
import { rehearseInspected } from '../../src/rehearsal/run.js';
import { plainRow } from '../../src/rehearsal/telling/show.js';

export interface Played extends Rehearsal {
  /** Rows of the screen without the spaces at their ends, from the top; empty ones at the end left out. */
  readonly rows: readonly string[];
  /** `9/30`; or the kind of end and the line where the machine shows no report. */
  readonly report: string;
}

/** Rehearses a listing. With lines alone, numbers 10, 20, … are put before them. */
export function play(listing: string | readonly string[], options: InspectOptions = {}): Played {
  const text =
    typeof listing === 'string'
      ? listing
      : listing.map((line, index) => `${10 * (index + 1)} ${line}`).join('\n');
  const { listing: tree, diagnostics } = readListing(text);
  const wrong = diagnostics.filter(({ severity }) => severity === 'error');
  if (wrong.length > 0) throw new Error(`the test's own listing is wrong: ${wrong[0].message}`);
  const rehearsal = rehearseInspected(tree, options);
  const { end, line } = rehearsal;
  const report = `${end.code ?? end.kind}/${line}`;
  const rows = rehearsal.screen.map((row) => plainRow(row).trimEnd());
  if (end.code !== undefined) rows[rows.length - 1] = '';
  while (rows.at(-1) === '') rows.pop();
  return { ...rehearsal, rows, report };
}

/** What a program prints, row by row; it must end with report 0 or 9. */
export function printed(listing: string | readonly string[], options: InspectOptions = {}) {
  const { rows, report, end } = play(listing, options);
  if (!/^[09]/.test(report)) throw new Error(`${report}: ${end.why}`);
  return rows;
}

/** What one expression prints. */
export function shows(expression: string, options: InspectOptions = {}): string {
  return printed([`PRINT ${expression}`], { ram: 16384, ...options }).join('\n');
}

/** The report that one statement ends with. */
export function reportOf(statement: string, options: InspectOptions = {}): string {
  return play([statement], { ram: 16384, ...options }).report;
}
