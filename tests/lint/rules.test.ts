/** Each rule: what it accepts and what it rejects, with line and column; and what each fix saves. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/lint/rules.js';
import { Places } from '../../src/listing/diagnostics.js';
import { applyEdits } from '../../src/listing/edits.js';
import { readListing } from '../../src/listing/read.js';
import { findingsOf } from './findings.js';

/** Rejected: text, then `line:column` and perhaps the text after the fix. Lines are parted by |. */
type Rejected = [text: string, at: string, fixed?: string];
interface Examples {
  readonly accepted: readonly string[];
  readonly rejected: readonly Rejected[];
}

const LARGE = '.ram 1K|10 DIM F(200)|';

const X500 = 'X'.repeat(500);

const TABLE: Record<string, Examples> = {
  'no-room': {
    accepted: ['10 PRINT "OAK"', '.ram 2K|10 DIM A(200)', '10 INPUT A$|20 PRINT A$'],
    rejected: [
      [`10 REM ${X500}|20 REM ${X500}`, '2:1'],
      ['10 PRINT "OAK"|20 DIM A(200)', '2:4'],
      ['10 LET A$=""|20 LET A$=A$+"X"|30 GOTO 20', '2:4'],
    ],
  },
  'missing-line': {
    accepted: [
      '10 GOTO 61440',
      '10 GOTO -1',
      '10 LIST 15|20 STOP',
      '10 GOTO 10',
      '10 LET A=20|15 GOTO A|20 STOP',
      '10 INPUT A|20 GOTO A',
      '10 RUN',
    ],
    rejected: [
      ['10 GOTO 61439', '1:9'],
      ['10 IF RND<.5 THEN RUN 15|20 STOP', '1:23'],
      ['10 GOTO 15|20 STOP', '1:9'],
      ['10 GOSUB 99|20 STOP', '1:10'],
      ['10 GOTO VAL "15"|20 STOP', '1:9'],
      ['10 IF RND>.5 THEN GOTO 5|20 STOP', '1:24'],
    ],
  },
  'next-without-for': {
    accepted: ['10 FOR I=1 TO 9|20 NEXT I', '.var I for 1 to 9 at 10|10 NEXT I'],
    rejected: [
      ['10 INPUT I|20 NEXT I', '2:9'],
      ['10 NEXT I|20 NEXT I', '2:9'],
      ['10 NEXT I', '1:9'],
      ['.var J for 1 to 9 at 10|10 NEXT I', '2:9'],
      ['.var I = 1|10 NEXT I', '2:9'],
      ['10 FOR I=1 TO 9|20 NEXT J', '2:9'],
    ],
  },
  'for-without-next': {
    accepted: ['10 FOR I=1 TO 9|20 NEXT I'],
    rejected: [['10 FOR I=1 TO 9|20 PRINT I', '1:8']],
  },
  'empty-loop': {
    accepted: [
      '10 FOR I=9 TO 1 STEP -1|20 NEXT I',
      '10 FOR I=1 TO 1|20 NEXT I',
      '10 INPUT A|20 FOR I=A TO 1|30 NEXT I',
      '10 FOR I=9 TO 1',
    ],
    rejected: [
      ['10 FOR I=9 TO 1|20 PRINT I|30 NEXT I', '1:10'],
      ['10 FOR I=1 TO 9 STEP -1|20 NEXT I', '1:10'],
    ],
  },
  'jump-into-loop': {
    accepted: [
      '10 GOTO 20|20 FOR I=1 TO 9|30 NEXT I',
      '20 FOR I=1 TO 9|30 IF I=2 THEN GOTO 50|40 PRINT I|50 NEXT I',
    ],
    rejected: [['10 GOTO 30|20 FOR I=1 TO 9|30 PRINT I|40 NEXT I', '1:9']],
  },
  'jump-out-of-loop': {
    accepted: [
      '20 FOR I=1 TO 9|30 IF I=2 THEN GOTO 50|40 PRINT I|50 NEXT I',
      '10 GOTO 30|20 FOR I=1 TO 9|30 PRINT I|40 NEXT I',
    ],
    rejected: [['10 FOR I=1 TO 9|20 IF I=4 THEN GOTO 40|30 NEXT I|40 STOP', '2:21']],
  },
  'return-without-gosub': {
    accepted: ['10 GOTO 10|20 RETURN', '10 GOSUB 30|20 STOP|30 RETURN'],
    rejected: [
      ['10 INPUT A|20 GOTO A|30 RETURN', '3:4'],
      ['10 GOSUB 30|20 GOTO 40|30 RETURN|40 RETURN', '4:4'],
      ['.start 20|10 STOP|20 RETURN', '3:4'],
      ['10 IF RND<.5 THEN STOP|20 RETURN', '2:4'],
      ['10 GOSUB 20|20 RETURN', '2:4'],
      ['10 RETURN', '1:4'],
      ['10 IF RND>.5 THEN RETURN', '1:19'],
    ],
  },
  'unset-variable': {
    accepted: [
      '10 LET A=1|20 PRINT A',
      '10 INPUT A$|20 PRINT A$',
      '10 FOR I=1 TO 3|20 NEXT I|30 PRINT I',
      '10 DIM A(3)|20 LET A(1)=A(2)',
      '.var A = 5|10 PRINT A',
      '10 GOSUB 40|20 PRINT A|30 STOP|40 LET A=1|50 RETURN',
      '10 IF RND>.5 THEN LET A=1|20 PRINT A',
      '10 LET A=1|20 PRINT VAL "A+1"',
    ],
    rejected: [
      ['10 PRINT A|20 LET A=1', '1:10'],
      ['10 LET A=A+1', '1:10'],
      ['10 LET A(1)=5', '1:8'],
      ['10 LET A$(2)="X"', '1:8'],
      ['10 LET A=1|20 PRINT A(1)', '2:10'],
      ['10 PRINT VAL "B+1"', '1:1'],
      ['10 PRINT A$', '1:10'],
    ],
  },
  'subscript-range': {
    accepted: [
      '10 DIM A(5)|20 PRINT A(1);A(5)',
      '10 DIM A$(3,4)|20 PRINT A$(3);A$(3,4);A$(1,2 TO 4)',
      '10 DIM A(5)|20 INPUT N|30 PRINT A(N)',
      '10 DIM A(5)|20 FOR I=1 TO 5|30 LET A(I)=I|40 NEXT I',
    ],
    rejected: [
      ['10 DIM A(5)|20 PRINT A(6)', '2:12'],
      ['10 DIM A(5)|20 PRINT A(0)', '2:12'],
      ['10 DIM A(5)|20 LET A(1,2)=3', '2:8'],
      ['10 DIM A(5)|20 FOR I=0 TO 5|30 PRINT A(I)|40 NEXT I', '3:12'],
      ['10 DIM A$(3,4)|20 PRINT A$(4)', '2:13'],
      ['10 DIM A$(3,4)|20 PRINT A$(1,2 TO 5)', '2:20'],
      ['10 DIM A(2.4)|20 PRINT A(3)', '2:12'],
      ['10 INPUT N|20 DIM A(N)|30 PRINT A(-1)', '3:12'],
    ],
  },
  'argument-range': {
    accepted: [
      '10 INPUT A|20 GOTO A',
      '10 GOTO 61439|20 RAND 65535',
      '10 PRINT PEEK 65535|20 DIM A(16384)',
      '10 PLOT 63,43|20 UNPLOT 0,0',
      '10 PLOT -1,0|20 UNPLOT -63,-43',
      '10 PRINT AT -1,-2;"A"|20 POKE 16437,-.3',
      '10 PRINT AT 21,31;TAB 255;CHR$ 255',
      '10 POKE 16437,-255|20 PAUSE 40000',
      '10 PRINT SQR 0;LN 1;ASN 1;ACS -1;2**-1',
      '10 INPUT A|20 PLOT A,A',
    ],
    rejected: [
      ['10 RAND 65536', '1:9'],
      ['10 GOSUB 61440', '1:10'],
      ['10 RUN 61440', '1:8'],
      ['10 PRINT PEEK 65536', '1:15'],
      ['10 RAND USR 65536', '1:13'],
      ['10 PRINT ACS 2', '1:14'],
      ['10 PRINT ASN -1.1', '1:14'],
      ['10 POKE 0,-256', '1:11'],
      ['10 PRINT AT -24,0;"A"', '1:13'],
      ['10 PLOT 64,0', '1:9'],
      ['10 UNPLOT 0,44', '1:13'],
      ['10 PLOT -64,0', '1:9'],
      ['10 PLOT -63.5,0', '1:9'],
      ['10 DIM A(16385)', '1:10'],
      ['10 PRINT AT 0,-32;"A"', '1:15'],
      ['10 PRINT CHR$ -.3', '1:15'],
      ['10 DIM A(-1)', '1:10'],
      ['10 PRINT AT 24,0;"A"', '1:13'],
      ['10 PRINT AT 0,32;"A"', '1:15'],
      ['10 PRINT TAB 256;"A"', '1:14'],
      ['10 POKE 65536,0', '1:9'],
      ['10 POKE 16437,256', '1:15'],
      ['10 PRINT CHR$ 256', '1:15'],
      ['10 PAUSE 65536|20 POKE 16437,255', '1:10'],
      ['10 PRINT SQR -1', '1:14'],
      ['10 PRINT LN 0', '1:13'],
      ['10 PRINT ASN 2', '1:14'],
      ['10 PRINT (-2)**2', '1:10'],
      ['10 GOTO 62000', '1:9'],
      ['10 DIM A(0)', '1:10'],
    ],
  },
  'past-the-display': {
    accepted: [
      '10 LPRINT AT 22,0;"A"',
      '10 STOP|20 PRINT AT 22,0;"A"',
      '10 PRINT AT 21,0;"A"',
      '10 POKE 16418,0|20 PRINT AT 22,0;"A";AT 23,0;"B"',
      '.system DF_SZ = 0|10 PRINT AT 23,0;"A"',
      '10 PRINT AT 21,0;"A"|20 SCROLL|30 PRINT "B"',
      Array.from({ length: 22 }, (_, at) => `${10 + at} PRINT "A"`).join('|'),
    ],
    rejected: [
      ['10 POKE 16418+RND,0|20 PRINT AT 22,0;"A"', '2:10'],
      ['10 IF RND<.5 THEN PRINT AT 22,0;"A"', '1:25'],
      ['10 POKE 16419,0|20 PRINT AT 22,0;"A"', '2:10'],
      ['10 POKE RND*9+16414,0|20 PRINT AT 22,0;"A"', '2:10'],
      ['10 PRINT AT 22,0;"A"', '1:10'],
      ['10 PRINT AT 23,0;"A"', '1:10'],
      ['10 PRINT AT 21,0;"A"|20 PRINT "B"', '2:10'],
      [Array.from({ length: 23 }, (_, at) => `${10 + at} PRINT "A"`).join('|'), '23:10'],
    ],
  },
  'division-by-zero': {
    accepted: ['10 PRINT 1/2', '10 INPUT A|20 PRINT 1/A'],
    rejected: [
      ['10 PRINT 1/0', '1:12'],
      ['10 PRINT 1/(2-2)', '1:12'],
      ['10 PRINT 1/NOT PI', '1:12'],
    ],
  },
  'and-or-number': {
    accepted: [
      '10 INPUT A$|20 INPUT A|30 IF A=1 OR VAL A$ THEN STOP',
      '10 INPUT A|20 IF A=1 OR CODE "2" THEN STOP',
      '10 INPUT A|20 IF A=1 OR A=2 THEN STOP',
      '10 INPUT A|20 IF A=1 OR NOT 2 THEN STOP',
      '10 INPUT A|20 IF A=1 OR -A THEN STOP',
      '10 INPUT A|20 IF A=1 OR PI THEN STOP',
      '10 INPUT A|20 INPUT B|30 IF A=1 OR B THEN STOP',
      '10 INPUT A|20 LET B=5 AND A=1|30 PRINT B',
      '10 INPUT A$|20 PRINT "OAK" AND A$="Y"',
    ],
    rejected: [
      ['10 INPUT A|20 IF NOT A OR 2 THEN STOP', '2:7'],
      ['10 INPUT A|20 IF A+1 OR 2 THEN STOP', '2:7'],
      ['10 INPUT A|20 IF A=1 OR 2 THEN STOP', '2:7'],
      ['10 INPUT A|20 IF (A=1 OR 2 OR 3) AND A<9 THEN STOP', '2:8'],
      ['10 INPUT A|20 IF A>1 AND VAL "5" THEN STOP', '2:7'],
      ['10 PRINT PEEK 16421 AND 128', '1:10'],
      ['10 INPUT A|20 PRINT A OR -1', '2:10'],
    ],
  },
  'compared-twice': {
    accepted: [
      '10 INPUT A|20 IF 1<A AND A<5 THEN STOP',
      '10 INPUT A|20 INPUT B|30 IF (A<5)=B THEN STOP',
      '10 INPUT A|20 IF A=(A<5) THEN STOP',
    ],
    rejected: [
      ['10 INPUT A|20 IF 1<A<5 THEN STOP', '2:7'],
      ['10 INPUT A|20 INPUT B|30 IF A=B=0 AND B THEN STOP', '3:7'],
      ['10 INPUT A|20 PRINT 1<=A<=5<9', '2:10'],
    ],
  },
  'chained-equals': {
    accepted: [
      '10 INPUT X|20 LET F=X=3|30 IF F THEN STOP',
      '10 INPUT X|20 LET F=X=3|30 PRINT 8*F;NOT F',
      '10 INPUT X|20 LET F=X=3|30 IF F=1 THEN STOP',
      '10 INPUT X|20 LET F=X=3|30 IF (F) THEN STOP',
      '10 INPUT X|20 LET F=X=3|30 PRINT NOT F',
      '10 INPUT X|20 LET F=X=3|30 PRINT F AND 2',
      '10 INPUT X|20 LET F=X=3|30 PRINT 0=F',
      '10 DIM A(3)|20 LET B=1|30 LET A(1)=B=0',
      '10 INPUT X|20 LET F=X=X+1=3|30 PRINT F',
      '10 INPUT X|20 LET F=(X=3)|30 PRINT F',
      '10 INPUT X|20 LET F=X+1=3|30 PRINT F',
      '10 INPUT A$|20 LET F=A$="Y"|30 PRINT F',
    ],
    rejected: [
      ['10 LET A=B=0|20 PRINT A;B', '1:10'],
      ['10 LET B=2|20 LET A=B=0|30 PRINT A;B', '2:10'],
      ['10 DIM A(3)|20 LET A(1)=B=0', '2:13'],
      ['10 INPUT X|20 LET F=X=3|30 PRINT F+2', '2:10'],
      ['10 INPUT X|20 LET F=X=3|30 PRINT F=2', '2:10'],
      ['10 DIM A(3)|20 INPUT X|30 LET F=X=3|40 PRINT A(F)', '3:10'],
    ],
  },
  'dim-discards-string': {
    accepted: ['10 DIM A$(5)|20 LET A$="OAK"', '10 LET A$="OAK"|20 DIM B$(5)'],
    rejected: [
      ['10 LET A$="OAK"|20 DIM A$(5)', '2:8'],
      ['10 INPUT A$|20 DIM A$(5)', '2:8'],
    ],
  },
  'loop-variable-set': {
    accepted: [
      '10 FOR I=1 TO 9|20 LET I=9',
      '10 FOR I=1 TO 9|20 DIM I(3)|30 NEXT I',
      '10 FOR I=1 TO 9|20 LET J=9|30 NEXT I',
      '10 FOR I=1 TO 9|20 FOR I=1 TO 3|30 NEXT I',
      '10 LET I=3|20 FOR I=1 TO 9|30 NEXT I|40 LET I=1',
    ],
    rejected: [
      ['10 FOR I=1 TO 9|20 LET I=9|30 NEXT I', '2:8'],
      ['10 FOR I=1 TO 9|20 INPUT I|30 NEXT I', '2:10'],
    ],
  },
  'save-last': {
    accepted: ['10 SAVE "OAK"|20 RUN'],
    rejected: [['10 RUN|20 SAVE "OAK"', '2:4']],
  },
  'pause-poke': {
    accepted: ['10 PAUSE 50|20 POKE 16437,255', '10 PAUSE 50|20 POKE VAL "16437",255'],
    rejected: [
      ['10 PAUSE 50', '1:4'],
      ['10 PAUSE 50|20 POKE 16436,255', '1:4'],
    ],
  },
  'machine-code-place': {
    accepted: [
      '10 REM [01 02 C9]|20 RAND USR 16508',
      '10 REM [01 02 C9]|20 RAND USR 16383',
      '10 REM [01 02 C9]|20 RAND USR 16513.5',
      '10 REM [01 02 C9]|20 RAND USR 16514',
      '10 REM [01 02 C9]|20 RAND USR 16517',
      '10 RAND USR 3292',
      '10 RAND USR 16400',
      '10 CLS|20 RAND USR 30000',
      '10 INPUT A|20 RAND USR A',
    ],
    rejected: [
      ['10 REM [01 02 C9]|20 RAND USR 16509', '2:9'],
      ['10 REM [01 02 C9]|20 RAND USR 16531', '2:9'],
      ['10 REM [01 02 C9]|20 RAND USR 16513', '2:9'],
      ['10 REM [01 02 C9]|20 RAND USR 16518', '2:9'],
      ['10 CLS|20 REM [01 02 C9]|30 RAND USR 16520', '3:9'],
      ['10 REM [01 76 C9]|20 RAND USR 16514', '2:9'],
      ['10 PRINT "A"|20 RAND USR 16514', '2:9'],
    ],
  },
  'number-form': {
    accepted: ['10 PRINT VAL "25";CODE "S"', '10 PRINT 5[=82 40 00 00 00]'],
    rejected: [
      ['10 PRINT 5', '1:10', '10 PRINT VAL "5"'],
      ['10 PRINT 0', '1:10', '10 PRINT NOT PI'],
      ['10 PRINT 2.5', '1:10', '10 PRINT VAL "2.5"'],
      ['10 PRINT .5', '1:10', '10 PRINT VAL ".5"'],
      ['10 PRINT 0.50', '1:10', '10 PRINT VAL ".5"'],
      ['10 PRINT 1e10', '1:10', '10 PRINT VAL "1E10"'],
      ['10 PRINT 100000', '1:10', '10 PRINT VAL "100000"'],
      ['10 PRINT 1E5', '1:10', '10 PRINT VAL "1E5"'],
      ['10 PRINT 2E-3', '1:10', '10 PRINT VAL "2E-3"'],
      ['10 PRINT 4294967296', '1:10', '10 PRINT VAL "4294967296"'],
      ['10 PRINT 1', '1:10', '10 PRINT SGN PI'],
      ['10 PRINT 3', '1:10', '10 PRINT INT PI'],
      ['10 PRINT 38', '1:10', '10 PRINT CODE "A"'],
      ['10 PRINT 100', '1:10', '10 PRINT VAL "100"'],
      ['10 PRINT 166', '1:10', '10 PRINT CODE "[~A]"'],
      ['10 PRINT 11', '1:10', '10 PRINT VAL "11"'],
      ['10 PRINT 192', '1:10', '10 PRINT VAL "192"'],
      ['10 PRINT 241', '1:10', '10 PRINT VAL "241"'],
      // NOT binds loosely: an operator behind it would be drawn in.
      ['10 IF 0=RND THEN STOP', '1:7', '10 IF CODE ""=RND THEN STOP'],
      ['10 IF RND=0 AND RND THEN STOP', '1:11', '10 IF RND=NOT PI AND RND THEN STOP'],
      ['10 PRINT (0)+RND', '1:11', '10 PRINT (NOT PI)+RND'],
      ['10 PRINT SIN 0*RND', '1:14', '10 PRINT SIN CODE ""*RND'],
      // Words do not run together.
      ['10 IF RND THEN GOTO 1', '1:21', '10 IF RND THEN GOTO SGN PI'],
      ['10 FOR I=RND TO 1STEP RND|20 NEXT I', '1:17', '10 FOR I=RND TO SGN PI STEP RND|20 NEXT I'],
      // What is looked at stays; what is behind it may change.
      ['10 REM [C9]|20 RAND USR 16514', '2:13', '10 REM [C9]|20 RAND USR VAL "16514"'],
    ],
  },
  'repeated-number': {
    accepted: ['10 PRINT 256', `10 PRINT ${new Array(3).fill('7').join(';')}`],
    rejected: [[`10 PRINT ${new Array(8).fill('7').join(';')}`, '1:10']],
  },
  'long-name': {
    accepted: [
      '10 LET A[sp]B=RND|20 PRINT A[sp]B',
      '10 LET S=1|20 PRINT S',
      '10 DIM A(3)|20 PRINT A(1)',
      '10 LET A$=""|20 PRINT A$',
    ],
    rejected: [
      ['10 LET AB=RND|20 PRINT AB|30 LIST', '1:8'],
      [
        '10 LET S$="X"|20 LET SCORE=RND|30 PRINT SCORE;S$',
        '2:8',
        '10 LET S$="X"|20 LET S=RND|30 PRINT S;S$',
      ],
      [
        '10 DIM S(2)|20 LET SCORE=RND|30 PRINT SCORE;S(1)',
        '2:8',
        '10 DIM S(2)|20 LET A=RND|30 PRINT A;S(1)',
      ],
      ['.var S = 1|10 LET SCORE=RND|20 PRINT SCORE', '2:8', '.var S = 1|10 LET A=RND|20 PRINT A'],
      [
        '10 LET AB=RND|20 LET AC=RND|30 PRINT AB;AC',
        '2:8',
        '10 LET AB=RND|20 LET B=RND|30 PRINT AB;B',
      ],
      ['10 LET SCORE=RND|20 PRINT SCORE', '1:8', '10 LET S=RND|20 PRINT S'],
      ['10 LET S=RND|20 LET SCORE=S|30 PRINT SCORE', '2:8', '10 LET S=RND|20 LET A=S|30 PRINT A'],
      ['10 LET AB=RND|20 PRINT AB;VAL "AB"', '1:8'],
      ['10 INPUT A$|20 LET AB=VAL A$|30 PRINT AB', '2:8'],
      ['.var AB = 5|10 PRINT AB', '2:10'],
    ],
  },
  remark: {
    accepted: ['.ram 1K|10 REM OAK', `${LARGE}20 REM [01 76 C9]|30 RAND USR 16600`],
    rejected: [
      [`${LARGE}20 REM OAK|30 CLS`, '3:4', `${LARGE}' 20 REM OAK|30 CLS`],
      [`${LARGE}20 REM OAK|30 GOTO 20`, '3:4', `${LARGE}' OAK|20 REM|30 GOTO 20`],
      [`${LARGE}20 REM OAK|30 LIST`, '3:4'],
      [`${LARGE}20 IF RND THEN REM OAK`, '3:16'],
    ],
  },
  'array-size': {
    accepted: [
      '10 DIM A(5)|20 PRINT A(5)',
      '10 DIM A(5)|20 INPUT N|30 PRINT A(N)',
      '10 DIM A$(3,4)|20 PRINT A$(3)',
      '10 DIM A$(9)|20 PRINT A$',
      '10 DIM A$(3,4)|20 PRINT A$|30 PRINT A$(2)',
      '10 DIM A(5)|20 DIM A(9)|30 PRINT A(2)',
      '10 DIM A(0)|20 PRINT A(1)',
      '10 DIM A(20000)|20 PRINT A(1)',
      '10 DIM A(5)',
    ],
    rejected: [
      ['10 DIM A(5)|20 PRINT A(4)', '1:4'],
      ['10 DIM A$(3,4)|20 PRINT A$(2)', '1:4'],
      ['10 DIM A(300)|20 INPUT N|30 PRINT A(N)', '1:4'],
    ],
  },
  'spread-display': {
    accepted: [
      '10 PRINT AT 5,0;"A"',
      '.ram 16K|10 PRINT AT 5,25;"A"',
      '10 INPUT A|20 PRINT AT A,25;"A"',
    ],
    rejected: [
      ['10 PRINT AT 5,25;"A"', '1:10'],
      ['10 PRINT TAB 20;"A"', '1:10'],
      ['10 PRINT "A","B"', '1:13'],
      ['10 PLOT 60,3', '1:4'],
    ],
  },
  'string-doubling': {
    accepted: [
      '10 LET A$=""|20 LET A$=A$|30 PRINT A$',
      '10 LET A=1|20 LET A=A+1|30 PRINT A',
      '10 LET A$=""|20 LET A$=A$ AND RND|30 PRINT A$',
      '10 LET A$=""|20 LET A$="X"+STR$ LEN A$|30 PRINT A$',
      '10 LET A$="A"+"B"|20 PRINT A$',
      '10 LET A$="A"|20 LET B$=A$+A$|30 PRINT B$',
      '10 DIM A$(20)|20 LET A$=A$+"X"|30 PRINT A$',
    ],
    rejected: [
      ['10 LET A$=""|20 LET A$=(A$+"X")|30 PRINT A$', '2:4'],
      ['10 LET A$=""|20 LET A$="X"+"Y"+A$|30 PRINT A$', '2:4'],
      ['10 LET A$=""|20 LET A$="X"+(A$+"Z")|30 PRINT A$', '2:4'],
      ['10 LET A$=""|20 LET A$=A$+"X"|30 PRINT A$', '2:4'],
      ['10 LET A$=""|20 LET A$="X"+A$|30 PRINT A$', '2:4'],
    ],
  },
  'one-caller': {
    accepted: [
      '10 GOTO 30|20 STOP|30 PRINT "A"',
      '10 GOSUB 30+RND*10|20 STOP|30 PRINT "A"|40 RETURN',
      '10 INPUT A|20 GOSUB A|30 GOSUB 50|40 STOP|50 RETURN',
      '10 RUN 30|20 STOP|30 PRINT "A"',
      '10 GOSUB 30|20 PRINT "B"|30 PRINT "A"|40 RETURN',
      '10 IF RND<.5 THEN GOSUB 30|20 STOP|30 PRINT "A"|40 RETURN',
      '10 GOSUB 99|20 STOP',
      '10 GOSUB 30|15 GOSUB 30|20 STOP|30 RETURN',
      '10 GOSUB 40|20 GOSUB 40|30 STOP|40 RETURN',
      '10 IF RND>.5 THEN GOSUB 30|20 STOP|30 RETURN',
    ],
    rejected: [
      ['10 GOSUB 40|20 STOP|30 GOSUB 40|40 PRINT "A"|50 RETURN', '1:4'],
      ['10 GOSUB 40|20 STOP|30 PRINT "B"|40 PRINT "A"|50 RETURN', '1:4'],
      ['10 GOSUB 30|20 STOP|30 RETURN', '1:4'],
    ],
  },
  // Source of the values: W, as machine facts tell them; the same in the rule's own page.
  'number-equality': {
    accepted: [
      '10 INPUT A|20 IF A=5 THEN STOP',
      '10 INPUT A|20 IF A/2=INT (A/2) THEN STOP',
      '10 INPUT A|20 IF INT(A/3) = A / 3 THEN STOP',
      '10 INPUT A|20 INPUT B|30 IF A/B=3 THEN STOP',
      '10 LET A=.5|20 IF A=.5 THEN STOP',
      '10 IF .5=1/2 THEN STOP',
      '10 IF .25=1/4 THEN STOP',
      '10 PRINT INT (2.54*100);INT SQR 16',
      '10 LET A=2.5|20 IF A*10=25 THEN STOP',
      '10 FOR I=0 TO 9|20 IF I*.2=1 THEN STOP|30 NEXT I',
      '10 PRINT INT (RND*6)+1;INT (RND*.5)',
      '10 INPUT X|20 IF ABS (SQR X-5)<.001 THEN PRINT INT (SQR X+.5)',
      '10 INPUT X|20 PRINT INT (X*100+.5);INT (X/10);SQR X;X**2;X*.1',
      '10 INPUT A$|20 IF A$="A" THEN STOP',
      '10 IF PEEK 16436=255 THEN STOP',
    ],
    rejected: [
      ['10 INPUT X|20 IF SQR X=5 THEN STOP', '2:7'],
      ['10 INPUT X|20 IF 9<>X**2 THEN STOP', '2:7'],
      ['10 IF 1/2=.5 THEN STOP', '1:7'],
      ['10 INPUT N|20 IF .1*N=1 THEN STOP', '2:7'],
      ['10 PRINT INT SQR 361', '1:10'],
      ['10 PRINT INT (.57*100)', '1:10'],
      ['10 FOR I=0 TO 1 STEP .1|20 IF I=1 THEN STOP|30 NEXT I', '2:7'],
      ['10 LET A=0|20 LET A=A+.1|30 IF A<>1 THEN GOTO 20', '3:7'],
      ['10 LET A=SQR 25|20 PRINT INT A', '2:10'],
      ['10 IF 1/4=.25 THEN STOP', '1:7'],
      ['10 FOR I=1 TO 4|20 IF I/2=.5*I THEN STOP|30 NEXT I', '2:7'],
      ['10 PRINT INT (1/10*10)', '1:10'],
      ['10 LET A=.57|20 LET B=A*100|30 PRINT INT B', '3:10'],
    ],
  },
  'unreachable-line': {
    accepted: [
      '10 GOTO 10',
      '10 STOP|20 SAVE "A"|30 RUN',
      '10 STOP|20 CLS|30 STOP|40 CLS',
      '10 INPUT A|20 GOTO A|30 PRINT "A"',
    ],
    rejected: [
      ['10 GOTO 10|20 PRINT "A"', '2:1'],
      ['10 RUN|20 CLS|30 STOP|40 CLS', '2:1'],
      ['10 FOR I=9 TO 1|20 CLS|30 NEXT I', '2:1'],
    ],
  },
  'unused-variable': {
    accepted: [
      '10 DIM A(5)|20 LET A(2)=5',
      '10 INPUT A|20 STOP',
      '10 FOR I=1 TO 2|20 NEXT I',
      '10 LET A=1|20 INPUT A|30 STOP',
      '10 LET A=0|20 IF A<9 THEN LET A=A+1|30 GOTO 20',
      '10 LET A$="OAK"|20 LET A$(1)="X"',
      '.var A = 5|10 STOP',
      '10 LET A=RND|20 PRINT A',
      '10 LET A=RND|20 PRINT VAL "A"',
      '10 INPUT A$|20 LET A=RND|30 PRINT VAL A$',
      '10 LET A=RND|20 IF A=1 THEN LET A=2|30 PRINT "A"',
    ],
    rejected: [
      ['10 IF RND<.5 THEN LET A=5|20 STOP', '1:23'],
      ['10 LET A$="OAK"|20 STOP', '1:8', `' 10 LET A$="OAK"|20 STOP`],
      ['10 LET A$="OAK"|20 GOTO 10', '1:8'],
      ['10 LET A=RND|20 STOP', '1:8'],
      ['10 LET A=B|20 STOP', '1:8'],
    ],
  },
  'copied-variable': {
    accepted: [
      '10 FOR I=1 TO 9|20 LET B=I|30 PRINT B|40 NEXT I',
      '10 INPUT A|20 LET B=A|30 PRINT A;B',
      '10 DIM A(5)|20 LET B=1|30 LET A(1)=B|40 PRINT A(1)',
      '10 LET A=RND|20 LET B=A|30 LET A=2|40 PRINT A;B',
      '10 LET A=RND|20 LET B=A+RND|30 PRINT A;B',
    ],
    rejected: [
      ['10 LET A=RND|20 LET B=(A)|30 PRINT A;B', '2:4'],
      ['10 LET A=RND|20 LET B=A|30 PRINT A;B', '2:4'],
      ['10 LET A$=INKEY$|20 LET B$=A$|30 PRINT A$;B$', '2:4'],
    ],
  },
  'loop-variable': {
    accepted: [
      '10 FOR I=RND TO 9|20 NEXT I|30 PRINT I',
      '10 PRINT I|20 FOR I=RND TO 9|30 NEXT I',
      '10 LET I=3|20 FOR I=RND TO 9|30 NEXT I',
      '10 FOR I=RND TO 9|20 NEXT I|30 LET I=3',
      '10 FOR I=RND TO 9|20 IF RND THEN NEXT I',
      '10 FOR I=RND TO 9|20 GOSUB 80|30 NEXT I|40 FOR J=RND TO 9|50 PRINT J|60 NEXT J|70 STOP|80 RETURN',
      '10 FOR I=RND TO 9|20 PRINT I|30 NEXT I|40 FOR J=RND TO 9|50 GOSUB 80|60 NEXT J|70 STOP|80 RETURN',
      '10 FOR I=RND TO 9|20 PRINT I|30 NEXT I|40 FOR I=RND TO 9|50 PRINT I|60 NEXT I',
      '10 FOR I=RND TO 9|20 PRINT I|30 NEXT I|40 FOR J=RND TO 9|50 PRINT I|60 NEXT J',
      '10 FOR I=RND TO 9|20 PRINT I|30 NEXT I|40 FOR J=RND TO 9|50 PRINT J|60 NEXT J|70 PRINT J',
      '10 FOR I=RND TO 9|20 PRINT I|40 FOR J=RND TO 9|50 PRINT J|60 NEXT J',
      '10 FOR I=RND TO 9|20 PRINT I|30 NEXT I',
      '10 FOR I=RND TO 9|20 FOR J=RND TO 9|30 PRINT I;J|40 NEXT J|50 NEXT I',
    ],
    rejected: [
      ['10 FOR I=RND TO 9|20 NEXT I', '1:4'],
      ['10 FOR I=RND TO 9|20 PRINT I|30 NEXT I|40 FOR J=RND TO 9|50 PRINT J|60 NEXT J', '4:4'],
    ],
  },
  'spare-digits': {
    accepted: ['10 PRINT 7;.5;2.25;10;100'],
    rejected: [
      ['10 PRINT 007', '1:10', '10 PRINT 7'],
      ['10 PRINT 0.5', '1:10', '10 PRINT .5'],
      ['10 PRINT 2.50', '1:10', '10 PRINT 2.5'],
      ['10 PRINT 4.', '1:10', '10 PRINT 4'],
      ['10 PRINT 00', '1:10', '10 PRINT 0'],
      ['10 PRINT 1E', '1:10', '10 PRINT 1'],
      ['10 PRINT 2.E+', '1:10', '10 PRINT 2'],
    ],
  },
  'spare-space': {
    accepted: ['10 PRINT A;1', '10 PRINT "A B[sp]"', '10 REM A B', '10 [sp][F5]PRINT 1'],
    rejected: [
      ['10 PRINT[sp]RND', '1:9', '10 PRINT RND'],
      ['10 [sp]PRINT [sp]RND[sp];"[sp]"', '1:4', '10 PRINT RND;"[sp]"'],
      ['10 LET HIGH[sp]SCORE=RND', '1:8', '10 LET HIGHSCORE=RND'],
      ['10 LET A[sp]$="X"', '1:8', '10 LET A$="X"'],
      ['10 PRINT 1[sp]0[sp]', '1:10', '10 PRINT 10'],
      ['10 PRINT 1[sp]0[=82 40 00 00 00]', '1:10', '10 PRINT 10[=82 40 00 00 00]'],
      ['10 PRINT [sp]1 0', '1:10', '10 PRINT 10'],
    ],
  },
  'spare-brackets': {
    accepted: [
      '10 PRINT 1+(2+3)',
      '10 PRINT (NOT A)+1',
      '10 PRINT -(A*B)',
      '10 PRINT (-A)**2',
      '10 PRINT 2**(-A)',
      '10 PRINT A+(NOT B)=C',
      '10 PRINT A*(B+NOT C)',
      '10 PRINT A+(B*NOT C)+D',
      '10 PRINT ("A"+"B")(1)',
      '10 PRINT SIN (A+1)',
      '10 PRINT (RND+1)*2',
      '10 PRINT RND-(RND-RND)',
      '10 PRINT SIN (RND+1)',
      '10 PRINT ("OAK")(1)',
      '10 PRINT (NOT RND)+1',
      '10 PRINT (-RND)**2',
      '10 PRINT RND*(NOT RND)+1',
      '10 PRINT -(RND+1)',
    ],
    rejected: [
      ['10 PRINT (SIN A)*2', '1:10', '10 PRINT SIN A*2'],
      ['10 PRINT A*(-B)+1', '1:12', '10 PRINT A*-B+1'],
      ['10 PRINT A*(SIN -B)+1', '1:12', '10 PRINT A*SIN -B+1'],
      ['10 DIM A(5)|20 PRINT A((2))', '2:12', '10 DIM A(5)|20 PRINT A(2)'],
      ['10 PRINT (RND)', '1:10', '10 PRINT RND'],
      ['10 PRINT (RND*(-RND))**2', '1:15', '10 PRINT (RND*-RND)**2'],
      ['10 PRINT A(2*(-RND))**2', '1:14', '10 PRINT A(2*-RND)**2'],
      ['10 PRINT (RND*2)+1', '1:10', '10 PRINT RND*2+1'],
      ['10 PRINT RND+(RND*2)', '1:14', '10 PRINT RND+RND*2'],
      ['10 IF NOT(RND) THEN STOP', '1:10', '10 IF NOT RND THEN STOP'],
      ['10 PRINT ABS (SIN RND)', '1:14', '10 PRINT ABS SIN RND'],
      ['10 IF (RND>.5)AND RND THEN STOP', '1:7', '10 IF RND>.5 AND RND THEN STOP'],
    ],
  },
  'spare-step': {
    accepted: [
      '10 INPUT A|20 FOR I=1 TO 9 STEP SGN A|30 NEXT I',
      '10 FOR I=1 TO 9 STEP INT PI|20 NEXT I',
      '10 FOR I=1 TO 9 STEP SGN RND|20 NEXT I',
      '10 FOR I=1 TO 9 STEP 1[=82 00 00 00 00]|20 NEXT I',
      '10 FOR I=1 TO 9 STEP PI|20 NEXT I',
      '10 FOR I=1 TO 9 STEP -1|20 NEXT I',
      '10 FOR I=1 TO 9|20 NEXT I',
      '10 FOR I=1 TO 9 STEP 2|20 NEXT I',
    ],
    rejected: [
      ['10 FOR I=1 TO 9 STEP 1|20 NEXT I', '1:22', '10 FOR I=1 TO 9|20 NEXT I'],
      ['10 FOR I=1 TO 9STEP SGN PI|20 NEXT I', '1:21', '10 FOR I=1 TO 9|20 NEXT I'],
    ],
  },
  'spare-goto': {
    accepted: [
      '10 IF RND<.5 THEN GOTO 20|20 STOP',
      '10 GOTO 20+RND|20 STOP',
      '10 GOTO 99|20 STOP',
      '10 GOTO SQR 400|20 STOP',
      '10 GOTO 30|20 CLS|30 STOP',
      '10 IF RND THEN GOTO 20|20 STOP',
      '10 GOSUB 20|20 RETURN',
      '10 GOTO 20',
      '10 LET A=20|20 GOTO A|30 STOP',
    ],
    rejected: [
      ['10 GOTO INT 20.5|20 STOP', '1:4', "' 10 GOTO INT 20.5|20 STOP"],
      ['10 GOTO 20|20 STOP', '1:4', "' 10 GOTO 20|20 STOP"],
      ['10 GOTO VAL "15"|20 STOP', '1:4', '\' 10 GOTO VAL "15"|20 STOP'],
      ['5 IF RND THEN GOTO 10|7 CLS|10 GOTO 20|20 STOP', '3:4'],
    ],
  },
  'zero-test': {
    accepted: [
      '10 IF RND THEN STOP',
      '10 IF RND>0 THEN STOP',
      '10 IF RND=1 THEN STOP',
      '10 PRINT RND=0',
      '10 INPUT A$|20 IF A$+A$="" THEN STOP',
      '10 IF 0=RND THEN STOP',
    ],
    rejected: [
      ['10 IF RND<>0 THEN STOP', '1:7', '10 IF RND THEN STOP'],
      ['10 IF RND=0 THEN STOP', '1:7', '10 IF NOT RND THEN STOP'],
      ['10 IF RND=NOT PI THEN STOP', '1:7', '10 IF NOT RND THEN STOP'],
      ['10 IF (RND AND PI)=0THEN STOP', '1:7', '10 IF NOT(RND AND PI)THEN STOP'],
      ['10 IF RND+1<>0THEN STOP', '1:7', '10 IF RND+1 THEN STOP'],
      ['10 IF INKEY$="" THEN STOP', '1:7', '10 IF NOT LEN INKEY$ THEN STOP'],
      ['10 INPUT A$|20 IF A$<>"" THEN STOP', '2:7', '10 INPUT A$|20 IF LEN A$ THEN STOP'],
      [
        '10 INPUT A$|20 IF A$(2 TO )="" THEN STOP',
        '2:7',
        '10 INPUT A$|20 IF NOT LEN A$(2 TO ) THEN STOP',
      ],
      ['10 IF RND THEN IF RND=0 THEN STOP', '1:19', '10 IF RND THEN IF NOT RND THEN STOP'],
    ],
  },
  'single-use': {
    accepted: [
      '10 LET A=5|20 PRINT A|30 PRINT A',
      '10 LET A$="OAK"|20 PRINT A$(2)',
      '10 IF RND<.5 THEN LET A=5|20 PRINT A',
      '.var A = 1|10 LET A=5|20 PRINT A',
      '10 LET A=5|20 PRINT VAL "A"',
      '10 LET A=5|20 PRINT A|30 RUN',
      '10 LET A=5|20 PRINT A;A',
      '10 LET A=5|20 PRINT A|30 LET A=6',
      '10 IF RND THEN LET A=5|20 PRINT A',
      '10 IF RND THEN GOTO 30|20 LET A=5|30 PRINT A',
      '10 GOSUB 40|20 PRINT A|30 STOP|40 LET A=5|50 RETURN',
      '10 LET A=5|20 PRINT VAL "A+1"',
      '10 LET A=RND|20 PRINT A',
      '10 LET A$="OAK"|20 PRINT A$(2)',
      '10 LET A=5|20 PRINT A|30 CLEAR',
      '10 LET A=5|20 LET B$="A"|30 PRINT A;VAL B$',
    ],
    rejected: [
      ['10 LET A=5|20 PRINT A', '1:8', '\' 10 LET A=5|20 PRINT VAL "5"'],
      ['10 LET A=.5|20 PRINT 2*A', '1:8', '\' 10 LET A=.5|20 PRINT 2*VAL ".5"'],
      ['10 LET SCORE=0|20 PRINT SCORE*RND', '1:8', '\' 10 LET SCORE=0|20 PRINT CODE ""*RND'],
      ['10 LET A$="OAK"|20 PRINT A$', '1:8', '\' 10 LET A$="OAK"|20 PRINT "OAK"'],
      [
        '10 LET A=5|20 GOSUB 40|30 STOP|40 PRINT A|50 RETURN',
        '1:8',
        '\' 10 LET A=5|20 GOSUB 40|30 STOP|40 PRINT VAL "5"|50 RETURN',
      ],
      ['10 LET A=5|20 PRINT A|30 GOTO 10', '1:8'],
    ],
  },
  'joined-print': {
    accepted: [
      '10 PRINT "OAK"|20 PRINT "ELM"',
      '10 PRINT "OAK";|20 LPRINT "ELM"',
      '10 PRINT "OAK";|20 CLS|30 PRINT "ELM"',
      '10 PRINT "OAK";|20 PRINT "ELM"|30 GOTO 20',
      '10 IF RND THEN PRINT "OAK";|20 PRINT "ELM"',
    ],
    rejected: [
      ['10 PRINT "OAK";|20 PRINT "ELM"', '2:4'],
      ['10 LPRINT "OAK",|20 LPRINT "ELM"', '2:4'],
    ],
  },
};

