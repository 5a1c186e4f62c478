' RULER - from the bench of the Lantern Loft.
'
' Proves    that all 22 rows and all 32 columns that PRINT can reach are on the screen, and shows
'           how much of each the television hides.
' Needs     1K.
' Result    Columns are numbered along the top and along the bottom, tens outside and ones inside;
'           rows are numbered down the left. Read off the first and the last number that can be
'           seen, and set height, width and position by them. A picture that leans or waves shows
'           in the column of row numbers.
.name "RULER"
10 FOR N=NOT PI TO VAL "31"
20 LET T=INT (N/VAL "10")
30 LET U=N-VAL "10"*T
40 PRINT AT NOT PI,N;T;AT SGN PI,N;U;AT VAL "20",N;U;AT VAL "21",N;T
50 NEXT N
60 FOR N=VAL "2" TO VAL "19"
70 PRINT AT N,NOT PI;N
80 NEXT N
