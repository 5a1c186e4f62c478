/** Tree to image: the bytes that the machine itself would send to tape. */
import { ByteBuffer } from '../../grammar/text.js';
import type {
  Directive,
  Item,
  Line,
  Listing,
  RawArea,
  RawDirective,
  Span,
} from '../../grammar/tree.js';
import { type Diagnostic, hasErrors } from '../listing/diagnostics.js';
import { count } from '../listing/print.js';
import { joined } from '../machine/bytes.js';
import { NEWLINE } from '../machine/characters.js';
import {
  type AreaAddresses,
  displayBytes,
  HEADER_SIZE,
  lineSize,
  offsetOf,
  plainHeader,
  setWord,
} from '../machine/image-layout.js';
import {
  clearDisplaySize,
  HIGHEST_ADDRESS,
  IMAGE_START,
  RAM_START,
  VARIABLES_END,
} from '../machine/memory-map.js';
import { LARGEST_RAM, ramText, SMALLEST_RAM, smallestRam } from '../machine/ram-size.js';
import { encodeVariable } from '../machine/variables.js';
import { doesNotLoad, loadingNeeds, loadingShort } from './loading.js';

export interface BuildOptions {
  /** RAM fitted, in bytes. Default: the listing's own `.ram`, else 1K. */
  readonly ram?: number;
  /**
   * Gives an image too that cannot be loaded in that RAM: that is a warning then, and no error. Of a
   * listing with errors it holds what could be read. Past the highest address there is none.
   */
  readonly anyway?: boolean;
}

export interface BuiltImage {
  /** Memory from 16393 up to, not including, E_LINE. Undefined where there is an error. */
  readonly image?: Uint8Array;
  readonly ram: number;
  readonly areas: AreaAddresses;
  /** Address of each line's first byte, in the order of `listing.lines`. */
  readonly lineAddresses: readonly number[];
  readonly diagnostics: readonly Diagnostic[];
}

/** The RAM that a listing is meant for: what is asked for, else its own `.ram`, else 1K. */
export function ramOf(listing: Listing, asked?: number): number {
  return asked ?? find(listing, 'ram')?.size ?? SMALLEST_RAM;
}

/**
 * Builds the image of a listing. One that was read with errors gives none; a program that is too
 * large to be loaded, or a start line that is not there, is an error of the build.
 */
export function buildImage(listing: Listing, options: BuildOptions = {}): BuiltImage {
  const ram = ramOf(listing, options.ram);
  const diagnostics: Diagnostic[] = [];
  const out = new ByteBuffer();
  out.pushAll(new Uint8Array(HEADER_SIZE));
  const lineAddresses = pushProgram(listing, out);
  const D_FILE = IMAGE_START + out.length;
  pushDisplay(listing, ram, out);
  const VARS = IMAGE_START + out.length;
  pushVariables(listing, out);
  if (!listing.isWhole && !options.anyway) diagnostics.push(NOT_WHOLE);
  const areas = { D_FILE, VARS, E_LINE: IMAGE_START + out.length };
  const startAddress = findStart(listing, lineAddresses, diagnostics);
  out.bytes.set(
    plainHeader({
      areas,
      firstLine: listing.lines[0]?.number,
      startAddress,
      framesPerSecond: find(listing, 'tv')?.framesPerSecond,
    }),
  );
  setSystemVariables(listing, areas, out.bytes, diagnostics);
  checkRoom(listing, { ram, anyway: options.anyway }, areas.E_LINE, lineAddresses, diagnostics);
  out.pushAll(rawBytes(listing, 'after') ?? []);
  const image = hasErrors(diagnostics) ? undefined : out.from(0);
  return { image, ram, areas, lineAddresses, diagnostics };
}

function find<Kind extends Directive['kind']>(
  listing: Listing,
  kind: Kind,
): Extract<Directive, { kind: Kind }> | undefined {
  return listing.items.find(
    (item): item is Extract<Directive, { kind: Kind }> => item.kind === kind,
  );
}

const isRaw = (item: Item, area: RawArea): item is RawDirective =>
  item.kind === 'raw' && item.area === area;

/** The bytes that are given for an area; undefined where none are. */
function rawBytes({ items }: Listing, area: RawArea): Uint8Array | undefined {
  const parts = items.filter((item) => isRaw(item, area));
  return parts.length === 0 ? undefined : joined(parts.map(({ bytes }) => bytes));
}

/** Lines, each followed by the raw bytes that stand after it in the text. */
function pushProgram({ items, lines }: Listing, out: ByteBuffer): number[] {
  const raw = rawAfterLines(items);
  const pushRaw = (line: Line | undefined): void => {
    for (const bytes of raw.get(line) ?? []) out.pushAll(bytes);
  };
  pushRaw(undefined);
  return lines.map((line) => {
    const address = IMAGE_START + out.length;
    pushLine(line, out);
    if (raw.size > 0) pushRaw(line);
    return address;
  });
}

/** The raw bytes of the program by the line that they stand after, if any. */
function rawAfterLines(items: readonly Item[]): Map<Line | undefined, Uint8Array[]> {
  const raw = new Map<Line | undefined, Uint8Array[]>();
  let last: Line | undefined;
  for (const item of items) {
    if (item.kind === 'line') last = item;
    if (!isRaw(item, 'program')) continue;
    const known = raw.get(last);
    if (known === undefined) raw.set(last, [item.bytes]);
    else known.push(item.bytes);
  }
  return raw;
}

