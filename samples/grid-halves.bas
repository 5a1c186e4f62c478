' GRID HALVES - from the bench of the Lantern Loft.
'
' Proves    the same as GRID, on a machine with 1K: a display of 22 full rows does not fit there,
'           so the upper half is drawn first and, after a key, the lower half.
' Needs     1K.
' Result    Each half: ten upright lines, seven apart, from edge to edge; level lines seven apart
'           from the outer edge inwards. A second key clears the screen, and report 0 ends it.
.name "HALVES"
10 FOR B=VAL "43" TO NOT PI STEP -VAL "43"
20 FOR Y=NOT PI TO VAL "21"
30 LET S=SGN PI
40 IF Y<>VAL "7"*INT (Y/VAL "7") THEN LET S=VAL "7"
50 FOR X=NOT PI TO VAL "63" STEP S
60 PLOT X,ABS (B-Y)
70 NEXT X
80 NEXT Y
90 IF INKEY$<>"" THEN GOTO VAL "90"
100 IF INKEY$="" THEN GOTO VAL "100"
110 CLS
120 NEXT B
