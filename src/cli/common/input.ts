/** What a command is given: a listing, an image or a recording, told apart by content. */
import { realpathSync } from 'node:fs';
import { dirname, isAbsolute, join, relative } from 'node:path';
import type { Listing } from '../../../grammar/tree.js';
import { looksLikeImage, NotAnImage } from '../../image/areas.js';
import { NO_ROOM, ramOf } from '../../image/build.js';
import { utf8Text } from '../../image/kind.js';
import { listingOfImage } from '../../image/read.js';
import { tokenise } from '../../image/tokenise.js';
import { type Diagnostic, hasErrors, Places, type Source } from '../../listing/diagnostics.js';
import { kindOf } from '../../listing/directive-text.js';
import { unifyLineEnds } from '../../listing/line-ends.js';
import { count } from '../../listing/print.js';
import { nameOfFile, tapeName } from '../../listing/tape-name.js';
import { tooLarge } from '../../listing/too-large.js';
import { hexByte } from '../../machine/numbers.js';
import { MOST_CHARACTERS, MOST_LINE_BYTES } from '../../machine/program-limits.js';
import type { RecoveredProgram } from '../../tape/reading/recovery.js';
import { HEAD_SIZE, soundKindOf } from '../../tape/samples/sound-kind.js';
import {
  CannotAsk,
  joined,
  nameOf,
  type Piece,
  piecesOf,
  readHead,
  systemPieces,
  systemWords,
} from './io.js';

export interface InputOptions {
  /** RAM in bytes, where the command was told. */
  readonly ram?: number;
  /** May a listing put in files from outside its own folder? */
  readonly includeAnywhere?: boolean;
  /** Build what is too large to be loaded too? */
  readonly anyway?: boolean;
  /** Read an image with a bad header as far as it makes sense? */
  readonly salvage?: boolean;
}

/** The options that nearly all commands take; each is there where the command has it. */
export interface CommandOptions extends InputOptions {
  /** The form of results: `text`, `json` and what the command has besides. */
  readonly format: string;
  /** Lists of any length? */
  readonly all?: boolean;
}

export interface Program {
  readonly kind: 'listing' | 'image' | 'recording';
  /** The listing's text, or the text that an image reads as, with the name for messages. */
  readonly source: Source;
  readonly listing: Listing;
  readonly diagnostics: readonly Diagnostic[];
  /** Undefined where the listing has errors, or is too large to be loaded. */
  readonly image?: Uint8Array;
  readonly ram: number;
  /** The name on tape, as codes. */
  readonly name: Uint8Array;
  /** What is odd about an image, or a recording. */
  readonly remarks: readonly string[];
  /** What the recording gave, doubts and all. */
  readonly recovered?: RecoveredProgram;
}

/** Loads any input. Throws CannotAsk for what is none. */
export async function loadProgram(path: string, options: InputOptions = {}): Promise<Program> {
  // A recording is large, and is read piece by piece.
  if (isSound(readHead(path, HEAD_SIZE))) return fromRecording(path, undefined, options);
  const { bytes, isRecording } = beginning(path);
  if (isRecording) return fromRecording(path, bytes, options);
  if (
    bytes.includes(0) ||
    (utf8Text(bytes) === undefined && looksLikeImage(bytes)) ||
    options.salvage
  ) {
    return programOfImage(path, bytes, 'image', nameOfFile(path), undefined, options);
  }
  return programOfText(path, decodeText(path, bytes), options);
}

/** Loads a listing, and nothing else. Throws CannotAsk. */
export function loadListing(path: string, options: InputOptions = {}): Program {
  return programOfText(path, loadText(path), options);
}

/** The text of a file that must be text, and no larger than a listing. Throws CannotAsk. */
export function loadText(path: string): string {
  return decodeText(path, joined(piecesOf(path), MOST_TEXT_BYTES));
}

/** More bytes of UTF-8 have more characters than any listing: each UTF-16 unit takes three at most. */
const MOST_TEXT_BYTES = 3 * MOST_CHARACTERS + 3;

/** All bytes of a recording that comes through a pipe; of anything else no more than are needed. */
function beginning(path: string): { isRecording: boolean; bytes: Uint8Array } {
  const rest = piecesOf(path);
  const first: Piece[] = [];
  for (let size = 0; size < HEAD_SIZE; ) {
    const { value, done } = rest.next();
    if (done) break;
    first.push({ ...value, bytes: value.bytes.slice() });
    size += value.bytes.length;
  }
  const all = function* (): Generator<Piece> {
    yield* first;
    yield* rest;
  };
  const isRecording = isSound(joined(first, HEAD_SIZE));
  return { isRecording, bytes: joined(all(), isRecording ? Infinity : MOST_TEXT_BYTES) };
}

/** Was a program read without errors? That it is too large for the RAM is none of reading. */
export const isRead = ({ diagnostics }: Program): boolean =>
  !hasErrors(diagnostics.filter(({ rule }) => rule !== NO_ROOM));

/** Reads a listing's text and builds its image. */
export function programOfText(path: string, text: string, options: InputOptions = {}): Program {
  const source = { name: nameOf(path), text };
  const { listing, diagnostics, ...built } = tokenise(text, {
    ram: options.ram,
    anyway: options.anyway,
    include: (file) => readIncluded(path, file, options),
  });
  // --anyway is for what is too large, not for what has errors.
  const image = hasErrors(diagnostics) ? undefined : built.image;
  const ram = ramOf(listing, options.ram);
  const name = tapeName(listing, path);
  return { kind: 'listing', source, listing, diagnostics, image, ram, name, remarks: [] };
}

