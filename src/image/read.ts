/**
 * Image to listing. What comes out builds the same bytes again, for every image with a readable
 * header: each piece is written in the plainest form, read back, and written in a plainer-still
 * form of bytes where the two differ.
 */

import type { Directive, SystemDirective } from '../../grammar/tree.js';
import { directiveText } from '../listing/directive-text.js';
import type { ReadListing } from '../listing/join-pieces.js';
import { charactersText, count, statementText } from '../listing/print.js';
import { readListing } from '../listing/read.js';
import { TidyLines } from '../listing/tidy.js';
import type { NumberMaking } from '../machine/arithmetic/decimal.js';
import { sameBytes } from '../machine/bytes.js';
import { NEWLINE, NUMBER_MARKER, REM, SPACE } from '../machine/characters.js';
import {
  type AreaAddresses,
  DEFAULT_FRAMES_PER_SECOND,
  displayBytes,
  LINE_HEAD,
  numberAt,
  offsetOf,
  plainHeader,
  wordAt,
} from '../machine/image-layout.js';
import {
  DISPLAY_COLUMNS,
  DISPLAY_ROWS,
  FULL_DISPLAY_SIZE,
  HIGHEST_LINE,
  hasFullDisplay,
  IMAGE_START,
  LOWEST_LINE,
  VARIABLES_END,
} from '../machine/memory-map.js';
import { LARGEST_RAM, SMALLEST_RAM, smallestRam } from '../machine/ram-size.js';
import { endOfPiece } from '../machine/stored-codes.js';
import {
  MARGIN_OF_FRAMES,
  SYSTEM_VARIABLES,
  type SystemVariable,
} from '../machine/system-variables.js';
import { decodeVariable, sharedName } from '../machine/variables.js';
import {
  areaBytes,
  areasOf,
  isStoredLine,
  lineCodes,
  type ProgramPiece,
  programPieces,
  type StoredLine,
} from './areas.js';
import { buildImage } from './build.js';
import { loadingShort } from './loading.js';
import { codeAddresses } from './machine-code.js';
import { salvage } from './salvage.js';

export interface ImageReadOptions {
  /** The name on tape, as codes, if it is known and is to be written. */
  readonly name?: Uint8Array;
  /** Reads an image with a bad header as far as it makes sense. */
  readonly salvage?: boolean;
  /** How its numbers are taken to be made; default: what leaves fewer exceptions. */
  readonly numbers?: NumberMaking;
}

export interface ImageListing extends ReadListing {
  /** The listing in its tidy form. */
  readonly text: string;
  /** The bytes that the text builds: the image, or what `salvage` made of it. */
  readonly image: Uint8Array;
  /** What is odd about the image, in words for a person. */
  readonly remarks: readonly string[];
}

/**
 * Reads an image. Throws NotAnImage for bytes with no readable header; with `salvage` these are
 * read as far as they make sense. Takes time linear in the image.
 */
export function listingOfImage(image: Uint8Array, options: ImageReadOptions = {}): ImageListing {
  if (!options.salvage) return new ImageReader(image, options).read();
  const salvaged = salvage(image);
  const result = new ImageReader(salvaged.image, options).read();
  return { ...result, remarks: [...salvaged.remarks, ...result.remarks] };
}

/** A directive before it is written: it stands nowhere yet. */
type Bare<Of extends Directive> = Of extends Directive ? Omit<Of, 'start' | 'end'> : never;

const written = (directive: Bare<Directive>): string =>
  directiveText({ ...directive, start: 0, end: 0 } as Directive);

class ImageReader {
  private readonly areas: AreaAddresses;
  private readonly ram: number;
  private readonly pieces: readonly ProgramPiece[];
  private readonly lines: readonly StoredLine[];
  private readonly tidy: TidyLines;
  private readonly remarks: string[] = [];
  private readonly head: string[] = [];
  private readonly tail: string[] = [];

  constructor(
    private readonly image: Uint8Array,
    private readonly options: ImageReadOptions,
  ) {
    this.areas = areasOf(image);
    this.ram = likelyRam(this.areas);
    this.pieces = programPieces(image, this.areas.D_FILE - IMAGE_START);
    this.lines = this.pieces.filter(isStoredLine);
    this.tidy = this.tidyLines();
  }

