/** What kind of picture a file holds: told by its first bytes, not by its name. */

export type PictureKind = 'png' | 'jpg' | 'gif' | 'webp' | 'svg';

/** The kind of a picture by its first bytes; undefined for what is no picture that is read here. */
export function kindOfPicture(bytes: Uint8Array): PictureKind | undefined {
  const first = String.fromCharCode(...bytes.subarray(0, 16));
  if (first.startsWith('\x89PNG')) return 'png';
  if (first.startsWith('\xff\xd8\xff')) return 'jpg';
  if (/^GIF8[79]a/.test(first)) return 'gif';
  if (/^RIFF....WEBP/s.test(first)) return 'webp';
  const text = new TextDecoder().decode(bytes.subarray(0, 4096)).trimStart();
  return /^(<\?xml|<!--|<!doctype svg|<svg)/i.test(text) && /<svg[\s>]/i.test(text)
    ? 'svg'
    : undefined;
}
