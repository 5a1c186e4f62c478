/** `format LISTING…`: the tidy form, in place. */

import type { Command } from 'commander';
import { NO_ROOM } from '../image/build.js';
import { hasErrors } from '../listing/diagnostics.js';
import { formatListing } from '../listing/format.js';
import { LARGEST_RAM } from '../machine/ram-size.js';
import { loadListing, type Program } from './input.js';
import { DONE, NO, print, printListing, tell, writeBytes } from './io.js';
import { includeAnywhereOption, ramOption } from './options.js';
import { count, tellDiagnostics } from './show.js';

interface Options {
  check?: boolean;
  ram?: number;
  includeAnywhere?: boolean;
}

export function register(program: Command): void {
  program
    .command('format')
    .description('put listings in their tidy form, in place')
    .argument('<listing...>', 'the listings, or - for standard input to standard output')
    .option('--check', 'write nothing; only say which are not in their tidy form')
    .addOption(ramOption('says too whether they fit it'))
    .addOption(includeAnywhereOption())
    .action(format);
}

function format(paths: string[], options: Options): void {
  // All are read before the first is written: a name that is wrong changes nothing.
  const listings = paths.map((path) => {
    // Whether it fits the RAM is no question unless it was asked.
    const ram = options.ram ?? LARGEST_RAM;
    return { path, program: loadListing(path, { ram, includeAnywhere: options.includeAnywhere }) };
  });
  let status = DONE;
  for (const { path, program } of listings) {
    status = Math.max(status, formatOne(path, program, Boolean(options.check)));
  }
  process.exitCode = status;
}

function formatOne(path: string, { source, listing, diagnostics }: Program, check: boolean) {
  const { name, text } = source;
  // What the tidy form puts right by itself is not worth a word.
  const told = diagnostics.filter(({ rule }) => rule !== 'line-order');
  tellDiagnostics(source, told);
  // What is too large for the RAM can be tidied as well.
  const status = diagnostics.some(({ rule }) => rule === NO_ROOM) ? NO : DONE;
  if (hasErrors(diagnostics.filter(({ rule }) => rule !== NO_ROOM))) {
    tell(`${name}: not put in its tidy form, because of errors`);
    return NO;
  }
  if (listing.items.length === 0) {
    // An empty file would be refused as no listing: what there is stays.
    tell(`${name}: note: nothing is in it but blank lines: left as it is`);
    if (path === '-' && !check) writeBytes(path, text);
    return status;
  }
  const tidy = formatListing(text, { listing, diagnostics: [...diagnostics] });
  if (check) {
    if (tidy === text) return status;
    print(`${name}: not in its tidy form, from line ${firstDifference(text, tidy)} on`);
    return NO;
  }
  if (path === '-') printListing(tidy);
  else if (tidy !== text) {
    writeBytes(path, tidy);
    tell(`${name}: put in its tidy form, ${count(listing.lines.length, 'line')}`);
  }
  return status;
}

/** The first line of the text, counted from 1, that is otherwise in the tidy form. */
function firstDifference(text: string, tidy: string): number {
  const wanted = tidy.split('\n');
  const rows = text.split('\n');
  const at = rows.findIndex((row, index) => row !== wanted[index]);
  return (at < 0 ? rows.length : at) + 1;
}
