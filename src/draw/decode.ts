/**
 * Pictures of the usual kinds as grains of light. The decoders are WebAssembly: they are handed in,
 * so that nobody loads them who draws no picture.
 */

import decodeWebp, { init as initWebp } from '@jsquash/webp/decode.js';
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import { imageSize } from 'image-size';
import type { PictureKind } from './picture-kind.js';
import { type Pixels, pixelsOfRgba, upright } from './pixels.js';

/** These bytes are no picture that can be read: why, and what to do. */
export class NotAPicture extends Error {
  constructor(
    message: string,
    readonly help: string,
  ) {
    super(message);
  }
}

export interface Decoders {
  /** The WebAssembly of @resvg/resvg-wasm. */
  readonly svg: Uint8Array;
  /** The WebAssembly that decodes in @jsquash/webp. */
  readonly webp: Uint8Array;
}

/** More pixels than any camera gives: what asks for more is refused before it is unpacked. */
const MOST_PIXELS = 120e6;
/** The longer side of a drawing that has no pixels of its own: more than enough for 64 blocks. */
const VECTOR_SIDE = 1024;

const MEDIA_TYPES: Readonly<Record<string, string>> = {
  png: 'image/png',
  jpg: 'image/jpeg',
  gif: 'image/gif',
};
const SAVE_AGAIN = 'open it in a program that shows it, and save it again as PNG';

/** Node and every browser have it; the types that are read here know it only as a name of types. */
const WASM = (
  globalThis as unknown as {
    WebAssembly: { compile(bytes: Uint8Array): Promise<WebAssembly.Module> };
  }
).WebAssembly;

let ready: Promise<unknown> | undefined;

/** The pixels of a picture. Throws NotAPicture. */
export async function decodePicture(
  bytes: Uint8Array,
  kind: PictureKind,
  { svg, webp }: Decoders,
): Promise<Pixels> {
  ready ??= initWasm(svg);
  await ready;
  if (kind === 'svg') return render(new TextDecoder().decode(bytes));
  const { width, height, orientation } = sizeOf(bytes);
  if (kind === 'webp') {
    await initWebp(await WASM.compile(webp));
    const { data } = await decodeWebp(Uint8Array.from(bytes).buffer).catch(() => damaged());
    return pixelsOfRgba(Uint8Array.from(data), width, height);
  }
  const link = `data:${MEDIA_TYPES[kind]};base64,${base64(bytes)}`;
  const page = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><image width="${width}" height="${height}" image-rendering="optimizeSpeed" href="${link}"/></svg>`;
  return upright(render(page, damaged), orientation);
}

function sizeOf(bytes: Uint8Array): { width: number; height: number; orientation?: number } {
  let size: ReturnType<typeof imageSize>;
  try {
    size = imageSize(bytes);
  } catch {
    return damaged();
  }
  const { width, height } = size;
  if (!(width >= 1 && height >= 1)) return damaged();
  if (width * height > MOST_PIXELS) {
    throw new NotAPicture(
      `it has ${width} by ${height} pixels`,
      'make it smaller: the screen has 64 by 44 blocks',
    );
  }
  return size;
}

function damaged(): never {
  throw new NotAPicture('it is damaged, or cut short', SAVE_AGAIN);
}

/**
 * @param blank called where nothing at all is drawn: a picture within a page that cannot be unpacked
 */
function render(page: string, blank?: () => never): Pixels {
  let picture: InstanceType<typeof Resvg>;
  try {
    picture = new Resvg(page);
  } catch (error) {
    throw new NotAPicture(`it is not an SVG that can be drawn: ${error}`, SAVE_AGAIN);
  }
  const isVector = blank === undefined;
  const long = Math.max(picture.width, picture.height);
  const fitted = isVector
    ? new Resvg(page, { fitTo: { mode: 'zoom', value: VECTOR_SIDE / long } })
    : picture;
  const { pixels, width, height } = fitted.render();
  if (blank !== undefined && pixels.every((byte: number) => byte === 0)) blank();
  return pixelsOfRgba(pixels, width, height);
}

/** An SVG as a PNG, at its own size. */
export async function pngOfSvg(text: string, { svg }: Decoders): Promise<Uint8Array> {
  ready ??= initWasm(svg);
  await ready;
  return new Resvg(text).render().asPng();
}

function base64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x8000) {
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  }
  return btoa(text);
}
