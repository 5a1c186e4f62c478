/**
 * Image to listing. What comes out builds the same bytes again, for every image with a readable
 * header: each piece is written in the plainest form, read back, and written in a plainer-still
 * form of bytes where the two differ.
 */
import type {
  AreaName,
  Directive,
  Expression,
  Item,
  Line,
  Listing,
  Statement,
} from '../../grammar/tree.js';
import { directiveText, ramText } from '../listing/directives.js';
import { charactersText, hexBytes, statementText } from '../listing/print.js';
import { type ReadListing, readListing } from '../listing/read.js';
import { NEWLINE, SPACE } from '../machine/characters.js';
import {
  DISPLAY_COLUMNS,
  DISPLAY_ROWS,
  FULL_DISPLAY_SIZE,
  HIGHEST_LINE,
  hasFullDisplay,
  IMAGE_START,
  LOWEST_LINE,
  PROGRAM_START,
  RAM_START,
  SMALLEST_RAM,
  VARIABLES_END,
} from '../machine/memory-map.js';
import {
  MARGIN_OF_FRAMES,
  SYSTEM_VARIABLES,
  type SystemVariable,
} from '../machine/system-variables.js';
import { decodeVariable } from '../machine/variables.js';
import { buildImage, nextSize } from './build.js';
import {
  type AreaAddresses,
  DEFAULT_FRAMES_PER_SECOND,
  displayBytes,
  HEADER_SIZE,
  offsetOf,
  plainHeader,
  wordAt,
} from './layout.js';

/** These bytes are not a program image. */
export class NotAnImage extends Error {
  constructor(
    message: string,
    readonly why: string,
    readonly help: string,
  ) {
    super(message);
  }
}

export interface ImageReadOptions {
  /** The name on tape, as codes, if it is known and is to be written. */
  readonly name?: Uint8Array;
  /** Reads an image with a bad header as far as it makes sense. */
  readonly salvage?: boolean;
}

export interface ImageListing extends ReadListing {
  /** The listing in its tidy form. */
  readonly text: string;
  /** What is odd about the image, in words for a person. */
  readonly remarks: readonly string[];
}

/** The areas that an image's own pointers give. Throws NotAnImage where they make no sense. */
export function areasOf(image: Uint8Array): AreaAddresses {
  if (image.length < HEADER_SIZE) {
    throw new NotAnImage(
      `it has ${image.length} bytes, and the system variables alone take ${HEADER_SIZE}`,
      'a program image begins with the system variables from address 16393 on',
      'check that this is an image, and that it is all there; --salvage reads what there is',
    );
  }
  const areas = {
    D_FILE: wordAt(image, offsetOf('D_FILE')),
    VARS: wordAt(image, offsetOf('VARS')),
    E_LINE: wordAt(image, offsetOf('E_LINE')),
  };
  const end = IMAGE_START + image.length;
  if (
    !(PROGRAM_START <= areas.D_FILE && areas.D_FILE <= areas.VARS && areas.VARS <= areas.E_LINE)
  ) {
    throw new NotAnImage(
      `its pointers make no sense: D_FILE ${areas.D_FILE}, VARS ${areas.VARS}, E_LINE ${areas.E_LINE}`,
      `the program begins at ${PROGRAM_START}, and D_FILE, VARS and E_LINE follow in that order`,
      'check that this is an image; --salvage reads it as far as it makes sense',
    );
  }
  if (areas.E_LINE > end) {
    throw new NotAnImage(
      `it is cut short: ${image.length} bytes are there, and its own E_LINE says ${areas.E_LINE - IMAGE_START}`,
      `E_LINE is ${areas.E_LINE}, and the bytes end at ${end}`,
      'record or copy it again; --salvage reads what there is',
    );
  }
  return areas;
}

/** Could these bytes be a program image? */
export function looksLikeImage(bytes: Uint8Array): boolean {
  try {
    areasOf(bytes);
    return true;
  } catch {
    return false;
  }
}

