/** `keys LISTING`: the keys to press, line by line. */
import type { Command } from 'commander';
import { coverOf } from '../keys/cover.js';
import { keysOfListing, type LineKeys, type ListingKeys } from '../keys/keys.js';
import { sayLine } from '../keys/say.js';
import { keySheet } from '../keys/sheet.js';
import { type Diagnostic, hasErrors, Places } from '../listing/diagnostics.js';
import { statementText } from '../listing/print.js';
import { type CommandOptions, loadProgram, type Program } from './common/input.js';
import { CannotAsk, NO, print, writeBytes } from './common/io.js';
import { allOption, formatOption, outputOption, ramOption } from './common/options.js';
import { tellTooLarge, withNextStep } from './common/room.js';
import { count, jsonOf, tellDiagnostics } from './common/show.js';

interface Options extends CommandOptions {
  output: string;
  cover?: boolean;
}

export function register(program: Command): void {
  program
    .command('keys')
    .description("show the keys to press on the machine's own keyboard, line by line")
    .argument('<listing>', 'a listing, an image or a recording, or - for standard input')
    .addOption(formatOption('html'))
    .option('--cover', 'say which keys of the machine are pressed and which are not')
    .addOption(outputOption('where the result goes').default('-'))
    .addOption(ramOption())
    .addOption(allOption())
    .action(keys);
}

async function keys(path: string, options: Options): Promise<void> {
  const program = withNextStep(await loadProgram(path, { ram: options.ram }));
  const { listing, source } = program;
  // A line with an error has no keys: showing a part of the program would look like the whole.
  if (program.kind === 'listing' && hasErrors(program.diagnostics)) {
    tellDiagnostics(source, program.diagnostics, options.all);
    process.exitCode = NO;
    return;
  }
  const found = keysOfListing(listing);
  tellDiagnostics(source, [...program.diagnostics, ...outOfReach(found)], options.all);
  const text = options.cover ? shownCover(found, options) : shownKeys(program, found, options);
  if (options.output === '-') print(text);
  else writeBytes(options.output, text.endsWith('\n') ? text : `${text}\n`);
  const tooLarge = tellTooLarge(program);
  const missing = options.cover === true && coverOf(found).missing.length > 0;
  if (tooLarge || missing || found.lines.some((line) => line.outOfReach.length > 0))
    process.exitCode = NO;
}

/** What no key gives, as warnings at its place. */
function outOfReach(keys: ListingKeys): Diagnostic[] {
  return keys.lines.flatMap((line) =>
    line.outOfReach.map(({ what, why, start, end }) => ({
      severity: 'warning' as const,
      rule: 'no-key',
      message: `line ${line.number}: no key gives ${what}`,
      start,
      end,
      why,
      help: 'put it in with POKE once the line stands, or load the program from tape',
    })),
  );
}

function shownKeys(program: Program, keys: ListingKeys, options: Options): string {
  const { listing, source } = program;
  if (options.format === 'html') return keySheet(listing, { name: source.name });
  if (options.format === 'json')
    return jsonOf({ file: source.name, ...keys, lines: placed(program, keys) });
  const lines = keys.lines.map((line, index) => {
    const text = `${line.number} ${statementText(listing.lines[index].codes)}`;
    return `${text}\n${sayLine(line)}\n     ${count(line.presses.length, 'press', 'presses')}`;
  });
  return [...lines, summary(keys)].join('\n\n');
}

function placed(
  program: Program,
  keys: ListingKeys,
): (LineKeys & { line: number; column: number })[] {
  const places = new Places(program.source.text);
  return keys.lines.map((line) => ({
    ...places.at(line.start),
    ...line,
    count: line.presses.length,
  }));
}

function summary(keys: ListingKeys): string {
  return `${count(keys.lines.length, 'line')}, ${count(keys.total, 'press', 'presses')}, ${keys.shifted} of them with SHIFT held`;
}

function shownCover(keys: ListingKeys, options: Options): string {
  const cover = coverOf(keys);
  if (options.format === 'json') return jsonOf(cover);
  if (options.format === 'html') {
    throw new CannotAsk(
      '--cover has no page of its own',
      'the page of `keys --format html` marks the keys that are used',
    );
  }
  const rows = [1, 2, 3, 4].map((row) =>
    cover.keys
      .filter((key) => key.row === row)
      .map(({ key, presses }) => `${key}:${presses}`)
      .join('  '),
  );
  const verdict =
    cover.missing.length === 0
      ? 'every key is pressed'
      : `${cover.exercised} of ${cover.keys.length} keys are pressed; never pressed: ${cover.missing.join(' ')}`;
  return [...rows, verdict].join('\n');
}
