/** Reading and writing for the commands. Everything that touches files, streams or exits is here. */
import {
  closeSync,
  fstatSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, extname, join } from 'node:path';
import { visible, visibleLine } from '../../markup/visible.js';
import { cleanAtEnd, leave } from './ending.js';
import { sendable } from './terminal.js';

/** The question could not be asked: exit status 2, with what, why and what to do. */
export class CannotAsk extends Error {
  constructor(
    message: string,
    readonly help?: string,
    readonly why?: string,
  ) {
    super(message);
  }
}

/** Exit status: done and clean; the answer is no; it could not be asked. */
export const DONE = 0;
export const NO = 1;
export const CANNOT_ASK = 2;

const SYSTEM_WORDS: Record<string, string> = {
  ENOENT: 'there is no such file',
  ENOTDIR: 'a part of its path is not a folder',
  EISDIR: 'it is a folder, not a file',
  EACCES: 'permission is denied',
  EPERM: 'it is not permitted',
  EROFS: 'the disk can only be read',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk quota is used up',
  EFBIG: 'the file would be too large',
  EMFILE: 'too many files are open',
  ENAMETOOLONG: 'the name is too long',
  ELOOP: 'its links go round in a ring',
  EIO: 'the disk reports a fault',
  ERR_FS_FILE_TOO_LARGE: 'it is larger than 2 GiB',
};

/** What the system says of a failed call, in words for a person. */
export function systemWords(error: unknown): string {
  const code = (error as NodeJS.ErrnoException)?.code ?? '';
  return SYSTEM_WORDS[code] ?? (code || String(error));
}

/** How messages name a path, safe to show: `-` is standard input. */
export function nameOf(path: string): string {
  return path === '-' ? '<standard input>' : visibleLine(path);
}

/** How messages name where a result goes: `-` is standard output. */
export function placeOf(path: string): string {
  return path === '-' ? '<standard output>' : visibleLine(path);
}

/** Bytes or characters at a time. */
const PIECE = 1 << 16;

/** Some bytes of a file: they stand until the next piece is asked for. */
export interface Piece {
  readonly bytes: Uint8Array;
  /** The part of the file that was read up to their end, 0 to 1, where its size is known. */
  readonly part?: number;
}

/** A file, or standard input for `-`, piece by piece. Throws CannotAsk. */
export function* piecesOf(path: string): Generator<Piece> {
  try {
    yield* systemPieces(path);
  } catch (error) {
    throw unreadable(path, error);
  }
}

/** The same; throws what the system says. */
export function* systemPieces(path: string): Generator<Piece> {
  const descriptor = path === '-' ? 0 : openSync(path, 'r');
  try {
    const found = fstatSync(descriptor);
    if (found.isDirectory()) throw Object.assign(new Error(), { code: 'EISDIR' });
    const size = found.isFile() ? found.size : undefined;
    let done = 0;
    const bytes = new Uint8Array(PIECE);
    for (;;) {
      const count = readSome(descriptor, bytes);
      if (count === 0) return;
      done += count;
      yield { bytes: bytes.subarray(0, count), part: size ? done / size : undefined };
    }
  } finally {
    if (descriptor !== 0) closeSync(descriptor);
  }
}

/** Reads what there is, and waits for it; 0 at the end. Throws what the system says. */
export function readSome(descriptor: number, bytes: Uint8Array): number {
  for (;;) {
    try {
      return readSync(descriptor, bytes, 0, bytes.length, null);
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      if (code === 'EOF') return 0;
      // A pipe whose writer is slow.
      if (code !== 'EAGAIN') throw error;
      waitALittle();
    }
  }
}

/** The bytes of pieces, one after another, up to the first with which there are more than `most`. */
export function joined(pieces: Iterable<Piece>, most: number): Uint8Array {
  const parts: Uint8Array[] = [];
  let size = 0;
  for (const { bytes } of pieces) {
    parts.push(bytes.slice());
    size += bytes.length;
    if (size > most) break;
  }
  const all = Buffer.concat(parts);
  return new Uint8Array(all.buffer, all.byteOffset, all.length);
}

