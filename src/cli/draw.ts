/** `draw PICTURE`: a listing that shows a picture in blocks. */
import { type Command, Option } from 'commander';
import { drawnRows, rowsOfRehearsal } from '../draw/characters.js';
import { type Drawn, isDrawn, ramFor, type Tried, tryWays } from '../draw/drawing.js';
import { optionsFor, putInto } from '../draw/into.js';
import { blocksOfText, fittingLetters, type LetterSize } from '../draw/letters.js';
import { largestThatFits, type Size, screenOfPicture } from '../draw/picture.js';
import { kindOfPicture } from '../draw/picture-kind.js';
import type { Crop, Pixels } from '../draw/pixels.js';
import {
  BLOCK_COLUMNS,
  type Corner,
  OffScreen,
  REACHED_ROWS,
  type Screen,
  screenOfBlocks,
  screenOfCells,
} from '../draw/screen.js';
import { DITHERS, type Dither } from '../draw/tones.js';
import { WAYS, type Way, type WayOptions } from '../draw/ways.js';
import { utf8Text } from '../image/kind.js';
import { hasErrors } from '../listing/diagnostics.js';
import { DISPLAY_COLUMNS, DISPLAY_ROWS } from '../machine/memory-map.js';
import { MOST_PICTURE_BYTES } from '../machine/program-limits.js';
import { ramText, SMALLEST_RAM } from '../machine/ram-size.js';
import { screenPicture } from '../rehearsal/telling/picture.js';
import { loadListing, type Program, programOfText } from './common/input.js';
import {
  CannotAsk,
  DONE,
  NO,
  nameOf,
  print,
  printListing,
  readBytes,
  tell,
  writeBytes,
} from './common/io.js';
import {
  allOption,
  anywayOption,
  formatOption,
  lineOption,
  numberOption,
  outputOption,
  ramOption,
  svgOption,
} from './common/options.js';
import { budgetFor, tellVerdict } from './common/room.js';
import { count, duration, jsonOf, tellDiagnostics } from './common/show.js';

interface Options {
  text?: string;
  letters?: LetterSize;
  as: Way | 'least';
  size?: Size;
  place?: Corner;
  crop?: Crop;
  invert?: boolean;
  dither?: Dither;
  threshold?: number;
  greys?: boolean;
  into?: string;
  at?: number;
  ram?: number;
  anyway?: boolean;
  output?: string;
  svg?: string;
  png?: string;
  format: 'text' | 'json';
  all?: boolean;
}

/** What is to be drawn. */
interface Drawing {
  readonly name: string;
  readonly screen: Screen;
  /** What it is, in words: `40 by 30 blocks`. */
  readonly size: string;
  /** The largest size that fits, for a picture that has one. */
  readonly fitting?: (way: Way, ram: number) => Size | undefined;
}

export function register(program: Command): void {
  program
    .command('draw')
    .description('make a listing that shows a picture, in blocks of the screen')
    .argument(
      '[picture]',
      'PNG, JPEG, GIF, WebP or SVG; rows of characters, # for a block; the screen of rehearse --format json; or - for standard input',
    )
    .option('--text <words>', 'draw these words in large letters, instead of a picture')
    .option('--letters <size>', 'blocks of a letter: 4x4 or 8x8 (default: what fits)', letterSize)
    .addOption(
      new Option('--as <way>', 'how the listing shows it; least: in fewest bytes of all')
        .choices([...WAYS, 'least'])
        .default('least'),
    )
    .option(
      '--size <size>',
      'no larger than so many blocks, as in 40x30; the shape stays (default: all of the screen)',
      blockSize,
    )
    .option(
      '--place <place>',
      'row and column of its left upper corner, as in 0,0 (default: in the middle)',
      placeOption,
    )
    .option(
      '--crop <part>',
      'left, top, width and height in pixels, as in 10,0,200,150',
      cropOption,
    )
    .option('--invert', 'dark for light, and light for dark')
    .addOption(
      new Option('--dither <method>', 'make tones of blocks (default: none)').choices(DITHERS),
    )
    .addOption(
      numberOption(
        '--threshold <percent>',
        'what is darker becomes dark (default: what parts the picture best)',
        { from: 1, to: 99 },
      ),
    )
    .option('--greys', "use the machine's grey characters too")
    .option('--into <listing>', 'put it into this listing, instead of one of its own')
    .addOption(lineOption('--at <line>', 'where in the listing: lines there move on'))
    .addOption(ramOption())
    .addOption(anywayOption('write a listing'))
    .addOption(outputOption('where the listing goes (default: standard output)'))
    .addOption(svgOption('the screen that it gives'))
    .option('--png <file>', 'write the screen that it gives as a PNG; - for standard output')
    .addOption(formatOption())
    .addOption(allOption())
    .action(draw);
}

