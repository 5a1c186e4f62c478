/**
 * Pictures with the decoders that read them: a bundle of its own, loaded only when needed. What it
 * throws is of its own copy of a class: it gives what went wrong instead.
 */
import webp from '@jsquash/webp/codec/dec/webp_dec.wasm';
import svg from '@resvg/resvg-wasm/index_bg.wasm';
import { decodePicture, NotAPicture, pngOfSvg } from '../draw/decode.js';
import type { PictureKind } from '../draw/picture-kind.js';
import type { Pixels } from '../draw/pixels.js';

const decoders = { svg, webp };

/** Why a picture cannot be read, and what to do. */
export interface Unread {
  readonly why: string;
  readonly help: string;
}

/** The pixels of a picture. */
export async function readPicture(bytes: Uint8Array, kind: PictureKind): Promise<Pixels | Unread> {
  try {
    return await decodePicture(bytes, kind, decoders);
  } catch (error) {
    if (!(error instanceof NotAPicture)) throw error;
    return { why: error.message, help: error.help };
  }
}

/** A drawing as the bytes of a PNG file. */
export const pngOf = (svgText: string): Promise<Uint8Array> => pngOfSvg(svgText, decoders);
