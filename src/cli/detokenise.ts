/** `detokenise INPUT`: image or recording to listing. */
import type { Command } from 'commander';
import { type ByteNote, withNotes } from '../image/notes.js';
import { plainListing } from '../image/plain.js';
import { listingOfImage } from '../image/read.js';
import { doubtText } from '../tape/doubt-text.js';
import type { RecoveredProgram } from '../tape/recovery.js';
import { loadProgram, type Program } from './input.js';
import { CannotAsk, NO, print, tell, writeBytes } from './io.js';
import { count, statusOf, tellDiagnostics } from './show.js';

interface Options {
  output: string;
  salvage?: boolean;
  plain?: boolean;
  includeAnywhere?: boolean;
}

export function register(program: Command): void {
  program
    .command('detokenise')
    .description('write the listing that an image or a recording holds')
    .argument('<input>', 'an image or a recording, or - for standard input')
    .option('-o, --output <file>', 'where the listing goes', '-')
    .option('--plain', 'the lines alone, to be read: what they cannot show is left out')
    .option('--salvage', 'read what can be read of an image whose header is wrong or cut short')
    .option('--include-anywhere', 'let a REM put in files from outside the folder of the listing')
    .action(detokenise);
}

function detokenise(path: string, options: Options): void {
  const program = loadProgram(path, options);
  if (program.kind === 'listing' && !options.plain) {
    throw new CannotAsk(
      `${program.source.name}: this is a listing already`,
      '`listwright format` puts it in its tidy form; --plain writes its lines alone',
    );
  }
  const { source, remarks, recovered } = program;
  for (const remark of remarks) tell(`${source.name}: note: ${remark}`);
  tellDiagnostics(source, program.diagnostics);
  const text = options.plain ? plainText(program) : tidyText(program, options.salvage);
  if (options.output !== '-') writeBytes(options.output, text);
  else if (text !== '') print(text);
  const doubts = recovered?.doubts.length ?? 0;
  if (doubts > 0) {
    const marked = options.plain ? '' : `; comments in the listing say where`;
    tell(`${source.name}: ${count(doubts, 'byte')} in doubt${marked}`);
  }
  process.exitCode = doubts > 0 ? NO : statusOf(program.diagnostics);
}

/** The listing as it was read; what is in doubt is marked by comments of the editor. */
function tidyText({ source, image, name, recovered }: Program, salvage?: boolean): string {
  if (recovered === undefined || recovered.doubts.length === 0) return source.text;
  return withNotes(listingOfImage(image!, { name, salvage }), notesOf(recovered));
}

const notesOf = ({ doubts }: RecoveredProgram): ByteNote[] =>
  doubts.map((doubt) => ({
    // What is said of the name stands at the top, as what is said of the first byte does.
    offset: doubt.part === 'name' ? 0 : doubt.offset,
    text: `doubtful: ${doubtText(doubt)}`,
  }));

function plainText({ source, listing }: Program): string {
  const { text, leftOut } = plainListing(listing.items, listing.lines);
  if (leftOut.length > 0) {
    tell(`${source.name}: note: left out: ${leftOut.join('; ')}`);
    tell('  do:  detokenise without --plain writes a listing that builds the same bytes');
  }
  return text;
}
