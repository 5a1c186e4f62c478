/** The tape's work of the page, and what else takes time: each job is a question with one answer. */

import type { Listing } from '../../../grammar/tree.js';
import { Positions } from '../../editing/positions.js';
import { looksLikeImage, NotAnImage } from '../../image/areas.js';
import { buildImage, ramOf } from '../../image/build.js';
import { utf8Text } from '../../image/kind.js';
import { withNotes } from '../../image/notes.js';
import { listingOfImage } from '../../image/read.js';
import { drawKeyboard } from '../../keys/keyboard-drawing.js';
import { keysOfListing, type LineKeys } from '../../keys/keys.js';
import { hasErrors } from '../../listing/diagnostics.js';
import { charactersText } from '../../listing/print.js';
import { readListing } from '../../listing/read.js';
import { nameOfFile, tapeName } from '../../listing/tape-name.js';
import { tooLarge } from '../../listing/too-large.js';
import { chosenRam } from '../../machine/ram-size.js';
import type { RecoveredProgram, Recovery } from '../../tape/reading/recovery.js';
import { ProgramListener, recoverPrograms } from '../../tape/recover.js';
import { HEAD_SIZE, isPlain, type SoundKind, soundKindOf } from '../../tape/samples/sound-kind.js';
import { SoundError } from '../../tape/sound-error.js';
import { type DoubtNumbers, doubtNotes, doubtNumbers } from '../../tape/telling/doubt-text.js';
import {
  planRecording,
  type RecordOptions,
  recordProgram,
  secondsOnTape,
} from '../../tape/writing/record.js';
import type { TapeProgram } from '../../tape/writing/tape-bytes.js';
import { type Question, questionsOf } from '../../transcribe/questions.js';
import { transcribe } from '../../transcribe/transcribe.js';
import { Mp3Decoder } from './mp3-decoder.js';

declare const SAMPLES: readonly Sample[];

export interface Sample {
  readonly name: string;
  readonly text: string;
}

/** A listing as the page has it. */
export interface Written {
  readonly text: string;
  /** RAM such as `16K`, where a person chose it. */
  readonly ram?: string;
}

export interface Built {
  /** Name on tape. */
  readonly name: string;
  readonly image: Uint8Array;
  /** Seconds of sound from the first pulse to the last. */
  readonly seconds: number;
}

/** A program out of a file or a sound. */
export interface Found {
  readonly name: string;
  readonly text: string;
  readonly image: Uint8Array;
  readonly doubts: DoubtNumbers;
  /** Rows of the text, from 1, with something in doubt. */
  readonly doubtfulRows: readonly number[];
}

/** What a file holds. */
export type FileContent =
  | { readonly kind: 'listing'; readonly text: string }
  | ({ readonly kind: 'programs' } & FoundInSound)
  /** Text that is no clean listing: a scanned page, or one with mistakes. */
  | { readonly kind: 'page'; readonly text: string }
  /** A sound that a browser may decode. */
  | { readonly kind: 'sound'; readonly sound: SoundKind }
  | { readonly kind: 'unknown' };

export interface FoundInSound {
  readonly programs: readonly Found[];
  /** Seconds from which to which there is a piece of a program without its beginning. */
  readonly piece?: { readonly start: number; readonly end: number };
}

export interface Transcribed {
  readonly text: string;
  readonly changes: number;
  readonly questions: readonly Question[];
}

/** What a person hears of a sound that comes in. */
export interface Heard {
  /** Highest sample since the last, 0 to 1. */
  readonly level: number;
  /** Programs that are new. */
  readonly programs: readonly Found[];
}

export type SoundShape = Pick<RecordOptions, 'rate' | 'level' | 'invert' | 'shape'>;

/** The message of an Impossible is for a person. */
export class Impossible extends Error {}

/** Seconds of sound that are handed on at a time. */
const PIECE_SECONDS = 2;
const BITS = 16;

export class TapeJobs {
  private playing: Iterator<Uint8Array> | undefined;
  private rate = 0;
  /** What hears the microphone or line in, and what hears a sound that comes in pieces. */
  private listener: ProgramListener | undefined;
  private sound: ProgramListener | undefined;
  /** A file that may be decoded here, until it is known whether that can be. */
  private mp3: Uint8Array | undefined;
  private decoder: Mp3Decoder | undefined;
  private heard = 0;
  private level = 0;