/** Offset and size of each line of a program area, as far as its own lengths lead. */
export interface StoredLine {
  readonly number: number;
  /** Offset of the line's first byte in the image, and of the byte after its NEWLINE. */
  readonly start: number;
  readonly end: number;
}

/** Walks the lines of a program; stops at the first whose length cannot be true. */
export function storedLines(image: Uint8Array, start: number, end: number): StoredLine[] {
  const lines: StoredLine[] = [];
  let at = start;
  while (at + 5 <= end) {
    const next = at + 4 + wordAt(image, at + 2);
    if (next <= at + 4 || next > end || image[next - 1] !== NEWLINE) break;
    lines.push({ number: image[at] * 256 + image[at + 1], start: at, end: next });
    at = next;
  }
  return lines;
}

/**
 * Reads an image. Throws NotAnImage for bytes with no readable header; with `salvage` these are
 * read as far as they make sense.
 */
export function listingOfImage(image: Uint8Array, options: ImageReadOptions = {}): ImageListing {
  if (options.salvage) {
    const mended = salvage(image);
    const result = new ImageReader(mended.image, options).read();
    return { ...result, remarks: [...mended.remarks, ...result.remarks] };
  }
  return new ImageReader(image, options).read();
}

class ImageReader {
  private readonly areas: AreaAddresses;
  private readonly ram: number;
  private readonly remarks: string[] = [];
  private readonly head: string[] = [];
  private readonly tail: string[] = [];

  constructor(
    private readonly image: Uint8Array,
    private readonly options: ImageReadOptions,
  ) {
    this.areas = areasOf(image);
    this.ram = likelyRam(this.areas);
  }

  read(): ImageListing {
    const { image, areas } = this;
    const stored = storedLines(image, HEADER_SIZE, areas.D_FILE - IMAGE_START);
    if (this.options.name !== undefined && this.options.name.length > 0) {
      this.head.push(directiveText({ kind: 'name', codes: this.options.name, start: 0, end: 0 }));
    }
    if (this.ram !== SMALLEST_RAM) this.head.push(`.ram ${ramText(this.ram)}`);
    this.readHeader(stored);
    if (!inPlainOrder(stored)) {
      this.head.push('.lines as-written');
      this.remarks.push(
        'the lines are out of order, or numbered past 9999, or a number comes twice',
      );
    }
    this.readDisplay();
    this.readVariables();
    const after = image.subarray(areas.E_LINE - IMAGE_START);
    if (after.length > 0) {
      this.tail.push(`.raw after ${hexBytes(after)}`);
      this.remarks.push(`${after.length} bytes follow the end that the image gives itself`);
    }
    return this.finish(stored);
  }

  private areaBytes(from: AreaName, to: AreaName): Uint8Array {
    return this.image.subarray(this.areas[from] - IMAGE_START, this.areas[to] - IMAGE_START);
  }

  /** Directives for the system variables that differ from a plain build's. */
  private readHeader(stored: readonly StoredLine[]): void {
    const { image } = this;
    const framesPerSecond =
      [...MARGIN_OF_FRAMES].find(([, margin]) => margin === image[offsetOf('MARGIN')])?.[0] ??
      DEFAULT_FRAMES_PER_SECOND;
    if (framesPerSecond !== DEFAULT_FRAMES_PER_SECOND) this.head.push(`.tv ${framesPerSecond}`);
    const next = wordAt(image, offsetOf('NXTLIN')) - IMAGE_START;
    const start = stored.find((line) => line.start === next);
    // With lines as they are written, a number need not lead to its own line.
    const findable =
      start !== undefined && stored.find((line) => line.number >= start.number) === start;
    const starts = findable && start.number >= LOWEST_LINE && start.number <= HIGHEST_LINE;
    if (starts) this.head.push(`.start ${start.number}`);
    const plain = plainHeader({
      areas: this.areas,
      firstLine: stored[0]?.number ?? 0,
      startAddress: starts ? start.start + IMAGE_START : undefined,
      framesPerSecond,
    });
    for (const variable of SYSTEM_VARIABLES) {
      const at = variable.address - IMAGE_START;
      if (at < 0) continue;
      const bytes = image.slice(at, at + variable.size);
      if (bytes.every((byte, index) => byte === plain[at + index])) continue;
      this.head.push(systemDirective(variable, bytes, this.areas));
    }
  }

