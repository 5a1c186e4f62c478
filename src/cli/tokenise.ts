/** `tokenise LISTING`: listing to image. */

import type { Command } from 'commander';
import { areasOf } from '../image/areas.js';
import { PROGRAM_START } from '../machine/memory-map.js';
import { secondsOnTape } from '../tape/writing/record.js';
import { type CommandOptions, loadListing, noteNoLines, type Program } from './common/input.js';
import { besides, CannotAsk, keepApart, placeOf, print, tell, writeBytes } from './common/io.js';
import {
  allOption,
  anywayOption,
  formatOption,
  includeAnywhereOption,
  outputOption,
  ramOption,
} from './common/options.js';
import { check, tellMistakes, tellVerdict, verdictMember, withNextStep } from './common/room.js';
import {
  count,
  duration,
  jsonOf,
  placeDiagnostics,
  statusOf,
  tellDiagnostics,
} from './common/show.js';

interface Options extends CommandOptions {
  output?: string;
}

export function register(program: Command): void {
  program
    .command('tokenise')
    .description('write the image that a listing is on the machine')
    .argument('<listing>', 'the listing, or - for standard input')
    .addOption(outputOption('where the image goes (default: LISTING.img)'))
    .addOption(ramOption())
    .addOption(anywayOption('writes an image too'))
    .addOption(includeAnywhereOption())
    .addOption(formatOption())
    .addOption(allOption())
    .action(tokenise);
}

function tokenise(path: string, options: Options): void {
  const program = withNextStep(loadListing(path, options));
  const output = options.output ?? besides(path, '.img');
  const { image, source } = program;
  const diagnostics = [...program.diagnostics, ...noteNoLines(program)];
  if (output === '-' && process.stdout.isTTY) {
    throw new CannotAsk(
      'an image is bytes, and standard output is the terminal',
      'give a file with -o',
    );
  }
  keepApart('the image', output, options.format);
  if (image !== undefined) writeBytes(output, image);
  const { budget, mistakes } = check(program);
  const sum = image === undefined ? undefined : sumUp(program, image);
  if (options.format === 'json') {
    const written = image === undefined ? null : output;
    print(
      jsonOf({
        written,
        ...sum,
        ...verdictMember(budget?.verdict),
        diagnostics: placeDiagnostics(source, [...diagnostics, ...mistakes]),
      }),
    );
  } else {
    tellDiagnostics(source, diagnostics, options.all);
    tellMistakes(program, mistakes, options.all);
  }
  if (sum === undefined) tell(`${source.name}: nothing was written`);
  else if (options.format !== 'json') {
    const place = output === '-' ? '' : `${placeOf(output)}: `;
    tell(
      `${place}${count(sum.lines, 'line')}, program ${count(sum.programBytes, 'byte')}, image ${count(sum.imageBytes, 'byte')}; ` +
        `${duration(sum.seconds)} on tape`,
    );
    tellVerdict(program, budget!, options);
  }
  process.exitCode = statusOf(diagnostics);
}

function sumUp(program: Program, image: Uint8Array) {
  return {
    lines: program.listing.lines.length,
    programBytes: areasOf(image).D_FILE - PROGRAM_START,
    imageBytes: image.length,
    seconds: Math.round(secondsOnTape({ name: program.name, image }) * 10) / 10,
  };
}
