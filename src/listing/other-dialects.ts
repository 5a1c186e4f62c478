/** Words and signs of other dialects of BASIC: what this machine uses instead. */

/** A row for each advice: the words that get it, and what it says. */
const WORDS = instead(`
READ DATA | this machine has no READ or DATA: give each value with LET, or cut it from a string with VAL and a slice
RESTORE | this machine has no READ, DATA or RESTORE: keep the values in an array or a string
ELSE | this machine has no ELSE: put a GOTO after THEN, and the other case on the next line
ELSEIF | this machine has no ELSEIF: write an IF line for each case
ENDIF | IF and THEN stand on one line here and need no end: leave it out
ON | this machine has no ON … GOTO: compute the line, as in GOTO 100*N
DEF | this machine has no DEF FN: keep the expression in a string and use VAL, or write a subroutine
FN | this machine has no FN: keep the expression in a string and use VAL, or write a subroutine
END | use STOP, or let the program run past its last line
HOME | use CLS
LOCATE VTAB CURSOR | use PRINT AT row,column;
GET | use LET A$=INKEY$, with a line that waits while it is ""
GETKEY GET$ | use INKEY$
INKEY | it is INKEY$ on this machine
WHILE WEND | this machine has no WHILE: use IF … THEN GOTO
REPEAT | this machine has no REPEAT: use IF … THEN GOTO
UNTIL | this machine has no UNTIL: use IF … THEN GOTO
DO LOOP | this machine has no DO and LOOP: use IF … THEN GOTO
PROC | use GOSUB
DRAW LINE HPLOT DRAWTO | this machine has no lines: PLOT each point
CIRCLE | this machine has no circles: PLOT each point
SET PSET | use PLOT x,y
RESET | use UNPLOT x,y
INK | this machine has no colours
PAPER COLOR COLOUR | this machine has no colours; inverse video is written [~TEXT]
BORDER | this machine has no colours and no border
FLASH | this machine has no flashing characters
BRIGHT | this machine has no brightness
OVER | this machine does not print over: UNPLOT or print again
INVERSE | inverse video is written [~TEXT] inside a string
NORMAL | inverse video is written [~TEXT] inside a string; nothing has to be switched back
BEEP SOUND PLAY | this machine has no sound
RANDOMIZE RANDOMISE | use RAND
REMARK | use REM
OPEN CLOSE | this machine has no files: SAVE and LOAD take the program and its variables together
FILES CAT DIR | a tape has no list of what is on it
KILL | this machine has no files to delete
ERASE | this machine has no files to delete; DIM anew empties an array
CLR | use CLEAR, which gives up all variables
WAIT DELAY SLEEP | use PAUSE, which counts frames: PAUSE 50 is one second at 50 frames a second
HTAB | use PRINT TAB column;
TRACE TRON TROFF | this machine has no trace: \`listwright rehearse\` runs a listing and says where it went
SYSTEM QUIT BYE | use STOP
RESUME | a mistake stops the program with a report: ask before it, by IF
DEFSTR | a name with $ holds text here, any other holds numbers: leave it out
ENDWHILE | this machine has no WHILE: use IF … THEN GOTO
ENDFOR | write NEXT and the letter of the FOR
GR HGR | text and PLOT share one display: nothing has to be switched
VDU | use PRINT CHR$, and mind that the codes are the machine’s own
SWAP | use a third variable: LET C=A, LET A=B, LET B=C, each on its line
INC | use LET A=A+1
DEC | use LET A=A-1
PUSH | keep the value in a variable, or in an element of an array
POP | this machine has no POP: leave a subroutine by RETURN
SCREEN MODE | this machine has one kind of display and no modes
WINDOW | this machine has one kind of display and no windows
GRAPHICS TEXT | text and PLOT share one display: nothing has to be switched
RENUM RENUMBER | \`listwright renumber\` does that to the listing
DPOKE DOKE WPOKE | use two POKEs: the low byte N-256*INT (N/256), then the high byte INT (N/256)
DEEK DPEEK | use PEEK A+256*PEEK (A+1)
SUB FUNCTION PROCEDURE | use GOSUB and RETURN: a subroutine begins at a line number
ENDPROC | use RETURN
LOCAL GLOBAL | all variables of this machine are seen everywhere: leave it out
CONST | use LET
DEFINT DEFSNG DEFDBL | this machine has one kind of number: leave it out
OPTION | subscripts of this machine begin at 1: leave it out
MAX | this machine has no MAX: write an IF, as in IF B>A THEN LET A=B
MIN | this machine has no MIN: write an IF, as in IF B<A THEN LET A=B
CINT ROUND | use INT (X+.5)
FIX | use SGN X*INT ABS X
DOWNTO | use TO, with STEP -1 at the end
CONTINUE CONTINE | use CONT
EXIT | use GOTO to leave a loop
CALL SYS EXEC | use RAND USR address
IN | this machine has no IN: it needs machine code
OUT | this machine has no OUT: it needs machine code
MERGE | this machine cannot merge programs
VERIFY | this machine cannot verify a tape: recover the recording and compare
AUTO | lines are numbered by hand here; \`renumber\` can do it afterwards
DELETE | a line is deleted by leaving it out of the listing
EDIT | EDIT is a key of the machine, not a command
MID$ | use a slice: A$(2 TO 4) for the second to the fourth character
LEFT$ | use a slice: A$( TO 3) for the first three characters
RIGHT$ | use a slice: A$(LEN A$-2 TO ) for the last three characters
STRING$ | this machine has no STRING$: join the string in a loop
SPACE$ | write the spaces in a string, or use TAB
HEX$ | this machine has no HEX$: divide by 16
UCASE$ UPPER$ LOWER$ LCASE$ | this machine has capitals only: leave it out
ASC | use CODE, and mind that the codes are the machine’s own
CHR | it is CHR$ on this machine
STR | it is STR$ on this machine
INSTR | this machine has no INSTR: compare slices in a loop
LOG | use LN, the natural logarithm; LN X/LN 10 is the one to base 10
LOG10 | use LN X/LN 10
SQRT | use SQR
ARCSIN | use ASN
ARCCOS | use ACS
ARCTAN ATAN | use ATN
RANDOM | use RND
MOD | use A-B*INT (A/B)
DIV | use INT (A/B)
XOR | this machine has no XOR: for two conditions write (A=1)<>(B=1); AND, OR and NOT work on truth, not on bits
EQ EQUALS | use =
NE | use <>
GT | use >
LT | use <
GE | use >=
LE | use <=
SEC | use 1/COS X
CSC COSEC | use 1/SIN X
COT COTAN | use 1/TAN X
SINH | use (EXP X-EXP -X)/2
COSH | use (EXP X+EXP -X)/2
TANH | use 1-2/(EXP (2*X)+1)
CEIL | use -INT -X
ATAN2 | use ATN (Y/X), and add PI where X is less than 0
HEX | this machine has no HEX: divide by 16
BIN | this machine has no binary numbers: write the number in tens
SHL | this machine shifts no bits: multiply by 2 for each place
SHR | this machine shifts no bits: INT (A/2) for each place
SCREEN$ | this machine has no SCREEN$: PEEK the display file
TRIM$ | this machine has no TRIM$: compare slices with a space in a loop
REPT$ | this machine has no REPT$: join the string in a loop
DATE$ | this machine has no clock: FRAMES counts down, PEEK 16436+256*PEEK 16437
INPUT$ | use INKEY$ for one key, INPUT for a line
BEGIN | an IF governs the one statement behind THEN: jump over the others by IF NOT (…) THEN GOTO
SELECT | this machine has no SELECT: write an IF line for each case
CASE | this machine has no CASE: write an IF line for each case
SWITCH | this machine has no SWITCH: write an IF line for each case
FRE | this machine has no FRE: \`listwright fit\` says what is free
MEM | this machine has no MEM: \`listwright fit\` says what is free
POS | PEEK 16441 tells the column: 33 less what it gives
VPOS | PEEK 16442 tells the row: 24 less what it gives
POINT | this machine has no POINT: PEEK the display file
TIME$ TIME TIMER | use FRAMES: PEEK 16436+256*PEEK 16437 counts down
SPC | use TAB, or spaces in a string
USING | this machine has no PRINT USING: use STR$ and TAB
TRUE | use 1
FALSE | use 0
`);

