/** A listing within a link: compressed, in the fragment, which no browser sends. */

const KEY = '#listing=';

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
  const bytes = await through(packed, new DecompressionStream('deflate-raw'));
  return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
}

async function through(bytes: BufferSource, stream: GenericTransformStream): Promise<Uint8Array> {
  const piped = new Blob([bytes as BlobPart]).stream().pipeThrough(stream);
  return new Uint8Array(await new Response(piped).arrayBuffer());
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
