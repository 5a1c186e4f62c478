/** `record INPUT…`: listing, image or recording to a recording. */
import { join } from 'node:path';
import type { Command } from 'commander';
import type { Diagnostic } from '../listing/diagnostics.js';
import { charactersText } from '../listing/print.js';
import { codeOfUnicode } from '../machine/characters.js';
import type { Budget } from '../memory/budget.js';
import { SoundError } from '../tape/sound-error.js';
import { doubtCount } from '../tape/telling/doubt-text.js';
import {
  planRecording,
  RECORD_DEFAULTS,
  type Recording,
  type RecordOptions,
} from '../tape/writing/record.js';
import type { TapeProgram } from '../tape/writing/tape-bytes.js';
import { turn } from './common/ending.js';
import { type CommandOptions, loadProgram, noteNoLines, type Program } from './common/input.js';
import {
  besides,
  CannotAsk,
  keepApart,
  NO,
  nameOf,
  openWhole,
  placeOf,
  print,
  tell,
  temporaryFolder,
} from './common/io.js';
import {
  allOption,
  anywayOption,
  formatOption,
  includeAnywhereOption,
  numberOption,
  outputOption,
  ramOption,
} from './common/options.js';
import { Progress } from './common/progress.js';
import { check, tellMistakes, tellVerdict, verdictMember, withNextStep } from './common/room.js';
import { count, duration, jsonOf, placeDiagnostics, tellDiagnostics } from './common/show.js';
import { play } from './sound/player.js';

interface Options extends CommandOptions {
  output?: string;
  play?: boolean;
  name?: string;
  rate: number;
  bits: string;
  level: number;
  invert?: boolean;
  lead: number;
  tail: number;
  gap: number;
  speed: number;
  shape: string;
  sayName?: boolean;
}

const CAUTION =
  'Recordings are loud square-edged tones: start with the volume low, never with headphones on,\n' +
  'and never feed a speaker-level or mains amplifier output into the tape socket.';

export function register(program: Command): void {
  const usual = RECORD_DEFAULTS;
  const choice = (flags: string, text: string, choices: string[], usual: string) =>
    program.createOption(flags, text).choices(choices).default(usual);
  program
    .command('record')
    .description('write the sound that the machine loads a program from')
    .argument('<input...>', 'listings, images or recordings, or - for standard input')
    .addOption(outputOption('where the recording goes (default: INPUT.wav, and none with --play)'))
    .option('--play', 'play it on this computer')
    .option('--name <name>', 'the name on tape, of a single program', nameOption)
    .addOption(ramOption())
    .addOption(anywayOption('records a program too'))
    .addOption(includeAnywhereOption())
    .addOption(formatOption())
    .addOption(numberOption('--rate <samples>', 'samples a second, 8000 to 192000', {}, usual.rate))
    .addOption(choice('--bits <bits>', 'bits a sample', ['8', '16', '24'], String(usual.bits)))
    .addOption(numberOption('--level <height>', 'height of the signal, up to 1', {}, usual.level))
    .option('--invert', 'turn the signal upside down')
    .addOption(numberOption('--lead <seconds>', 'silence before the first program', {}, usual.lead))
    .addOption(numberOption('--tail <seconds>', 'silence after the last program', {}, usual.tail))
    .addOption(numberOption('--gap <seconds>', 'silence between programs', {}, usual.gap))
    .addOption(
      numberOption(
        '--speed <factor>',
        'how much faster than the machine’s own, 0.5 to 2',
        {},
        usual.speed,
      ),
    )
    .addOption(
      choice(
        '--shape <shape>',
        'rounded edges are kinder to cassettes and Bluetooth',
        ['square', 'rounded'],
        usual.shape,
      ),
    )
    .option(
      '--say-name',
      'speak each program’s name before it, letter by letter, to find it by ear',
    )
    .addOption(allOption())
    .addHelpText('after', `\n${CAUTION}`)
    .action(record);
}

/** A name on tape: small letters fold to capitals, as in listings. */
function nameOption(text: string): string {
  const wrong = [...text].find((character) => codeOfUnicode(character) === undefined);
  if (text === '' || wrong !== undefined) {
    throw new CannotAsk(
      text === ''
        ? '--name: a name has at least one character'
        : `--name: the machine has no ${wrong}`,
      'use letters, digits and the machine’s own signs',
    );
  }
  return text;
}

