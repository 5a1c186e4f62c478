/** What an address that a listing names is, in words. Source: the manual, chapters 27 and 28, from memory. */
import { PROGRAM_START, RAM_START } from '../machine/memory-map.js';
import { SYSTEM_VARIABLES } from '../machine/system-variables.js';

export interface NamedAddress {
  /** `RAMTOP`, or `RAMTOP+1` for the second byte. */
  readonly label: string;
  readonly does: string;
}

const DOES: Readonly<Record<string, string>> = {
  ERR_NR: 'the report’s code less 1; 255 when all is well',
  FLAGS: 'flags of the ROM: what kind of value, whether a space leads, which mode',
  ERR_SP: 'where on the machine stack the way back from an error stands',
  RAMTOP: 'the first address above what BASIC uses',
  MODE: 'which cursor: K or L, function, graphics',
  PPC: 'the number of the line that runs',
  VERSN: 'the first byte of the image: 0 marks this ROM',
  E_PPC: 'the number of the line that the cursor of the listing points to',
  D_FILE: 'where the display begins',
  DF_CC: 'where in the display PRINT goes on',
  VARS: 'where the variables begin',
  DEST: 'the address of the variable that is being set',
  E_LINE: 'where the line that is being typed begins',
  CH_ADD: 'the address of the next character to be read',
  X_PTR: 'the address of the character before the marker of an error',
  STKBOT: 'where the calculator stack begins',
  STKEND: 'where the calculator stack ends, and the spare room begins',
  BERG: 'the calculator’s own counter',
  MEM: 'where the calculator’s memory stands',
  UNUSED1: 'not used: free for a byte of your own',
  DF_SZ: 'how many rows at the foot of the screen are kept for reports and typing',
  S_TOP: 'the number of the first line of the automatic listing',
  LAST_K: 'which keys are down',
  DEBOUNCE: 'until when a key that bounces is not believed',
  MARGIN: 'blank lines above and below the picture: 55 at 50 frames a second, 31 at 60',
  NXTLIN: 'the address of the line that runs next',
  OLDPPC: 'the number of the line that CONT goes to',
  FLAGX: 'flags of the ROM for INPUT and LET',
  STRLEN: 'the length of the string that is being set',
  T_ADDR: 'where in the table of statements the ROM is',
  SEED: 'where the row of RND stands; RAND sets it',
  FRAMES: 'frames counted down, in 15 bits; the top bit is 0 only in PAUSE',
  COORDS: 'x and y of the last PLOT or UNPLOT',
  PR_CC: 'where in the printer’s buffer LPRINT goes on',
  S_POSN: 'column and row of PRINT, both counted down',
  CDFLAG: 'flags: bit 7 is 1 in SLOW, bit 6 is what SLOW or FAST was asked for',
  PRBUFF: 'a byte of the printer’s buffer',
  MEMBOT: 'a byte of the calculator’s memory',
  UNUSED2: 'not used: free for two bytes of your own',
};

/** The system variable at an address, or undefined where there is none. */
export function systemVariableAt(address: number): NamedAddress | undefined {
  if (!(address >= RAM_START && address < PROGRAM_START)) return undefined;
  const found = SYSTEM_VARIABLES.find(
    (variable) => address >= variable.address && address < variable.address + variable.size,
  );
  if (found === undefined) return undefined;
  const offset = address - found.address;
  const part = offset === 0 ? '' : `+${offset}`;
  const size =
    found.size === 1
      ? 'one byte'
      : found.size === 2
        ? 'two bytes, low first'
        : `${found.size} bytes`;
  return { label: found.name + part, does: `${DOES[found.name]} (${size}).` };
}