const SIGNS = instead(`
: | one statement a line on this machine: give the next statement a line number of its own
! | this machine has no "!": write REM for a remark
@ | write AT, as in PRINT AT 10,5;
# | this machine has no channels and no "#": write <> for "not equal"
^ ↑ | write ** for "to the power of"
% | this machine has one kind of number: leave the % out
& | write + to join strings, AND for "both"; this machine has no hexadecimal numbers
\\ | write INT (A/B) to divide whole numbers
? | a question mark stands in a string, as in PRINT "?"
' | a comment of the editor stands on a line of its own, beginning with '; REM stores one in the program
{ } | write round brackets
~ | write NOT, or inverse video as [~TEXT] inside a string
| | write OR
× | write *
÷ | write /
− – — | write a plain minus sign -
≤ | write <=
≥ | write >=
≠ | write <>
“ ” „ ‘ ’ | write a plain quote "
$ | a string name is one letter and $, without a space between
£ | the pound sign can only stand in a string or REM
. | a point stands in a number alone, as in 0.5
[ ] | write round brackets; square ones hold bytes, as in [F5]
`);

function instead(table: string): ReadonlyMap<string, string> {
  const rows = table
    .trim()
    .split('\n')
    .map((row) => row.split(' | '));
  return new Map(rows.flatMap(([words, advice]) => words.split(' ').map((word) => [word, advice])));
}

/** Is this, in capitals, a word of another dialect? */
export function isForeign(word: string): boolean {
  return WORDS.has(word);
}

/** What this machine uses instead of a word or sign of another dialect; undefined for others. */
export function insteadOf(word: string): string | undefined {
  return WORDS.get(word.toUpperCase()) ?? SIGNS.get(word);
}
