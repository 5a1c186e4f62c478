/** `rehearse INPUT`: runs it on the model of the machine. */
import { readSync } from 'node:fs';
import { type Command, InvalidArgumentError } from 'commander';
import { hasErrors } from '../listing/diagnostics.js';
import { makingOf } from '../listing/directives.js';
import { charactersText, statementText } from '../listing/print.js';
import { BadKeys, type KeyPress, readKeys } from '../rehearsal/keys.js';
import { ledgerChart } from '../rehearsal/ledger-chart.js';
import type { InputQuestion } from '../rehearsal/model.js';
import { screenPicture } from '../rehearsal/picture.js';
import { type ProfiledLine, profileChart, profileText } from '../rehearsal/profile.js';
import { DEFAULT_STATEMENTS, type Rehearsal, rehearse } from '../rehearsal/run.js';
import {
  endText,
  framedScreen,
  framedStrip,
  type Invert,
  lineRanges,
  peakText,
  rehearsalJson,
  verdictOf,
} from '../rehearsal/show.js';
import { loadProgram, type Program } from './input.js';
import {
  ask,
  CANNOT_ASK,
  CannotAsk,
  DONE,
  NO,
  nameOf,
  print,
  readBytes,
  tell,
  writeBytes,
} from './io.js';
import {
  allOption,
  formatOption,
  includeAnywhereOption,
  numberOption,
  ramOption,
  salvageOption,
  svgOption,
} from './options.js';
import { Progress } from './progress.js';
import { budgetFor, tellVerdict } from './room.js';
import { count, duration, jsonOf, tellDiagnostics } from './show.js';
import { styled, wantsColour } from './terminal.js';

interface Options {
  all?: boolean;
  ram?: number;
  input?: string[];
  inputs?: string;
  keys?: KeyPress[];
  statements: number;
  frames?: number;
  seed?: number;
  usr?: number;
  trace?: boolean;
  profile?: boolean;
  format: 'text' | 'json';
  svg?: string;
  ledger?: string;
  includeAnywhere?: boolean;
  salvage?: boolean;
}

/** What counts, and what two bytes hold. */
const COUNT = { whole: true, from: 0 };
const WORD = { whole: true, from: 0, to: 0xffff };

export function register(program: Command): void {
  program
    .command('rehearse')
    .description('run a program on a model of the machine, with a ledger of the room left')
    .argument('<input>', 'a listing, an image or a recording, or - for standard input')
    .addOption(ramOption())
    .option('--input <value>', 'what is typed at INPUT; once for each INPUT', gather)
    .option('--inputs <file>', 'what is typed at INPUT, one value a line; - for standard input')
    .option(
      '--keys <keys>',
      'keys pressed, such as "A SHIFT+5 200:NEWLINE 300-340:Z": a number is the frame, or the first and last',
      keysOption,
    )
    .addOption(
      numberOption('--statements <most>', 'statements to run at most', COUNT, DEFAULT_STATEMENTS),
    )
    .addOption(numberOption('--frames <most>', 'frames to let pass at most', COUNT))
    .addOption(
      numberOption('--seed <number>', 'what RND starts from, and RAND without a number', WORD),
    )
    .addOption(
      numberOption('--usr <value>', 'what USR gives; without it USR ends the rehearsal', WORD),
    )
    .option('--trace', 'tell each line as it is run, and the value that it leaves')
    .option('--profile', 'tell where the time goes, by line; then --svg writes it as a chart')
    .addOption(formatOption())
    .addOption(svgOption('the final screen, or of --profile'))
    .option('--ledger <file>', 'write a chart of the room left; - for standard output')
    .addOption(includeAnywhereOption())
    .addOption(salvageOption())
    .addOption(allOption())
    .action(rehearseCommand);
}

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

function rehearseCommand(path: string, options: Options): void {
  const toOutput = [options.svg, options.ledger].filter((place) => place === '-').length;
  if (toOutput > 1) {
    throw new CannotAsk('--svg and --ledger cannot both go to standard output', 'name a file');
  }
  if (path === '-' && options.inputs === '-') {
    throw new CannotAsk('the program and --inputs cannot both be standard input', 'name a file');
  }
  const program = loadProgram(path, options);
  tellDiagnostics(program.source, program.diagnostics, options.all);
  for (const remark of program.remarks) tell(`${program.source.name}: note: ${remark}`);
  if (hasErrors(program.diagnostics) || program.image === undefined) {
    tell(`${program.source.name}: only a program without errors can be rehearsed`);
    process.exitCode = NO;
    return;
  }
  if (!tellVerdict(program, budgetFor(program).verdict, { open: false })) {
    process.exitCode = NO;
    return;
  }
  const bar = new Progress(`rehearsing ${program.source.name}`);
  const asked = rehearseOptions(path, options, program, bar);
  const rehearsal = rehearse(program.listing, asked);
  bar.end();
  writePictures(rehearsal, program, options);
  if (options.format === 'json') {
    if (toOutput === 0) {
      const { profile } = rehearsal;
      print(jsonOf({ ...rehearsalJson(rehearsal), ...(options.profile ? { profile } : {}) }));
    }
  } else showRehearsal(rehearsal, program, options, toOutput > 0 ? tell : print);
  process.exitCode = statusOf(rehearsal);
}

