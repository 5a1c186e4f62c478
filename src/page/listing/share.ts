/** A listing within a link: compressed, in the fragment, which no browser sends. */

import { MOST_CHARACTERS } from '../../machine/program-limits.js';

const KEY = '#listing=';
/** A small link can hold a huge text: no more of it is read than a listing can be. */
const MOST_BYTES = 4 * MOST_CHARACTERS;

/** The address of this page with a listing in its fragment. */
export async function linkOf(text: string): Promise<string> {
  const packed = await through(
    new TextEncoder().encode(text),
    new CompressionStream('deflate-raw'),
  );
  return location.href.replace(/#.*/s, '') + KEY + base64(packed);
}

/** The listing in the address; undefined where there is none, an error where it cannot be read. */
export async function listingInLink(fragment: string): Promise<string | undefined> {
  if (!fragment.startsWith(KEY)) return undefined;
  const packed = bytesOfBase64(fragment.slice(KEY.length));
  const bytes = await through(packed, new DecompressionStream('deflate-raw'), MOST_BYTES);
  const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  if (text.length > MOST_CHARACTERS) throw new RangeError('more than a listing can be');
  return text;
}

/** What comes out of a stream; an error where that is more than so many bytes. */
async function through(
  bytes: BufferSource,
  stream: GenericTransformStream,
  most = Number.POSITIVE_INFINITY,
): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  let size = 0;
  const piped = new Blob([bytes as BlobPart]).stream().pipeThrough(stream);
  for (const reader = piped.getReader(); ; ) {
    const { value, done } = await reader.read();
    if (done) return new Uint8Array(await new Blob(pieces as BlobPart[]).arrayBuffer());
    pieces.push(value);
    size += value.length;
    if (size > most) throw new RangeError('more than a listing can be');
  }
}

function base64(bytes: Uint8Array): string {
  const text = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
  return text.replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

function bytesOfBase64(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (character) =>
    character.charCodeAt(0),
  );
}
