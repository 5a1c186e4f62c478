' NIGHT WATCH - a game for 1K with room to spare, from the bench of the Lantern Loft.
'
' Proves    that the keys 1 to 9 answer quickly; and whether the one who repairs is still awake.
' Needs     1K. The display stays within a few short rows, so that it fits whatever happens.
' Play      Nine windows; in one of them a light goes on, and its number is gone. Press the key of
'           that number before the light is out. Every light is shorter than the last. A wrong key
'           wakes the house and ends the watch. Press 0 for another; BEST is kept until RUN.
.name "WATCH"
10 RAND
20 LET B=NOT PI
30 LET S=NOT PI
40 LET T=VAL "20"
50 CLS
60 PRINT "NIGHT WATCH"
70 LET L$="123456789"
80 PRINT AT VAL "3",VAL "4";L$
90 IF INKEY$<>"" THEN GOTO VAL "90"
100 LET N=SGN PI+INT (RND*VAL "9")
110 LET L$(N)="█"
120 PRINT AT VAL "3",VAL "4";L$
130 LET I=T
140 LET K$=INKEY$
150 IF K$=STR$ N THEN GOTO VAL "220"
160 LET I=I-SGN PI
170 IF K$="" AND I>NOT PI THEN GOTO VAL "140"
180 IF S>B THEN LET B=S
190 PRINT AT VAL "6",NOT PI;"LIGHTS ";S;AT VAL "7",NOT PI;"BEST ";B
200 IF INKEY$<>"0" THEN GOTO VAL "200"
210 GOTO VAL "30"
220 LET S=S+SGN PI
230 LET T=T-T/VAL "16"
240 GOTO VAL "70"
