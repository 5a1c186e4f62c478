/**
 * Sound files of every kind, made by the encoders that `sounds/make.sh` names: what they are told to
 * be, what is read of them, and what is said of those that are cut, damaged or lie.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { recoverPrograms, recoverSound } from '../../../src/tape/recover.js';
import { readSound } from '../../../src/tape/samples/read-sound.js';
import { soundKindOf } from '../../../src/tape/samples/sound-kind.js';
import { SoundError } from '../../../src/tape/sound-error.js';

beforeAll(() => {
  // Decoders say on the console what they give back as errors; the build takes that out.
  vi.spyOn(console, 'error').mockReturnValue();
});
afterAll(() => {
  vi.restoreAllMocks();
});

const sound = (name: string) =>
  Uint8Array.from(readFileSync(join(import.meta.dirname, 'sounds', name)));
const image = sound('oak.img');

const DECODED: [string, string][] = [
  ['lame.mp3', 'MP3'],
  ['tagged-no-count.mp3', 'MP3'],
  ['flac.flac', 'FLAC'],
  ['flac.oga', 'Ogg FLAC'],
  ['oggenc.ogg', 'Ogg Vorbis'],
  ['opusenc.opus', 'Ogg Opus'],
];
const PLAIN: [string, string][] = [
  ['sox.aiff', 'AIFF'],
  ['little-endian.aifc', 'AIFF'],
];

function* inPieces(bytes: Uint8Array, size: number): Generator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.slice(at, at + size);
}

const samplesOf = async (bytes: Uint8Array, partial = false): Promise<number> =>
  (await readSound(inPieces(bytes, 4000), () => {}, { partial })).samples;

describe('a WAV file', () => {
  /** Its first bytes: a chunk of another name before the format, which has this number. */
  function wav(format: number): Uint8Array {
    const words = (text: string) => [...text].map((letter) => letter.charCodeAt(0));
    const other = [...words('JUNK'), 3, 0, 0, 0, 1, 2, 3, 0];
    const fmt = [...words('fmt '), 20, 0, 0, 0, format, 0, 1, 0];
    return Uint8Array.from([...words('RIFF'), 0, 1, 0, 0, ...words('WAVE'), ...other, ...fmt]);
  }

  // Numbers: RFC 2361, 'WAVE and AVI Codec Registries', appendix A, from memory.
  it.each([
    [1, 'WAV'],
    [3, 'WAV'],
    [6, 'WAV'],
    [7, 'WAV'],
    [2, 'coded WAV'],
    [0x11, 'coded WAV'],
    [0x31, 'coded WAV'],
    [0x55, 'coded WAV'],
  ])('with format %i is %s', (format, kind) => {
    expect(soundKindOf(wav(format))).toBe(kind);
  });
});

describe('are told apart by how they begin', () => {
  it.each([...DECODED, ...PLAIN, ['ffmpeg.m4a', 'MPEG-4'], ['ffmpeg.aac', 'AAC']])(
    '%s is %s',
    (name, kind) => {
      expect(soundKindOf(sound(name).subarray(0, 1 << 14))).toBe(kind);
    },
  );

  it.each([
    ['a listing', new TextEncoder().encode('10 PRINT "OggS"')],
    ['a listing that begins with letters of a kind', new TextEncoder().encode('ID3 PRINT A')],
    ['text in UTF-16', Uint8Array.of(0xff, 0xfe, 0x31, 0, 0x30, 0)],
    ['an image', image],
    ['nothing', new Uint8Array(0)],
  ])('%s is none', (_, bytes) => {
    expect(soundKindOf(bytes)).toBeUndefined();
  });
});

it('a FLAC whose last frame is shorter than a header may be is read to its end', async () => {
  expect(await samplesOf(sound('short-last-frame.flac'))).toBe(9216 + 515);
});

describe('give the program exactly', () => {
  it.each([...DECODED, ...PLAIN])('%s', async (name) => {
    const { programs } = await recoverSound(sound(name));
    expect(programs.map((program) => program.doubts)).toEqual([[]]);
    expect(programs[0].image).toEqual(image);
    expect([...programs[0].name]).toEqual([52, 38, 48]);
  });

  it.each(PLAIN)('%s without waiting for anything', (name) => {
    expect(recoverPrograms(sound(name)).programs[0].image).toEqual(image);
  });

  // All of the Ogg FLAC is one page.
  it.each([...DECODED, ...PLAIN].filter(([name]) => name !== 'flac.oga'))(
    '%s byte by byte, the same samples',
    async (name) => {
      const some = sound(name).subarray(0, 16000);
      const { samples } = await readSound(inPieces(some, 1), () => {}, { partial: true });
      expect(samples).toBe(await samplesOf(some, true));
      expect(samples).toBeGreaterThan(1000);
    },
  );
});