  private readDisplay(): void {
    const bytes = this.areaBytes('D_FILE', 'VARS');
    if (same(bytes, displayBytes([], this.ram))) return;
    const rows = rowsOf(bytes, this.ram);
    if (rows === undefined) {
      this.tail.push(`.raw display ${hexBytes(bytes)}`);
      this.remarks.push('the display is not one that the machine would make');
    } else this.tail.push(directiveText({ kind: 'display', rows, start: 0, end: 0 }));
  }

  private readVariables(): void {
    const bytes = this.areaBytes('VARS', 'E_LINE');
    let at = 0;
    while (at < bytes.length && bytes[at] !== VARIABLES_END) {
      const decoded = decodeVariable(bytes, at);
      if (decoded === undefined) break;
      const directive: Directive = { kind: 'var', variable: decoded.variable, start: 0, end: 0 };
      this.tail.push(directiveText(directive));
      at = decoded.end;
    }
    if (at === bytes.length - 1 && bytes[at] === VARIABLES_END) return;
    this.tail.push(`.raw variables ${hexBytes(bytes.subarray(at))}`.trimEnd());
    this.remarks.push('the variables do not end as the machine ends them');
  }

  /** Writes the lines, reads all of it back, and mends the lines that came back otherwise. */
  private finish(stored: readonly StoredLine[]): ImageListing {
    const texts = stored.map(({ number, start, end }) => ({
      codes: this.image.subarray(start + 4, end - 1),
      text: `${number} ${statementText(this.image.subarray(start + 4, end - 1))}`,
    }));
    const programEnd = this.areas.D_FILE - IMAGE_START;
    const rest = this.image.subarray(stored.at(-1)?.end ?? HEADER_SIZE, programEnd);
    if (rest.length > 0) {
      this.tail.unshift(`${hiddenComment(rest)}.raw ${hexBytes(rest)}`);
      this.remarks.push(
        `${rest.length} bytes of the program area are no lines: a length field is not true`,
      );
    }
    const write = (): string =>
      [...this.head, ...texts.map(({ text }) => text), ...this.tail]
        .map((line) => `${line}\n`)
        .join('');
    let text = write();
    let read = readListing(text);
    let mended = false;
    const good = goodLines(read);
    for (const [index, { codes }] of texts.entries()) {
      if (good.get(index)?.(codes) ?? false) continue;
      texts[index].text = this.plainestLine(stored[index].number, codes);
      mended = true;
    }
    if (mended) {
      text = write();
      read = readListing(text);
    }
    const commented = withAddresses(read.listing, text, stored);
    if (commented !== text) {
      text = commented;
      read = readListing(text);
    }
    this.verify(read);
    return { ...read, text, remarks: this.remarks };
  }

  /** A line that the machine itself would not accept: shown, and marked as not to be checked. */
  private plainestLine(number: number, codes: Uint8Array): string {
    this.remarks.push(`line ${number} is not a statement that the machine would accept`);
    for (const count of [1, 2, 3]) {
      if (codes.length < count) break;
      const text = `${number} [${hexBytes(codes.subarray(0, count))}]${statementText(codes.subarray(count))}`;
      if (comesBack(text, codes)) return text;
    }
    return `${number} [${hexBytes(codes)}]`;
  }

  /** The promise of this file, kept by looking: an error here is ours, never the image's. */
  private verify(read: ReadListing): void {
    const wrong = read.diagnostics.find(({ severity }) => severity === 'error');
    const built = wrong === undefined ? buildImage(read.listing) : undefined;
    if (built?.image === undefined || !same(built.image, this.image)) {
      throw new Error(
        `an image of ${this.image.length} bytes did not come back from its own listing${wrong === undefined ? '' : `: ${wrong.message}`}`,
      );
    }
  }
}

function same(left: Uint8Array, right: Uint8Array): boolean {
  return left.length === right.length && Buffer.compare(left, right) === 0;
}

