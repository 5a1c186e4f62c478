' KEYBOARD - from the bench of the Lantern Loft.
'
' Proves    all 40 keys, one after the other: 37 alone, then with SHIFT every key that has a
'           shifted meaning, then NEWLINE, and at last SPACE. SHIFT is proved by the others.
' Needs     1K.
' Result    It names a key and goes on when that key arrives, and only then. SEEN shows what came
'           instead (a question mark for a key such as EDIT, which has no letter). A key that does
'           nothing is dead. Five keys side by side share a line of the keyboard's tail, and so do
'           the keys that stand one above the other in the two halves: if such a family is dead,
'           look at the tail's contact and not at the keys.
'           SPACE is the machine's BREAK as well, and INKEY$ never sees it: when the screen asks
'           for it, press it, and the program ends with report D. That is the pass.
.name "KEYBOARD"
10 FOR N=SGN PI TO VAL "37"
20 LET K$="1234567890QWERTYUIOPASDFGHJKLZXCVBNM."(N)
30 LET L$=K$
40 GOSUB VAL "300"
50 NEXT N
60 FOR N=SGN PI TO VAL "7"
70 LET L$="SHIFT "+"1567890"(N)
80 LET K$=CHR$ (VAL "112"+VAL "5210347"(N))
90 GOSUB VAL "300"
100 NEXT N
110 FOR N=SGN PI TO VAL "29"
120 LET L$="SHIFT "+"234QWERTYUIOASDFGHJKLZXCVBNM."(N)
130 LET K$="[AND][THEN][TO]""[OR][STEP][<=][<>][>=]$()[STOP][LPRINT][SLOW][FAST][LLIST][**]-+=:;?/*<>,"(N)
140 GOSUB VAL "300"
150 NEXT N
160 LET L$="SHIFT P"
170 LET K$=CHR$ VAL "11"
180 GOSUB VAL "300"
190 LET L$="NEWLINE"
200 LET K$=CHR$ VAL "118"
210 GOSUB VAL "300"
220 LET L$="SHIFT NEWLINE"
230 LET K$=CHR$ VAL "121"
240 GOSUB VAL "300"
250 CLS
260 PRINT "PRESS SPACE"
270 GOTO VAL "270"
300 CLS
310 PRINT "PRESS ";L$
320 IF INKEY$<>"" THEN GOTO VAL "320"
330 LET I$=INKEY$
340 IF I$="" THEN GOTO VAL "330"
350 IF I$=K$ THEN RETURN
360 PRINT AT VAL "2",NOT PI;"SEEN ";I$;"       "
370 GOTO VAL "320"
