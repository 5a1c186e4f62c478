/** The sound that comes in, in an AudioWorklet: handed on as it is, some thousand samples at a time. */
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor): void;

const SIZE = 4096;

class Listening extends AudioWorkletProcessor {
  private block = new Float32Array(SIZE);
  private used = 0;
  private target: MessagePort | undefined;

  constructor() {
    super();
    // Where it goes: to the worker itself, past the page.
    this.port.onmessage = ({ data }: MessageEvent<MessagePort>) => {
      this.target = data;
    };
  }

  process([channels]: Float32Array[][]): boolean {
    const [samples] = channels;
    if (samples === undefined) return true;
    for (const sample of samples) {
      this.block[this.used++] = sample;
      if (this.used < SIZE) continue;
      this.target?.postMessage(this.block, [this.block.buffer]);
      this.block = new Float32Array(SIZE);
      this.used = 0;
    }
    return true;
  }
}

registerProcessor('listening', Listening);
