/**
 * The machine's character codes and how they are written in a listing.
 * Source: the manual, Appendix A (character set), from memory; glyph names from the Unicode
 * Standard (Block Elements; Symbols for Legacy Computing). How a keyword is spaced: common practice.
 */

/** Codes 0 to 63: one Unicode character each. */
const PLAIN = [
  ' ▘▝▀▖▌▞▛', // 0–7
  '▒\u{1FB8F}\u{1FB8E}', // 8–10: grey, lower half grey, upper half grey
  '"£$:?()><=+-*/;,.', // 11–27
  '0123456789', // 28–37
  'ABCDEFGHIJKLMNOPQRSTUVWXYZ', // 38–63
].join('');

/** Codes 128 to 138: the inverse of the space and of the graphics, which Unicode also draws. */
const INVERSE_GRAPHICS = '█▟▙▄▜▐▚▗\u{1FB90}\u{1FB91}\u{1FB92}';

export const SPACE = 0;
export const QUOTE = 11;
export const POINT = 27;
export const FIRST_DIGIT = 28;
export const FIRST_LETTER = 38;
/** Codes below this are characters with a glyph each, and an inverse that is INVERSE more. */
export const GLYPHS_END = 64;
/** Ends a program line and a row of the display. */
export const NEWLINE = 118;
/** Stands before the five hidden bytes of a number in a program line. */
export const NUMBER_MARKER = 126;
/** Added to a character's code for its inverse video. */
export const INVERSE = 128;
/** Inside a string, shown as a pair of quotes: "". */
export const QUOTE_IMAGE = 192;

/** Code to the spelling of its keyword or symbol, for the codes that the machine expands. */
export const KEYWORDS: ReadonlyMap<number, string> = new Map(
  (
    [
      [64, 'RND INKEY$ PI'],
      [192, '"" AT TAB'],
      [
        196,
        'CODE VAL LEN SIN COS TAN ASN ACS ATN LN EXP INT SQR SGN ABS PEEK USR STR$ CHR$ NOT ** OR AND <= >= <> THEN TO STEP',
      ],
      [
        225,
        'LPRINT LLIST STOP SLOW FAST NEW SCROLL CONT DIM REM FOR GOTO GOSUB INPUT LOAD LIST LET PAUSE NEXT POKE PRINT PLOT RUN SAVE RAND IF CLS UNPLOT CLEAR RETURN COPY',
      ],
    ] as [number, string][]
  ).flatMap(([first, words]) =>
    words.split(' ').map((word, index): [number, string] => [first + index, word]),
  ),
);

/** Spelling of a keyword or symbol, in capitals, to its code. */
export const KEYWORD_CODES: ReadonlyMap<string, number> = new Map(
  [...KEYWORDS].map(([code, word]) => [word, code]),
);

export const REM = KEYWORD_CODES.get('REM')!;
export const THEN = KEYWORD_CODES.get('THEN')!;

/** Is this the code of a digit? */
export const isDigitCode = (code: number): boolean => code >= FIRST_DIGIT && code < FIRST_LETTER;

/** Is this the code of a letter, not of its inverse? */
export const isLetterCode = (code: number): boolean => code >= FIRST_LETTER && code < GLYPHS_END;

/** Has this code a glyph of its own, as it is or inverse? */
export const hasGlyph = (code: number): boolean => (code & ~INVERSE) < GLYPHS_END;

const UNICODE_OF_CODE: (string | undefined)[] = new Array(256).fill(undefined);
const CODE_OF_UNICODE = new Map<string, number>();
for (const [first, glyphs] of [
  [0, PLAIN],
  [128, INVERSE_GRAPHICS],
] as [number, string][]) {
  [...glyphs].forEach((glyph, index) => {
    UNICODE_OF_CODE[first + index] = glyph;
    CODE_OF_UNICODE.set(glyph, first + index);
  });
}
for (let code = FIRST_LETTER; code < GLYPHS_END; code++) {
  CODE_OF_UNICODE.set(UNICODE_OF_CODE[code]!.toLowerCase(), code);
}

/** The Unicode character of a code 0–63 or 128–138, else undefined. */
export function unicodeOfCode(code: number): string | undefined {
  return UNICODE_OF_CODE[code];
}

/** The code of one Unicode character; small letters fold to capitals. Undefined: not on the machine. */
export function codeOfUnicode(character: string): number | undefined {
  return CODE_OF_UNICODE.get(character);
}

/** The codes of a text, one for each character. Throws RangeError for one that is not on the machine. */
export function codesOfText(text: string): Uint8Array {
  return Uint8Array.from([...text], (character) => {
    const code = codeOfUnicode(character);
    if (code === undefined) throw new RangeError(`the machine has no character ${character}`);
    return code;
  });
}

/** A character for each code; `?` for one that has none of its own. */
export function textOfCodes(codes: Uint8Array): string {
  let text = '';
  for (const code of codes) text += unicodeOfCode(code) ?? '?';
  return text;
}

/**
 * The names of the graphics for a keyboard without Unicode, by the quarters that are lit
 * (upper left, upper right, lower left, lower right) or the half that is grey. Our own names.
 */
export const GRAPHIC_NAMES: ReadonlyMap<string, number> = new Map([
  ['ul', 1],
  ['ur', 2],
  ['ul+ur', 3],
  ['ll', 4],
  ['ul+ll', 5],
  ['ur+ll', 6],
  ['ul+ur+ll', 7],
  ['ul+ur+ll+lr', 128],
  ['ur+ll+lr', 129],
  ['ul+ll+lr', 130],
  ['ll+lr', 131],
  ['ul+ur+lr', 132],
  ['ur+lr', 133],
  ['ul+lr', 134],
  ['lr', 135],
  ['grey', 8],
  ['grey-bottom', 9],
  ['grey-top', 10],
  ['grey-inverse', 136],
  ['ul+ur+grey-bottom', 137],
  ['grey-top+ll+lr', 138],
]);

/**
 * The quarters of a cell that a graphic lights, as bits: 1 upper left, 2 upper right, 4 lower left,
 * 8 lower right. Undefined for every code that is not a pure quarter graphic (or space).
 */
export function quartersOfCode(code: number): number | undefined {
  if (code <= 7) return code;
  if (code >= 128 && code <= 135) return 15 - (code - 128);
  return undefined;
}

/** Does this code show a block graphic, grey or not? Space, which lights nothing, is none. */
export const isGraphic = (code: number): boolean => code > 0 && (code & 0x7f) <= 10;

/** The graphic that lights just these quarters (bits as in quartersOfCode). */
export function codeOfQuarters(quarters: number): number {
  return quarters < 8 ? quarters : 128 + (15 - quarters);
}

const NO_SPACE_AFTER = new Set([64, 65, 66, 192, 216, 219, 220, 221]);
const SPACE_BEFORE = new Set([217, 218, 222, 223, 224]);

/** Does LIST show a space after this keyword? (Common practice.) */
export function hasSpaceAfter(code: number): boolean {
  return !NO_SPACE_AFTER.has(code);
}

/** Does LIST show a space before this keyword, unless one was the last thing shown? */
export function hasSpaceBefore(code: number): boolean {
  return SPACE_BEFORE.has(code) || code >= 225;
}

/** What LIST and PRINT CHR$ show for an unprintable code: a question mark. */
export const UNPRINTABLE = 15;
