' RAM TEST - from the bench of the Lantern Loft.
'
' Proves    that each free byte of the RAM holds four patterns: 00000000, 01010101, 10101010 and
'           11111111. A pattern is written to all of them before the first is read back, so that
'           a byte that forgets, or that is written together with another, is found too.
' Needs     1K. It tests whatever RAM is fitted.
' Result    The addresses under test, the pattern, and at the end ALL GOOD. At a bad byte it stops
'           with report 9 and says what the byte holds and what was written: the bits in which the
'           two differ are the data lines to look at. CONT goes on to the next bad byte.
' Time      About two minutes on 1K, and more than an hour with a 16K pack. Type FAST before RUN for
'           four times the speed without a picture.
'
' How it keeps off its own feet: it begins 120 bytes above STKBOT, where the program, the display
' and the variables end, which leaves room for its own messages and sums to grow; and it ends
' 64 bytes below ERR_SP, which leaves room for the machine's stack. The rest of the RAM holds this
' program and what runs it: if that part is bad, the program does not load or does not run.
.name "RAMTEST"
10 PRINT "RAM TEST"
20 FOR P=NOT PI TO VAL "255" STEP VAL "85"
30 LET A=PEEK VAL "16410"+VAL "256"*PEEK VAL "16411"+VAL "120"
40 LET B=PEEK VAL "16386"+VAL "256"*PEEK VAL "16387"-VAL "64"
50 PRINT AT VAL "2",NOT PI;A;" TO ";B;AT VAL "3",NOT PI;"PATTERN ";P
60 FOR N=A TO B
70 POKE N,P
80 NEXT N
90 FOR N=A TO B
100 IF PEEK N=P THEN GOTO VAL "130"
110 PRINT AT VAL "5",NOT PI;"BAD ";N;" HAS ";PEEK N;" NOT ";P;"  "
120 STOP
130 NEXT N
140 NEXT P
150 PRINT AT VAL "7",NOT PI;"ALL GOOD"
