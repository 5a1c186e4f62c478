/**
 * Recordings to programs. Pieces of a sound file go in as they come, programs come out at the end;
 * between, only some seconds of sound and the bits of the program at hand are kept.
 */
import { LARGEST_RAM } from '../machine/ram-size.js';
import { BitFinder, type TapeBit } from './hearing/bit-finder.js';
import { Budget } from './mending/budget.js';
import { readPrograms } from './reading/program-reader.js';
import {
  betterFirst,
  type Channel,
  type Fragment,
  type RecoveredProgram,
  type Recovery,
} from './reading/recovery.js';
import { type Mixer, mixerOf } from './samples/channels.js';
import { LoudnessMeter } from './samples/loudness.js';
import { PlainReader } from './samples/plain-reader.js';
import { readSound } from './samples/read-sound.js';
import { BLOCK, type SoundFormat, type SoundRead } from './samples/sound-format.js';
import { SoundError } from './sound-error.js';
import { timeText } from './telling/doubt-text.js';

export interface RecoverOptions {
  /** Which sound of a stereo recording: the best of all for each program unless given. */
  readonly channel?: Exclude<Channel, 'mono'> | 'best';
  /** Reads a sound file that ends before its header says. */
  readonly partial?: boolean;
}

/** A pause in the bits of this many seconds ends a program: no hole that long is worth bridging. */
const PAUSE_SECONDS = 0.4;
/** No program has more bits, and so many are kept at most. */
const MOST_BITS = 8 * (LARGEST_RAM + 1024);
/** By so much a recording counts as longer: a short one is tried in every way as well. */
const GRACE_SECONDS = 10;

/** The programs in a whole WAV or AIFF file. Throws SoundError. */
export function recoverPrograms(sound: Uint8Array, options: RecoverOptions = {}): Recovery {
  const recoverer = new Recoverer(options);
  for (const piece of piecesOf(sound)) recoverer.push(piece);
  return recoverer.finish();
}

/**
 * The programs in a sound file of any kind that can be read here: WAV, AIFF, MP3, FLAC, Vorbis and
 * Opus in Ogg. Throws SoundError.
 * @param sound the bytes of the file, whole or in pieces as they come
 */
export async function recoverSound(
  sound: Uint8Array | Iterable<Uint8Array> | AsyncIterable<Uint8Array>,
  options: RecoverOptions = {},
): Promise<Recovery> {
  const listener = new ProgramListener(options);
  const pieces = sound instanceof Uint8Array ? piecesOf(sound) : sound;
  return listener.finish(await readSound(pieces, listener.take, options));
}

function* piecesOf(bytes: Uint8Array): Generator<Uint8Array> {
  const piece = 1 << 16;
  for (let at = 0; at < bytes.length; at += piece) yield bytes.subarray(at, at + piece);
}

/** Reads a WAV or AIFF file piece by piece. */
export class Recoverer {
  private readonly listener: ProgramListener;
  private readonly reader: PlainReader;

  constructor(options: RecoverOptions = {}) {
    this.listener = new ProgramListener(options);
    this.reader = new PlainReader(this.listener.take, options.partial);
  }

  /** The next bytes of the file. Throws SoundError. */
  push(bytes: Uint8Array): void {
    this.reader.push(bytes);
  }

  /** The programs that are known to have ended by now, as `ProgramListener` has them. */
  soFar(): readonly RecoveredProgram[] {
    return this.listener.soFar();
  }

  /** The end of the file. Throws SoundError. */
  finish(): Recovery {
    return this.listener.finish(this.reader.finish());
  }
}

/** Hears the programs in samples, whatever they were read from. */
export class ProgramListener {
  private readonly meter = new LoudnessMeter();
  private tracks: Track[] | undefined;
  private samples = 0;
  private format: SoundFormat = { rate: 0, channels: 0 };

  constructor(private readonly options: Pick<RecoverOptions, 'channel'> = {}) {}

  /** Takes the next samples of every channel, of any number. Throws SoundError. */
  readonly take = (samples: Float32Array[], count: number, rate: number): void => {
    for (let at = 0; at < count; at += BLOCK) {
      const block = at === 0 ? samples : samples.map((one) => one.subarray(at));
      this.takeBlock(block, Math.min(BLOCK, count - at), rate);
    }
  };

  private takeBlock(samples: Float32Array[], count: number, rate: number): void {
    const channel = this.options.channel ?? 'best';
    this.tracks ??= firstTracks(channel, samples.length, rate, () => this.tracks!.length);
    if (channel === 'best' && this.tracks.length === 1 && channelsDiffer(samples, count)) {
      // So far all the sounds were the same one, and the first track has it.
      const sounds = () => this.tracks!.length;
      this.tracks.push(...OTHERS.map((name) => new Track(name, rate, sounds, this.seconds)));
    }
    for (const track of this.tracks) track.push(samples, count);
    this.meter.push(samples, count);
    this.samples += count;
    this.format = { rate, channels: samples.length };
  }

  /** Seconds of sound that were taken. */
  get seconds(): number {
    return this.samples === 0 ? 0 : this.samples / this.format.rate;
  }

  /**
   * The programs that are known to have ended by now: a pause follows each. A program appears some
   * two seconds after its end where it is quiet there; in noise up to ten, since unclear sound is
   * judged by what comes after it.
   */
  soFar(): readonly RecoveredProgram[] {
    return bestOf((this.tracks ?? []).map((track) => track.soFar())).programs;
  }

  /** Seconds to the end of the last bit that was heard; 0 before the first. */
  lastBit(): number {
    return Math.max(0, ...(this.tracks ?? []).map((track) => track.lastBit));
  }

