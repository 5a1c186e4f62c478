/** `format LISTING…`: the tidy form, in place. */

import type { Command } from 'commander';
import { NO_ROOM } from '../image/build.js';
import { formatListing } from '../listing/format.js';
import { LARGEST_RAM } from '../machine/ram-size.js';
import { type CommandOptions, isRead, loadListing, type Program } from './common/input.js';
import { DONE, NO, print, printListing, tell, writeBytes } from './common/io.js';
import { allOption, formatOption, includeAnywhereOption, ramOption } from './common/options.js';
import { withNextStep } from './common/room.js';
import { count, jsonOf, placeDiagnostics, tellDiagnostics } from './common/show.js';

interface Options extends CommandOptions {
  check?: boolean;
}

export function register(program: Command): void {
  program
    .command('format')
    .description('put listings in their tidy form, in place')
    .argument('<listing...>', 'the listings, or - for standard input to standard output')
    .option('--check', 'write nothing; only say which are not in their tidy form')
    .addOption(ramOption('says too whether they fit it'))
    .addOption(includeAnywhereOption())
    .addOption(formatOption())
    .addOption(allOption())
    .action(format);
}

interface Tidied {
  readonly path: string;
  readonly program: Program;
  /** The tidy form; undefined for a listing with errors. */
  readonly tidy?: string;
}

function format(paths: string[], options: Options): void {
  // All are worked out before the first is written: a name that is wrong changes nothing.
  const tidied = paths.map((path) => {
    // Whether it fits the RAM is no question unless it was asked.
    const ram = options.ram ?? LARGEST_RAM;
    const program = loadListing(path, { ram, includeAnywhere: options.includeAnywhere });
    return tidyOf(path, withNextStep(program));
  });
  const inJson = options.format === 'json';
  for (const one of tidied) {
    const { path, program, tidy } = one;
    // What the tidy form puts right by itself is not worth a word.
    const told = program.diagnostics.filter(({ rule }) => rule !== 'line-order');
    tellDiagnostics(program.source, told, options.all);
    if (!options.check && path !== '-' && isNew(one)) writeBytes(path, tidy!);
    if (!inJson) showOne(one, options);
  }
  if (inJson) print(jsonOf(tidied.map((one) => asJson(one, options))));
  process.exitCode = tidied.some((one) => isNo(one, options)) ? NO : DONE;
}

function tidyOf(path: string, program: Program): Tidied {
  const { source, listing } = program;
  // What is too large for the RAM can be tidied as well.
  if (!isRead(program)) return { path, program };
  // An empty file would be refused as no listing: what there is stays.
  if (listing.items.length === 0) return { path, program, tidy: source.text };
  const tidy = formatListing({ text: source.text, listing });
  return { path, program, tidy };
}

const isNew = ({ program, tidy }: Tidied): boolean =>
  tidy !== undefined && tidy !== program.source.text;

function isNo(one: Tidied, { check }: Options): boolean {
  const { program, tidy } = one;
  const isTooLarge = program.diagnostics.some(({ rule }) => rule === NO_ROOM);
  return tidy === undefined || isTooLarge || (check === true && isNew(one));
}

function showOne(one: Tidied, { check }: Options): void {
  const { path, program, tidy } = one;
  const { name, text } = program.source;
  if (tidy === undefined) {
    tell(`${name}: not put in its tidy form, because of errors`);
    return;
  }
  if (program.listing.items.length === 0) {
    tell(`${name}: note: nothing is in it but blank lines: left as it is`);
  }
  if (check) {
    if (isNew(one)) {
      print(`${name}: not in its tidy form, from line ${firstDifference(text, tidy)} on`);
    }
  } else if (path === '-') printTidy(tidy);
  else if (isNew(one)) {
    tell(`${name}: put in its tidy form, ${count(program.listing.lines.length, 'line')}`);
  }
}

/** As it is: a text of blank lines gets no line more. */
function printTidy(tidy: string): void {
  if (tidy !== '') printListing(tidy);
}

/** The form of `--format json`; of standard input it holds the tidy form itself. */
function asJson(one: Tidied, { check }: Options) {
  const { path, program, tidy } = one;
  const { source, listing, diagnostics } = program;
  return {
    file: source.name,
    tidy: tidy === undefined ? null : !isNew(one),
    firstDifference: isNew(one) ? firstDifference(source.text, tidy!) : null,
    written: !check && path !== '-' && isNew(one) ? path : null,
    text: !check && path === '-' ? tidy : undefined,
    lines: listing.lines.length,
    diagnostics: placeDiagnostics(source, diagnostics),
  };
}

/** The first line of the text, counted from 1, that is otherwise in the tidy form. */
function firstDifference(text: string, tidy: string): number {
  const wanted = tidy.split('\n');
  const rows = text.split('\n');
  const at = rows.findIndex((row, index) => row !== wanted[index]);
  return (at < 0 ? rows.length : at) + 1;
}