  constructor(private readonly tell: (heard: Heard) => void) {}

  /** The listing's image. */
  build(written: Written): Built {
    const program = programOf(written);
    return {
      name: charactersText(program.name, false),
      image: program.image,
      seconds: secondsOnTape(program),
    };
  }

  /** Begins to make a sound; gives how long it is. */
  play({ written, shape }: { written: Written; shape: SoundShape }): number {
    const plan = planRecording([programOf(written)], { ...shape, bits: BITS });
    this.playing = plan.pieces();
    this.rate = shape.rate!;
    // The head of the file is no sound.
    this.playing.next();
    return plan.seconds;
  }

  /** The next seconds of it; empty at its end. */
  more(): Float32Array {
    const wanted = PIECE_SECONDS * this.rate;
    const samples = new Float32Array(wanted + (1 << 16));
    let used = 0;
    while (used < wanted) {
      const piece = this.playing?.next();
      if (piece === undefined || piece.done) break;
      const view = new DataView(piece.value.buffer, piece.value.byteOffset, piece.value.length);
      for (let at = 0; at + 1 < piece.value.length; at += 2) {
        samples[used++] = view.getInt16(at, true) / 0x8000;
      }
    }
    return samples.slice(0, used);
  }

  /** The whole recording as a WAV file. */
  record({ written, shape }: { written: Written; shape: SoundShape }): Uint8Array {
    return recordProgram(programOf(written), { ...shape, bits: BITS });
  }

  /** What a file holds. */
  read({ bytes, file }: { bytes: Uint8Array; file: string }): FileContent {
    const sound = soundKindOf(bytes.subarray(0, HEAD_SIZE));
    if (sound !== undefined) {
      if (!isPlain(sound)) {
        this.mp3 = sound === 'MP3' ? bytes : undefined;
        return { kind: 'sound', sound };
      }
      return { kind: 'programs', ...found(recovered(bytes)) };
    }
    const text = textOf(bytes);
    if (text === undefined) {
      if (!looksLikeImage(bytes)) return { kind: 'unknown' };
      return { kind: 'programs', programs: [foundInImage(bytes, nameOfFile(file))] };
    }
    const refused = tooLarge(text);
    if (refused !== undefined) throw new Impossible(`${refused.message}; ${refused.why}`);
    const isListing = !hasErrors(readListing(text).diagnostics) || /\.bas$/i.test(file);
    return { kind: isListing ? 'listing' : 'page', text };
  }

  /** A piece of a sound that the browser has decoded: a sequence of samples a channel. */
  soundPiece({ rate, channels }: { rate: number; channels: readonly Float32Array[] }): void {
    this.sound ??= new ProgramListener();
    this.sound.take([...channels], channels[0].length, rate);
  }

  /** Begins to decode the MP3 that was read: says whether that can be here. */
  async decode(): Promise<boolean> {
    const { mp3 } = this;
    this.mp3 = undefined;
    this.decoder = mp3 && (await Mp3Decoder.of(mp3));
    return this.decoder !== undefined;
  }

  /** Decodes its next seconds: says how much is done, 0 to 1; nothing where the decoder gave up. */
  async decodeMore(): Promise<number | undefined> {
    const { decoder } = this;
    if (decoder === undefined) return undefined;
    try {
      for (const channels of await decoder.more())
        this.soundPiece({ rate: decoder.rate, channels });
      return decoder.part;
    } catch {
      // It gives up at the first damaged frame; the page's own way goes past it.
      this.sound = undefined;
      return undefined;
    }
  }

  /** The programs in all its pieces. */
  soundEnd(): FoundInSound {
    const { sound } = this;
    this.sound = undefined;
    this.decoder = undefined;
    return sound === undefined ? { programs: [] } : found(sound.finish());
  }

  /** Begins to listen; samples come by the port. */
  listen({ rate, port }: { rate: number; port: MessagePort }): void {
    this.listener = new ProgramListener();
    this.heard = 0;
    port.onmessage = ({ data }: MessageEvent<Float32Array>) => this.hear(data, rate);
  }

