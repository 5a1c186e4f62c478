/** The command line: one table of commands; each command's own file does its work. */
import { Command, CommanderError } from 'commander';
import { ask, CANNOT_ASK, CannotAsk, DONE, print, tell } from './common/io.js';

declare const LISTWRIGHT_VERSION: string;

interface CommandModule {
  register(program: Command): void;
}

/** A command's module is loaded only when it is asked for: most of the start's time is loading. */
const COMMANDS: Record<string, () => Promise<CommandModule>> = {
  tokenise: () => import('./tokenise.js'),
  detokenise: () => import('./detokenise.js'),
  lint: () => import('./lint.js'),
  fit: () => import('./fit.js'),
  rehearse: () => import('./rehearse.js'),
  record: () => import('./record.js'),
  recover: () => import('./recover.js'),
  compare: () => import('./compare.js'),
  format: () => import('./format.js'),
  renumber: () => import('./renumber.js'),
  transcribe: () => import('./transcribe.js'),
  keys: () => import('./keys.js'),
  draw: () => import('./draw.js'),
  'language-server': () => import('./language-server.js'),
  page: () => import('./page.js'),
  // Last: it speaks of all that stand above it.
  completion: () => import('./completion.js'),
};

const CAUTION = `
Old mains supplies and television tubes hold dangerous voltage: that work is for people licensed
or trained for it, under local rules. Recordings are loud square-edged tones: start with the volume
low, never with headphones on, and never feed a speaker-level or mains amplifier output into the
tape socket.

Exit status: 0 done and clean; 1 the answer is no (errors, does not fit, they differ, bytes in
doubt); 2 it could not be asked (bad option, no such file, unreadable input).`;

async function run(argv: readonly string[]): Promise<void> {
  const program = new Command('listwright')
    .description(
      'BASIC listing, program image and tape sound, each way, for the machine on your bench',
    )
    .version(LISTWRIGHT_VERSION)
    .helpCommand('help [command]', 'show the help of a command')
    .addHelpText('after', CAUTION)
    .showHelpAfterError('(listwright help shows what can be asked)')
    .configureOutput({ writeErr: ask, writeOut: print })
    .exitOverride();
  const asked = argv.find((word) => Object.hasOwn(COMMANDS, word));
  const isOne = asked !== undefined && asked !== 'completion';
  const wanted = isOne ? [asked] : Object.keys(COMMANDS);
  if (!argv.includes('--version') || asked !== undefined) {
    for (const name of wanted) (await COMMANDS[name]()).register(program);
  }
  await program.parseAsync([...argv], { from: 'user' });
}

/** Runs the command line and sets the exit status. Never shows a stack trace. */
export async function main(argv: readonly string[]): Promise<void> {
  try {
    await run(argv);
  } catch (error) {
    process.exitCode = tellFailure(error);
  }
}

function tellFailure(error: unknown): number {
  if (error instanceof CommanderError) {
    // Commander has said what was wrong; help and version are no failures.
    return error.exitCode === 0 ? DONE : CANNOT_ASK;
  }
  if (error instanceof CannotAsk) {
    // A message with a place begins with it, so that editors find the place.
    const placed = /:\d+:\d+: error: /.test(error.message);
    tell(placed ? error.message : `listwright: ${error.message}`);
    if (error.why) tell(`  why: ${error.why}`);
    if (error.help) tell(`  do:  ${error.help}`);
    return CANNOT_ASK;
  }
  tell(
    `listwright: a fault of listwright itself: ${error instanceof Error ? error.message : error}`,
  );
  tell('  do:  please report it with the file that caused it; nothing was written');
  if (process.env.LISTWRIGHT_TRACE && error instanceof Error) tell(error.stack ?? '');
  return CANNOT_ASK;
}