/** A note on a listing from which a program without any line would be made. */
export function noteNoLines({ kind, listing, diagnostics }: Program): Diagnostic[] {
  const { items, lines } = listing;
  if (kind !== 'listing' || lines.length > 0 || hasErrors(diagnostics)) return [];
  // Who gives the program's bytes by hand does not forget the lines.
  if (items.some((item) => kindOf(item) === 'raw program')) return [];
  const { start, end } = items[0] ?? { start: 0, end: 1 };
  return [
    {
      severity: 'note',
      start,
      end,
      rule: 'no-lines',
      message: 'there is no program line in this listing',
      why: 'the machine loads it as an empty program',
      help: 'a line is a number and a statement, as in 10 PRINT "OAK"',
    },
  ];
}

function programOfImage(
  path: string,
  image: Uint8Array,
  kind: 'image' | 'recording',
  name: Uint8Array,
  recovered: RecoveredProgram | undefined,
  options: InputOptions,
): Program {
  try {
    const read = listingOfImage(image, {
      salvage: options.salvage,
      name: kind === 'recording' ? name : undefined,
    });
    const source = { name: nameOf(path), text: read.text };
    const ram = ramOf(read.listing, options.ram);
    return { ...read, kind, source, ram, name, recovered };
  } catch (error) {
    if (!(error instanceof NotAnImage)) throw error;
    throw new CannotAsk(
      `${nameOf(path)}: this is not a program image: ${error.message}`,
      error.help,
      error.why,
    );
  }
}

/** @param bytes of the recording, where they cannot be read again */
async function fromRecording(
  path: string,
  bytes: Uint8Array | undefined,
  options: InputOptions,
): Promise<Program> {
  // Most inputs are none, and need not load what reads them.
  const { ProgramListener } = await import('../../tape/recover.js');
  const { listenTo } = await import('../sound/sound-file.js');
  const { programs, notes } = await listenTo(path, 'reading', new ProgramListener(), { bytes });
  if (programs.length === 0) {
    throw new CannotAsk(
      `${nameOf(path)}: there is no program in this recording`,
      'record it again, louder, with tone controls in the middle, from before the program begins',
    );
  }
  if (programs.length > 1) {
    throw new CannotAsk(
      `${nameOf(path)}: this recording holds ${programs.length} programs`,
      '`listwright recover` writes an image of each; give one of those',
    );
  }
  const [program] = programs;
  const made = programOfImage(path, program.image, 'recording', program.name, program, options);
  return { ...made, remarks: [...notes, ...made.remarks] };
}

const isSound = (bytes: Uint8Array): boolean =>
  soundKindOf(bytes.subarray(0, HEAD_SIZE)) !== undefined;

/**
 * Bytes of a listing as text; a byte-order mark is dropped. Throws CannotAsk, also for what is too
 * large to be one: of that the first MOST_TEXT_BYTES are enough.
 */
function decodeText(path: string, bytes: Uint8Array): string {
  const name = nameOf(path);
  if (bytes.length === 0) throw new CannotAsk(`${name}: the file is empty`, 'give a listing');
  if (isSound(bytes) || bytes.includes(0)) {
    const utf16 =
      (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
    throw new CannotAsk(
      `${name}: this is not text`,
      utf16
        ? 'it looks like UTF-16: save the listing as UTF-8'
        : 'a listing is UTF-8 text; `listwright detokenise` makes one of an image or a recording',
    );
  }
  // Of a file that is cut short the last character may be too.
  const given = utf8Text(bytes, bytes.length > MOST_TEXT_BYTES);
  if (given === undefined) {
    const { line, column, byte } = firstBadByte(bytes);
    throw new CannotAsk(
      `${name}:${line}:${column}: error: this is not UTF-8: the byte ${byte} cannot stand here`,
      'save the listing as UTF-8',
    );
  }
  const text = unifyLineEnds(given);
  const refused = tooLarge(text);
  if (refused !== undefined) {
    const { line, column } = new Places(text).at(refused.start);
    const { message, help, why } = refused;
    throw new CannotAsk(`${name}:${line}:${column}: error: ${message}`, help, why);
  }
  return text;
}

/** Where text stops being UTF-8: the first replacement character that is not in the bytes themselves. */
function firstBadByte(bytes: Uint8Array): { line: number; column: number; byte: string } {
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
  let at = text.indexOf('\ufffd');
  let offset = Buffer.byteLength(text.slice(0, at));
  while (bytes[offset] === 0xef && bytes[offset + 1] === 0xbf && bytes[offset + 2] === 0xbd) {
    const next = text.indexOf('\ufffd', at + 1);
    offset += Buffer.byteLength(text.slice(at, next));
    at = next;
  }
  return { ...new Places(text).at(at), byte: hexByte(bytes[offset]) };
}

/** The bytes of a file that a REM of the listing names, or why they cannot be had. */
export function readIncluded(
  listingPath: string,
  file: string,
  options: Pick<InputOptions, 'includeAnywhere'>,
): Uint8Array | string {
  const folder = listingPath === '-' ? '.' : dirname(listingPath);
  const path = isAbsolute(file) ? file : join(folder, file);
  try {
    const inside = relative(realpathSync(folder), realpathSync(path));
    if (!options.includeAnywhere && (inside.startsWith('..') || isAbsolute(inside))) {
      return 'it is outside the folder of the listing; --include-anywhere allows that';
    }
    const bytes = joined(systemPieces(path), MOST_LINE_BYTES);
    return bytes.length <= MOST_LINE_BYTES
      ? bytes
      : `it has more than ${count(MOST_LINE_BYTES, 'byte')}, and no machine has so much RAM`;
  } catch (error) {
    return systemWords(error);
  }
}
