/** `detokenise INPUT`: image or recording to listing. */

import type { Command } from 'commander';
import { withNotes } from '../image/notes.js';
import { plainListing } from '../image/plain.js';
import { listingOfImage } from '../image/read.js';
import type { Source } from '../listing/diagnostics.js';
import { charactersText } from '../listing/print.js';
import { sameBytes } from '../machine/bytes.js';
import { ramText, SMALLEST_RAM } from '../machine/ram-size.js';
import { doubtCount, doubtNotes } from '../tape/telling/doubt-text.js';
import { type CommandOptions, loadProgram, type Program, programOfText } from './common/input.js';
import { CannotAsk, NO, print, printListing, tell, writeBytes } from './common/io.js';
import {
  allOption,
  formatOption,
  includeAnywhereOption,
  outputOption,
  ramOption,
  salvageOption,
} from './common/options.js';
import { roomFor } from './common/room.js';
import { jsonOf, placeDiagnostics, statusOf, tellDiagnostics } from './common/show.js';

interface Options extends CommandOptions {
  output: string;
  plain?: boolean;
}

export function register(program: Command): void {
  program
    .command('detokenise')
    .description('write the listing that an image or a recording holds')
    .argument('<input>', 'an image or a recording, or - for standard input')
    .addOption(outputOption('where the listing goes').default('-'))
    .option('--plain', 'the lines alone, to be read: what they cannot show is left out')
    .addOption(salvageOption())
    .addOption(ramOption('the listing is for it (default: what the image looks made for)'))
    .addOption(includeAnywhereOption())
    .addOption(formatOption())
    .addOption(allOption())
    .action(detokenise);
}

async function detokenise(path: string, options: Options): Promise<void> {
  const program = await loadProgram(path, options);
  if (program.kind === 'listing' && !options.plain) {
    throw new CannotAsk(
      `${program.source.name}: this is a listing already`,
      '`listwright format` puts it in its tidy form; --plain writes its lines alone',
    );
  }
  const { source, remarks, recovered } = program;
  for (const remark of remarks) tell(`${source.name}: note: ${remark}`);
  tellDiagnostics(source, program.diagnostics, options.all);
  const tooLarge = isTooLarge(program, options);
  const text = options.plain ? plainText(program) : tidyText(program, options, tooLarge);
  const isShown = options.output === '-';
  if (!isShown) writeBytes(options.output, text);
  if (options.format === 'json') print(jsonOf(asJson(program, text, options)));
  else if (isShown && text !== '') printListing(text);
  const doubts = recovered?.doubts ?? [];
  if (doubts.length > 0) {
    const marked = options.plain ? '' : `; comments in the listing say where`;
    tell(`${source.name}: ${doubtCount(doubts)}${marked}`);
  }
  process.exitCode = doubts.length > 0 || tooLarge ? NO : statusOf(program.diagnostics);
}

/** The form of `--format json`: the listing stands in it where no file takes it. */
function asJson({ source, kind, name, ...program }: Program, text: string, { output }: Options) {
  const isShown = output === '-';
  return {
    file: source.name,
    kind,
    name: charactersText(name, false),
    written: isShown ? null : output,
    text: isShown ? text : undefined,
    lines: program.listing.lines.length,
    bytes: program.image?.length ?? null,
    remarks: program.remarks,
    doubts: program.recovered?.doubts ?? [],
    diagnostics: placeDiagnostics(source, program.diagnostics),
  };
}

/** Tells that a program is larger than the RAM. Of a listing that was told when it was read. */
function isTooLarge({ kind, source }: Program, { ram }: Options): boolean {
  if (kind === 'listing' || ram === undefined) return false;
  const { missing } = roomFor(source.name, source.text, { ram });
  if (missing !== undefined) tellDiagnostics(source, [missing]);
  return missing !== undefined;
}

/** The listing with this RAM in place of what the image looks made for, if it is the same then. */
function forRam(text: string, source: Source, ram: number): string {
  const bare = text.replace(/^\.ram .*\n/m, '');
  const name = /^\.name .*\n/m.exec(bare);
  const head = name === null ? 0 : name.index + name[0].length;
  const row = ram === SMALLEST_RAM ? '' : `.ram ${ramText(ram)}\n`;
  const asked = bare.slice(0, head) + row + bare.slice(head);
  const [before, after] = [text, asked].map((one) => programOfText(source.name, one).image);
  if (before !== undefined && after !== undefined && sameBytes(before, after)) return asked;
  tell(
    `${source.name}: warning: its display is not one that a machine with ${ramText(ram)} makes; the listing is for another RAM`,
  );
  tell(`  do:  \`listwright tokenise --ram ${ramText(ram)}\` builds it as such a machine has it`);
  return text;
}

/** The listing as it was read, for the RAM that was asked for; what is in doubt is marked. */
function tidyText(program: Program, { salvage, ram }: Options, tooLarge: boolean): string {
  const { source, image, name, recovered } = program;
  const doubtful = recovered !== undefined && recovered.doubts.length > 0;
  const text = doubtful
    ? withNotes(listingOfImage(image!, { name, salvage }), doubtNotes(recovered.doubts))
    : source.text;
  return ram === undefined || tooLarge ? text : forRam(text, source, ram);
}

function plainText({ source, listing }: Program): string {
  const { text, leftOut } = plainListing(listing);
  if (leftOut.length > 0) {
    tell(`${source.name}: note: left out: ${leftOut.join('; ')}`);
    tell('  do:  detokenise without --plain writes a listing that builds the same bytes');
  }
  return text;
}