  read(): ImageListing {
    this.readName();
    this.remarkLoose();
    if (this.ram !== SMALLEST_RAM) this.head.push(written({ kind: 'ram', size: this.ram }));
    this.readHeader();
    this.readDisplay();
    this.readVariables();
    const after = this.image.subarray(this.areas.E_LINE - IMAGE_START);
    if (after.length > 0) {
      this.tail.push(written({ kind: 'raw', area: 'after', bytes: after }));
      this.remarks.push(
        `${count(after.length, 'byte follows', 'bytes follow')} the end that the image gives itself`,
      );
    }
    return this.finish();
  }

  private readName(): void {
    const { name } = this.options;
    if (name === undefined || name.length === 0) return;
    if (name.some((code) => code >= 128)) {
      this.remarks.push('the name on tape has codes that no name can have, and is left out');
    } else this.head.push(written({ kind: 'name', codes: name }));
  }

  /** Directives for the system variables that differ from a plain build's. */
  private readHeader(): void {
    const { image, head } = this;
    const framesPerSecond =
      [...MARGIN_OF_FRAMES].find(([, margin]) => margin === image[offsetOf('MARGIN')])?.[0] ??
      DEFAULT_FRAMES_PER_SECOND;
    if (framesPerSecond !== DEFAULT_FRAMES_PER_SECOND) {
      head.push(written({ kind: 'tv', framesPerSecond }));
    }
    const start = this.startLine();
    if (start !== undefined) head.push(written({ kind: 'start', line: start.number }));
    if (!inPlainOrder(this.lines)) {
      head.push(written({ kind: 'lines' }));
      this.remarks.push(
        'the lines are out of order, or numbered past 9999, or a number comes twice',
      );
    }
    const plain = plainHeader({
      areas: this.areas,
      firstLine: this.lines[0]?.number,
      startAddress: start === undefined ? undefined : start.start + IMAGE_START,
      framesPerSecond,
    });
    if (this.tidy.making === 'nearest') head.push(written({ kind: 'numbers' }));
    for (const variable of SYSTEM_VARIABLES) {
      const at = variable.address - IMAGE_START;
      if (at < 0) continue;
      const bytes = image.subarray(at, at + variable.size);
      if (sameBytes(bytes, plain.subarray(at, at + variable.size))) continue;
      head.push(
        written({
          kind: 'system',
          name: variable.name,
          value: systemValue(variable, bytes, this.areas),
        }),
      );
    }
  }

  /** The line that the image runs once loaded, where `.start` can say so. */
  private startLine(): StoredLine | undefined {
    const next = wordAt(this.image, offsetOf('NXTLIN')) - IMAGE_START;
    const start = this.lines.find((line) => line.start === next);
    if (start === undefined) return undefined;
    const { number } = start;
    // With lines as they are written, a number need not lead to its own line.
    const findable = this.lines.find((line) => line.number >= number) === start;
    return findable && number >= LOWEST_LINE && number <= HIGHEST_LINE ? start : undefined;
  }

  private readDisplay(): void {
    const bytes = areaBytes(this.image, this.areas, 'D_FILE', 'VARS');
    if (sameBytes(bytes, displayBytes([], this.ram))) return;
    const rows = rowsOf(bytes, this.ram);
    if (rows === undefined) {
      this.tail.push(written({ kind: 'raw', area: 'display', bytes }));
      this.remarks.push('the display is not one that the machine would make with this RAM');
    } else this.tail.push(written({ kind: 'display', rows }));
  }

  private readVariables(): void {
    const bytes = areaBytes(this.image, this.areas, 'VARS', 'E_LINE');
    const names = new Set<string>();
    let at = 0;
    for (;;) {
      const decoded = decodeVariable(bytes, at);
      // A name that comes again, the machine never finds: it is not written as a variable.
      if (decoded === undefined || names.has(sharedName(decoded.variable))) break;
      names.add(sharedName(decoded.variable));
      this.tail.push(written({ kind: 'var', variable: decoded.variable }));
      at = decoded.end;
    }
    if (at === bytes.length - 1 && bytes[at] === VARIABLES_END) return;
    this.tail.push(written({ kind: 'raw', area: 'variables', bytes: bytes.subarray(at) }));
    this.remarks.push('the variables do not end as the machine ends them');
  }