/** All bytes of a file, or of standard input for `-`. Throws CannotAsk, also for more than `most`. */
export function readBytes(path: string, most: number): Uint8Array {
  const bytes = joined(piecesOf(path), most);
  if (bytes.length <= most) return bytes;
  throw new CannotAsk(
    `${nameOf(path)}: it has more than ${most} bytes`,
    'check that this is the file that was meant',
  );
}

/** What is said of a file that the system does not give. */
export function unreadable(path: string, error: unknown): CannotAsk {
  return new CannotAsk(
    `${nameOf(path)}: cannot be read: ${systemWords(error)}`,
    (error as NodeJS.ErrnoException).code === 'ENOENT'
      ? 'check the name and the folder'
      : undefined,
  );
}

/**
 * The first bytes of a file; none of standard input, or of anything else that can be read only once.
 * Throws CannotAsk.
 */
export function readHead(path: string, size: number): Uint8Array {
  if (path === '-') return new Uint8Array(0);
  try {
    if (!statSync(path).isFile()) return new Uint8Array(0);
    const [first] = systemPieces(path);
    return first === undefined ? new Uint8Array(0) : first.bytes.slice(0, size);
  } catch (error) {
    throw unreadable(path, error);
  }
}

/** Something that is filled piece by piece and appears whole or not at all. */
export interface WholeFile {
  write(bytes: Uint8Array): void;
  /** Puts other bytes in place of the first ones; what can be written only once keeps them. */
  begin(bytes: Uint8Array): void;
  /** Puts the file in its place. */
  finish(): void;
  /** Throws away what was written. */
  abandon(): void;
}

/**
 * Opens a file to be written whole: the bytes go into a neighbour of another name, which takes
 * the real name only in `finish`. `-` is standard output. Throws CannotAsk, also from its methods.
 */
export function openWhole(path: string): WholeFile {
  const fail = (error: unknown): never => {
    // What is missing is no file, which would be made, but the way to it.
    const missing = (error as NodeJS.ErrnoException)?.code === 'ENOENT';
    throw new CannotAsk(
      `${placeOf(path)}: cannot be written: ${missing ? 'there is no such folder' : systemWords(error)}`,
      'nothing was changed; choose another place with -o, or make room',
    );
  };
  if (path === '-') {
    return { write: writeStandardOutput, begin() {}, finish() {}, abandon() {} };
  }
  let real = path;
  let special = false;
  try {
    // A link is followed, so that it still stands afterwards; a device or pipe is written as it is.
    real = realpathSync(path);
    const found = statSync(real);
    if (found.isDirectory()) fail(Object.assign(new Error(), { code: 'EISDIR' }));
    special = !found.isFile();
  } catch (error) {
    if (error instanceof CannotAsk) throw error;
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') fail(error);
  }
  const temporary = special ? real : unfinishedName(real);
  let descriptor = -1;
  let settled = (): void => {};
  const abandon = () => {
    if (descriptor >= 0) closeSync(descriptor);
    descriptor = -1;
    if (!special) rmSync(temporary, { force: true });
    settled();
  };
  const orAbandon = (work: () => void): void => {
    try {
      work();
    } catch (error) {
      abandon();
      fail(error);
    }
  };
  orAbandon(() => {
    settled = cleanAtEnd(abandon);
    descriptor = openSync(temporary, special ? 'w' : 'wx');
  });
  return {
    write: (bytes) => orAbandon(() => writeAll(descriptor, bytes)),
    begin: (bytes) =>
      orAbandon(() => {
        if (!special) writeSync(descriptor, bytes, 0, bytes.length, 0);
      }),
    finish: () =>
      orAbandon(() => {
        closeSync(descriptor);
        descriptor = -1;
        if (!special) renameSync(temporary, real);
        settled();
      }),
    abandon,
  };
}

/** A folder for files that are needed for a while: it goes with `remove`, or at an end before that. */
export function temporaryFolder(): { readonly path: string; remove(): void } {
  const path = mkdtempSync(join(tmpdir(), 'listwright-'));
  const clean = (): void => rmSync(path, { recursive: true, force: true });
  const settled = cleanAtEnd(clean);
  return {
    path,
    remove: () => {
      clean();
      settled();
    },
  };
}

const UNFINISHED = /^(\d+)-\d+\.part$/;

