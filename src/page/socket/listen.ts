/** Listens to a tape by microphone or line in, and shows the programs as they end. */
import { levelOf } from '../../tape/telling/level.js';
import { $, setText } from '../dom.js';
import { TEXTS } from '../texts.js';
import { isFromFiles } from '../workers/address.js';
import type { Found, Heard } from '../workers/tape.js';
import { noProgramText } from './files.js';
import type { Tape } from './tape.js';

/** How much of the meter's height is left at the next message, so that it falls slowly. */
const FALL = 0.85;
const BLOCK = 4096;

const t = TEXTS.socket;

export class Listener {
  private stop: (() => void) | undefined;
  private isStarting = false;
  private height = 0;

  constructor(
    private readonly tape: Tape,
    private readonly found: (programs: readonly Found[]) => void,
  ) {
    tape.onHeard = (heard) => this.hear(heard);
    $('listen').onclick = () => void (this.stop === undefined ? this.start() : this.end());
  }

  /** The browser may ask a person first, and that takes as long as it takes. */
  private async start(): Promise<void> {
    if (this.isStarting) return;
    this.isStarting = true;
    $('socket-note').textContent = t.asking;
    try {
      await this.listen();
    } finally {
      this.isStarting = false;
    }
  }

  private async listen(): Promise<void> {
    const note = $('socket-note');
    let stream: MediaStream;
    try {
      if (navigator.mediaDevices === undefined) throw new Error(t.noDevices);
      stream = await navigator.mediaDevices.getUserMedia({
        // Whatever makes a voice clearer takes a tape's pulses apart.
        audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false },
      });
    } catch (error) {
      const { name, message } = error as Error;
      note.textContent = t.noMicrophone(t.microphoneFaults[name] ?? message);
      return;
    }
    const context = new AudioContext();
    const { port1, port2 } = new MessageChannel();
    await this.tape.ask('listen', { rate: context.sampleRate, port: port2 }, [port2]);
    const source = context.createMediaStreamSource(stream);
    source.connect(await ear(context, port1));
    await context.resume();
    this.stop = () => {
      for (const track of stream.getTracks()) track.stop();
      void context.close();
    };
    $('listen').textContent = t.listenStop;
    note.textContent = t.hearing;
  }

  private async end(): Promise<void> {
    this.stop?.();
    this.stop = undefined;
    $('listen').textContent = t.listen;
    $('socket-note').textContent = t.reading;
    const { programs, piece } = await this.tape.ask('listenEnd', undefined);
    $('socket-note').textContent = programs === 0 ? noProgramText(piece) : '';
    $('meter-words').textContent = '';
    $<HTMLMeterElement>('meter').value = 0;
  }

  private hear({ level, programs }: Heard): void {
    this.height = Math.max(level, this.height * FALL);
    if (this.stop !== undefined) {
      $<HTMLMeterElement>('meter').value = this.height;
      setText($('meter-words'), t.levels[levelOf(this.height)]);
    }
    if (programs.length > 0) this.found(programs);
  }
}

/** What hands samples on to the port. From a file system browsers give no worklet: there the older way. */
async function ear(context: AudioContext, port: MessagePort): Promise<AudioNode> {
  if (!isFromFiles) {
    await context.audioWorklet.addModule('listening.js');
    const node = new AudioWorkletNode(context, 'listening', { numberOfOutputs: 0 });
    node.port.postMessage(port, [port]);
    return node;
  }
  const node = context.createScriptProcessor(BLOCK, 1, 1);
  node.onaudioprocess = ({ inputBuffer }) => {
    const samples = inputBuffer.getChannelData(0).slice();
    port.postMessage(samples, [samples.buffer]);
  };
  // It works only while it leads somewhere; what it gives is silence.
  node.connect(context.destination);
  return node;
}