/** For each line of the text that was read without error: does it hold these codes? */
function goodLines(read: ReadListing): Map<number, (codes: Uint8Array) => boolean> {
  const good = new Map<number, (codes: Uint8Array) => boolean>();
  const errors = read.diagnostics.filter(({ severity }) => severity !== 'note');
  let index = 0;
  let error = 0;
  for (const item of read.listing.items) {
    if (item.kind !== 'line') continue;
    while (error < errors.length && errors[error].start < item.start) error++;
    const clean = error >= errors.length || errors[error].start > item.end;
    good.set(index++, (codes) => clean && item.statement !== undefined && same(item.codes, codes));
  }
  return good;
}

function comesBack(text: string, codes: Uint8Array): boolean {
  const { listing, diagnostics } = readListing(`.lines as-written\n${text}`);
  return (
    diagnostics.length === 0 && listing.lines.length === 1 && same(listing.lines[0].codes, codes)
  );
}

function inPlainOrder(stored: readonly StoredLine[]): boolean {
  return stored.every(
    ({ number }, index) =>
      number >= LOWEST_LINE && number <= HIGHEST_LINE && number > (stored[index - 1]?.number ?? 0),
  );
}

/** The RAM that an image was most likely saved from: a full display means 3¼K at the least. */
function likelyRam(areas: AreaAddresses): number {
  const needed = areas.E_LINE - RAM_START;
  const display = areas.VARS - areas.D_FILE;
  if (display === FULL_DISPLAY_SIZE) return Math.max(16 * 1024, nextSize(needed));
  return Math.max(SMALLEST_RAM, nextSize(needed));
}

/** Rows of a display that `displayBytes` would give back, without the spaces that it adds. */
function rowsOf(bytes: Uint8Array, ram: number): Uint8Array[] | undefined {
  if (bytes[0] !== NEWLINE || bytes.at(-1) !== NEWLINE) return undefined;
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
  return same(displayBytes(trimmed, ram), bytes) ? trimmed : undefined;
}

function withoutLastSpaces(row: Uint8Array): Uint8Array {
  let end = row.length;
  while (end > 0 && row[end - 1] === SPACE) end--;
  return row.subarray(0, end);
}

/** Those that point into memory, which moves when the program is changed. */
const POINTERS = new Set(['DF_CC', 'DEST', 'CH_ADD', 'X_PTR', 'STKBOT', 'STKEND', 'NXTLIN']);
/** How far past E_LINE a pointer is still taken to mean the line being typed or the stack. */
const NEAR = 512;

function systemDirective(
  variable: SystemVariable,
  bytes: Uint8Array,
  areas: AreaAddresses,
): string {
  const { name } = variable;
  const address = bytes[0] + 256 * bytes[1];
  const { D_FILE, VARS, E_LINE } = areas;
  let base: AreaName | undefined;
  if (address >= D_FILE && address < VARS) base = 'D_FILE';
  else if (address >= VARS && address < E_LINE) base = 'VARS';
  else if (address >= E_LINE && address < E_LINE + NEAR) base = 'E_LINE';
  const value =
    POINTERS.has(name) && base !== undefined ? { base, offset: address - areas[base] } : bytes;
  return directiveText({ kind: 'system', name, value, start: 0, end: 0 });
}

/** A comment that shows bytes of the program area which are no lines as the text that they hold. */
function hiddenComment(bytes: Uint8Array): string {
  const length = wordAt(bytes, 2);
  const shown = charactersText(bytes.subarray(4, 4 + 60), false).replace(/\n/g, ' ');
  return `' its length field says ${bytes.length < 4 ? 'nothing' : length}; the bytes read: ${shown}\n`;
}

// ───────────────────────────────── machine code ─────────────────────────────────

