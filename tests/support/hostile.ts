/** Inputs that nobody means well with, of any size up to 10 MB: texts, sounds, pictures, images, bytes. */
import { lyingFile } from './lying-files.js';

export const LARGEST = 10_000_000;
/** Sounds are read piece by piece, whatever their length: more of it shows nothing else. */
const LARGEST_SOUND = 400_000;

/** Numbers from 0 up to 1, the same for each seed. */
export function drawerOf(seed: number): () => number {
  let state = (seed * 0x9e37_79b9) | 0;
  return () => {
    state = (state + 0x6d2b_79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

const PIECES = [
  ...['+', '-', '**', '(', ')', ',', ';', ':', '"', '""', '=', '<>', '$', '.', 'A', 'LAMP', '1E9'],
  ...[
    'PRINT ',
    'LET A=',
    'IF A THEN ',
    'NOT ',
    'SIN ',
    'GOTO 10',
    'REM ',
    'DIM A(',
    'TO ',
    'CHR$ ',
  ],
  ...[
    '§',
    'é',
    '\u001b[31m',
    '\u202e',
    '\u0000',
    '\u0007',
    '\ufeff',
    '\u2588',
    '\u{1d538}',
    '\t',
    ' ',
  ],
  ...[
    '[ul]',
    '[~A]',
    '[40 ',
    '[file "x"]',
    '[',
    '.raw program 40',
    '.var A=1',
    '.start 10',
    '.ram 16K',
  ],
  ...[
    "' lint: allow number-form — as printed",
    "' lint: allow",
    "' oak",
    '10 PRINT A',
    'PRNT A',
    'GOT0 9',
  ],
];
const HEADS = ['10 PRINT ', '10 LET A=', '10 REM ', '10 ', '', '10 PRINT "', '.raw program ', "' "];
const ENDS = ['\n', '\r\n', '\r', '\n\n'];
/** An input drawn by a seed. */
export function hostileInput(seed: number): Uint8Array {
  const draw = drawerOf(seed);
  const below = (count: number): number => Math.floor(draw() * count);
  const one = <T>(from: readonly T[]): T => from[below(from.length)];
  const size = Math.floor(Math.exp(Math.log(200) + draw() * Math.log(LARGEST / 200)));
  const unit = Array.from({ length: 1 + below(3) }, () => one(PIECES)).join('');
  switch (below(8)) {
    case 0:
      return encoded(`${one(HEADS)}${unit.repeat(Math.ceil(size / unit.length))}`);
    case 1:
      return encoded(rows(size, unit.length + 6, (at) => `${at + 1} ${unit}\n`));
    case 2:
      return encoded(`${unit}${one(ENDS)}`.repeat(Math.ceil(size / unit.length)));
    case 3: {
      const pieces = () => Array.from({ length: 1 + below(30) }, () => one(PIECES)).join('');
      return encoded(rows(Math.min(size, 500_000), 60, (at) => `${at * below(3)} ${pieces()}\n`));
    }
    case 4: {
      const [open, close] = one([
        ['(', ')'],
        ['-', ''],
        ['NOT ', ''],
        ['A$(', '1)'],
        ['SIN ', ''],
      ]);
      const deep = Math.floor(size / (open.length + close.length));
      return encoded(`10 LET B=${open.repeat(deep)}A${close.repeat(deep)}`);
    }
    case 5:
      return lyingFile({ below, one, noise: (count) => noise(draw, count) }, size);
    case 6:
      return joined(waveHead(below, one), noise(draw, Math.min(size, LARGEST_SOUND)));
    default:
      return noise(draw, size);
  }
}

function rows(size: number, width: number, row: (at: number) => string): string {
  return Array.from({ length: Math.ceil(size / width) }, (_, at) => row(at)).join('');
}

const encoded = (text: string): Uint8Array => Buffer.from(text).subarray(0, LARGEST);
const joined = (head: string, bytes: Uint8Array): Uint8Array =>
  Buffer.concat([Buffer.from(head, 'latin1'), bytes]);

/** Bytes of one value, drawn ones, pulses, or a drawn stretch again and again. */
function noise(draw: () => number, size: number): Uint8Array {
  const bytes = new Uint8Array(size);
  const kind = Math.floor(draw() * 4);
  if (kind === 0) return bytes.fill(draw() * 256);
  if (kind === 1) return bytes.map(() => draw() * 256);
  if (kind === 2) {
    for (let at = 0; at < size; ) {
      const end = at + 1 + Math.floor(draw() ** 4 * 1000);
      bytes.fill([0, 128, 255][Math.floor(draw() * 3)], at, end);
      at = end;
    }
    return bytes;
  }
  const stretch = Uint8Array.from({ length: 1 + Math.floor(draw() * 300) }, () => draw() * 256);
  return bytes.map((_, at) => stretch[at % stretch.length]);
}

function waveHead(below: (count: number) => number, one: <T>(from: readonly T[]) => T): string {
  const head = Buffer.alloc(44);
  head.write('RIFF\xff\xff\xff\xffWAVEfmt ', 'latin1');
  head.writeUInt32LE(one([16, 16, 16, 18, 0]), 16);
  head.writeUInt16LE(one([1, 1, 3, 7, 0]), 20);
  head.writeUInt16LE(one([1, 1, 2, 0, 255]), 22);
  head.writeUInt32LE(one([8000, 22_050, 44_100, 192_000, 1, 0, 0xffff_ffff]), 24);
  head.writeUInt16LE(one([1, 2, 4]), 32);
  head.writeUInt16LE(one([8, 16, 24, 0, 7]), 34);
  head.write('data', 36);
  head.writeUInt32LE(one([0xffff_ffff, below(LARGEST_SOUND), 0]), 40);
  return head.toString('latin1');
}
