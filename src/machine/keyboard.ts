/**
 * The machine's keyboard: forty keys, and what each gives in each mode of the cursor.
 * Source: the manual, chapter 2 and Appendix A, from memory. Common practice, no source: which
 * inverse signs shifted keys give in graphics mode, and how the cursor changes between K and L.
 */
import { codeOfUnicode, FIRST_LETTER, INVERSE, KEYWORD_CODES, THEN } from './characters.js';

export type KeyName = string;

export interface Key {
  /** The letter, digit or `.` on the key; SHIFT, NEWLINE or SPACE. */
  readonly name: KeyName;
  /** Rows from the top, 1 to 4; places in the row from the left, 0 to 9. */
  readonly row: number;
  readonly place: number;
  /** The code of the key alone where the cursor is L; undefined for SHIFT. */
  readonly plain?: number;
  /** The code of the key alone where the cursor is K. */
  readonly keyword?: number;
  /** The code with SHIFT held, in K and L: a sign, a keyword or a control code from 112 to 121. */
  readonly shifted?: number;
  /** The code after FUNCTION (cursor F). */
  readonly function?: number;
  /** The codes in graphics mode (cursor G), alone and with SHIFT held. */
  readonly inverse?: number;
  readonly graphic?: number;
}

/** Control codes of the keys that edit (Appendix A). */
export const CURSOR_UP = 112;
export const CURSOR_DOWN = 113;
export const CURSOR_LEFT = 114;
export const CURSOR_RIGHT = 115;
export const GRAPHICS = 116;
export const EDIT = 117;
export const NEWLINE_KEY = 118;
export const RUBOUT = 119;
export const FUNCTION = 121;

const NAMES = [
  '1 2 3 4 5 6 7 8 9 0'.split(' '),
  'Q W E R T Y U I O P'.split(' '),
  'A S D F G H J K L NEWLINE'.split(' '),
  ['SHIFT', 'Z', ...Array.from('XCVBNM'), '.', 'SPACE'],
];

/** `_` is a key that has none. */
const KEYWORDS_OF_KEYS: Record<number, string> = {
  2: 'PLOT UNPLOT REM RUN RAND RETURN IF INPUT POKE PRINT',
  3: 'NEW SAVE DIM FOR GOTO GOSUB LOAD LIST LET _',
  4: '_ COPY CLEAR CONT CLS SCROLL NEXT PAUSE _ _',
};

const SHIFTED: Record<number, string> = {
  1: 'EDIT AND THEN TO LEFT DOWN UP RIGHT GRAPHICS RUBOUT',
  2: '"" OR STEP <= <> >= $ ( ) "',
  3: 'STOP LPRINT SLOW FAST LLIST ** - + = FUNCTION',
  4: '_ : ; ? / * < > , £',
};

const FUNCTIONS: Record<number, string> = {
  2: 'SIN COS TAN INT RND STR$ CHR$ CODE PEEK TAB',
  3: 'ASN ACS ATN SGN ABS SQR VAL LEN USR _',
  4: '_ LN EXP AT _ INKEY$ NOT PI _ _',
};

const GRAPHICS_OF_KEYS: Record<string, string> = {
  '12345678': '▘▝▗▖▌▄▀▐',
  QWERTY: '▟▙▛▜▞▚',
  ASDFGH: '▒\u{1FB8E}\u{1FB8F}\u{1FB92}\u{1FB91}\u{1FB90}',
};

const CONTROLS: Record<string, number> = {
  EDIT,
  LEFT: CURSOR_LEFT,
  DOWN: CURSOR_DOWN,
  UP: CURSOR_UP,
  RIGHT: CURSOR_RIGHT,
  GRAPHICS,
  RUBOUT,
  FUNCTION,
};

function codeOfWord(word: string): number | undefined {
  return KEYWORD_CODES.get(word) ?? CONTROLS[word] ?? codeOfUnicode(word);
}

function fromTable(table: Record<number, string>, row: number, place: number): number | undefined {
  const word = table[row]?.split(' ')[place] ?? '_';
  return word === '_' ? undefined : codeOfWord(word);
}

function plainCode(name: string): number | undefined {
  if (name === 'SHIFT') return undefined;
  if (name === 'NEWLINE') return NEWLINE_KEY;
  return codeOfUnicode(name === 'SPACE' ? ' ' : name);
}

function graphicOf(name: string, shifted: number | undefined): number | undefined {
  for (const [keys, signs] of Object.entries(GRAPHICS_OF_KEYS)) {
    const at = keys.indexOf(name);
    if (at >= 0) return codeOfUnicode([...signs][at]);
  }
  return shifted !== undefined && shifted < FIRST_LETTER ? shifted + INVERSE : shifted;
}

function keyAt(row: number, place: number): Key {
  const name = NAMES[row - 1][place];
  const plain = plainCode(name);
  const shifted = fromTable(SHIFTED, row, place);
  const isSign = plain !== undefined && plain < 64;
  return {
    name,
    row,
    place,
    plain,
    keyword: fromTable(KEYWORDS_OF_KEYS, row, place) ?? plain,
    shifted,
    function: fromTable(FUNCTIONS, row, place),
    inverse: isSign ? plain + INVERSE : plain,
    graphic: graphicOf(name, shifted),
  };
}

/** The forty keys, row by row from the top left. */
export const KEYS: readonly Key[] = NAMES.flatMap((names, row) =>
  names.map((_, place) => keyAt(row + 1, place)),
);

/** What a cursor of K or L becomes when this code has been typed before it. */
export function modeAfter(code: number, mode: 'K' | 'L'): 'K' | 'L' {
  if (code < FIRST_LETTER) return mode;
  return code === THEN ? 'K' : 'L';
}
