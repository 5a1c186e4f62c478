/**
 * LIST and LLIST: the program's own bytes, as they stand in memory, in words.
 * Source: the manual, chapters 2 and 9; the published ROM disassembly; from memory.
 */
import {
  codeOfUnicode,
  INVERSE,
  KEYWORDS,
  NUMBER_MARKER,
  SPACE,
} from '../../machine/characters.js';
import { LINE_HEAD } from '../../machine/image-layout.js';
import { PROGRAM_START } from '../../machine/memory-map.js';
import { HIDDEN_SIZE } from '../../machine/stored-codes.js';
import { AT, type Memory } from './memory.js';
import { codesOf, type Device, putCode, putKeyword } from './output.js';

/** Columns of the line number. */
const NUMBER_WIDTH = 4;
/** Stands after the number of the line that E_PPC names. */
const LINE_CURSOR = codeOfUnicode('>')! + INVERSE;

/**
 * Lists from the first line with this number or a higher one; that line becomes the current one.
 * Tells `shown` of each line once all of it stands there.
 */
export function listProgram(
  memory: Memory,
  device: Device,
  first: number,
  shown?: (number: number) => void,
): void {
  const { bytes } = memory;
  memory.setWord(AT.E_PPC, first);
  for (let at = PROGRAM_START; at + LINE_HEAD < memory.dFile; ) {
    const number = bytes[at] * 256 + bytes[at + 1];
    const start = at + LINE_HEAD;
    const end = Math.min(start + memory.word(at + 2), memory.dFile);
    if (number >= first) {
      for (const code of codesOf(String(number).padStart(NUMBER_WIDTH))) putCode(device, code);
      putCode(device, number === first ? LINE_CURSOR : SPACE);
      device.memory.isSpaced = true;
      // Printing moves the display, not the program: its addresses stay.
      listText(bytes, start, end - 1, device);
      shown?.(number);
      device.newline();
    }
    at = end;
  }
}

/** Here a marker hides what follows it even within a string or a REM: LIST knows of neither. */
function listText(bytes: Uint8Array, start: number, end: number, device: Device): void {
  for (let at = start; at < end; at++) {
    const code = bytes[at];
    if (code === NUMBER_MARKER) at += HIDDEN_SIZE - 1;
    else if (KEYWORDS.has(code)) putKeyword(device, code);
    else putCode(device, code);
  }
}