  /** The end of the sound, of which there was some; with what was odd about the file that it was read from. */
  finish({ notes }: Pick<SoundRead, 'notes'> = { notes: [] }): Recovery {
    const found = this.tracks!.map((track) => track.finish());
    const { programs, fragments, undone } = bestOf(found);
    return {
      programs,
      fragments,
      seconds: this.seconds,
      ...this.format,
      loudness: this.meter.finish(this.format.rate),
      notes: [...notes, ...(undone.length > 0 ? [undoneNote(undone)] : [])],
    };
  }
}

/** What else is listened to as soon as two channels are not the same. */
const OTHERS = ['left', 'right', 'difference'] as const;

function firstTracks(
  channel: Exclude<RecoverOptions['channel'], undefined>,
  channels: number,
  rate: number,
  sounds: () => number,
): Track[] {
  if (channels > 1) return [new Track(channel === 'best' ? 'mix' : channel, rate, sounds)];
  if (channel === 'right' || channel === 'difference') {
    throw new SoundError(
      `the recording has one channel only, so there is no ${channel}`,
      'leave --channel out',
    );
  }
  return [new Track('mono', rate, sounds)];
}

function channelsDiffer(samples: readonly Float32Array[], count: number): boolean {
  if (samples.length < 2) return false;
  const [left, right] = samples;
  for (let i = 0; i < count; i++) if (left[i] !== right[i]) return true;
  return false;
}

/** One sound of the recording on its way to programs. */
class Track {
  private readonly mixer: Mixer;
  private readonly finder: BitFinder;
  private readonly block = new Float32Array(BLOCK);
  private bits: TapeBit[] = [];
  private readonly programs: RecoveredProgram[] = [];
  private readonly fragments: Fragment[] = [];
  private readonly undone: Span[] = [];
  private readUntil = -GRACE_SECONDS;
  /** Seconds to the end of the last bit. */
  lastBit = 0;

  constructor(
    private readonly channel: Channel,
    rate: number,
    /** How many sounds are read in all. */
    private readonly sounds: () => number,
    private readonly startSeconds = 0,
  ) {
    this.mixer = mixerOf(channel);
    this.finder = new BitFinder(rate, (bit) => this.take(bit));
  }

  push(samples: readonly Float32Array[], count: number): void {
    this.finder.push(this.mixer(samples, count, this.block), count);
  }

  /** What is known of the sound that has been pushed. */
  soFar(): TrackResult {
    this.finder.settleInQuiet();
    const last = this.bits[this.bits.length - 1];
    const known = this.startSeconds + this.finder.settledSeconds;
    if (last !== undefined && known - last.end > PAUSE_SECONDS) this.read();
    return this.result();
  }

  finish(): TrackResult {
    this.finder.finish();
    this.read();
    return this.result();
  }

  private result(): TrackResult {
    const { programs, fragments, undone } = this;
    return { programs, fragments, undone };
  }

  private take(found: TapeBit): void {
    const bit = later(found, this.startSeconds);
    const last = this.bits[this.bits.length - 1];
    const ends = last && bit.start - last.end > PAUSE_SECONDS;
    if (ends || this.bits.length >= MOST_BITS) this.read();
    this.bits.push(bit);
    this.lastBit = bit.end;
  }

  private read(): void {
    const last = this.bits[this.bits.length - 1];
    if (last === undefined) return;
    const budget = Budget.ofSeconds(last.end - this.readUntil, this.sounds());
    const { programs, fragments } = readPrograms(this.bits, this.channel, budget);
    if (budget.overdrawn) this.undone.push({ start: this.bits[0].start, end: last.end });
    this.readUntil = last.end;
    this.programs.push(...programs);
    this.fragments.push(...fragments);
    this.bits = [];
  }
}

/** A bit of a sound that began to be heard so many seconds after the recording did. */
function later(bit: TapeBit, seconds: number): TapeBit {
  if (seconds === 0) return bit;
  const { start, rest, end } = bit;
  return { ...bit, start: start + seconds, rest: rest + seconds, end: end + seconds };
}

interface TrackResult {
  readonly programs: readonly RecoveredProgram[];
  readonly fragments: readonly Fragment[];
  /** Where the budget of work did not suffice. */
  readonly undone: readonly Span[];
}

/** Of programs that several sounds of a recording have at the same time, the best one. */
function bestOf(results: readonly TrackResult[]): TrackResult {
  const ranked = results.flatMap((result) => result.programs).sort(betterFirst);
  const programs: RecoveredProgram[] = [];
  for (const program of ranked) {
    if (!programs.some((chosen) => overlap(chosen, program))) programs.push(program);
  }
  programs.sort((a, b) => a.start - b.start);
  const fragments: Fragment[] = [];
  for (const fragment of results.flatMap((result) => result.fragments)) {
    const known = [...programs, ...fragments].some((other) => overlap(other, fragment));
    if (!known) fragments.push(fragment);
  }
  // What one sound left undone is of no account where another has the program.
  const undone = results
    .flatMap((result) => result.undone)
    .filter((span) => !programs.some((one) => one.doubts.length === 0 && overlap(one, span)))
    .sort((a, b) => a.start - b.start);
  return { programs, fragments, undone };
}

function undoneNote(spans: readonly Span[]): string {
  const end = Math.max(...spans.map((span) => span.end));
  const where = `between ${timeText(spans[0].start)} and ${timeText(end)}`;
  return `too much is unclear ${where} to try every reading of it; what was not tried stays in doubt`;
}

interface Span {
  readonly start: number;
  readonly end: number;
}

function overlap(a: Span, b: Span): boolean {
  return a.start < b.end && b.start < a.end;
}