  /** Writes the lines, reads all of it back, and mends the lines that came back otherwise. */
  private finish(): ImageListing {
    const lines = this.tidy;
    let text = this.write(lines.texts);
    let read = readListing(text);
    if (lines.mend(read)) {
      text = this.write(lines.texts);
      read = readListing(text);
    }
    this.remarkUnchecked(lines.unchecked().map(({ number }) => number));
    this.verify(read);
    return { ...read, text, image: this.image, remarks: this.remarks };
  }

  /** The lines, their numbers made in the way that leaves fewer to be followed by their bytes. */
  private tidyLines(): TidyLines {
    const stored = this.lines.map((line) => ({
      number: line.number,
      codes: lineCodes(this.image, line),
    }));
    const { numbers } = this.options;
    if (numbers !== undefined) return new TidyLines(stored, numbers);
    const typed = new TidyLines(stored);
    const exceptions = exceptionsIn(typed.texts);
    if (exceptions === 0) return typed;
    const nearest = new TidyLines(stored, 'nearest');
    return exceptionsIn(nearest.texts) < exceptions ? nearest : typed;
  }

  private write(texts: readonly string[]): string {
    const addresses = codeAddresses(this.image, this.lines);
    const rows = [...this.head];
    let index = 0;
    for (const piece of this.pieces) {
      if (isStoredLine(piece)) {
        const address = addresses.get(piece);
        if (address !== undefined) rows.push(`' the first byte after REM is at ${address}`);
        const hidden = hiddenText(lineCodes(this.image, piece));
        if (hidden !== undefined) {
          rows.push(`' the length of line ${piece.number} takes in what reads: ${hidden}`);
        }
        rows.push(texts[index++]);
      } else {
        const bytes = this.image.subarray(piece.start, piece.end);
        rows.push(looseComment(bytes), written({ kind: 'raw', area: 'program', bytes }));
      }
    }
    rows.push(...this.tail, '');
    return rows.join('\n');
  }

  private remarkLoose(): void {
    let size = 0;
    for (const piece of this.pieces) if (!isStoredLine(piece)) size += piece.end - piece.start;
    if (size === 0) return;
    this.remarks.push(
      `${count(size, 'byte')} of the program area ${size === 1 ? 'is no line' : 'are no lines'}: a length field there is not true`,
    );
  }

  private remarkUnchecked(numbers: readonly number[]): void {
    if (numbers.length === 0) return;
    const shown = numbers.slice(0, MOST_NAMED).join(', ');
    const more = numbers.length - MOST_NAMED;
    this.remarks.push(
      numbers.length === 1
        ? `line ${shown} is not a statement that the machine would accept`
        : `lines ${shown}${more > 0 ? ` and ${more} more` : ''} are not statements that the machine would accept`,
    );
  }

  /** The promise of this file, kept by looking: an error here is ours, never the image's. */
  private verify(read: ReadListing): void {
    const wrong = read.diagnostics.find(({ severity }) => severity === 'error');
    const built = wrong === undefined ? buildImage(read.listing, { anyway: true }) : undefined;
    if (built?.image === undefined || !sameBytes(built.image, this.image)) {
      throw new Error(
        `an image of ${this.image.length} bytes did not come back from its own listing${wrong === undefined ? '' : `: ${wrong.message}`}`,
      );
    }
  }
}

