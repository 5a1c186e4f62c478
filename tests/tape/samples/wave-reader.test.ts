/** Reading WAV files: every form of samples, odd but harmless files, and headers that lie. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { WaveReader } from '../../../src/tape/samples/wave-reader.js';
import { SoundError } from '../../../src/tape/sound-error.js';

interface Made {
  tag?: number;
  channels?: number;
  rate?: number;
  bits?: number;
  byteRate?: number;
  frame?: number;
  extensible?: number;
  data?: Uint8Array;
  dataSize?: number;
  before?: Uint8Array[];
  after?: Uint8Array[];
}

function chunk(name: string, bytes: Uint8Array, size = bytes.length): Uint8Array {
  const made = new Uint8Array(8 + bytes.length + (bytes.length % 2));
  made.set(Buffer.from(name));
  new DataView(made.buffer).setUint32(4, size, true);
  made.set(bytes, 8);
  return made;
}

function makeWave(made: Made): Uint8Array {
  const { tag = 1, channels = 1, rate = 44100, bits = 16, data = new Uint8Array(4) } = made;
  const frame = made.frame ?? (channels * bits) / 8;
  const format = new Uint8Array(made.extensible === undefined ? 16 : 40);
  const view = new DataView(format.buffer);
  view.setUint16(0, made.extensible === undefined ? tag : 0xfffe, true);
  view.setUint16(2, channels, true);
  view.setUint32(4, rate, true);
  view.setUint32(8, made.byteRate ?? rate * frame, true);
  view.setUint16(12, frame, true);
  view.setUint16(14, bits, true);
  if (made.extensible !== undefined) {
    view.setUint16(16, 22, true);
    view.setUint16(24, made.extensible, true);
  }
  const chunks = [
    ...(made.before ?? []),
    chunk('fmt ', format),
    chunk('data', data, made.dataSize),
    ...(made.after ?? []),
  ];
  const body = Buffer.concat([Buffer.from('WAVE'), ...chunks]);
  return Buffer.concat([chunk('RIFF', new Uint8Array(0), body.length), body]);
}

function readAll(wav: Uint8Array, step = wav.length, partial = false) {
  const channels: number[][] = [];
  const reader = new WaveReader((samples, count) => {
    samples.forEach((channel, index) => {
      channels[index] ??= [];
      channels[index].push(...channel.subarray(0, count));
    });
  }, partial);
  for (let at = 0; at < wav.length; at += step) reader.push(wav.subarray(at, at + step));
  return { channels, read: reader.finish() };
}

const bytesOf = (array: ArrayBufferView) =>
  new Uint8Array(array.buffer, array.byteOffset, array.byteLength);

describe('samples of every form', () => {
  it.each<[string, Made, number[]]>([
    ['8 bits', { bits: 8, data: Uint8Array.of(128, 192, 0, 64) }, [0, 0.5, -1, -0.5]],
    ['16 bits', { bits: 16, data: bytesOf(Int16Array.of(0, 16384, -32768)) }, [0, 0.5, -1]],
    ['24 bits', { bits: 24, data: Uint8Array.of(0, 0, 0x40, 0, 0, 0x80) }, [0.5, -1]],
    ['32 bits', { bits: 32, data: bytesOf(Int32Array.of(1 << 30, -(2 ** 31))) }, [0.5, -1]],
    ['float 32', { tag: 3, bits: 32, data: bytesOf(Float32Array.of(0.5, -1)) }, [0.5, -1]],
    ['float 64', { tag: 3, bits: 64, data: bytesOf(Float64Array.of(0.5, -1)) }, [0.5, -1]],
    ['extensible', { extensible: 1, data: bytesOf(Int16Array.of(16384)) }, [0.5]],
    ['extensible float', { extensible: 3, bits: 32, data: bytesOf(Float32Array.of(0.5)) }, [0.5]],
    // The ends and the middle of each law, as ITU-T G.711 has them.
    [
      'µ-law',
      { tag: 7, bits: 8, data: Uint8Array.of(0xff, 0x7f, 0x80, 0, 0xef) },
      [0, 0, 32124 / 32768, -32124 / 32768, 132 / 32768],
    ],
    [
      'A-law',
      { tag: 6, bits: 8, data: Uint8Array.of(0xd5, 0x55, 0xaa, 0x2a) },
      [8 / 32768, -8 / 32768, 32256 / 32768, -32256 / 32768],
    ],
    ['12 bits in 16', { bits: 12, frame: 2, data: bytesOf(Int16Array.of(16384)) }, [0.5]],
    [
      'not a number and infinity, as silence',
      {
        tag: 3,
        bits: 32,
        data: bytesOf(Float32Array.of(Number.NaN, Number.POSITIVE_INFINITY, 0.25)),
      },
      [0, 0, 0.25],
    ],
  ])('%s', (_, made, samples) => {
    expect(readAll(makeWave(made)).channels).toEqual([samples]);
  });

  it('two channels', () => {
    const data = bytesOf(Int16Array.of(16384, -16384, 8192, -8192));
    expect(readAll(makeWave({ channels: 2, data })).channels).toEqual([
      [0.5, 0.25],
      [-0.5, -0.25],
    ]);
  });

  it('in pieces of any size', () => {
    const data = bytesOf(Int16Array.from({ length: 9000 }, (_, i) => i));
    const wav = makeWave({ data, before: [chunk('LIST', new Uint8Array(33))] });
    const whole = readAll(wav).channels;
    expect(whole[0].length).toBe(9000);
    for (const step of [1, 7, 1000]) expect(readAll(wav, step).channels).toEqual(whole);
  });
});

describe('odd and harmless', () => {
  const data = bytesOf(Int16Array.of(16384, 16384));
  it.each<[string, Uint8Array]>([
    [
      'other chunks of odd size before',
      makeWave({ data, before: [chunk('junk', new Uint8Array(3))] }),
    ],
    ['rubbish after', Buffer.concat([makeWave({ data }), Buffer.from('abcdefghijk')])],
    ['a size that is not known yet', makeWave({ data, dataSize: 0xffffffff })],
    ['a size of 0 while it was recorded', makeWave({ data, dataSize: 0 })],
    ['no bytes a second', makeWave({ data, byteRate: 0 })],
    ['half a sample at the end', makeWave({ data: Buffer.concat([data, Buffer.of(1)]) })],
  ])('%s', (_, wav) => {
    expect(readAll(wav).channels).toEqual([[0.5, 0.5]]);
  });
});

describe('refused with a word on what is wrong', () => {
  it.each<[string, Uint8Array, RegExp]>([
    ['nothing', new Uint8Array(0), /the file is empty/],
    ['text', Buffer.from('10 PRINT "HELLO THERE"'), /not a WAV file/],
    ['a few bytes', Buffer.from('RIFF'), /not a WAV file/],
    ['a header cut short', makeWave({}).subarray(0, 30), /ends before it says/],
    ['no samples', makeWave({ data: new Uint8Array(0) }), /no samples/],
    ['a data size beyond the end', makeWave({ dataSize: 5000 }), /promises 4996 more bytes/],
    ['no channels', makeWave({ channels: 0, frame: 2 }), /0 channels/],
    ['a rate of 1', makeWave({ rate: 1 }), /1 samples a second/],
    ['17 channels in 2 bytes', makeWave({ channels: 17, frame: 2 }), /2 bytes for 17 samples/],
    ['bytes a second that do not fit', makeWave({ byteRate: 5 }), /5 bytes a second, where/],
    ['MP3 in a WAV', makeWave({ tag: 85 }), /holds MP3/],
    ['an unknown coding', makeWave({ tag: 999 }), /number 999/],
    ['7 bits', makeWave({ bits: 7, frame: 1 }), /7 bits a sample/],
    [
      'sound before the format',
      Buffer.concat([makeWave({}).subarray(0, 12), chunk('data', new Uint8Array(4))]),
      /sound before it says/,
    ],
    [
      'a format chunk without end',
      Buffer.concat([makeWave({}).subarray(0, 12), chunk('fmt ', new Uint8Array(4), 1 << 30)]),
      /says its fmt part has/,
    ],
  ])('%s', (_, wav, message) => {
    expect(() => readAll(wav)).toThrow(SoundError);
    expect(() => readAll(wav)).toThrow(message);
  });

  it('but a file cut short is read on demand', () => {
    const { channels, read } = readAll(makeWave({ dataSize: 5000 }), 100, true);
    expect(channels).toEqual([[0, 0]]);
    expect(read.notes[0]).toMatch(/4996 more bytes/);
  });
});

it('never throws anything but SoundError, whatever the bytes', () => {
  const good = makeWave({ data: new Uint8Array(64) });
  const broken = fc
    .array(fc.tuple(fc.nat(good.length - 1), fc.nat(255)), { minLength: 1, maxLength: 8 })
    .map((changes) => {
      const wav = Uint8Array.from(good);
      for (const [at, value] of changes) wav[at] = value;
      return wav;
    });
  fc.assert(
    fc.property(fc.oneof(broken, fc.uint8Array({ maxLength: 100 })), fc.nat(60), (wav, step) => {
      try {
        readAll(wav, step + 1);
      } catch (error) {
        expect(error).toBeInstanceOf(SoundError);
      }
    }),
    { seed: 6, numRuns: process.env.FUZZ ? 20000 : 500 },
  );
});
