/** Listening to a tape as it plays: the level, each program as it ends, and the end of it all. */
import type { RecoveredProgram, Recovery } from '../../tape/reading/recovery.js';
import type { ProgramListener } from '../../tape/recover.js';
import { BLOCK } from '../../tape/samples/sound-format.js';
import { timeText } from '../../tape/telling/doubt-text.js';
import { type Level, levelOf } from '../../tape/telling/level.js';
import { waveHeader } from '../../tape/writing/wave-header.js';
import { endSoftly } from '../common/ending.js';
import { CannotAsk, openWhole, placeOf, tell, type WholeFile } from '../common/io.js';
import { bar } from '../common/progress.js';
import { count, counter, duration } from '../common/show.js';
import { hear, RECORDING_RATE } from './recorder.js';

/** Seconds between two looks at the level and at what was read. */
const LOOK = 0.25;
/** So long nothing is heard after the last program before that was all. */
const QUIET = 12;
/** So long no bit is read: where hiss goes on, or music follows, that was all too. */
const BITLESS = 30;

/** Silence between programs is so much softer than the loudest there was. */
const QUIET_PART = 0.1;

const ADVICE: Record<Level, string> = {
  'nothing heard': 'nothing heard: play the tape',
  'too quiet': 'too quiet: turn it up',
  good: 'good',
  'too loud': 'too loud: turn it down',
};

const adviceFor = (level: Level, programs: number): string =>
  level === 'nothing heard' && programs > 0 ? 'silence' : ADVICE[level];

export interface Heard {
  readonly recovery: Recovery;
  /** What the recorder said where it failed before the end. */
  readonly fault?: string;
}

/**
 * Listens until the tape is over, the recorder ends or Ctrl-C is pressed. Throws CannotAsk.
 * @param save where the sound is kept as a WAV file
 * @param told is called with each program once it has ended
 */
export async function listen(
  listener: ProgramListener,
  save: string | undefined,
  told: (program: RecoveredProgram) => void,
): Promise<Heard> {
  const file = save === undefined ? undefined : openSound(save);
  const ear = new Ear(listener, file, told);
  const asked = new AbortController();
  const ended = endSoftly(() => asked.abort());
  let fault: string | undefined;
  try {
    ({ fault } = await hear((bytes) => ear.take(bytes), asked.signal));
    ear.end();
    if (ear.samples === 0) throw new CannotAsk('nothing was heard', 'listen for longer');
    file?.finish(ear.samples);
  } catch (error) {
    ear.end();
    file?.abandon();
    throw error;
  } finally {
    ended();
  }
  return { recovery: listener.finish(), fault };
}

class Ear {
  samples = 0;
  private readonly line = new LevelLine();
  private readonly block = new Float32Array(BLOCK);
  private peak = 0;
  private loudest = 0;
  private nextLook = LOOK;
  private lastLoud = 0;
  private known = 0;

  constructor(
    private readonly listener: ProgramListener,
    private readonly file: SavedSound | undefined,
    private readonly told: (program: RecoveredProgram) => void,
  ) {}

  /** Takes 16-bit samples; false once the tape is over. */
  take(bytes: Uint8Array): boolean {
    this.file?.write(bytes);
    const data = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const count = bytes.length / 2;
    for (let at = 0; at < count; at += BLOCK) {
      const size = Math.min(BLOCK, count - at);
      for (let i = 0; i < size; i++) {
        const sample = data.getInt16(2 * (at + i), true) / 0x8000;
        this.block[i] = sample;
        this.peak = Math.max(this.peak, Math.abs(sample));
      }
      this.listener.take([this.block], size, RECORDING_RATE);
      this.samples += size;
      if (this.samples / RECORDING_RATE >= this.nextLook && !this.look()) return false;
    }
    return true;
  }

  end(): void {
    this.line.end();
  }

  /** Shows what there is; false once the tape is over. */
  private look(): boolean {
    const now = this.samples / RECORDING_RATE;
    this.nextLook = now + LOOK;
    const { peak } = this;
    this.peak = 0;
    this.loudest = Math.max(this.loudest, peak);
    const isLoud = levelOf(peak) !== 'nothing heard' && peak > QUIET_PART * this.loudest;
    if (isLoud) this.lastLoud = now;
    const programs = this.listener.soFar();
    for (; this.known < programs.length; this.known++) {
      this.line.end();
      this.told(programs[this.known]);
    }
    this.line.show(now, peak, programs.length);
    if (programs.length === 0) return true;
    return now - this.lastLoud < QUIET && now - this.listener.lastBit() < BITLESS;
  }
}

const WIDTH = 20;

/** One line on a terminal, drawn over and over; elsewhere a line whenever the judgement changes. */
class LevelLine {
  private shown = 0;
  private said: Level | undefined;
  private saidAt = Number.NEGATIVE_INFINITY;

  show(seconds: number, peak: number, programs: number): void {
    const level = levelOf(peak);
    const { stderr } = process;
    if (!stderr.isTTY) {
      // A pause of the tape is no change, and no more than a line in five seconds is told.
      if (level === this.said || seconds - this.saidAt < 5) return;
      this.said = level;
      this.saidAt = seconds;
      tell(`${timeText(seconds)}  level: ${adviceFor(level, programs)}`);
      return;
    }
    // Decibels below the most that there is: a bar of samples would hardly move.
    const part = Math.max(0, 1 + Math.log10(Math.max(peak, 1e-6)) / 2);
    const text = `listening ${counter(seconds)} ${bar(part, WIDTH)} ${adviceFor(level, programs)}; ${count(programs, 'program')}`;
    stderr.write(`\r${text}${' '.repeat(Math.max(0, this.shown - text.length))}`);
    this.shown = text.length;
  }

  /** Takes the line away. */
  end(): void {
    if (this.shown > 0) process.stderr.write(`\r${' '.repeat(this.shown)}\r`);
    this.shown = 0;
  }
}

interface SavedSound {
  write(bytes: Uint8Array): void;
  finish(samples: number): void;
  abandon(): void;
}

/** A WAV file whose header is right once all of the sound is there. */
function openSound(path: string): SavedSound {
  const file: WholeFile = openWhole(path);
  file.write(waveHeader(RECORDING_RATE, 16, 0));
  return {
    write: (bytes) => file.write(bytes),
    finish(samples) {
      file.begin(waveHeader(RECORDING_RATE, 16, samples));
      file.finish();
      tell(`${placeOf(path)}: ${duration(samples / RECORDING_RATE)} of sound kept`);
    },
    abandon: () => file.abandon(),
  };
}