/** Numbers that are followed by their bytes. */
const exceptionsIn = (texts: readonly string[]): number =>
  texts.reduce((sum, text) => sum + (text.match(/\[=[0-9A-F]/g)?.length ?? 0), 0);

/** Most line numbers that one remark names. */
const MOST_NAMED = 8;

function inPlainOrder(stored: readonly StoredLine[]): boolean {
  return stored.every(
    ({ number }, index) => number > (stored[index - 1]?.number ?? 0) && number <= HIGHEST_LINE,
  );
}

/** The RAM that an image was most likely saved from: a full display means 3¼K at the least. */
function likelyRam(areas: AreaAddresses): number {
  const fits = smallestRam((size) => loadingShort(areas.E_LINE, size) <= 0) ?? LARGEST_RAM;
  const isFull = areas.VARS - areas.D_FILE === FULL_DISPLAY_SIZE;
  return isFull ? Math.max(16 * 1024, fits) : fits;
}

/** Rows of a display that `displayBytes` would give back, without the spaces that it adds. */
function rowsOf(bytes: Uint8Array, ram: number): Uint8Array[] | undefined {
  const rows: Uint8Array[] = [];
  let start = 1;
  for (let at = 1; at < bytes.length; at++) {
    if (bytes[at] !== NEWLINE) continue;
    rows.push(bytes.subarray(start, at));
    start = at + 1;
  }
  if (rows.length !== DISPLAY_ROWS || rows.some((row) => row.length > DISPLAY_COLUMNS)) {
    return undefined;
  }
  const trimmed = hasFullDisplay(ram) ? rows.map(withoutLastSpaces) : rows;
  return sameBytes(displayBytes(trimmed, ram), bytes) ? trimmed : undefined;
}

function withoutLastSpaces(row: Uint8Array): Uint8Array {
  let end = row.length;
  while (row[end - 1] === SPACE) end--;
  return row.subarray(0, end);
}

/** Those that point into memory, which moves when the program is changed. */
const POINTERS = new Set(['DF_CC', 'DEST', 'CH_ADD', 'X_PTR', 'STKBOT', 'STKEND', 'NXTLIN']);
/** How far past E_LINE a pointer is still taken to mean the line being typed or the stack. */
const NEAR = 512;

/** A pointer into an area is counted from the area's first address, so that it moves with it. */
function systemValue(
  { name }: SystemVariable,
  bytes: Uint8Array,
  areas: AreaAddresses,
): SystemDirective['value'] {
  if (!POINTERS.has(name)) return bytes;
  const address = wordAt(bytes, 0);
  const base = (['E_LINE', 'VARS', 'D_FILE'] as const).find((name) => address >= areas[name]);
  if (base === undefined || address >= areas.E_LINE + NEAR) return bytes;
  return { base, offset: address - areas[base] };
}

/** Most characters of bytes outside all lines that a comment shows. */
const MOST_SHOWN = 60;

const shortText = (codes: Uint8Array): string =>
  charactersText(codes.subarray(0, MOST_SHOWN), false).trimEnd();

/** A comment that shows bytes of the program area which are no line as the text that they hold. */
function looseComment(bytes: Uint8Array): string {
  if (bytes.length <= LINE_HEAD)
    return `' ${count(bytes.length, 'byte that is', 'bytes that are')} no line`;
  const shown = shortText(bytes.subarray(LINE_HEAD));
  return `' no line: as number ${numberAt(bytes, 0)} its length would be ${wordAt(bytes, 2)}, which is not true. It reads: ${shown}`;
}

/** Where LIST ends a line's text: at a NEWLINE, within a string too. Machine code in a REM may hold any. */
function shownEnd(codes: Uint8Array): number {
  let at = 0;
  while (at < codes.length && codes[at] !== REM) {
    const end = endOfPiece(codes, at);
    const newline = codes[at] === NUMBER_MARKER ? -1 : codes.subarray(at, end).indexOf(NEWLINE);
    if (newline >= 0) return at + newline;
    at = end;
  }
  return codes.length;
}

/** What follows a NEWLINE inside a line, where the line's length takes it in: hidden from LIST. */
function hiddenText(codes: Uint8Array): string | undefined {
  const start = shownEnd(codes) + 1;
  if (start + LINE_HEAD >= codes.length) return undefined;
  const text = codes.subarray(start + LINE_HEAD);
  const end = text.indexOf(NEWLINE);
  const shown = statementText(end < 0 ? text : text.subarray(0, end)).replaceAll('\n', ' ');
  return `${numberAt(codes, start)} ${shown}`;
}