  /** The end of listening: what is still to be told, and how much there was in all. */
  listenEnd(): { readonly programs: number; readonly piece?: FoundInSound['piece'] } {
    const { listener } = this;
    this.listener = undefined;
    if (listener === undefined || listener.seconds === 0) return { programs: 0 };
    const recovery = listener.finish();
    this.tellNew(recovery.programs);
    return { programs: this.heard, piece: pieceOf(recovery) };
  }

  private hear(samples: Float32Array, rate: number): void {
    if (this.listener === undefined) return;
    for (const sample of samples) this.level = Math.max(this.level, Math.abs(sample));
    this.listener.take([samples], samples.length, rate);
    this.tellNew(this.listener.soFar());
  }

  private tellNew(programs: readonly RecoveredProgram[]): void {
    const fresh = programs.slice(this.heard).map(foundOnTape);
    this.heard = Math.max(this.heard, programs.length);
    this.tell({ level: this.level, programs: fresh });
    this.level = 0;
  }

  /** A printed page, read again; questions are told with their places in it. */
  transcribe(source: string): Transcribed {
    const { text, notes } = transcribe(source);
    return {
      text,
      changes: notes.filter(({ made }) => made).length,
      questions: questionsOf(notes),
    };
  }

  /** The keys for every line, and the drawing of the keyboard. */
  keys({ text }: Written): { lines: readonly LineKeys[]; drawing: string } {
    return { lines: keysOfListing(faultless(text)).lines, drawing: drawKeyboard() };
  }

  samples(): readonly Sample[] {
    return SAMPLES;
  }
}

function programOf({ text, ram }: Written): TapeProgram {
  const listing = faultless(text);
  if (listing.lines.length === 0) throw new Impossible('the listing has no line');
  const built = buildImage(listing, { ram: ramOf(listing, chosenRam(ram)) });
  const { image } = built;
  if (image === undefined) throw new Impossible(built.diagnostics[0].message);
  return { name: tapeName(listing, ''), image };
}

/** A listing without errors. Throws Impossible for the first that there is, at its row and column. */
function faultless(text: string): Listing {
  const { listing, diagnostics } = readListing(text);
  const error = diagnostics.find(({ severity }) => severity === 'error');
  if (error === undefined) return listing;
  const { line, character } = new Positions(text).positionAt(error.start);
  throw new Impossible(`${line + 1}:${character + 1}: ${error.message}`);
}

/** Bytes as text, in UTF-8 or marked as UTF-16; undefined where they are none. */
function textOf(bytes: Uint8Array): string | undefined {
  const [first, second] = bytes;
  const label = first === 0xff && second === 0xfe ? 'utf-16le' : 'utf-16be';
  if (label === 'utf-16le' || (first === 0xfe && second === 0xff)) {
    return new TextDecoder(label).decode(bytes);
  }
  return bytes.includes(0) ? undefined : utf8Text(bytes);
}

function recovered(sound: Uint8Array): Recovery {
  try {
    return recoverPrograms(sound, { partial: true });
  } catch (error) {
    if (!(error instanceof SoundError)) throw error;
    throw new Impossible(error.message);
  }
}

const found = (recovery: Recovery): FoundInSound => ({
  programs: recovery.programs.map(foundOnTape),
  piece: pieceOf(recovery),
});

/** The longest stretch of bits that belongs to no program that was found. */
function pieceOf({ fragments }: Recovery): FoundInSound['piece'] {
  const [longest] = [...fragments].sort((a, b) => b.bits - a.bits);
  return longest && { start: longest.start, end: longest.end };
}

function foundOnTape({ name, image, doubts }: RecoveredProgram): Found {
  return foundInImage(image, name, doubts);
}

function foundInImage(
  image: Uint8Array,
  name: Uint8Array,
  doubts: RecoveredProgram['doubts'] = [],
): Found {
  const title = charactersText(name, false);
  try {
    const text = withNotes(listingOfImage(image, { name }), doubtNotes(doubts));
    const numbers = doubtNumbers(doubts);
    return { name: title, text, image, doubts: numbers, doubtfulRows: doubtfulRows(text) };
  } catch (error) {
    if (!(error instanceof NotAnImage)) throw error;
    throw new Impossible(error.message);
  }
}

/** Rows with a note on a doubt, and the row that it is about. */
function doubtfulRows(text: string): number[] {
  const rows = text.split('\n');
  return rows.flatMap((row, at) => (row.startsWith("' doubtful: ") ? [at + 1, at + 2] : []));
}
