/** Reads sound whose samples are plain, WAV or AIFF, told apart by its beginning. */

import { joined } from '../../machine/bytes.js';
import { badSound, SoundError } from '../sound-error.js';
import { AiffReader } from './aiff-reader.js';
import type { SoundRead, SoundReader, TakeSamples } from './sound-format.js';
import { soundKindOf } from './sound-kind.js';
import { WaveReader } from './wave-reader.js';

/** Bytes that tell the two apart. */
const ENOUGH = 12;

export class PlainReader implements SoundReader {
  private head: Uint8Array = new Uint8Array(0);
  private reader: WaveReader | AiffReader | undefined;

  constructor(
    private readonly take: TakeSamples,
    private readonly partial = false,
  ) {}

  push(bytes: Uint8Array): void {
    if (this.reader !== undefined) {
      this.reader.push(bytes);
      return;
    }
    this.head = joined([this.head, bytes]);
    if (this.head.length < ENOUGH) return;
    this.reader = this.open();
    this.reader.push(this.head);
    this.head = new Uint8Array(0);
  }

  finish(): SoundRead {
    if (this.reader !== undefined) return this.reader.finish();
    throw notSound(this.head);
  }

  private open(): WaveReader | AiffReader {
    const kind = soundKindOf(this.head);
    if (kind === 'AIFF') return new AiffReader(this.take, this.partial);
    if (kind === 'WAV') return new WaveReader(this.take, this.partial);
    throw notSound(this.head);
  }
}

/** What is said of bytes that are none of the sound files that are known. */
export function notSound(head: Uint8Array): SoundError {
  if (head.length === 0) return new SoundError('the file is empty', 'record the tape again');
  const kind = soundKindOf(head);
  return badSound(
    kind === undefined ? 'this is not a sound file' : `this is ${kind}, not plain samples`,
  );
}
