/** `recover SOUND…`: the programs of a recording, or of several takes of one tape, to images. */

import { extname } from 'node:path';
import { type Command, Option } from 'commander';
import { unicodeOfCode } from '../machine/characters.js';
import { HEADER_SIZE } from '../machine/image-layout.js';
import { hexByte } from '../machine/numbers.js';
import { ramText } from '../machine/ram-size.js';
import { type Verdict, verdictText } from '../memory/verdict.js';
import type { RecoveredProgram, Recovery } from '../tape/reading/recovery.js';
import { ProgramListener, type RecoverOptions } from '../tape/recover.js';
import {
  doubtCount,
  doubtPlace,
  doubtTexts,
  isAlike,
  judgement,
  timeText,
} from '../tape/telling/doubt-text.js';
import { ClosePicker, drawRecovery, worstPlace } from '../tape/telling/draw-recovery.js';
import { type VotedProgram, voteBetween } from '../tape/voting/takes.js';
import {
  besides,
  CannotAsk,
  keepApart,
  NO,
  nameOf,
  placeOf,
  print,
  tell,
  writeBytes,
} from './common/io.js';
import {
  allOption,
  anywayOption,
  formatOption,
  outputOption,
  ramOption,
  svgOption,
} from './common/options.js';
import { verdictMember, verdictOfImage } from './common/room.js';
import { count, jsonOf, shortList } from './common/show.js';
import { listen } from './sound/listen.js';
import { listenTo } from './sound/sound-file.js';

interface Options {
  all?: boolean;
  listen?: boolean;
  save?: string;
  output?: string;
  channel: NonNullable<RecoverOptions['channel']>;
  partial?: boolean;
  format: string;
  svg?: string;
  ram?: number;
  anyway?: boolean;
}

/** A program of the tape, with the verdict where a RAM is asked for, and where its image goes. */
interface Found extends VotedProgram {
  readonly path: string;
  readonly verdict?: Verdict;
  /** Is it written? What does not load in the RAM that is asked for is not. */
  readonly isWritten: boolean;
}

export function register(program: Command): void {
  program
    .command('recover')
    .description('write an image of each program in a recording, and say what is in doubt')
    .argument(
      '[sound...]',
      'a sound file (WAV, AIFF, MP3, M4A, FLAC, Ogg, Opus), or several takes of the same tape; - for standard input',
    )
    .option('--listen', 'listen to the line in or microphone while the tape plays')
    .option('--save <file>', 'with --listen: keep the sound as a WAV file')
    .addOption(
      outputOption('where the first image goes (default: SOUND.img); later ones get -2, -3'),
    )
    .addOption(
      new Option('--channel <channel>', 'which sound of a stereo recording is read')
        .choices(['best', 'mix', 'left', 'right', 'difference'])
        .default('best'),
    )
    .addOption(ramOption('says too whether they fit it'))
    .addOption(anywayOption('writes an image too'))
    .option('--partial', 'read a sound file that ends before its header says')
    .addOption(formatOption())
    .addOption(svgOption('the level over time, with programs and doubtful places,'))
    .addOption(allOption())
    .action(recover);
}

async function recover(files: string[], options: Options): Promise<void> {
  checkListening(files, options);
  if (options.svg && files.includes('-')) {
    throw new CannotAsk(
      '--svg reads the recording twice, and standard input comes only once',
      'give a file',
    );
  }
  keepApart('the image', options.output, options.format);
  const { channel, partial } = options;
  const takes: Recovery[] = [];
  const sounds = [...files];
  let fault: string | undefined;
  if (options.listen) {
    const { save } = options;
    tell(`listening: play the tape; ${LISTENING_ENDS}`);
    const heard = await listen(new ProgramListener({ channel }), save, tellHeard);
    fault = heard.fault;
    takes.push(heard.recovery);
    sounds.unshift(save ?? LINE_IN);
  }
  for (const sound of files) {
    takes.push(await listenTo(sound, 'reading', new ProgramListener({ channel }), { partial }));
  }
  if (fault !== undefined) {
    tell(`listwright: warning: the recorder ended by itself: ${fault}; what was heard was read`);
    process.exitCode = NO;
  }
  const voted = voteBetween(takes);
  if (voted.length === 0) throw noProgram(sounds, takes);
  const paths = pathsFor(voted.length, options.output ?? imagePath(sounds[0]));
  const programs = voted.map((one, index): Found => {
    const { ram } = options;
    const verdict = ram === undefined ? undefined : verdictOfImage(one.program.image, ram);
    const isWritten = verdict?.kind !== 'does not load' || options.anyway === true;
    return { ...one, path: paths[index], verdict, isWritten };
  });
  // The long work is done before the first file is written: an end in the middle leaves none.
  const drawn = options.svg === undefined ? undefined : await draw(sounds, takes, programs);
  for (const { program, path, isWritten } of programs) {
    if (isWritten) writeBytes(path, program.image);
  }
  if (drawn !== undefined) writeBytes(options.svg!, drawn);
  if (options.format === 'json') print(jsonOf(asJson(sounds, takes, programs)));
  else {
    const say = options.output === '-' || options.svg === '-' ? tell : print;
    say(report(sounds, takes, programs, options.all).join('\n'));
  }
  const isNo = ({ program, isWritten }: Found): boolean => program.doubts.length > 0 || !isWritten;
  if (programs.some(isNo)) process.exitCode = NO;
}