/** Puts a comment with the address before each REM that a constant USR or POKE points into. */
function withAddresses(listing: Listing, text: string, stored: readonly StoredLine[]): string {
  const targets = new Set<number>();
  for (const { statement } of listing.lines)
    if (statement !== undefined) collect(statement, targets);
  if (targets.size === 0) return text;
  const lines = listing.items.filter((item: Item): item is Line => item.kind === 'line');
  let out = '';
  let done = 0;
  for (const [index, line] of lines.entries()) {
    const offset = line.statement === undefined ? -1 : remOffset(line);
    if (offset < 0) continue;
    const first = stored[index].start + 4 + offset + IMAGE_START;
    const end = stored[index].end - 1 + IMAGE_START;
    if (![...targets].some((address) => address >= first && address < end)) continue;
    out += `${text.slice(done, line.start)}' the first byte after REM is at ${first}\n`;
    done = line.start;
  }
  return out + text.slice(done);
}

/** Offset of the first code after REM in a line's codes, or -1. */
function remOffset(line: Line): number {
  let statement = line.statement!;
  while (statement.kind === 'IF') statement = statement.then;
  return statement.kind === 'REM' ? line.codes.length - statement.codes.length : -1;
}

/** Collects the constant addresses of USR and POKE. */
function collect(statement: Statement, targets: Set<number>): void {
  const walk = (expression: Expression): void => {
    switch (expression.kind) {
      case 'call':
        if (expression.function === 'USR') add(expression.argument, targets);
        walk(expression.argument);
        break;
      case 'unary':
        walk(expression.operand);
        break;
      case 'binary':
        walk(expression.left);
        walk(expression.right);
        break;
      case 'brackets':
        walk(expression.inner);
        break;
    }
  };
  switch (statement.kind) {
    case 'POKE':
      add(statement.args[0], targets);
      break;
    case 'IF':
      walk(statement.condition);
      collect(statement.then, targets);
      break;
    case 'LET':
      walk(statement.value);
      break;
    case 'PRINT':
    case 'LPRINT':
      for (const item of statement.items) if ('type' in item) walk(item);
      break;
    default:
      if ('args' in statement) statement.args.forEach(walk);
  }
}

function add(expression: Expression, targets: Set<number>): void {
  if (expression.kind === 'number') targets.add(expression.value);
}

// ───────────────────────────────── salvage ─────────────────────────────────

/**
 * An image made readable: what is missing is filled with a plain build's bytes, pointers that make
 * no sense are put where the bytes themselves say. Every such change is a remark.
 */
function salvage(bytes: Uint8Array): { image: Uint8Array; remarks: string[] } {
  if (looksLikeImage(bytes)) return { image: bytes, remarks: [] };
  const remarks: string[] = [];
  let image = bytes;
  if (image.length < HEADER_SIZE) {
    const areas = { D_FILE: PROGRAM_START, VARS: PROGRAM_START, E_LINE: PROGRAM_START };
    const plain = plainHeader({ areas, firstLine: 0, framesPerSecond: DEFAULT_FRAMES_PER_SECOND });
    image = Uint8Array.from([...bytes, ...plain.subarray(bytes.length)]);
    remarks.push(
      `${HEADER_SIZE - bytes.length} bytes of the system variables are missing and were filled in`,
    );
  }
  const end = IMAGE_START + image.length;
  const lines = storedLines(image, HEADER_SIZE, image.length);
  const programEnd = (lines.at(-1)?.end ?? HEADER_SIZE) + IMAGE_START;
  const between = (value: number, least: number, otherwise: number): number =>
    value >= least && value <= end ? value : otherwise;
  const D_FILE = between(wordAt(image, offsetOf('D_FILE')), PROGRAM_START, programEnd);
  const VARS = between(wordAt(image, offsetOf('VARS')), D_FILE, end);
  const E_LINE = between(wordAt(image, offsetOf('E_LINE')), VARS, end);
  const mended = Uint8Array.from(image);
  for (const [name, value] of Object.entries({ D_FILE, VARS, E_LINE })) {
    const was = wordAt(image, offsetOf(name));
    if (was === value) continue;
    remarks.push(`${name} is ${was}, which makes no sense here, and was taken as ${value}`);
    mended[offsetOf(name)] = value & 255;
    mended[offsetOf(name) + 1] = value >> 8;
  }
  return { image: mended, remarks };
}
