/**
 * Pictures with the decoders that read them: a bundle of its own, loaded only when needed. What it
 * throws is of its own copy of a class: it gives what went wrong instead.
 */
import { parentPort, Worker, workerData } from 'node:worker_threads';
import webp from '@jsquash/webp/codec/dec/webp_dec.wasm';
import svg from '@resvg/resvg-wasm/index_bg.wasm';
import { decodePicture, makeReady, NotAPicture, pngOfSvg } from '../draw/decode.js';
import type { PictureKind } from '../draw/picture-kind.js';
import type { Pixels } from '../draw/pixels.js';

const decoders = { svg, webp };

/** Why a picture cannot be read, and what to do. */
export interface Unread {
  readonly why: string;
  readonly help: string;
}

/** The pixels of a picture. */
export function readPicture(bytes: Uint8Array, kind: PictureKind): Promise<Pixels | Unread> {
  return kind === 'svg' ? readDrawing(bytes) : decode(bytes, kind);
}

async function decode(bytes: Uint8Array, kind: PictureKind): Promise<Pixels | Unread> {
  try {
    return await decodePicture(bytes, kind, decoders);
  } catch (error) {
    if (!(error instanceof NotAPicture)) throw error;
    return { why: error.message, help: error.help };
  }
}

/** A drawing as the bytes of a PNG file. */
export const pngOf = (svgText: string): Promise<Uint8Array> => pngOfSvg(svgText, decoders);

/** Seconds of processor time that a drawing may take, and bytes of memory: usual ones take a tenth. */
const MOST_SECONDS = 0.5;
const MOST_BYTES = 150_000_000;

/**
 * A few words of a drawing can ask for any amount of work: it is drawn in a thread, which is ended
 * when it takes too much.
 */
async function readDrawing(drawing: Uint8Array): Promise<Pixels | Unread> {
  const thread = new Worker(__filename, { workerData: { drawing } });
  let timer: ReturnType<typeof setInterval> | undefined;
  try {
    return await new Promise<Pixels | Unread>((resolve, reject) => {
      thread.once('error', reject);
      thread.once('message', () => {
        thread.once('message', resolve);
        timer = setInterval(tooMuch(resolve), 10);
      });
    });
  } finally {
    clearInterval(timer);
    await thread.terminate();
  }
}

/** Looks, from now on, whether a drawing takes too much. */
function tooMuch(found: (unread: Unread) => void): () => void {
  const begun = process.cpuUsage();
  const held = process.memoryUsage.rss();
  return () => {
    const { user, system } = process.cpuUsage(begun);
    const isLong = user + system > MOST_SECONDS * 1e6;
    if (!isLong && process.memoryUsage.rss() - held < MOST_BYTES) return;
    found({
      why: `to draw it takes more than ${isLong ? `${MOST_SECONDS} seconds` : `${MOST_BYTES / 1e6} MB`}`,
      help: 'make it simpler, without filters; or save it as PNG in a program that shows it',
    });
  };
}

/** In the thread: says first that what draws is loaded. */
if (workerData?.drawing !== undefined) {
  void makeReady(decoders).then(async () => {
    parentPort?.postMessage('ready');
    parentPort?.postMessage(await decode(workerData.drawing, 'svg'));
  });
}
