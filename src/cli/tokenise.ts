/** `tokenise LISTING`: listing to image. */

import type { Command } from 'commander';
import { areasOf } from '../image/read.js';
import { IMAGE_START, PROGRAM_START, RAM_START } from '../machine/memory-map.js';
import { ramText } from '../machine/ram-size.js';
import { secondsOnTape } from '../tape/record.js';
import { loadListing, noteNoLines, type Program } from './input.js';
import { besides, CannotAsk, placeOf, print, tell, writeBytes } from './io.js';
import { formatOption, includeAnywhereOption, outputOption, ramOption } from './options.js';
import { count, duration, jsonOf, placeDiagnostics, statusOf, tellDiagnostics } from './show.js';

interface Options {
  output?: string;
  ram?: number;
  format: string;
  includeAnywhere?: boolean;
}

export function register(program: Command): void {
  program
    .command('tokenise')
    .description('write the image that a listing is on the machine')
    .argument('<listing>', 'the listing, or - for standard input')
    .addOption(outputOption('where the image goes (default: LISTING.img)'))
    .addOption(ramOption())
    .addOption(includeAnywhereOption())
    .addOption(formatOption())
    .action(tokenise);
}

function tokenise(path: string, options: Options): void {
  const program = loadListing(path, { ram: options.ram, includeAnywhere: options.includeAnywhere });
  const output = options.output ?? besides(path, '.img');
  const { image, source } = program;
  const diagnostics = [...program.diagnostics, ...noteNoLines(program)];
  if (output === '-' && process.stdout.isTTY) {
    throw new CannotAsk(
      'an image is bytes, and standard output is the terminal',
      'give a file with -o',
    );
  }
  if (image !== undefined) writeBytes(output, image);
  const sum = image === undefined ? undefined : sumUp(program, image);
  if (options.format === 'json' && output !== '-') {
    const written = image === undefined ? undefined : output;
    print(jsonOf({ written, ...sum, diagnostics: placeDiagnostics(source, diagnostics) }));
  } else tellDiagnostics(source, diagnostics);
  if (sum === undefined) tell(`${source.name}: nothing was written`);
  else if (options.format !== 'json') {
    const place = output === '-' ? '' : `${placeOf(output)}: `;
    tell(
      `${place}${count(sum.lines, 'line')}, program ${count(sum.programBytes, 'byte')}, image ${count(sum.imageBytes, 'byte')}; ` +
        `leaves ${sum.left} of ${ramText(sum.ram)}; ${duration(sum.seconds)} on tape`,
    );
  }
  process.exitCode = statusOf(diagnostics);
}

function sumUp(program: Program, image: Uint8Array) {
  return {
    lines: program.listing.lines.length,
    programBytes: areasOf(image).D_FILE - PROGRAM_START,
    imageBytes: image.length,
    ram: program.ram,
    left: RAM_START + program.ram - (IMAGE_START + image.length),
    seconds: Math.round(secondsOnTape({ name: program.name, image }) * 10) / 10,
  };
}