function rehearseOptions(path: string, options: Options, { image, ram }: Program, bar: Progress) {
  const { keys, statements, frames, seed, usr } = options;
  const inputs = [
    ...(options.input ?? []),
    ...(options.inputs === undefined ? [] : linesOf(options.inputs)),
  ];
  const interactive = inputs.length === 0 && path !== '-' && Boolean(process.stdin.isTTY);
  return {
    image,
    ram,
    keys,
    statements,
    frames,
    seed,
    usr,
    inputs,
    ask: interactive ? (question: InputQuestion) => askPerson(question, bar) : undefined,
    // What is told line by line needs no bar.
    progress: options.trace ? undefined : (part: number) => bar.show(part),
    trace: options.trace ? traceLine : undefined,
  };
}

/** Lines of a file of values; the end of the last line is not a line more. */
function linesOf(path: string): string[] {
  const lines = textOf(path).split(/\r\n|\r|\n/);
  if (lines.at(-1) === '') lines.pop();
  return lines;
}

function textOf(path: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(readBytes(path));
  } catch (error) {
    if (error instanceof CannotAsk) throw error;
    throw new CannotAsk(`${nameOf(path)}: the values are not UTF-8 text`, 'save them as UTF-8');
  }
}

function traceLine(line: number, value: string): void {
  tell(`${String(line).padStart(4)}  ${value}`.trimEnd());
}

/** Reports and endings that say "no": the program does something wrong, or cannot be followed. */
const NO_VERDICTS = ['error', 'usr', 'unchecked', 'memory'];

function statusOf(rehearsal: Rehearsal): number {
  const verdict = verdictOf(rehearsal);
  if (verdict === 'input') return CANNOT_ASK;
  return NO_VERDICTS.includes(verdict) ? NO : DONE;
}

function writePictures(rehearsal: Rehearsal, program: Program, options: Options): void {
  const { svg, ledger, profile } = options;
  const name = charactersText(program.name, false);
  if (svg !== undefined) {
    const picture = profile
      ? profileChart(profiledLines(rehearsal, program), `Where the time of ${name} goes`)
      : screenPicture(rehearsal.screen, `The screen of ${name}`);
    writeBytes(svg, picture);
  }
  if (ledger === undefined) return;
  const title = `The room left while ${name} runs`;
  writeBytes(ledger, ledgerChart(rehearsal.ledger, rehearsal.ram, title));
}

/** The profile, with the statements of its lines. */
function profiledLines({ profile }: Rehearsal, { listing }: Program): ProfiledLine[] {
  const making = makingOf(listing.items);
  const texts = new Map(
    listing.lines.map(({ number, codes }) => [number, statementText(codes, making)]),
  );
  return profile.map((line) => ({ ...line, statement: texts.get(line.line) ?? '' }));
}

/** Inverse video on a terminal. */
function inverterFor(stream: NodeJS.WriteStream): Invert | undefined {
  return wantsColour(stream) ? (text) => styled(text, 'inverse') : undefined;
}

/** Lines of a profile that are shown unless all are asked for. */
const MOST_PROFILED = 20;

function showRehearsal(
  rehearsal: Rehearsal,
  program: Program,
  options: Options,
  show: (text: string) => void,
): void {
  const invert = inverterFor(show === print ? process.stdout : process.stderr);
  const { printer, peak, ram, unrun, statements, frames } = rehearsal;
  show(framedScreen(rehearsal.screen, invert));
  if (printer.length > 0) show(`printed:\n${framedStrip(printer, invert)}`);
  show(endText(rehearsal));
  show(
    `${count(statements, 'statement')} run, in ${count(frames, 'frame')} by count (about ${duration(rehearsal.seconds)})`,
  );
  if (options.profile) {
    show(profileText(profiledLines(rehearsal, program), options.all ? Infinity : MOST_PROFILED));
  }
  show(peakText(peak, ram));
  const all = program.listing.lines.map((line) => line.number);
  show(unrun.length === 0 ? 'every line was run' : `lines never run: ${lineRanges(unrun, all)}`);
  for (const { line, message } of rehearsal.remarks) {
    tell(`${program.source.name}: warning: in line ${line}: ${message}`);
  }
}

const QUESTIONS: Record<InputQuestion['what'], string> = {
  number: 'a number',
  string: 'text',
  key: 'a key (NEWLINE)',
};

/** Shows what the screen says, and reads a line from the terminal. */
function askPerson(question: InputQuestion, bar: Progress): string | undefined {
  const { what, line, screen, refused } = question;
  bar.end();
  if (refused === undefined) tell(framedScreen(screen, inverterFor(process.stderr)));
  else tell(`the machine would not take that: ${refused}`);
  ask(`line ${line} wants ${QUESTIONS[what]}: `);
  return readTerminalLine();
}

/** A line from the terminal, without its end; undefined when the input is closed. */
function readTerminalLine(): string | undefined {
  const bytes: number[] = [];
  const byte = new Uint8Array(1);
  for (;;) {
    if (readByte(byte) === 0) return bytes.length > 0 ? decode(bytes) : undefined;
    if (byte[0] === 10) return decode(bytes);
    bytes.push(byte[0]);
  }
}

const decode = (bytes: readonly number[]): string =>
  new TextDecoder().decode(Uint8Array.from(bytes)).replace(/\r$/, '');

function readByte(byte: Uint8Array): number {
  for (;;) {
    try {
      return readSync(0, byte, 0, 1, null);
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      if (code === 'EOF') return 0;
      if (code !== 'EAGAIN') throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 20);
    }
  }
}