async function draw(path: string | undefined, options: Options): Promise<void> {
  checkTogether(path, options);
  const drawing = await loadDrawing(path, options);
  if (drawing === undefined) return;
  const into = options.into === undefined ? undefined : loadInto(options);
  if (options.into !== undefined && into === undefined) return;
  const { ram = into?.program.ram ?? SMALLEST_RAM } = options;
  const ways = options.as === 'least' ? WAYS : [options.as];
  const tried = tryWays(ways, drawing.screen, ram, into?.options);
  const [least] = tried;
  if (!isDrawn(least)) {
    throw new CannotAsk(
      `${drawing.name}: it cannot be shown so: ${least.why}`,
      'choose another --as',
    );
  }
  const written =
    into === undefined ? own(drawing, least, ram, options) : putIn(into, least, ram, options);
  if (options.format === 'json') {
    print(jsonOf({ ...resultJson(drawing, tried, ram), ...written.json }));
  } else {
    tell(triedText(drawing, tried, ram));
    if (written.said !== '') tell(written.said);
  }
  if (!written.isGood) {
    process.exitCode = NO;
    return;
  }
  if (options.svg !== undefined || options.png !== undefined) {
    const svg = screenPicture(least.shown, drawing.name);
    if (options.svg !== undefined) writeBytes(options.svg, svg);
    if (options.png !== undefined) {
      const { pngOf } = await import('./picture-file.js');
      writeBytes(options.png, await pngOf(svg));
    }
  }
  const out = options.output ?? '-';
  if (out !== '-') writeBytes(out, written.text);
  else if (options.format !== 'json' && options.svg !== '-' && options.png !== '-') {
    printListing(written.text);
  }
  process.exitCode = DONE;
}

function checkTogether(path: string | undefined, options: Options): void {
  if ((path === undefined) === (options.text === undefined)) {
    throw new CannotAsk(
      path === undefined ? 'there is nothing to draw' : 'give a picture or --text, not both',
      'listwright draw PICTURE, or listwright draw --text "LOFT"',
    );
  }
  if ((options.into === undefined) !== (options.at === undefined)) {
    throw new CannotAsk('--into and --at belong together', 'as in --into LISTING --at 200');
  }
  if (options.into === '-' && path === '-') {
    throw new CannotAsk('the picture and the listing cannot both come from standard input');
  }
  const onOutput = [options.output ?? '-', options.svg, options.png].filter((one) => one === '-');
  if (onOutput.length > 1 && options.output !== undefined) {
    throw new CannotAsk('only one thing can go to standard output');
  }
}

// ───────────────────────────────── what is drawn ─────────────────────────────────

/** Undefined where the picture's text is wrong: then that has been told. */
async function loadDrawing(
  path: string | undefined,
  options: Options,
): Promise<Drawing | undefined> {
  const rows = options.as === 'display' ? DISPLAY_ROWS : REACHED_ROWS;
  const place = options.place;
  const blockPlace = place && { row: 2 * place.row, column: 2 * place.column };
  try {
    if (path === undefined) return lettersDrawing(options, rows, blockPlace);
    const bytes = readBytes(path, MOST_PICTURE_BYTES);
    const kind = kindOfPicture(bytes);
    if (kind !== undefined) {
      const { readPicture } = await import('./picture-file.js');
      const read = await readPicture(bytes, kind);
      if ('why' in read) {
        throw new CannotAsk(`${nameOf(path)}: this picture cannot be read: ${read.why}`, read.help);
      }
      return pictureDrawing(path, read, options, rows);
    }
    return rowsDrawing(path, bytes, options, rows, place, blockPlace);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const name = path === undefined ? '--text' : nameOf(path);
    throw new CannotAsk(
      `${name}: ${error.message}`,
      error instanceof OffScreen ? 'make it smaller, or give another --place' : undefined,
    );
  }
}

function lettersDrawing(options: Options, rows: number, place: Corner | undefined): Drawing {
  const { width, height } = options.size ?? { width: BLOCK_COLUMNS, height: 2 * rows };
  const text = options.text!.replaceAll('\\n', '\n');
  const size = options.letters ?? fittingLetters(text, width, height);
  const blocks = blocksOfText(text, size, width);
  const screen = screenOfBlocks(options.invert ? inverted(blocks) : blocks, rows, place);
  return { name: text, screen, size: `letters of ${size} by ${size} blocks` };
}

