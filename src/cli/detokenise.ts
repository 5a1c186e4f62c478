/** `detokenise INPUT`: image or recording to listing. */
import type { Command } from 'commander';
import { loadProgram } from './input.js';
import { print, tell, writeBytes } from './io.js';
import { tellDiagnostics } from './show.js';

interface Options {
  output: string;
  salvage?: boolean;
}

export function register(program: Command): void {
  program
    .command('detokenise')
    .description('write the listing that an image or a recording holds')
    .argument('<input>', 'an image or a recording, or - for standard input')
    .option('-o, --output <file>', 'where the listing goes', '-')
    .option('--salvage', 'read what can be read of an image whose header is wrong or cut short')
    .action(detokenise);
}

function detokenise(path: string, options: Options): void {
  const program = loadProgram(path, { salvage: options.salvage });
  const { source, remarks } = program;
  for (const remark of remarks) tell(`${source.name}: note: ${remark}`);
  tellDiagnostics(source, program.diagnostics);
  if (options.output === '-') print(source.text);
  else writeBytes(options.output, source.text);
}
