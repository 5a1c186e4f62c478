/** Files of pictures and sounds whose heads promise what does not follow, or far too much of it. */
import { crc32, deflateSync } from 'node:zlib';

export interface Draw {
  /** A whole number below a count. */
  readonly below: (count: number) => number;
  readonly one: <T>(from: readonly T[]) => T;
  /** Bytes of some pattern. */
  readonly noise: (size: number) => Uint8Array;
}

const latin = (text: string): Buffer => Buffer.from(text, 'latin1');
const joined = (...parts: Uint8Array[]): Buffer => Buffer.concat(parts);
const big16 = (value: number): Buffer => Buffer.from([value >> 8, value]);
const big32 = (value: number): Buffer => joined(big16(value >>> 16), big16(value));
const little16 = (value: number): Buffer => big16(value).reverse();
const little24 = (value: number): Buffer => joined(little16(value), Buffer.from([value >> 16]));
const little32 = (value: number): Buffer => big32(value).reverse();

const SIDES = [0, 1, 64, 1000, 5000, 12_000, 40_000, 0xffff];

/** Of one of the kinds, which may be whole but for one lie. */
export function lyingFile(draw: Draw, size: number): Uint8Array {
  return draw.one([png, gif, jpeg, webp, svg, flac, mpeg, ogg, aiff])(draw, size);
}

function png({ below, one, noise }: Draw, size: number): Uint8Array {
  const chunk = (name: string, data: Uint8Array): Buffer => {
    const named = joined(latin(name), data);
    return joined(big32(one([data.length, data.length, 0x7fff_ffff])), named, big32(crc32(named)));
  };
  const [width, height] = [one(SIDES), one([...SIDES, 0x7fff_ffff])];
  const kind = one([0, 2, 3, 6]);
  const head = joined(
    big32(width),
    big32(height),
    Buffer.from([one([8, 8, 16, 1]), kind, 0, 0, 0]),
  );
  // Zeros that take nearly no room, packed; or as many pixels as were promised, within reason.
  const packed = deflateSync(one([noise(size), Buffer.alloc(below(60_000_000))]), { level: 1 });
  return joined(
    latin('\x89PNG\r\n\x1a\n'),
    chunk('IHDR', head),
    kind === 3 ? chunk('PLTE', noise(768)) : latin(''),
    chunk('IDAT', packed),
    chunk('IEND', latin('')),
  );
}

function gif({ one, noise }: Draw, size: number): Uint8Array {
  const sides = (): Buffer => joined(little16(one(SIDES)), little16(one(SIDES)));
  return joined(
    latin('GIF89a'),
    sides(),
    latin('\xf7\0\0'),
    noise(768),
    latin(',\0\0\0\0'),
    sides(),
    latin('\0\x08'),
    noise(size),
  );
}

function jpeg({ one, noise }: Draw, size: number): Uint8Array {
  const frame = joined(
    latin('\x08'),
    big16(one(SIDES)),
    big16(one(SIDES)),
    latin('\x01\x01\x11\0'),
  );
  return joined(
    latin('\xff\xd8\xff\xe0\0\x10JFIF\0\x01\x01\0\0\x01\0\x01\0\0\xff\xdb\0\x43\0'),
    Buffer.alloc(64, 1),
    latin(one(['\xff\xc0', '\xff\xc2'])),
    big16(frame.length + 2),
    frame,
    latin('\xff\xda\0\x08\x01\x01\0\0\x3f\0'),
    noise(size),
  );
}

function webp({ one, noise }: Draw, size: number): Uint8Array {
  const data = noise(size);
  const side = (): number => one([0, 63, 4999, 16_383]);
  const canvas = joined(latin('\0\0\0\0'), little24(side()), little24(side()));
  const lossless = joined(latin('\x2f'), little32((side() | (side() << 14)) >>> 0), data);
  const body = one([
    joined(latin('VP8X'), little32(10), canvas, latin('VP8 '), little32(size), data),
    joined(latin('VP8L'), little32(lossless.length), lossless),
    joined(latin('VP8 '), little32(size), latin('\x10\0\0\x9d\x01\x2a\xff\x3f\xff\x3f'), data),
  ]);
  return joined(latin('RIFF'), little32(body.length + 4), latin('WEBP'), body);
}

