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
40 FOR N=VAL "16514" TO VAL "16673"
50 LET S=S+PEEK N
60 LET T=T+S
70 PRINT CHR$ PEEK N;
80 NEXT N
90 PRINT
100 PRINT "SUMS ";S;" ";T
110 PRINT
120 IF S=VAL "14048" AND T=VAL "1268040" THEN PRINT "GOOD LOAD"
130 IF S<>VAL "14048" OR T<>VAL "1268040" THEN PRINT "BAD BYTES"
