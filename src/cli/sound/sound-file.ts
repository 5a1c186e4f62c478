/** Reading a sound file piece by piece, and what the tape says in the words of the command line. */
import { closeSync, openSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { joined } from '../../machine/bytes.js';
import { readSound, type SoundOptions } from '../../tape/samples/read-sound.js';
import type { SoundRead, TakeSamples } from '../../tape/samples/sound-format.js';
import {
  HEAD_SIZE,
  isDecoded,
  isPlain,
  type OtherKind,
  soundKindOf,
} from '../../tape/samples/sound-kind.js';
import { SoundError } from '../../tape/sound-error.js';
import { CannotAsk, nameOf, piecesOf, temporaryFolder, unreadable } from '../common/io.js';
import { Progress } from '../common/progress.js';
import { convert } from './converter.js';

/** Bytes by which most kinds are clear. */
const ENOUGH = 64;

/** What takes the samples of a sound file. */
interface Listener<Result> {
  readonly take: TakeSamples;
  finish(read: SoundRead): Result;
}

/**
 * Gives the samples of a sound file to a listener: of a file, of standard input for `-`, or of bytes
 * that were read from there already. Throws CannotAsk.
 */
export async function listenTo<Result>(
  path: string,
  what: string,
  listener: Listener<Result>,
  options: SoundOptions & { readonly bytes?: Uint8Array } = {},
): Promise<Result> {
  const progress = new Progress(`${what} ${nameOf(path)}`);
  const pieces = options.bytes === undefined ? filePieces(path, progress) : [options.bytes];
  const notes: string[] = [];
  try {
    const { head, all } = beginningOf(pieces);
    const kind = soundKindOf(head);
    if (kind === undefined || isPlain(kind) || isDecoded(kind)) {
      return listener.finish(await readSound(all, listener.take, options));
    }
    const converted = convertedPieces(path, kind, all, (words) => notes.push(words));
    const read = await readSound(converted, listener.take, { partial: true });
    // What is odd about the converter's own output is of no account.
    return listener.finish({ ...read, notes });
  } catch (error) {
    throw asQuestion(path, error);
  } finally {
    progress.end();
  }
}

/** Enough of the first pieces to tell what they are, and all of them again. */
function beginningOf(pieces: Iterable<Uint8Array>): {
  head: Uint8Array;
  all: Iterable<Uint8Array>;
} {
  const rest = pieces[Symbol.iterator]();
  let head: Uint8Array = new Uint8Array(0);
  // A pipe may give little at first.
  while (head.length < HEAD_SIZE && !(head.length >= ENOUGH && soundKindOf(head) !== undefined)) {
    const { done, value } = rest.next();
    if (done) break;
    head = joined([head, value.slice()]);
  }
  function* all(): Generator<Uint8Array> {
    try {
      yield head;
      for (let next = rest.next(); !next.done; next = rest.next()) yield next.value;
    } finally {
      rest.return?.();
    }
  }
  return { head: head.subarray(0, HEAD_SIZE), all: all() };
}

/** What the converter makes of a file; standard input is kept as one so long. */
async function* convertedPieces(
  path: string,
  kind: OtherKind,
  pieces: Iterable<Uint8Array>,
  note: (words: string) => void,
): AsyncGenerator<Uint8Array> {
  if (path !== '-') {
    yield* convert(path, path, kind, note);
    return;
  }
  const folder = temporaryFolder();
  try {
    const file = join(folder.path, 'sound');
    const descriptor = openSync(file, 'wx');
    try {
      for (const piece of pieces) writeSync(descriptor, piece);
    } finally {
      closeSync(descriptor);
    }
    yield* convert(file, 'tape', kind, note);
  } finally {
    folder.remove();
  }
}

/** Each piece stands until the next one is asked for. */
function* filePieces(path: string, progress: Progress): Generator<Uint8Array> {
  for (const { bytes, part } of piecesOf(path)) {
    if (part !== undefined) progress.show(part);
    yield bytes;
  }
}

/** An error of the tape, or of reading, as a question that cannot be asked; others as they are. */
function asQuestion(path: string, error: unknown): unknown {
  if (error instanceof SoundError) {
    return new CannotAsk(
      `${nameOf(path)}: this recording cannot be read: ${error.message}`,
      error.help,
    );
  }
  if (error instanceof Error && 'code' in error && typeof error.code === 'string') {
    return unreadable(path, error);
  }
  return error;
}