const inverted = <T extends { readonly dark: Uint8Array }>(blocks: T): T => ({
  ...blocks,
  dark: blocks.dark.map((dark) => 1 - dark),
});

function pictureDrawing(path: string, pixels: Pixels, options: Options, rows: number): Drawing {
  const { threshold } = options;
  const asked = {
    ...options,
    rows,
    threshold: threshold === undefined ? undefined : threshold / 100,
  };
  const { screen, size } = screenOfPicture(pixels, asked);
  return {
    name: nameOf(path),
    screen,
    size: `${size.width} by ${size.height} blocks`,
    fitting: (way, ram) => largestThatFits(pixels, asked, way, ram),
  };
}

function rowsDrawing(
  path: string,
  bytes: Uint8Array,
  options: Options,
  rows: number,
  place: Corner | undefined,
  blockPlace: Corner | undefined,
): Drawing | undefined {
  for (const [option, given] of [
    ['--crop', options.crop],
    ['--dither', options.dither],
    ['--threshold', options.threshold],
    ['--size', options.size],
  ] as const) {
    if (given !== undefined) {
      throw new CannotAsk(`${option} is for pictures, and ${nameOf(path)} is rows of characters`);
    }
  }
  const given = utf8Text(bytes);
  if (given === undefined) {
    throw new CannotAsk(
      `${nameOf(path)}: this is no picture that can be read`,
      'PNG, JPEG, GIF, WebP and SVG are: save it as one of these, or give rows of characters',
    );
  }
  if (given.trim() === '') throw new CannotAsk(`${nameOf(path)}: there is nothing in it`);
  const text = rowsOfRehearsal(given) ?? given;
  const { cells, blocks, diagnostics } = drawnRows(text);
  tellDiagnostics({ name: nameOf(path), text }, diagnostics, options.all);
  if (hasErrors(diagnostics)) {
    process.exitCode = NO;
    return undefined;
  }
  const name = nameOf(path);
  if (blocks !== undefined) {
    const shown = options.invert ? inverted(blocks) : blocks;
    const screen = screenOfBlocks(shown, rows, blockPlace);
    return { name, screen, size: `${blocks.width} by ${blocks.height} blocks` };
  }
  const codes = options.invert ? cells!.map((row) => row.map((code) => code ^ 128)) : cells!;
  const [wide, high] = [codes[0].length, codes.length];
  // A whole screen stays where it is.
  const isScreen = high > REACHED_ROWS || wide === DISPLAY_COLUMNS || text !== given;
  const own = isScreen ? { row: 0, column: 0 } : undefined;
  const kept = isScreen ? codes.slice(0, rows) : codes;
  if (codes.slice(kept.length).some((row) => row.some((code) => code !== 0))) {
    tell(
      `${name}: note: the last two rows of the screen are left out: only --as display reaches them`,
    );
  }
  const screen = screenOfCells(kept, rows, place ?? own);
  return { name, screen, size: `${wide} by ${kept.length} characters` };
}

// ───────────────────────────────── where it goes ─────────────────────────────────

interface Written {
  readonly text: string;
  /** May it be written, and is the answer yes? */
  readonly isGood: boolean;
  /** What there is to say of it. */
  readonly said: string;
  readonly json: object;
}

/** A listing of its own. */
function own(drawing: Drawing, least: Drawn, ram: number, options: Options): Written {
  const { text, bytes } = least;
  const fits = bytes <= ram;
  const json = { written: fits || options.anyway ? (options.output ?? null) : null, text };
  if (fits) return { text, isGood: true, said: '', json };
  const said = [
    `${drawing.name}: it needs ${count(bytes - ram, 'byte')} more than ${ramText(ram)}`,
  ];
  const remedies = remediesFor(drawing, least, ram);
  if (remedies !== '') said.push(`  do:  ${remedies}`);
  if (options.anyway) return { text, isGood: true, said: said.join('\n'), json };
  return { text, isGood: false, said: [...said, 'nothing was written'].join('\n'), json };
}

/** What would fit: more RAM, or a smaller picture. */
function remediesFor(drawing: Drawing, { way }: Drawn, ram: number): string {
  const remedies: string[] = [];
  const enough = ramFor(way, drawing.screen);
  if (enough !== undefined) remedies.push(`--ram ${ramText(enough)}`);
  const size = drawing.fitting?.(way, ram);
  if (size !== undefined) remedies.push(`--size ${size.width}x${size.height}`);
  return remedies.length === 0 ? '' : `${remedies.join(', or ')}; --anyway writes it all the same`;
}

interface Into {
  readonly program: Program;
  readonly options: WayOptions;
}

