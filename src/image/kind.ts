/** What a file holds, told by its bytes and not by its name. */
import { looksLikeImage } from './areas.js';

/** A recording, an image, text of whatever kind, or bytes that are none of these. */
export type FileKind = 'recording' | 'image' | 'text' | 'unknown';

export function kindOfFile(bytes: Uint8Array): FileKind {
  if (isWave(bytes)) return 'recording';
  if (bytes.includes(0) || !isText(bytes)) return looksLikeImage(bytes) ? 'image' : 'unknown';
  return 'text';
}

/** A RIFF file of form WAVE, in its usual and its two large or reversed spellings. */
export function isWave(bytes: Uint8Array): boolean {
  const word = (at: number): string => String.fromCharCode(...bytes.subarray(at, at + 4));
  return ['RIFF', 'RIFX', 'RF64'].includes(word(0)) && word(8) === 'WAVE';
}

/** Are the bytes UTF-8? */
export function isText(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}
