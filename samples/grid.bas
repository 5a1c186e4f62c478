' GRID - from the bench of the Lantern Loft.
'
' Proves    that PLOT reaches every column from 0 to 63 and every row from 0 to 43, and that UNPLOT
'           takes away what PLOT has drawn. Good for setting the picture's height and width.
' Needs     2K. GRID HALVES does the same in 1K, half a screen at a time.
' Result    A frame on the very edge of the picture area, ten upright lines seven apart, and level
'           lines seven apart from the top and from the bottom; the two in the middle touch. All
'           boxes must be of one size and all lines straight. Then press a key: the level lines in
'           the middle go, with a gap left in each upright.
.name "GRID"
.ram 2K
10 FOR B=0 TO 43 STEP 43
20 FOR Y=0 TO 21
30 LET S=1
40 IF Y<>7*INT (Y/7) THEN LET S=7
50 FOR X=0 TO 63 STEP S
60 PLOT X,ABS (B-Y)
70 NEXT X
80 NEXT Y
90 NEXT B
100 IF INKEY$="" THEN GOTO 100
110 FOR X=0 TO 63
120 UNPLOT X,21
130 UNPLOT X,22
140 NEXT X