/** What the line in is called where a file would be named. */
const LINE_IN = 'the line in';
const LISTENING_ENDS = 'it ends by itself after the last program, or with Ctrl-C';

const imagePath = (sound: string): string =>
  sound === LINE_IN ? 'heard.img' : besides(sound, '.img');

function checkListening(files: readonly string[], { listen, save, svg }: Options): void {
  if (!listen && files.length === 0) {
    throw new CannotAsk(
      'there is no recording to read',
      'name a sound file, or say --listen to hear the tape as it plays',
    );
  }
  if (!listen && save !== undefined) {
    throw new CannotAsk('--save keeps what --listen hears', 'say --listen too');
  }
  if (save === '-') {
    throw new CannotAsk('--save cannot write to standard output', 'name a file');
  }
  if (listen && svg !== undefined && save === undefined) {
    throw new CannotAsk(
      '--svg reads the recording twice, and the tape plays only once',
      'keep the sound with --save FILE',
    );
  }
}

/** Each program is told as soon as it has ended; the report follows at the end. */
function tellHeard({ name, image, doubts, end }: RecoveredProgram): void {
  const size = count(image.length, 'byte');
  tell(`${timeText(end)}  heard "${nameText(name)}", ${size}, ${doubtCount(doubts)}`);
}

function noProgram(sounds: readonly string[], takes: readonly Recovery[]): CannotAsk {
  const pieces = takes.flatMap((take) => take.fragments);
  const names = sounds.map(nameOf).join(', ');
  if (pieces.length > 0) {
    const [{ start, end, bits }] = pieces;
    return new CannotAsk(
      `${names}: there is no program with its beginning in this recording`,
      'record it again from before the program begins',
      `from ${timeText(start)} to ${timeText(end)} there ${bits === 1 ? 'is 1 bit that follows' : `are ${bits} bits that follow`} no name`,
    );
  }
  return new CannotAsk(
    `${names}: there is no program in this recording`,
    'record it again, louder, with tone controls in the middle, from before the program begins',
  );
}

/** `a.img`, `a-2.img`, `a-3.img` … */
function pathsFor(programs: number, first: string): string[] {
  if (first === '-' && programs > 1) {
    throw new CannotAsk(
      `the recording holds ${programs} programs, and standard output takes one`,
      'give -o a file name; later images get -2, -3 …',
    );
  }
  const extension = extname(first);
  const stem = first.slice(0, first.length - extension.length);
  return Array.from({ length: programs }, (_, i) =>
    i === 0 ? first : `${stem}-${i + 1}${extension}`,
  );
}

/** The name in characters; a code that has none is shown in hex. */
function nameText(name: Uint8Array): string {
  return [...name].map((code) => unicodeOfCode(code) ?? `[${hexByte(code)}]`).join('');
}

function report(
  sounds: readonly string[],
  takes: readonly Recovery[],
  programs: readonly Found[],
  all?: boolean,
): string[] {
  const lines: string[] = [];
  takes.forEach((take, i) => {
    for (const note of take.notes) lines.push(`${nameOf(sounds[i])}: note: ${note}`);
    for (const { start, end, bits } of take.fragments) {
      lines.push(
        `${nameOf(sounds[i])}: from ${timeText(start)} to ${timeText(end)} there ${bits === 1 ? 'is 1 bit' : `are ${bits} bits`} without the beginning of a program, which ${bits === 1 ? 'was' : 'were'} left out`,
      );
    }
  });
  for (const found of programs) {
    lines.push(...programLines(found, sounds, all));
    if (found.verdict !== undefined) lines.push(...verdictLines(found, found.verdict));
  }
  return lines;
}

function verdictLines({ path, isWritten }: Found, verdict: Verdict): string[] {
  const text = verdictText(verdict);
  if (verdict.kind === 'runs') return [`  ${text}`];
  const name = path === '-' ? 'IMAGE' : path;
  if (!isWritten) {
    return [
      `  error: ${text}: not written`,
      `    do:  --anyway writes it all the same; \`listwright detokenise ${name}\` then gives its listing, to be made shorter`,
    ];
  }
  const asked = `--ram ${ramText(verdict.ram)}`;
  return [
    `  warning: ${text}`,
    `    do:  \`listwright fit ${name} ${asked}\` says what it hangs on`,
  ];
}

/** Rows of doubts and of what a vote settled that are shown unless all are asked for. */
const MOST_ROWS = 10;
/** A tape this much faster or slower, of 1, is worth a word: its machine wants adjusting. */
const OFF_SPEED = 0.01;

