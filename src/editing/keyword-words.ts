/**
 * What each keyword takes and does, in a few words of our own, with the reports that it can stop
 * with. Source of what they do: the manual, chapters 4 to 26 and Appendices B and C, from memory.
 */
import type { ReportCode } from '../machine/reports.js';

export interface KeywordWords {
  /** The keyword with what it takes. */
  readonly form: string;
  readonly does: string;
  /** Reports that are its own; those of working out what it is given come on top. */
  readonly reports: readonly ReportCode[];
}

/** Keyword, form, what it does, codes of its reports. */
const TABLE = `
RND | RND | A number from 0 up to, but never, 1: the next of a row of 65536. RAND sets where the row begins.
INKEY$ | INKEY$ | The character of the key that is held down now, or "" for no key or two. It does not wait.
PI | PI | The number 3.1415927. It takes 1 byte, where a literal takes its digits and 6.
CODE | CODE string | The code of the string’s first character, or 0 for "".
VAL | VAL string | Works the string out as a numeric expression. | C
LEN | LEN string | How many characters the string has.
SIN | SIN x | The sine of an angle in radians.
COS | COS x | The cosine of an angle in radians.
TAN | TAN x | The tangent of an angle in radians. | 6
ASN | ASN x | The angle in radians whose sine is x, which lies from −1 to 1. | A
ACS | ACS x | The angle in radians whose cosine is x, which lies from −1 to 1. | A
ATN | ATN x | The angle in radians whose tangent is x.
LN | LN x | The natural logarithm of x, which is above 0. | A
EXP | EXP x | e to the power of x. | 6
INT | INT x | The largest whole number that is not above x: INT −1.5 is −2.
SQR | SQR x | The square root, made by EXP and LN: SQR 25 prints as 5 but is not quite 5. | A
SGN | SGN x | −1, 0 or 1, as x is below, equal to or above 0.
ABS | ABS x | x without its sign.
PEEK | PEEK address | The byte at an address from 0 to 65535. | B
USR | USR address | Runs the machine code at an address, and gives what it leaves in the register pair BC. | B
STR$ | STR$ x | The characters that PRINT x would show.
CHR$ | CHR$ code | The one character with this code, 0 to 255. | B
NOT | NOT x | 1 if x is 0, else 0. It binds more loosely than the comparisons.
** | x ** y | x to the power of y, by EXP and LN: x must not be below 0. | A6
OR | x OR y | 1 if y is not 0, else x. It does not work on bits.
AND | x AND y | x if y is not 0, else 0; with a string before it, the string or "". It does not work on bits.
<= | x <= y | 1 if x is not above y, else 0; strings by the codes of their characters.
>= | x >= y | 1 if x is not below y, else 0; strings by the codes of their characters.
<> | x <> y | 1 if the two differ, else 0.
THEN | IF condition THEN statement | Begins what IF does. A whole statement follows: GOTO and LET are not left out.
TO | FOR a=x TO y · string(x TO y) | Ends the first value of FOR, or parts the first and last place of a slice.
STEP | FOR a=x TO y STEP z | What NEXT adds to the variable; 1 without it.
AT | PRINT AT row,column | Moves where PRINT goes on: row 0 to 21, column 0 to 31. | 5B
TAB | PRINT TAB column | Moves on to a column (the number modulo 32), on the next row if that one is past. | B
LPRINT | LPRINT items | As PRINT, to the printer.
LLIST | LLIST [line] | As LIST, to the printer.
STOP | STOP | Ends the run with report 9. CONT goes on behind it. | 9
SLOW | SLOW | Shows the display while the program runs, at about a quarter of the speed.
FAST | FAST | Runs at full speed; the display is shown only in PAUSE, in INPUT and at the end.
NEW | NEW | Deletes program and variables; what lies above RAMTOP stays.
SCROLL | SCROLL | Moves the display up a row, and PRINT to the new row at the bottom.
CONT | CONT | Goes on where a report stopped the run; after STOP with the next line.
DIM | DIM a(sizes) · DIM a$(sizes) | Makes an array, of zeros or spaces; one that had this name is thrown away. | 34
REM | REM text | Does nothing: the rest of the line is for whoever reads it.
FOR | FOR a=x TO y [STEP z] | Begins a loop: sets a to x, and NEXT a comes back here until a is past y. | 4
GOTO | GOTO line | Goes on at that line, or the next one that there is. | B
GOSUB | GOSUB line | As GOTO, and remembers, in 2 bytes, the line to RETURN to. | B4
INPUT | INPUT variable | Waits until a value is typed, and stores it. | D
LOAD | LOAD name | Reads a program from tape in place of this one; "" takes the first that comes. | D
LIST | LIST [line] | Shows the program from a line on.
LET | LET variable=value | Stores a value. The word LET is never left out. | 234
PAUSE | PAUSE n | Waits n frames (50 or 60 a second), or until a key; from 32768 up for a key alone. | B
NEXT | NEXT a | Adds the step to a, and goes back behind its FOR unless a is past the limit. | 12
POKE | POKE address,value | Writes a byte (−255 to 255) to an address from 0 to 65535. | B
PRINT | PRINT items | Shows values. ; goes on at once, “,” at column 0 or 16; a new row follows unless one of them ends it. | 45
PLOT | PLOT x,y | Blackens a block: x 0 to 63 from the left, y 0 to 43 from the bottom. | B
RUN | RUN [line] | Clears the variables and starts, at a line if one is given. | B
SAVE | SAVE name | Sends program, display and variables to tape. | DF
RAND | RAND [n] | Sets where RND’s row begins; without n, or with 0, by how long the machine has been on. | B
IF | IF condition THEN statement | Does the statement if the condition is not 0.
CLS | CLS | Clears the display.
UNPLOT | UNPLOT x,y | Whitens a block: x 0 to 63 from the left, y 0 to 43 from the bottom. | B
CLEAR | CLEAR | Deletes all variables, and frees their bytes.
RETURN | RETURN | Goes back behind the GOSUB that was done last. | 7
COPY | COPY | Sends the display to the printer. | D
`;

const ROWS = new Map(
  TABLE.trim()
    .split('\n')
    .map((row): [string, KeywordWords] => {
      const [word, form, does, reports = ''] = row.split(' | ');
      return [word, { form, does, reports: [...reports] as ReportCode[] }];
    }),
);

/** The words for a keyword in capitals, or undefined for what is none. */
export const wordsOf = (keyword: string): KeywordWords | undefined => ROWS.get(keyword);