function svg({ below, one }: Draw, size: number): Uint8Array {
  const open = (rest: string): string =>
    `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${rest}>`;
  const count = Math.ceil(size / 40);
  const twice = (at: number): string =>
    `<g id="g${at}"><use xlink:href="#g${at - 1}"/><use xlink:href="#g${at - 1}"/></g>`;
  const steps = Array.from({ length: 2 + below(40) }, (_, at) => twice(at + 1)).join('');
  const deep = below(count);
  const filtered = (filter: string): string =>
    `${open('width="1000" height="1000"')}<filter id="f">${filter}</filter><rect width="1000" height="1000" filter="url(#f)"/></svg>`;
  return Buffer.from(
    one([
      `${open('width="64" height="44"')}<rect id="g0" width="9" height="9"/>${steps}</svg>`,
      `${open('')}${'<g>'.repeat(deep)}<path d="M0 0h9v9z"/>${'</g>'.repeat(deep)}</svg>`,
      `${open(`viewBox="0 0 ${one(SIDES)} ${one(SIDES)}"`)}${'<circle r="99" cx="9" cy="9"/>'.repeat(count)}</svg>`,
      `${open('width="64" height="44"')}<path d="M0 0${'L9 9'.repeat(count)}" stroke="#000" stroke-dasharray="0.01"/></svg>`,
      `<!DOCTYPE svg [<!ENTITY a "lamp">${Array.from({ length: 20 }, (_, at) => `<!ENTITY ${'b'.repeat(at + 1)} "${`&${at === 0 ? 'a' : 'b'.repeat(at)};`.repeat(9)}">`).join('')}]>${open('')}<text>&${'b'.repeat(20)};</text></svg>`,
      filtered('<feGaussianBlur stdDeviation="1e6"/>'),
      filtered('<feTurbulence numOctaves="99999" baseFrequency="0.5"/>'),
      filtered('<feMorphology radius="400"/>'),
      `${open(`width="${one(['1e9', '-1', '0', 'NaN', '1e-9'])}" height="${one(['1e9', '1', '1e30'])}"`)}<rect width="9" height="9"/></svg>`,
    ]),
  );
}

function flac({ below, one, noise }: Draw, size: number): Uint8Array {
  const rate = one([8000, 44_100, 655_350, 0]);
  const facts = joined(
    big16(one([16, 4096, 0xffff])),
    big16(one([16, 4096, 0xffff])),
    latin('\0\0\0\0\0\0'),
    big32(((rate << 12) | (below(8) << 9) | (15 << 4) | below(16)) >>> 0),
    big32(one([0, 1000, 0xffff_ffff])),
    Buffer.alloc(16),
  );
  return joined(
    latin('fLaC'),
    latin(one(['\x80\0\0\x22', '\0\0\0\x22'])),
    facts,
    frames(one(['\xff\xf8\xc9\x18', '\xff\xf8\x69\x08']), 700, noise, size),
  );
}

function mpeg({ one, noise }: Draw, size: number): Uint8Array {
  return frames(
    one(['\xff\xfb\x90\0', '\xff\xf3\x40\xc0', '\xff\xfb\xe0\0']),
    one([417, 144, 1044]),
    noise,
    size,
  );
}

/** Heads of frames, each so long, with anything in them. */
function frames(head: string, length: number, noise: Draw['noise'], size: number): Uint8Array {
  const bytes = Buffer.from(noise(size));
  for (let at = 0; at + head.length < size; at += length) bytes.write(head, at, 'latin1');
  return bytes;
}

function ogg({ below, one, noise }: Draw, size: number): Uint8Array {
  const first = one(['\x01vorbis', 'OpusHead', '\x7fFLAC', 'LAMP']);
  const page = (at: number, data: Uint8Array): Buffer =>
    joined(
      latin(`OggS\0${at === 0 ? '\x02' : '\0'}`),
      noise(8),
      little32(7),
      little32(at),
      noise(4),
      Buffer.from([255]),
      Buffer.alloc(255, 255),
      data,
    );
  const pages = Array.from({ length: Math.ceil(Math.min(size, 400_000) / 65_025) }, (_, at) =>
    page(at + 1, noise(255 * below(256))),
  );
  return joined(page(0, joined(latin(first), noise(30))), ...pages);
}

function aiff({ one, noise }: Draw, size: number): Uint8Array {
  const rate = one([
    '\x40\x0e\xac\x44\0\0\0\0\0\0',
    '\x7f\xff\xff\xff\xff\xff\xff\xff\xff\xff',
    '\0\0\0\0\0\0\0\0\0\0',
  ]);
  return joined(
    latin('FORM\xff\xff\xff\xffAIFFCOMM\0\0\0\x12'),
    big16(one([1, 2, 0, 0xffff])),
    big32(one([0, 1000, 0xffff_ffff])),
    big16(one([8, 16, 24, 0, 99])),
    latin(rate),
    latin('SSND\xff\xff\xff\xff\0\0\0\0\0\0\0\0'),
    noise(Math.min(size, 400_000)),
  );
}
