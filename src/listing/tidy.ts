/** Program lines in their tidy form, which reads back as the same codes whatever these are. */
import type { Line } from '../../grammar/tree.js';
import { hexBytes, statementText } from './print.js';
import { type ReadListing, readListing } from './read.js';

/** The text of a line that the machine would accept. For other codes it is a try: see misread. */
export function tidyLine(number: number, codes: Uint8Array): string {
  return `${number} ${statementText(codes)}`;
}

/**
 * Reads what was written as a check: the indices of the lines that did not come back with the
 * codes that they were written for, as lines that the machine would accept.
 */
export function misread(read: ReadListing, wanted: readonly Uint8Array[]): number[] {
  const bad: number[] = [];
  const { diagnostics } = read;
  const lines = read.listing.items.filter((item): item is Line => item.kind === 'line');
  let next = 0;
  for (const [index, codes] of wanted.entries()) {
    const line = lines[index];
    while (next < diagnostics.length && diagnostics[next].start < line.start) next++;
    const clean = next >= diagnostics.length || diagnostics[next].start > line.end;
    if (!clean || line.statement === undefined || !sameBytes(line.codes, codes)) bad.push(index);
  }
  return bad;
}

/**
 * A line that the machine itself would not accept: as readable as can be, and marked by a byte in
 * brackets outside strings as not to be checked.
 */
export function uncheckedLine(number: number, codes: Uint8Array): string {
  for (const count of [1, 2, 3]) {
    if (codes.length < count) break;
    const head = hexBytes(codes.subarray(0, count));
    const text = `${number} [${head}]${statementText(codes.subarray(count))}`;
    if (comesBack(text, codes)) return text;
  }
  return `${number} [${hexBytes(codes)}]`;
}

function comesBack(text: string, codes: Uint8Array): boolean {
  const { listing, diagnostics } = readListing(`.lines as-written\n${text}`);
  return (
    diagnostics.length === 0 &&
    listing.lines.length === 1 &&
    sameBytes(listing.lines[0].codes, codes)
  );
}

export function sameBytes(left: Uint8Array, right: Uint8Array): boolean {
  return left.length === right.length && Buffer.compare(left, right) === 0;
}