async function record(inputs: string[], options: Options): Promise<void> {
  if (options.name !== undefined && inputs.length > 1) {
    throw new CannotAsk(
      '--name can be given for a single program only',
      'use .name in the listings',
    );
  }
  const output = options.output ?? (options.play ? undefined : besides(inputs[0], '.wav'));
  const inJson = options.format === 'json';
  keepApart('the sound', output, options.format);
  const loaded: Loaded[] = [];
  for (const input of inputs) loaded.push(await load(input, options));
  const programs = loaded.flatMap(({ tape }) => (tape === undefined ? [] : [tape]));
  if (programs.length < loaded.length) {
    if (inJson) print(jsonOf(asJson(loaded)));
    tell('nothing was recorded');
    return;
  }
  const recording = plan(programs, options);
  for (const note of recording.notes) tell(`listwright: note: ${note}`);
  if (output !== undefined) await write(recording, output);
  if (inJson) print(jsonOf(asJson(loaded, recording, output, options)));
  else if (output !== undefined) {
    const place = output === '-' ? '' : `${placeOf(output)}: `;
    tell(
      `${place}${count(programs.length, 'program')}, ${duration(recording.seconds)}, ${options.rate} samples a second of ${options.bits} bits, ${count(recording.size, 'byte')}`,
    );
  }
  for (const { program, budget } of inJson ? [] : loaded) {
    if (budget?.verdict.kind === 'runs') tellVerdict(program, budget);
  }
  if (options.play) await playRecording(recording);
}

interface Loaded {
  readonly program: Program;
  readonly diagnostics: readonly Diagnostic[];
  readonly budget?: Budget;
  /** Undefined where it cannot be recorded; the exit status is 1 then. */
  readonly tape?: TapeProgram;
}

/** The form of `--format json`; without a recording nothing was written. */
function asJson(
  loaded: readonly Loaded[],
  recording?: Recording,
  output?: string,
  options?: Options,
) {
  return {
    written: output ?? null,
    ...(recording === undefined
      ? {}
      : {
          seconds: recording.seconds,
          rate: options!.rate,
          bits: Number(options!.bits),
          bytes: recording.size,
          notes: recording.notes,
        }),
    programs: loaded.map(({ program, diagnostics, budget, tape }) => ({
      file: program.source.name,
      kind: program.kind,
      name: tape === undefined ? null : charactersText(tape.name, false),
      bytes: program.image?.length ?? null,
      ...verdictMember(budget?.verdict),
      doubts: program.recovered?.doubts.length ?? 0,
      remarks: program.remarks,
      diagnostics: placeDiagnostics(program.source, diagnostics),
    })),
  };
}

/** A program to record, and what is said of it. */
async function load(input: string, options: Options): Promise<Loaded> {
  const program = withNextStep(await loadProgram(input, options));
  const { image, source, remarks, recovered } = program;
  const diagnostics = [...program.diagnostics, ...noteNoLines(program)];
  for (const remark of remarks) tell(`${source.name}: note: ${remark}`);
  tellDiagnostics(source, diagnostics, options.all);
  const { budget, mistakes } = check(program);
  tellMistakes(program, mistakes, options.all);
  const said = [...diagnostics, ...mistakes];
  // What is good is told when the recording is made.
  const isGood = budget?.verdict.kind === 'runs';
  if (
    image === undefined ||
    budget === undefined ||
    !(isGood || tellVerdict(program, budget, options))
  ) {
    process.exitCode = NO;
    return { program, diagnostics: said, budget };
  }
  if (recovered && recovered.doubts.length > 0) {
    tell(`${source.name}: ${doubtCount(recovered.doubts)}; listwright recover says which`);
    process.exitCode = NO;
  }
  const name =
    options.name === undefined
      ? program.name
      : Uint8Array.from([...options.name], (character) => codeOfUnicode(character)!);
  try {
    return { program, diagnostics: said, budget, tape: asTapeProgram({ name, image }) };
  } catch (error) {
    throw inWords(error, nameOf(input));
  }
}

/** The program, once a recording of it has been planned without complaint. */
function asTapeProgram(program: TapeProgram): TapeProgram {
  planRecording([program]);
  return program;
}

function inWords(error: unknown, place?: string): unknown {
  if (!(error instanceof SoundError)) return error;
  return new CannotAsk(place ? `${place}: ${error.message}` : error.message, error.help);
}

function plan(programs: readonly TapeProgram[], options: Options): Recording {
  try {
    return planRecording(programs, {
      ...options,
      bits: Number(options.bits) as RecordOptions['bits'],
      shape: options.shape as RecordOptions['shape'],
    });
  } catch (error) {
    throw inWords(error);
  }
}

async function write(recording: Recording, path: string): Promise<void> {
  const file = openWhole(path);
  const progress = new Progress(`writing ${path}`);
  let done = 0;
  try {
    for (const piece of recording.pieces()) {
      file.write(piece);
      done += piece.length;
      progress.show(done / recording.size);
      await turn();
    }
    file.finish();
  } catch (error) {
    file.abandon();
    throw error;
  } finally {
    progress.end();
  }
}

async function playRecording(recording: Recording): Promise<void> {
  tell(CAUTION);
  const folder = temporaryFolder();
  const progress = new Progress('playing');
  try {
    const file = join(folder.path, 'recording.wav');
    await write(recording, file);
    const { seconds } = recording;
    await play(file, seconds, (played) => progress.show(played / seconds, seconds - played));
  } finally {
    progress.end();
    folder.remove();
  }
}