/**
 * Where a file is written until it is whole: a neighbour with a name that no other run has. It need
 * not be secret: an existing file is never opened. What a run left that was killed outright goes.
 */
function unfinishedName(path: string): string {
  const folder = dirname(path);
  const before = `.${basename(path)}.`;
  try {
    for (const name of readdirSync(folder)) {
      const match = name.startsWith(before) ? UNFINISHED.exec(name.slice(before.length)) : null;
      if (match !== null && !isRunning(Number(match[1]))) {
        rmSync(join(folder, name), { force: true });
      }
    }
  } catch {
    // A folder that cannot be read may still be written to; if it cannot, opening says so.
  }
  return join(folder, `${before}${process.pid}-${Date.now()}.part`);
}

/** Is there such a process, be it somebody else's? */
function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== 'ESRCH';
  }
}

function writeAll(descriptor: number, bytes: Uint8Array): void {
  let done = 0;
  while (done < bytes.length) {
    try {
      done += writeSync(descriptor, bytes, done, bytes.length - done);
    } catch (error) {
      // A pipe whose reader is slow.
      if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') throw error;
      waitALittle();
    }
  }
}

const waitALittle = () => Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 5);

function writeStandardOutput(bytes: Uint8Array): void {
  try {
    writeAll(1, bytes);
  } catch (error) {
    // The reader of a pipe went away (`| head`): there is nobody left to tell.
    if ((error as NodeJS.ErrnoException).code === 'EPIPE') leave(Number(process.exitCode ?? DONE));
    throw new CannotAsk(`<standard output>: cannot be written: ${systemWords(error)}`);
  }
}

/** Writes a file whole, or to standard output for `-`. Throws CannotAsk. */
export function writeBytes(path: string, bytes: Uint8Array | string): void {
  const file = openWhole(path);
  file.write(typeof bytes === 'string' ? Buffer.from(bytes) : bytes);
  file.finish();
}

/** Writes a file that is made piece by piece. Throws CannotAsk. */
export function writePieces(path: string, pieces: Iterable<string>): void {
  const file = openWhole(path);
  for (const bytes of inParts(pieces)) file.write(bytes);
  file.finish();
}

/** The bytes of a text that is made piece by piece, many at a time. */
function* inParts(pieces: Iterable<string>): Generator<Uint8Array> {
  let text = '';
  for (const piece of pieces) {
    text += piece;
    if (text.length < PIECE) continue;
    yield Buffer.from(text);
    text = '';
  }
  yield Buffer.from(text);
}

/** Throws CannotAsk where a result and the JSON about it would both go to standard output. */
export function keepApart(result: string, output: string | undefined, format: string): void {
  if (output !== '-' || format !== 'json') return;
  throw new CannotAsk(`${result} and the JSON cannot both go to standard output`, 'give -o a file');
}

/** Prints what is said of something, safe to show: to standard output, with a last newline. */
export function print(text: string): void {
  printText(sendable(text));
}

/** Prints what is made piece by piece, and is safe to show, with a last newline. */
export function printPieces(pieces: Iterable<string>): void {
  writePieces('-', pieces);
  printText('');
}

/**
 * Prints a listing: to standard output as it is, with a last newline; to a terminal so that it is
 * safe to show.
 */
export function printListing(text: string): void {
  printText(isTerminal() ? visible(text) : text);
}

/** Is standard output a terminal? Node's own answer is asked where it can be one: it is slow to load. */
const isTerminal = (): boolean => fstatSync(1).isCharacterDevice() && process.stdout.isTTY === true;

function printText(text: string): void {
  writeStandardOutput(Buffer.from(text.endsWith('\n') ? text : `${text}\n`));
}

/** Prints a message to standard error, safe to show, with a last newline. */
export function tell(text: string): void {
  ask(`${text}\n`);
}

/** Prints a message to standard error as `tell` does, and leaves the line open. */
export function ask(text: string): void {
  try {
    writeAll(2, Buffer.from(sendable(text)));
  } catch {
    // Standard error is closed: there is no place left to say so.
  }
}

/** The path of a result beside its source: `a/b.bas` and `.img` give `a/b.img`; `-` stays. */
export function besides(path: string, extension: string): string {
  if (path === '-') return '-';
  return join(dirname(path), basename(path, extname(path)) + extension);
}
