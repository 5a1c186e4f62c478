/** How a rehearsal is to run: the options that `rehearse` and `fit` share, and a person at the keys. */
import { type Command, InvalidArgumentError } from 'commander';
import { utf8Text } from '../../image/kind.js';
import { MOST_CHARACTERS } from '../../machine/program-limits.js';
import {
  DEFAULT_FRAMES,
  DEFAULT_STATEMENTS,
  type Rehearsal,
  type RehearseOptions,
} from '../../rehearsal/rehearsal.js';
import { rehearse } from '../../rehearsal/run.js';
import { BadKeys, type KeyPress, readKeys } from '../../rehearsal/state/keys.js';
import type { InputQuestion } from '../../rehearsal/state/model.js';
import { framedScreen, type Invert } from '../../rehearsal/telling/show.js';
import type { Program } from './input.js';
import { ask, CannotAsk, nameOf, readBytes, readSome, tell } from './io.js';
import { numberOption } from './options.js';
import { Progress } from './progress.js';
import { styled, wantsColour } from './terminal.js';

/** The values of the options that `addRunOptions` adds. */
export interface RunWords {
  input?: string[];
  inputs?: string;
  keys?: KeyPress[];
  statements?: number;
  frames?: number;
  seed?: number;
  usr?: number;
  cont?: number;
}

/** What counts, and what two bytes hold. */
const COUNT = { whole: true, from: 0 };
const WORD = { whole: true, from: 0, to: 0xffff };

/** Adds the options of a run to a command. */
export function addRunOptions(command: Command): Command {
  return command
    .option('--input <value>', 'what is typed at INPUT; once for each INPUT', gather)
    .option('--inputs <file>', 'what is typed at INPUT, one value a line; - for standard input')
    .option(
      '--keys <keys>',
      'keys pressed, such as "A SHIFT+5 200:NEWLINE 300-340:Z": a number is the frame, or the first and last; A+B are held at once',
      keysOption,
    )
    .addOption(
      numberOption(
        '--statements <most>',
        `statements to run at most (default: ${DEFAULT_STATEMENTS})`,
        COUNT,
      ),
    )
    .addOption(
      numberOption(
        '--frames <most>',
        `frames to let pass at most (default: ${DEFAULT_FRAMES}, or no limit with --statements)`,
        COUNT,
      ),
    )
    .addOption(
      numberOption('--seed <number>', 'what RND starts from, and RAND without a number', WORD),
    )
    .addOption(
      numberOption('--usr <value>', 'what USR gives; without it USR ends the rehearsal', WORD),
    )
    .addOption(
      numberOption('--cont <times>', 'type CONT so many times when a report stops it', COUNT),
    );
}

/** Is any of them given? */
export const hasRunOptions = (words: RunWords): boolean =>
  RUN_WORDS.some((name) => words[name] !== undefined);

const RUN_WORDS = [
  'input',
  'inputs',
  'keys',
  'statements',
  'frames',
  'seed',
  'usr',
  'cont',
] as const;

function gather(value: string, before: string[] = []): string[] {
  return [...before, value];
}

function keysOption(text: string): KeyPress[] {
  try {
    return readKeys(text);
  } catch (error) {
    if (error instanceof BadKeys) throw new InvalidArgumentError(error.message);
    throw error;
  }
}

/** Runs a program as the options say, and shows how far it is. Throws CannotAsk. */
export function runShown(
  path: string,
  options: RunWords,
  program: Program,
  trace?: RehearseOptions['trace'],
): Rehearsal {
  const asked = runOptions(path, options, program);
  const bar = new Progress(`rehearsing ${program.source.name}`);
  const ask = (question: InputQuestion): string | undefined => {
    bar.end();
    return asked.ask?.(question);
  };
  // What is told line by line needs no bar.
  const progress = trace === undefined ? (part: number) => bar.show(part) : undefined;
  try {
    return rehearse(program.listing, { ...asked, ask: asked.ask && ask, trace, progress });
  } finally {
    bar.end();
  }
}

/** What the options say of a run of this program. Throws CannotAsk. */
function runOptions(path: string, options: RunWords, program: Program): RehearseOptions {
  if (path === '-' && options.inputs === '-') {
    throw new CannotAsk('the program and --inputs cannot both be standard input', 'name a file');
  }
  const { keys, statements, frames, seed, usr, cont: conts } = options;
  const { image, ram } = program;
  const inputs = [
    ...(options.input ?? []),
    ...(options.inputs === undefined ? [] : linesOf(options.inputs)),
  ];
  const interactive = inputs.length === 0 && path !== '-' && Boolean(process.stdin.isTTY);
  const asked = interactive ? askPerson : undefined;
  return { image, ram, keys, statements, frames, seed, usr, conts, inputs, ask: asked };
}

/** Lines of a file of values; the end of the last line is not a line more. */
function linesOf(path: string): string[] {
  const text = utf8Text(readBytes(path, MOST_CHARACTERS));
  if (text === undefined) {
    throw new CannotAsk(`${nameOf(path)}: the values are not UTF-8 text`, 'save them as UTF-8');
  }
  const lines = text.split(/\r\n|\r|\n/);
  if (lines.at(-1) === '') lines.pop();
  return lines;
}

/** Inverse video on a terminal. */
export function inverterFor(stream: NodeJS.WriteStream): Invert | undefined {
  return wantsColour(stream) ? (text) => styled(text, 'inverse') : undefined;
}

const QUESTIONS: Record<InputQuestion['what'], string> = {
  number: 'a number',
  string: 'text',
  key: 'a key (NEWLINE)',
};

/** Shows what the screen says, and reads a line from the terminal. */
function askPerson({ what, line, screen, refused }: InputQuestion): string | undefined {
  if (refused === undefined) tell(framedScreen(screen, inverterFor(process.stderr)));
  else tell(`the machine would not take that: ${refused}`);
  ask(`line ${line} wants ${QUESTIONS[what]}: `);
  return readTerminalLine();
}

/** A line from the terminal, without its end; undefined when the input is closed. */
function readTerminalLine(): string | undefined {
  const bytes: number[] = [];
  const byte = new Uint8Array(1);
  while (readSome(0, byte) > 0 && byte[0] !== 10) bytes.push(byte[0]);
  if (bytes.length === 0 && byte[0] !== 10) return undefined;
  return new TextDecoder().decode(Uint8Array.from(bytes)).replace(/\r$/, '');
}