describe('cut short', () => {
  it.each([
    ['lame.mp3', /the MP3 header promises \d+ more pieces of sound/],
    ['flac.flac', /the FLAC header promises \d+ more samples/],
    ['flac.oga', /the Ogg file ends before its last page/],
    ['oggenc.ogg', /the Ogg file ends before its last page/],
    ['opusenc.opus', /the Ogg file ends before its last page/],
    ['sox.aiff', /the AIFF header promises \d+ more samples/],
  ])('%s is refused, and read on demand', async (name, message) => {
    const bytes = sound(name);
    const cut = bytes.subarray(0, bytes.length * 0.6);
    const refused = samplesOf(cut);
    await expect(refused).rejects.toThrow(SoundError);
    await expect(refused).rejects.toThrow(message);
    if (name === 'flac.oga') return;
    const all = await samplesOf(bytes);
    const read = await samplesOf(cut, true);
    expect(read / all).toBeGreaterThan(0.2);
    expect(read / all).toBeLessThan(0.75);
  });

  it.each([...DECODED, ...PLAIN])('%s anywhere is never anything else', async (name) => {
    const bytes = sound(name);
    // A file that does not say how much it holds is read as far as it goes.
    const most = name.includes('no-count') ? 60 : 3000;
    for (const size of [0, 1, 4, 5, 11, 12, 13, 27, 30, 41, 42, 43, 60, most]) {
      await expect(samplesOf(bytes.subarray(0, size)), `${size}`).rejects.toThrow(SoundError);
    }
  });
});

describe('damaged', () => {
  it.each(DECODED)('%s in the middle is told, or refused', async (name) => {
    const bytes = sound(name);
    bytes.fill(0x55, bytes.length / 2, bytes.length / 2 + 2500);
    const read = await readSound([bytes], () => {}, { partial: true });
    expect(read.notes.join()).toMatch(/damaged|promises/);
  });

  it.each([...DECODED, ...PLAIN])('%s anywhere is never anything else', async (name) => {
    const good = sound(name).subarray(0, 8000);
    const changes = fc.array(fc.tuple(fc.nat(good.length - 1), fc.nat(255)), {
      minLength: 1,
      maxLength: 40,
    });
    const atHead = fc.array(fc.tuple(fc.nat(120), fc.nat(255)), { maxLength: 3 });
    await fc.assert(
      fc.asyncProperty(changes, atHead, async (...both) => {
        const bytes = Uint8Array.from(good);
        for (const [at, value] of both.flat()) bytes[at] = value;
        try {
          await readSound([bytes], () => {}, { partial: true });
        } catch (error) {
          expect(error).toBeInstanceOf(SoundError);
        }
      }),
      { seed: 15, numRuns: process.env.FUZZ ? 3000 : 4 },
    );
  });

  it('noise behind a beginning is never anything else', async () => {
    const noise = (seed: number, length: number) => {
      let state = seed;
      return Uint8Array.from({ length }, () => {
        state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
        return state >>> 24;
      });
    };
    for (const [name] of [...DECODED, ...PLAIN]) {
      const head = sound(name).subarray(0, 400);
      const bytes = Uint8Array.from([...head, ...noise(head.length, 8000)]);
      await readSound([bytes], () => {}, { partial: true }).catch((error) =>
        expect(error).toBeInstanceOf(SoundError),
      );
    }
  });
});

describe('that lie', () => {
  it('an AIFF of so many channels', async () => {
    const bytes = sound('sox.aiff');
    bytes[Buffer.from(bytes).indexOf('COMM') + 9] = 200;
    await expect(samplesOf(bytes)).rejects.toThrow(/damaged: 200 channels/);
  });

  it('an AIFF whose sound is compressed', async () => {
    const bytes = sound('little-endian.aifc');
    const at = Buffer.from(bytes).indexOf('sowt');
    bytes.set(new TextEncoder().encode('ima4'), at);
    await expect(samplesOf(bytes)).rejects.toThrow(/holds a coding \(ima4\)/);
  });

  it('a FLAC that promises more than there is', async () => {
    const bytes = sound('flac.flac');
    bytes[22] = 9;
    await expect(samplesOf(bytes)).rejects.toThrow(/promises \d+ more samples/);
  });

  it('what only a converter reads is said to be so', async () => {
    await expect(samplesOf(sound('ffmpeg.m4a'))).rejects.toThrow(/MPEG-4 cannot be decoded here/);
  });
});
