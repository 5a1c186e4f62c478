/** A listing to be edited at random, and what is put into it. */

export const LISTING = `' lamps
.name "LAMP"
10 LET A=1
20 IF A=1 THEN PRINT "A ▘";A(2,3);A$(1 TO 2)
30 REM [01 02
03 04]
40 FOR I=1 TO 9
50 NEXT I
.display
ABC
.end
.var K = 3
60 GOTO 10
`;

/** Bits of listings, whole and broken, that make the reader's lines join and part. */
export const BITS = [
  '1',
  '20 ',
  '\n',
  '\n\n',
  'PRINT ',
  '"',
  '[',
  ']',
  '[01 ',
  'REM ',
  '.display\n',
  '.end\n',
  "' ",
  'A',
  '(',
  ')',
  '=',
  '\r\n',
  '.ram 1K\n',
  '.numbers nearest\n',
  '.1',
  '30 LET A=A+1\n',
  '▘',
  ' ',
];
