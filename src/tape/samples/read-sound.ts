/** Any sound file that can be read here, piece by piece, to samples. */

import { joined } from '../../machine/bytes.js';
import { badSound } from '../sound-error.js';
import { openCompressed } from './compressed/compressed-sound.js';
import { notSound, PlainReader } from './plain-reader.js';
import type { SoundRead, SoundReader, TakeSamples } from './sound-format.js';
import { HEAD_SIZE, isDecoded, isPlain, type SoundKind, soundKindOf } from './sound-kind.js';

export interface SoundOptions {
  /** Reads a file that ends before its header says. */
  readonly partial?: boolean;
}

/**
 * Reads a sound file to its end: WAV, AIFF, MP3, FLAC, Vorbis and Opus in Ogg. Throws SoundError,
 * also for the kinds that another program must convert (`soundKindOf` tells them).
 * @param pieces the bytes of the file, in pieces of any size
 * @param take is called with the samples as they are read
 */
export async function readSound(
  pieces: Iterable<Uint8Array> | AsyncIterable<Uint8Array>,
  take: TakeSamples,
  { partial = false }: SoundOptions = {},
): Promise<SoundRead> {
  let head: Uint8Array = new Uint8Array(0);
  let reader: SoundReader | undefined;
  for await (const piece of pieces) {
    if (reader !== undefined) {
      await reader.push(piece);
      continue;
    }
    head = joined([head, piece]);
    const kind = kindOnceClear(head);
    if (kind === undefined) continue;
    reader = await open(kind, take, partial);
    await reader.push(head);
  }
  if (reader === undefined) {
    const kind = soundKindOf(head);
    if (kind === undefined) throw notSound(head);
    reader = await open(kind, take, partial);
    await reader.push(head);
  }
  return reader.finish();
}

/** Kinds that are clear by their first bytes need no more: a recorder's sound is read as it comes. */
function kindOnceClear(head: Uint8Array): SoundKind | undefined {
  const kind = soundKindOf(head.subarray(0, HEAD_SIZE));
  if (head.length >= HEAD_SIZE) {
    if (kind === undefined) throw notSound(head);
    return kind;
  }
  return kind !== undefined && isPlain(kind) ? kind : undefined;
}

async function open(kind: SoundKind, take: TakeSamples, partial: boolean): Promise<SoundReader> {
  if (isPlain(kind)) return new PlainReader(take, partial);
  if (isDecoded(kind)) {
    return openCompressed(kind, take, partial);
  }
  throw badSound(`${kind} cannot be decoded here`);
}