function speedText(speed: number): string {
  const off = Math.abs(speed - 1);
  return off < OFF_SPEED ? '' : `, ${(100 * off).toFixed(1)} % too ${speed > 1 ? 'fast' : 'slow'}`;
}

function programLines(
  { program, basis, takes, settled, path, isWritten }: Found,
  sounds: readonly string[],
  all?: boolean,
): string[] {
  const { name, image, start, end, speed, doubts, whole, channel } = program;
  const from = channel === 'mono' || channel === 'mix' ? '' : `, from ${channel}`;
  const what = `${path === '-' || !isWritten ? '' : `${placeOf(path)}: `}"${nameText(name)}", ${count(image.length, 'byte')}`;
  const where = `${timeText(start)} to ${timeText(end)} of ${nameOf(sounds[basis])}${from}${speedText(speed)}`;
  const lines =
    doubts.length === 0
      ? [`${what}, ${where}: ${doubtCount(doubts)}`]
      : [`${what}, ${where}`, `  ${judgement(doubts, image.length)}`];
  const rows = doubtTexts(doubts, isAlike).map(({ text }) => `    ${text}`);
  lines.push(...shortList(rows, all, '    ', MOST_ROWS));
  if (doubts.some((doubt) => doubt.reason === 'rebuilt')) {
    const line = image[HEADER_SIZE] * 256 + image[HEADER_SIZE + 1];
    lines.push(
      `  its beginning is lost: it was given that of a fresh machine, and lines before ${line} may be missing`,
    );
  }
  if (program.lostBytes > 0) {
    const cut = doubts.find(({ reason }) => reason === 'unfinished');
    const where = cut === undefined ? '' : ` in ${doubtPlace(cut)}`;
    lines.push(
      `  its end is lost: the recording ends${where}, and what follows is that of a plain build`,
    );
  }
  if (!whole) {
    const contradiction = 'its pointers, lines, display or variables contradict each other';
    lines.push(
      doubts.length > 0
        ? `  the image does not hold together: ${contradiction}`
        : `  note: ${contradiction}; the recording is clear, so most likely the program was saved like that`,
    );
  }
  if (takes.length > 1) {
    lines.push(
      `  ${takes.length} takes have it; ${count(settled.length, 'byte')} settled by voting`,
    );
  }
  const settlements = settled.map((settlement) => {
    const where = doubtPlace({ ...settlement, seconds: 0, reason: 'takes' });
    const what =
      settlement.was === settlement.byte
        ? `${hexByte(settlement.byte)} confirmed`
        : `${hexByte(settlement.was)} is ${hexByte(settlement.byte)}`;
    const address = settlement.address === undefined ? '' : `address ${settlement.address}, `;
    return `    ${address}${where}: ${what}, by ${nameOf(sounds[settlement.take])}`;
  });
  const left = Math.max(0, MOST_ROWS - rows.length);
  return [...lines, ...shortList(settlements, all, '    ', left)];
}

function asJson(sounds: readonly string[], takes: readonly Recovery[], programs: readonly Found[]) {
  return {
    recordings: takes.map(({ seconds, rate, channels, notes, fragments }, i) => ({
      file: nameOf(sounds[i]),
      seconds,
      rate,
      channels,
      notes,
      fragments,
    })),
    programs: programs.map(
      ({ program, basis, takes: having, settled, path, verdict, isWritten }) => {
        const { name, image, start, end, speed, certainty, whole, channel, doubts } = program;
        return {
          written: isWritten ? path : null,
          name: nameText(name),
          nameCodes: [...name],
          bytes: image.length,
          file: nameOf(sounds[basis]),
          start,
          end,
          speed,
          channel,
          certainty,
          whole,
          doubts,
          ...verdictMember(verdict),
          takes: having.map((take) => nameOf(sounds[take])),
          settled: settled.map((one) => ({ ...one, take: nameOf(sounds[one.take]) })),
        };
      },
    ),
  };
}

/** The picture of the recordings that programs were read from, and of the least sure place. */
async function draw(
  sounds: readonly string[],
  takes: readonly Recovery[],
  voted: readonly VotedProgram[],
): Promise<string> {
  const worst = worstPlace(voted.map(({ program }) => program));
  const basis = voted.find(({ program }) => program === worst?.program)?.basis ?? 0;
  const close =
    worst &&
    (await listenTo(sounds[basis], 'drawing', new ClosePicker(worst.seconds, worst.program), {
      partial: true,
    }));
  const drawn = takes.flatMap(({ seconds, loudness }, take) => {
    const programs = voted
      .filter((one) => one.basis === take)
      .map(({ program }) => ({ ...program, title: nameText(program.name) }));
    return programs.length === 0
      ? []
      : [{ file: nameOf(sounds[take]), seconds, loudness, programs, isClose: take === basis }];
  });
  return drawRecovery(drawn, close, takes.length);
}
