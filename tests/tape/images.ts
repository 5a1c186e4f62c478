/** Images for the tests of the tape: made to the machine's layout from drawn bytes. */
import { NEWLINE, NUMBER_MARKER } from '../../src/machine/characters.js';
import {
  COLLAPSED_DISPLAY_SIZE,
  IMAGE_START,
  PROGRAM_START,
  VARIABLES_END,
} from '../../src/machine/memory-map.js';
import { addressOf } from '../../src/machine/system-variables.js';

/** Numbers from 0 to 1 that are the same for the same seed (mulberry32, public domain). */
export function drawer(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Text of a line: a command, then characters, numbers with their five bytes, NEWLINE. */
function drawText(draw: () => number): number[] {
  const text = [225 + Math.floor(draw() * 31)];
  for (let i = Math.floor(draw() * 12); i >= 0; i--) {
    if (draw() < 0.3) {
      text.push(28 + Math.floor(draw() * 10), NUMBER_MARKER, 0x81 + Math.floor(draw() * 12));
      for (let k = 0; k < 4; k++) text.push(k === 0 ? Math.floor(draw() * 128) : 0);
    } else {
      text.push(draw() < 0.9 ? 11 + Math.floor(draw() * 53) : 192 + Math.floor(draw() * 3));
    }
  }
  text.push(NEWLINE);
  return text;
}

/** An image whose program has about `size` bytes of drawn lines. */
export function drawImage(seed: number, size = 80): Uint8Array {
  const draw = drawer(seed);
  const program: number[] = [];
  for (let number = 10; program.length < size; number += 10) {
    const text = drawText(draw);
    program.push(number >> 8, number & 255, text.length & 255, text.length >> 8, ...text);
  }
  return imageOf(Uint8Array.from(program), Uint8Array.from([]));
}

/** An image with these program bytes and these variables (without the last 128). */
export function imageOf(program: Uint8Array, variables: Uint8Array): Uint8Array {
  const display = PROGRAM_START + program.length;
  const vars = display + COLLAPSED_DISPLAY_SIZE;
  const eLine = vars + variables.length + 1;
  const image = new Uint8Array(eLine - IMAGE_START);
  const put = (name: string, value: number) => {
    image[addressOf(name) - IMAGE_START] = value;
    image[addressOf(name) - IMAGE_START + 1] = value >> 8;
  };
  for (const [name, value] of Object.entries({
    D_FILE: display,
    DF_CC: display + 1,
    VARS: vars,
    E_LINE: eLine,
    CH_ADD: eLine + 4,
    STKBOT: eLine + 5,
    STKEND: eLine + 5,
    MEM: 16477,
    LAST_K: 65535,
    NXTLIN: display,
    T_ADDR: 3213,
  })) {
    put(name, value);
  }
  image[addressOf('DF_SZ') - IMAGE_START] = 2;
  // The printer's buffer ends with NEWLINE.
  image[addressOf('MEMBOT') - IMAGE_START - 1] = NEWLINE;
  image.set(program, PROGRAM_START - IMAGE_START);
  image.fill(NEWLINE, display - IMAGE_START, vars - IMAGE_START);
  image.set(variables, vars - IMAGE_START);
  image[image.length - 1] = VARIABLES_END;
  return image;
}

/** A name of 1 to 8 letters and digits. */
export function drawName(seed: number): Uint8Array {
  const draw = drawer(seed ^ 0x5eed);
  return Uint8Array.from(
    { length: 1 + Math.floor(draw() * 8) },
    () => 28 + Math.floor(draw() * 36),
  );
}