/** Number, high byte first; length of text and NEWLINE, low byte first; text; NEWLINE (manual, ch. 27). */
function pushLine({ number, codes }: Line, out: ByteBuffer): void {
  const length = codes.length + 1;
  out.push(number >> 8);
  out.push(number & 255);
  out.push(length & 255);
  out.push(length >> 8);
  out.pushAll(codes);
  out.push(NEWLINE);
}

function pushDisplay(listing: Listing, ram: number, out: ByteBuffer): void {
  const rows = find(listing, 'display')?.rows ?? [];
  out.pushAll(rawBytes(listing, 'display') ?? displayBytes(rows, ram));
}

function pushVariables(listing: Listing, out: ByteBuffer): void {
  for (const item of listing.items) {
    if (item.kind === 'var') out.pushAll(encodeVariable(item.variable));
  }
  out.pushAll(rawBytes(listing, 'variables') ?? [VARIABLES_END]);
}

function error(span: Span, rule: string, message: string, why: string, help: string): Diagnostic {
  return { severity: 'error', start: span.start, end: span.end, rule, message, why, help };
}

/** The address of the line that `.start` names; like GOTO, the machine takes the next one. */
function findStart(
  listing: Listing,
  lineAddresses: readonly number[],
  diagnostics: Diagnostic[],
): number | undefined {
  const start = find(listing, 'start');
  if (start === undefined) return undefined;
  const index = listing.lines.findIndex((line) => line.number >= start.line);
  if (index < 0) {
    diagnostics.push(
      error(
        start,
        'start',
        `there is no line ${start.line} to start from, nor one after it`,
        'the machine runs the line that .start names once the program is loaded',
        'name a line that the program has',
      ),
    );
    return undefined;
  }
  const found = listing.lines[index].number;
  if (found !== start.line) {
    diagnostics.push({
      severity: 'warning',
      start: start.start,
      end: start.end,
      rule: 'start',
      message: `there is no line ${start.line}: the program starts at line ${found}`,
      help: `write .start ${found}`,
    });
  }
  return lineAddresses[index];
}

function setSystemVariables(
  listing: Listing,
  areas: AreaAddresses,
  header: Uint8Array,
  diagnostics: Diagnostic[],
): void {
  for (const item of listing.items) {
    if (item.kind !== 'system') continue;
    if (Object.hasOwn(areas, item.name)) {
      diagnostics.push(
        error(
          item,
          'system',
          `${item.name} cannot be set`,
          'it follows from the sizes of the program, the display and the variables',
          'leave the directive out',
        ),
      );
    } else if ('base' in item.value) {
      setWord(header, offsetOf(item.name), areas[item.value.base] + item.value.offset);
    } else header.set(item.value, offsetOf(item.name));
  }
}

/** Said of a listing with errors, at its beginning: where they are, its own messages say. */
const NOT_WHOLE: Diagnostic = {
  severity: 'error',
  start: 0,
  end: 0,
  rule: 'not-whole',
  message: 'the listing has errors, so it gives no image',
  why: 'an image without the lines that have them is another program',
  help: 'mend them; what was read of it is built where an image is asked for anyway',
};

/** The rule under which the build says that a program is too large to be loaded. */
export const NO_ROOM = 'no-room';

/** What is larger than the RAM can be neither loaded nor typed. */
function checkRoom(
  listing: Listing,
  { ram, anyway }: { ram: number; anyway?: boolean },
  end: number,
  lineAddresses: readonly number[],
  diagnostics: Diagnostic[],
): void {
  const over = loadingShort(end, ram);
  if (over <= 0) return;
  // The line with which the room runs out; where only display and variables are over, the last.
  const top = RAM_START + ram - over;
  const crossing = lineAddresses.findIndex((address, index) => {
    const next = lineAddresses[index + 1] ?? address + lineSize(listing.lines[index]);
    return next > top;
  });
  const at = listing.lines.at(crossing) ?? listing.items.at(-1) ?? { start: 0, end: 1 };
  const needed = end - RAM_START;
  const isPast = end > HIGHEST_ADDRESS;
  diagnostics.push({
    severity: anyway && !isPast ? 'warning' : 'error',
    start: at.start,
    end: Math.min(at.end, at.start + 80),
    rule: NO_ROOM,
    message: `the program ${doesNotLoad(over, ram)}`,
    why: isPast
      ? `it would end at address ${end}, and the pointers of an image hold none above ${HIGHEST_ADDRESS}`
      : `system variables, program, display and variables take ${count(needed, 'byte')}, and the machine needs ${loadingNeeds(end, ram).low - needed} more for its line and its stack`,
    help: remedyFor(needed, ram),
  });
}

/** What to do about an image that takes so many bytes from the start of the RAM: save, or fit more. */
export function remedyFor(needed: number, ram: number): string {
  // With 3¼K or more the display alone takes more.
  const without = needed - clearDisplaySize(ram);
  const larger = smallestRam((size) => {
    return loadingShort(RAM_START + without + clearDisplaySize(size), size) <= 0;
  });
  const save = '`listwright lint --fix --until-fits` on the listing saves what it can';
  return larger === undefined
    ? `no machine has more than ${ramText(LARGEST_RAM)}: make it shorter; ${save}`
    : `${save}; say --ram ${ramText(larger)} if that much is fitted`;
}
