/** `renumber LISTING`: new line numbers, in place. */

import type { Command } from 'commander';
import { hasErrors } from '../listing/diagnostics.js';
import { renumber, USUAL_START, USUAL_STEP } from '../listing/renumber.js';
import { LARGEST_RAM } from '../machine/ram-size.js';
import { type CommandOptions, loadListing } from './common/input.js';
import { DONE, NO, print, printListing, tell, writeBytes } from './common/io.js';
import {
  allOption,
  formatOption,
  includeAnywhereOption,
  lineOption,
  outputOption,
  ramOption,
} from './common/options.js';
import { roomFor } from './common/room.js';
import { count, jsonOf, placeDiagnostics, tellDiagnostics } from './common/show.js';

interface Options extends CommandOptions {
  start: number;
  step: number;
  force?: boolean;
  output?: string;
}

export function register(program: Command): void {
  program
    .command('renumber')
    .description('give the lines of a listing new numbers, and all that names them too')
    .argument('<listing>', 'the listing, or - for standard input to standard output')
    .addOption(lineOption('--start <number>', 'number of the first line', USUAL_START))
    .addOption(lineOption('--step <number>', 'from one line to the next', USUAL_STEP))
    .option('--force', 'go on where a target is computed, and leave that as it is')
    .addOption(outputOption('where the listing goes (default: in place)'))
    .addOption(ramOption('only if the result fits it'))
    .addOption(includeAnywhereOption())
    .addOption(formatOption())
    .addOption(allOption())
    .action(renumberFile);
}

function renumberFile(path: string, options: Options): void {
  // Whether what is there fits the RAM is no question here.
  const { source, listing, diagnostics } = loadListing(path, {
    ram: LARGEST_RAM,
    includeAnywhere: options.includeAnywhere,
  });
  tellDiagnostics(source, diagnostics, options.all);
  const result = hasErrors(diagnostics)
    ? undefined
    : renumber({ text: source.text, listing }, options);
  tellDiagnostics(source, result?.diagnostics ?? [], options.all);
  const text = result?.text;
  const output = options.output ?? path;
  const inJson = options.format === 'json';
  const json = (written: string | null, shown?: string): string =>
    jsonOf({
      file: source.name,
      written,
      text: shown,
      lines: listing.lines.length,
      numbers: [...(result?.numbers ?? [])].map(([from, to]) => ({ from, to })),
      diagnostics: placeDiagnostics(source, [...diagnostics, ...(result?.diagnostics ?? [])]),
    });
  if (text === undefined || !staysInRoom(path, source.text, text, options)) {
    if (inJson) print(json(null));
    tell(`${source.name}: nothing was renumbered`);
    process.exitCode = NO;
    return;
  }
  const isNew = output !== path || text !== source.text;
  if (output !== '-' && isNew) writeBytes(output, text);
  if (inJson) print(output === '-' ? json(null, text) : json(isNew ? output : null));
  else {
    if (output === '-' && text !== '') printListing(text);
    tell(
      `${source.name}: ${count(listing.lines.length, 'line')} from ${options.start} by ${options.step}`,
    );
  }
  process.exitCode = DONE;
}

/**
 * Longer numbers take more bytes. A result that is too large for the RAM that was asked for is not
 * wanted; one that has outgrown the RAM that the listing is meant for is, with a warning.
 */
function staysInRoom(path: string, before: string, after: string, options: Options): boolean {
  const { source, missing } = roomFor(path, after, options);
  if (missing === undefined) return true;
  if (options.ram !== undefined) {
    tellDiagnostics(source, [missing]);
    return false;
  }
  if (roomFor(path, before, options).missing === undefined) {
    tellDiagnostics(source, [{ ...missing, severity: 'warning' }]);
  }
  return true;
}
