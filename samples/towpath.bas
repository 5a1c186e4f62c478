' TOWPATH - a game for 1K, from the bench of the Lantern Loft, for the evening after the repair.
'
' Proves    that the machine is fun again; and that keys, chance and display work together.
' Needs     1K. It fits because the display stores no more of a row than what is printed in it.
' Play      A lantern drifts down the canal at night and leaves its light behind. Steer with 5 to
'           the left and 8 to the right; keep off the banks, which come closer the farther you get.
'           The score is the distance. Press 0 for the next lantern; BEST is kept until RUN.
.name "TOWPATH"
10 RAND
20 LET H=NOT PI
30 LET S=-VAL "11"
40 LET X=VAL "8"
50 LET A=VAL "4"
60 CLS
70 SCROLL
80 LET A=A+(RND>VAL ".5" AND A<VAL "6")-(RND>VAL ".5" AND A>SGN PI)
90 PRINT TAB A;"▒▒";TAB A+VAL "4"+VAL "160"/(S+VAL "50");"▒▒"
100 PRINT AT VAL "10",X;
110 IF PEEK (PEEK VAL "16398"+VAL "256"*PEEK VAL "16399")=VAL "8" THEN GOTO VAL "160"
120 PRINT "O"
130 IF S>NOT PI THEN LET X=X+(INKEY$="8")-(INKEY$="5")
140 LET S=S+SGN PI
150 GOTO VAL "70"
160 PRINT "*";AT NOT PI,NOT PI;"DISTANCE ";S
170 IF S>H THEN LET H=S
180 PRINT "BEST ";H
190 IF INKEY$<>"0" THEN GOTO VAL "190"
200 GOTO VAL "30"
