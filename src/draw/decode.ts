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

/**
 * Pixels that are unpacked: what most phones give, or a page at 300 dots an inch. Unpacking takes some
 * 16 bytes of memory for each.
 */
const MOST_PIXELS = 13e6;
/** The longer side of a drawing that has no pixels of its own: more than enough for 64 blocks. */
const VECTOR_SIDE = 1024;

/** Where the page with a packed picture says that it is: it is handed over, not looked for. */
const PLACE = 'https://picture.invalid/';
const SAVE_AGAIN = 'open it in a program that shows it, and save it again as PNG';

/** Node and every browser have it; the types that are read here know it only as a name of types. */
const WASM = (
  globalThis as unknown as {
    WebAssembly: { compile(bytes: Uint8Array): Promise<WebAssembly.Module> };
  }
).WebAssembly;

let ready: Promise<unknown> | undefined;

/** Loads what draws. Only the first call takes time. */
export const makeReady = ({ svg }: Decoders): Promise<unknown> => {
  ready ??= initWasm(svg);
  return ready;
};

/** The pixels of a picture. Throws NotAPicture. */
export async function decodePicture(
  bytes: Uint8Array,
  kind: PictureKind,
  decoders: Decoders,
): Promise<Pixels> {
  await makeReady(decoders);
  if (kind === 'svg') return drawn(new TextDecoder().decode(bytes));
  const { width, height, orientation } = sizeOf(bytes);
  if (kind === 'webp') {
    await initWebp(await WASM.compile(decoders.webp));
    const { data } = await decodeWebp(Uint8Array.from(bytes).buffer).catch(() => damaged());
    return pixelsOfRgba(Uint8Array.from(data), width, height);
  }
  return upright(unpacked(bytes, width, height), orientation);
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

/** A packed picture, drawn on a page of its own size. */
function unpacked(bytes: Uint8Array, width: number, height: number): Pixels {
  const size = `width="${width}" height="${height}"`;
  const page = new Resvg(
    `<svg xmlns="http://www.w3.org/2000/svg" ${size}><image ${size} image-rendering="optimizeSpeed" href="${PLACE}"/></svg>`,
  );
  page.resolveImage(PLACE, bytes);
  const { pixels } = page.render();
  // Nothing at all is drawn of what cannot be unpacked.
  if (pixels.every((byte: number) => byte === 0)) damaged();
  return pixelsOfRgba(pixels, width, height);
}

function drawn(page: string): Pixels {
  try {
    const { width, height } = new Resvg(page);
    const value = VECTOR_SIDE / Math.max(width, height);
    const image = new Resvg(page, { fitTo: { mode: 'zoom', value } }).render();
    return pixelsOfRgba(image.pixels, image.width, image.height);
  } catch (error) {
    throw new NotAPicture(`it is not an SVG that can be drawn: ${error}`, SAVE_AGAIN);
  }
}

/** An SVG as a PNG, at its own size. */
export async function pngOfSvg(text: string, decoders: Decoders): Promise<Uint8Array> {
  await makeReady(decoders);
  return new Resvg(text).render().asPng();
}
