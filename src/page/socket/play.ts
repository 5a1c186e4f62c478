/** Plays the listing's sound: made in the worker, handed to the browser's sound some seconds ahead. */
import { $, saveFile, setText } from '../dom.js';
import { TEXTS } from '../texts.js';
import type { Built, SoundShape, Written } from '../workers/tape.js';
import { CannotBe, type Tape } from './tape.js';

/** Seconds of sound that are handed over ahead: neither typing nor a page out of sight breaks it off. */
const AHEAD = 20;
/** Milliseconds between two looks at how far it is. */
const LOOK = 250;
const WAV_RATE = 44100;

const t = TEXTS.socket;
const input = (id: string): HTMLInputElement => $<HTMLInputElement>(id);

export class Player {
  private context: AudioContext | undefined;
  private gain: GainNode | undefined;
  private timer: ReturnType<typeof setInterval> | undefined;
  private lock: { release(): Promise<void> } | undefined;
  private wasCautioned = false;
  /** When the sound began, and when what is handed over ends, in the context's time. */
  private began = 0;
  private until = 0;
  private seconds = 0;
  private isAsking = false;
  private isAllThere = false;

  constructor(
    private readonly tape: Tape,
    private readonly source: Written,
  ) {
    $('play').onclick = () => {
      if (this.context !== undefined) this.end(t.stopped);
      else if (this.wasCautioned) void this.play();
      else $<HTMLDialogElement>('caution').showModal();
    };
    $('caution-yes').onclick = () => {
      this.wasCautioned = true;
      $<HTMLDialogElement>('caution').close();
      void this.play();
    };
    input('level').oninput = () => {
      if (this.gain !== undefined) this.gain.gain.value = this.level;
    };
    $('save-image').onclick = () =>
      void this.save(({ name, image }) => saveFile(name, 'img', image as BlobPart));
    $('save-sound').onclick = () => void this.save((built) => this.saveSound(built));
    // A lock on the screen is lost with the page out of sight, and asked for again.
    document.addEventListener('visibilitychange', () => {
      if (this.context !== undefined && !document.hidden) void this.holdScreen();
    });
  }

  private get level(): number {
    return Number(input('level').value) / 100;
  }

  private shape(rate: number, level: number): SoundShape {
    const shape = input('rounded').checked ? 'rounded' : 'square';
    return { rate, level, invert: input('invert').checked, shape };
  }

  private get written(): Written {
    const { text, ram } = this.source;
    return { text, ram };
  }

  private async play(): Promise<void> {
    // Made within the click: browsers give no sound otherwise.
    const context = new AudioContext();
    this.context = context;
    $('play').textContent = t.stop;
    try {
      const shape = this.shape(context.sampleRate, 1);
      this.seconds = await this.tape.ask('play', { written: this.written, shape });
    } catch (error) {
      if (!(error instanceof CannotBe)) throw error;
      return this.end(error.message);
    }
    if (this.context !== context) return;
    this.gain = context.createGain();
    this.gain.gain.value = this.level;
    this.gain.connect(context.destination);
    await context.resume();
    this.began = context.currentTime + 0.1;
    this.until = this.began;
    this.isAllThere = false;
    this.timer = setInterval(() => void this.look(), LOOK);
    void this.holdScreen();
    await this.look();
  }

  private async look(): Promise<void> {
    const { context } = this;
    if (context === undefined) return;
    const played = Math.max(0, context.currentTime - this.began);
    $<HTMLProgressElement>('played').value = Math.min(1, played / this.seconds);
    setText($('time-left'), t.left(timeText(Math.max(0, this.seconds - played))));
    if (this.isAllThere && context.currentTime >= this.until) return this.end(t.played);
    if (this.isAsking) return;
    this.isAsking = true;
    while (!this.isAllThere && this.until - context.currentTime < AHEAD) {
      const samples = await this.tape.ask('more', undefined);
      if (this.context !== context) return;
      this.handOver(context, samples);
    }
    this.isAsking = false;
  }

  /** Lets the browser play these samples right behind those before. */
  private handOver(context: AudioContext, samples: Float32Array): void {
    if (samples.length === 0) {
      this.isAllThere = true;
      return;
    }
    const buffer = context.createBuffer(1, samples.length, context.sampleRate);
    buffer.getChannelData(0).set(samples);
    const node = context.createBufferSource();
    node.buffer = buffer;
    node.connect(this.gain!);
    node.start(this.until);
    this.until += buffer.duration;
  }

  private end(words: string): void {
    clearInterval(this.timer);
    void this.context?.close();
    this.context = undefined;
    this.gain = undefined;
    this.isAsking = false;
    void this.lock?.release();
    this.lock = undefined;
    $('play').textContent = t.play;
    $<HTMLProgressElement>('played').value = 0;
    $('time-left').textContent = words;
  }

  /** Keeps the screen lit while it plays, where the browser can. */
  private async holdScreen(): Promise<void> {
    try {
      this.lock = await navigator.wakeLock?.request('screen');
    } catch {
      // A low battery, or no leave: the sound plays all the same.
    }
  }

  private async save(what: (built: Built) => Promise<void> | void): Promise<void> {
    try {
      await what(await this.tape.ask('build', this.written));
      $('time-left').textContent = '';
    } catch (error) {
      if (!(error instanceof CannotBe)) throw error;
      $('time-left').textContent = error.message;
    }
  }

  private async saveSound({ name }: Built): Promise<void> {
    const shape = this.shape(WAV_RATE, this.level);
    const wave = await this.tape.ask('record', { written: this.written, shape });
    saveFile(name, 'wav', wave as BlobPart);
  }
}

/** `1:05`: minutes and seconds. */
export function timeText(seconds: number): string {
  const whole = Math.ceil(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}
