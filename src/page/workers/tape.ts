/** The tape's work of the page, and what else takes time: each job is a question with one answer. */
import { buildImage, ramOf } from '../../image/build.js';
import { kindOfFile } from '../../image/kind.js';
import { withNotes } from '../../image/notes.js';
import { listingOfImage, NotAnImage } from '../../image/read.js';
import { drawKeyboard } from '../../keys/keyboard-drawing.js';
import { keysOfListing, type LineKeys } from '../../keys/keys.js';
import { hasErrors } from '../../listing/diagnostics.js';
import { charactersText } from '../../listing/print.js';
import { readListing } from '../../listing/read.js';
import { nameOfFile, tapeName } from '../../listing/tape-name.js';
import { readRamSize } from '../../machine/ram-size.js';
import type { RecoveredProgram } from '../../tape/reading/recovery.js';
import { Recoverer, recoverPrograms } from '../../tape/recover.js';
import { SoundError } from '../../tape/sound-error.js';
import { doubtNotes } from '../../tape/telling/doubt-text.js';
import { planRecording, type RecordOptions, secondsOnTape } from '../../tape/writing/record.js';
import type { TapeProgram } from '../../tape/writing/tape-bytes.js';
import { putSample, waveHeader } from '../../tape/writing/wave-header.js';
import { questionsOf } from '../../transcribe/questions.js';
import { transcribe } from '../../transcribe/transcribe.js';

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
  readonly doubts: number;
  /** Rows of the text, from 1, with something in doubt. */
  readonly doubtfulRows: readonly number[];
}

/** What a file holds. */
export type FileContent =
  | { readonly kind: 'listing'; readonly text: string }
  | { readonly kind: 'programs'; readonly programs: readonly Found[] }
  /** Text that is no clean listing: a scanned page, or one with mistakes. */
  | { readonly kind: 'page'; readonly text: string }
  /** Perhaps a sound in a form that a browser decodes. */
  | { readonly kind: 'unknown' };

export interface Transcribed {
  readonly text: string;
  readonly changes: number;
  readonly questions: readonly {
    readonly from: string;
    readonly why: string;
    readonly lines: readonly number[];
    readonly candidates: readonly string[];
    readonly places: readonly { readonly start: number; readonly end: number }[];
  }[];
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
  private recoverer: Recoverer | undefined;
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
    const plan = planRecording([programOf(written)], { ...shape, bits: BITS });
    const file = new Uint8Array(plan.size);
    let at = 0;
    for (const piece of plan.pieces()) {
      file.set(piece, at);
      at += piece.length;
    }
    return file;
  }

  /** What a file holds. */
  read({ bytes, file }: { bytes: Uint8Array; file: string }): FileContent {
    switch (kindOfFile(bytes)) {
      case 'recording':
        return { kind: 'programs', programs: recovered(bytes) };
      case 'image':
        return { kind: 'programs', programs: [foundInImage(bytes, nameOfFile(file))] };
      case 'unknown':
        return { kind: 'unknown' };
      default: {
        const text = new TextDecoder().decode(bytes);
        const isListing = !hasErrors(readListing(text).diagnostics) || /\.bas$/i.test(file);
        return { kind: isListing ? 'listing' : 'page', text };
      }
    }
  }

  /** The programs in a sound that the browser has decoded: a sequence of samples a channel. */
  sound({ rate, channels }: { rate: number; channels: readonly Float32Array[] }): readonly Found[] {
    const found = channels.map((samples) => recoveredFrom(samples, rate));
    // Of the channels, the one in which more is sure.
    found.sort((a, b) => b.length - a.length || doubtsIn(a) - doubtsIn(b));
    return found[0] ?? [];
  }

  /** Begins to listen; samples come by the port. */
  listen({ rate, port }: { rate: number; port: MessagePort }): void {
    const recoverer = new Recoverer({ partial: true });
    recoverer.push(waveHeader(rate, BITS, MOST_SAMPLES));
    this.recoverer = recoverer;
    this.heard = 0;
    port.onmessage = ({ data }: MessageEvent<Float32Array>) => this.hear(data);
  }

  /** The end of listening: what is still to be told, and whether there was any program at all. */
  listenEnd(): number {
    const { recoverer } = this;
    this.recoverer = undefined;
    if (recoverer === undefined) return 0;
    try {
      this.tellNew(recoverer.finish().programs);
    } catch (error) {
      // Without a single sample there is nothing to be read.
      if (!(error instanceof SoundError)) throw error;
    }
    return this.heard;
  }

  private hear(samples: Float32Array): void {
    if (this.recoverer === undefined) return;
    for (const sample of samples) this.level = Math.max(this.level, Math.abs(sample));
    this.recoverer.push(asBytes(samples));
    this.tellNew(this.recoverer.soFar());
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
    const { listing, diagnostics } = readListing(text);
    const error = diagnostics.find(({ severity }) => severity === 'error');
    if (error !== undefined) throw new Impossible(error.message);
    return { lines: keysOfListing(listing).lines, drawing: drawKeyboard() };
  }

  samples(): readonly Sample[] {
    return SAMPLES;
  }
}

/** More than six hours at the highest rate that is usual. */
const MOST_SAMPLES = 0x7fff0000 / 2;

function programOf({ text, ram }: Written): TapeProgram {
  const { listing, diagnostics } = readListing(text);
  const error = diagnostics.find(({ severity }) => severity === 'error');
  if (error !== undefined) throw new Impossible(error.message);
  if (listing.lines.length === 0) throw new Impossible('the listing has no line');
  const size = ram === undefined ? undefined : readRamSize(ram);
  const built = buildImage(listing, {
    ram: ramOf(listing, typeof size === 'number' ? size : undefined),
  });
  const { image } = built;
  if (image === undefined) throw new Impossible(built.diagnostics[0].message);
  return { name: tapeName(listing, ''), image };
}

function recovered(wave: Uint8Array): Found[] {
  try {
    return recoverPrograms(wave, { partial: true }).programs.map(foundOnTape);
  } catch (error) {
    if (!(error instanceof SoundError)) throw error;
    throw new Impossible(error.message);
  }
}

function recoveredFrom(samples: Float32Array, rate: number): Found[] {
  const recoverer = new Recoverer({ partial: true });
  recoverer.push(waveHeader(rate, BITS, samples.length));
  const piece = 1 << 15;
  for (let at = 0; at < samples.length; at += piece) {
    recoverer.push(asBytes(samples.subarray(at, at + piece)));
  }
  return recoverer.finish().programs.map(foundOnTape);
}

const doubtsIn = (found: readonly Found[]): number =>
  found.reduce((sum, { doubts }) => sum + doubts, 0);

function asBytes(samples: Float32Array): Uint8Array {
  const bytes = new Uint8Array(samples.length * 2);
  samples.forEach((sample, index) => {
    putSample(bytes, index, BITS, Math.min(1, Math.max(-1, sample)));
  });
  return bytes;
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
    return { name: title, text, image, doubts: doubts.length, doubtfulRows: doubtfulRows(text) };
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
