/** What kind of sound file bytes are, told by how they begin. */
import { soundFrameAt } from './compressed/mpeg-frames.js';
import { letters, view } from './plain-samples.js';
import { CODINGS } from './wave-reader.js';

/** Kinds whose samples are plain: read by our own code. */
export type PlainKind = 'WAV' | 'AIFF';
/** Kinds that a decoder reads, which is loaded when there is one to read. */
export type DecodedKind = 'MP3' | 'FLAC' | 'Ogg FLAC' | 'Ogg Vorbis' | 'Ogg Opus';
/** Kinds that another program on this computer has to convert. */
export type OtherKind =
  | 'MPEG-4'
  | 'AAC'
  | 'Matroska or WebM'
  | 'Windows Media'
  | 'AMR'
  | 'CAF'
  | 'AU'
  | 'Ogg'
  | 'Wave64'
  | 'coded WAV';
export type SoundKind = PlainKind | DecodedKind | OtherKind;

/** So many of the first bytes are enough to tell by. */
export const HEAD_SIZE = 1 << 14;

/** The kind of the sound file that begins so, with no more than HEAD_SIZE bytes; undefined for none. */
export function soundKindOf(head: Uint8Array): SoundKind | undefined {
  const first = letters(head, 0);
  const form = letters(head, 8);
  if (['RIFF', 'RIFX', 'RF64'].includes(first) && form === 'WAVE') {
    return isCoded(head) ? 'coded WAV' : 'WAV';
  }
  if (first === 'riff' && letters(head, 4) === '.\x91\xcf\x11') return 'Wave64';
  if (first === 'FORM' && (form === 'AIFF' || form === 'AIFC')) return 'AIFF';
  if (first === 'fLaC') return 'FLAC';
  if (first === 'OggS') return oggKind(head);
  if (letters(head, 4) === 'ftyp' && head[0] === 0) return 'MPEG-4';
  if (first === '\x1aE\xdf\xa3') return 'Matroska or WebM';
  if (first === '0&\xb2u') return 'Windows Media';
  if (letters(head, 0, 5) === '#!AMR') return 'AMR';
  if (first === 'caff' && head[4] === 0) return 'CAF';
  if (first === '.snd' && head[4] === 0) return 'AU';
  const tag = tagSize(head);
  return tag > 0 ? taggedKind(head, tag) : mpegKind(head);
}

/** Does the format of this WAV say that a decoder made its samples, of those that converters have? */
function isCoded(head: Uint8Array): boolean {
  for (let at = 12; at + 10 <= head.length; ) {
    const words = view(head.subarray(at));
    if (letters(head, at) === 'fmt ') return CODINGS[words.getUint16(8, true)] !== undefined;
    const size = words.getUint32(4, true);
    at += 8 + size + (size & 1);
  }
  return false;
}

export function isPlain(kind: SoundKind): kind is PlainKind {
  return kind === 'WAV' || kind === 'AIFF';
}

export function isDecoded(kind: SoundKind): kind is DecodedKind {
  return ['MP3', 'FLAC', 'Ogg FLAC', 'Ogg Vorbis', 'Ogg Opus'].includes(kind);
}

/** The first packet of an Ogg stream follows the head of its page and the table of its parts. */
function oggKind(head: Uint8Array): SoundKind {
  const packet = 27 + (head[26] ?? 0);
  if (letters(head, packet, 8) === 'OpusHead') return 'Ogg Opus';
  if (letters(head, packet, 7) === '\x01vorbis') return 'Ogg Vorbis';
  return letters(head, packet, 5) === '\x7fFLAC' ? 'Ogg FLAC' : 'Ogg';
}

/**
 * Bytes of the ID3v2 tag that music files begin with; 0 for none.
 * Source: ID3 tag version 2.4.0, section 3.1, from memory.
 */
export function tagSize(head: Uint8Array): number {
  if (letters(head, 0, 3) !== 'ID3' || head.length < 10 || head[3] > 4) return 0;
  const size = head.subarray(6, 10);
  if (size.some((byte) => byte > 127)) return 0;
  const foot = head[5] & 0x10 ? 10 : 0;
  return 10 + foot + size.reduce((sum, byte) => sum * 128 + byte, 0);
}

/** A tag may be longer than what there is to tell by; it is MP3s that have them. */
function taggedKind(head: Uint8Array, tag: number): SoundKind {
  if (tag + 4 > head.length) return 'MP3';
  const rest = head.subarray(tag);
  return soundKindOf(rest) ?? 'MP3';
}

/** A frame of MPEG sound, and where it ends within the head another of its kind. */
function mpegKind(head: Uint8Array): SoundKind | undefined {
  if (head[0] === 0xff && (head[1] & 0xf6) === 0xf0) return 'AAC';
  const frame = soundFrameAt(head, 0);
  if (frame === undefined) return undefined;
  const isAlone = frame.size + 4 > head.length;
  return isAlone || soundFrameAt(head, frame.size) !== undefined ? 'MP3' : undefined;
}