const lined = (text: string): string => text.replaceAll('|', '\n');

const programBytes = (text: string): number =>
  readListing(text).listing.lines.reduce((sum, { codes }) => sum + codes.length + 5, 0);

it('the table has every rule', () => {
  expect(Object.keys(TABLE).sort()).toEqual(RULES.map(({ name }) => name).sort());
});

describe.each(Object.entries(TABLE))('%s', (rule, { accepted, rejected }) => {
  it.each(accepted)('accepts %s', (text) => {
    expect(findingsOf(lined(text), rule)).toEqual([]);
  });

  it.each([...rejected])('rejects %s at %s', (short: string, at: string, fixed?: string) => {
    const text = lined(short);
    const places = new Places(text);
    const found = findingsOf(text, rule);
    const finding = found.find(({ start }) => {
      const { line, column } = places.at(start);
      return `${line}:${column}` === at;
    });
    expect(
      finding,
      found
        .map(({ start }) => places.at(start))
        .map((p) => `${p.line}:${p.column}`)
        .join(),
    ).toBeDefined();
    const { message, why, help, start, end, fix } = finding!;
    for (const said of [message, why]) expect(said).toMatch(/^\S.{9,}\S$/);
    for (const said of [help, fix?.what]) {
      if (said !== undefined) expect(said).toMatch(/^\S.+ .*\S$/);
    }
    expect(text.slice(start, end)).toMatch(/^\S(.*\S)?$/);
    if (fixed === undefined && rule !== 'number-form') {
      expect(finding!.fix).toBeUndefined();
      return;
    }
    const mended = applyEdits(text, finding!.fix!.edits);
    expect(mended).toBe(lined(fixed!));
    expect(readListing(mended).diagnostics).toEqual([]);
    expect(programBytes(text) - programBytes(mended)).toBe(finding!.bytes);
  });

  it('finds its why, its page and its severity set down', () => {
    const { summary, page, fixes } = RULES.find(({ name }) => name === rule)!;
    expect(summary.length).toBeGreaterThan(20);
    expect(page.length).toBeGreaterThan(20);
    expect(rejected.some(([, , fixed]) => fixed !== undefined)).toBe(fixes);
  });
});