function loadInto(options: Options): Into | undefined {
  const program = loadListing(options.into!, { ram: options.ram, anyway: true });
  tellDiagnostics(program.source, program.diagnostics, options.all);
  if (hasErrors(program.diagnostics)) {
    tell(`${program.source.name}: nothing was put in`);
    process.exitCode = NO;
    return undefined;
  }
  try {
    return { program, options: optionsFor(program.listing, options.at!) };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new CannotAsk(`${program.source.name}: ${error.message}`);
  }
}

function putIn({ program }: Into, least: Drawn, ram: number, options: Options): Written {
  const { source, listing } = program;
  const put = putInto({ text: source.text, listing }, options.at!, least.statements);
  tellDiagnostics(source, put.diagnostics, options.all);
  const { text } = put;
  if (text === undefined) {
    return { text: '', isGood: false, said: `${source.name}: nothing was put in`, json: {} };
  }
  const whole = programOfText(options.into!, text, { ram, anyway: true });
  const budget = budgetFor(whole);
  const { kind } = budget.verdict;
  const [first, last] = [put.numbers[0], put.numbers.at(-1)!];
  const lines = first === last ? `line ${first}` : `lines ${first} to ${last}`;
  const moved = put.moved === 0 ? 'no line moved' : `${count(put.moved, 'line')} moved on`;
  if (kind !== 'runs') tellVerdict(whole, budget);
  const isGood = options.anyway || (kind !== 'does not load' && kind !== 'does not run');
  return {
    text,
    isGood,
    said: `${source.name}: the picture is in ${lines}; ${moved}${isGood ? '' : '; nothing was written'}`,
    json: { written: isGood ? (options.output ?? null) : null, text, lines: put.numbers },
  };
}

// ───────────────────────────────── what is said ─────────────────────────────────

function triedText(drawing: Drawing, tried: readonly Tried[], ram: number): string {
  const rows = tried.map((one, index) => {
    const name = `  ${one.way.padEnd(8)}`;
    if (!isDrawn(one)) return `${name}       no: ${one.why}`;
    const room = one.bytes <= ram ? `${ram - one.bytes} to spare` : `${one.bytes - ram} over`;
    const time = one.seconds < 1 ? 'at once' : `in about ${duration(one.seconds)}`;
    const chosen = index === 0 && tried.length > 1 ? ', chosen' : '';
    return `${name}${String(one.bytes).padStart(6)}  ${room}, shown ${time}${chosen}`;
  });
  return [
    `${drawing.name}: ${drawing.size}; bytes of ${ramText(ram)} that each way needs at its peak:`,
    ...rows,
  ].join('\n');
}

function resultJson(drawing: Drawing, tried: readonly Tried[], ram: number) {
  const [least] = tried;
  return {
    picture: drawing.name,
    ram,
    way: least.way,
    ways: tried.map((one) =>
      isDrawn(one)
        ? { way: one.way, bytes: one.bytes, spare: ram - one.bytes, seconds: one.seconds }
        : { way: one.way, why: one.why },
    ),
  };
}

// ───────────────────────────────── values of options ─────────────────────────────────

function letterSize(text: string): LetterSize {
  const size = Number(/^([48])(x\1)?$/i.exec(text)?.[1]);
  if (size !== 4 && size !== 8) throw new CannotAsk(`--letters: ${text} is neither 4x4 nor 8x8`);
  return size;
}

/** Whole numbers of an option, such as `40x30`. Throws CannotAsk. */
function numbersOf(option: string, text: string, form: RegExp, example: string): number[] {
  const match = form.exec(text.trim());
  if (match === null) throw new CannotAsk(`${option}: ${text} is not in the form of ${example}`);
  return match.slice(1).map(Number);
}

function blockSize(text: string): Size {
  const [width, height] = numbersOf('--size', text, /^(\d{1,3})x(\d{1,3})$/i, '40x30');
  const [most, rows] = [BLOCK_COLUMNS, 2 * DISPLAY_ROWS];
  if (width < 1 || height < 1 || width > most || height > rows) {
    throw new CannotAsk(`--size: ${text} is not from 1x1 to ${most}x${rows} blocks`);
  }
  return { width, height };
}

function placeOption(text: string): Corner {
  const [row, column] = numbersOf('--place', text, /^(\d{1,2}),(\d{1,2})$/, '0,0');
  return { row, column };
}

function cropOption(text: string): Crop {
  const form = /^(\d{1,6}),(\d{1,6}),(\d{1,6}),(\d{1,6})$/;
  const [left, top, width, height] = numbersOf('--crop', text, form, '10,0,200,150');
  return [left, top, width, height];
}
