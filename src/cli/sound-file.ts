/** Reading a sound file piece by piece, and what the tape says in the words of the command line. */
import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { SoundError } from '../tape/sound-error.js';
import { CannotAsk, nameOf, systemWords } from './io.js';
import { Progress } from './progress.js';

const PIECE = 1 << 16;

/** What takes the bytes of a sound file. */
interface Taker<Result> {
  push(bytes: Uint8Array): void;
  finish(): Result;
}

/** Gives a file, or standard input for `-`, to a taker in pieces. Throws CannotAsk. */
export function feedFile<Result>(path: string, what: string, taker: Taker<Result>): Result {
  const progress = new Progress(`${what} ${nameOf(path)}`);
  try {
    for (const { bytes, part } of piecesOf(path)) {
      taker.push(bytes);
      if (part !== undefined) progress.show(part);
    }
    return taker.finish();
  } catch (error) {
    throw asQuestion(path, error);
  } finally {
    progress.end();
  }
}

/** Each piece stands until the next one is asked for. */
function* piecesOf(path: string): Generator<{ bytes: Uint8Array; part?: number }> {
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

function readSome(descriptor: number, bytes: Uint8Array): number {
  for (;;) {
    try {
      return readSync(descriptor, bytes, 0, bytes.length, null);
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      if (code === 'EOF') return 0;
      // A pipe whose writer is slow: wait a little and go on.
      if (code !== 'EAGAIN') throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 5);
    }
  }
}

/** An error of the tape, or of reading, as a question that cannot be asked; others as they are. */
export function asQuestion(path: string, error: unknown): unknown {
  if (error instanceof SoundError) {
    return new CannotAsk(
      `${nameOf(path)}: this recording cannot be read: ${error.message}`,
      error.help,
    );
  }
  if (error instanceof Error && 'code' in error && typeof error.code === 'string') {
    return new CannotAsk(
      `${nameOf(path)}: cannot be read: ${systemWords(error)}`,
      error.code === 'ENOENT' ? 'check the name and the folder' : undefined,
    );
  }
  return error;
}
