' TAPE LEVEL - from the bench of the Lantern Loft.
'
' Proves    that a program comes over from tape without a wrong byte, and helps to find the volume.
' Needs     1K. It starts by itself when it has loaded.
' Result    Five rows of pattern, two sums, and GOOD LOAD or BAD BYTES. The pattern is chosen for the
'           tape: ones and zeros by turns, in pairs, in fours, nearly all zeros and nearly all ones,
'           then the letters and digits. The second sum is of the first sum's steps, so that two
'           wrongs do not make a right.
' Level     Begin with the volume low and raise it by a little for each try. Note where the first
'           GOOD LOAD comes and where the last, and leave the volume midway between.
'           Then type SAVE "LEVEL", record it, and load that: a GOOD LOAD proves the socket MIC too.
'
' The tones are loud and square-edged. Never listen with headphones on, and never feed a speaker
' output or a mains amplifier into the socket.
.name "LEVEL"
.start 20
10 REM [~EEEEEEEEEEEEEEEEEEEEEEEEEEEEEEEE]NNNNNNNNNNNNNNNNNNNNNNNNNNNNNNNN????????????????????????????????████████████████[~ZZZZZZZZZZZZZZZZ]0123456789ABCDEFGHIJKLMNOPQRSTUV
20 LET S=NOT PI
30 LET T=NOT PI
40 FOR R=NOT PI TO VAL "4"
50 FOR C=NOT PI TO VAL "31"
60 LET P=PEEK (VAL "16514"+VAL "32"*R+C)
70 PRINT AT R,C;CHR$ P
80 LET S=S+P
90 LET T=T+S
100 NEXT C
110 NEXT R
120 PRINT AT VAL "6",NOT PI;"SUMS ";S;" ";T;AT VAL "8",NOT PI;"BAD BYTES"
130 IF S=VAL "14048" AND T=VAL "1268040" THEN PRINT AT VAL "8",NOT PI;"GOOD LOAD"
