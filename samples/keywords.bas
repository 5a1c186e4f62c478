' KEYWORDS - from the bench of the Lantern Loft.
'
' Proves    that the table of words in the ROM reads right, from RND to COPY.
' Needs     1K.
' Result    The 66 words and signs in the order of their codes, four to a row, and report 9. A
'           misspelt word is a fault of the ROM or of its lines, and ROM SUM will say more.
.name "KEYWORDS"
10 LET R=NOT PI
20 LET C=NOT PI
30 LET A=VAL "64"
40 LET B=VAL "66"
50 GOSUB VAL "140"
60 LET A=VAL "192"
70 LET B=VAL "194"
80 GOSUB VAL "140"
90 LET A=VAL "196"
100 LET B=VAL "255"
110 GOSUB VAL "140"
120 STOP
140 FOR N=A TO B
150 PRINT AT R,C;CHR$ N;
160 LET C=C+VAL "8"
170 IF C<VAL "32" THEN GOTO VAL "200"
180 LET C=NOT PI
190 LET R=R+SGN PI
200 NEXT N
210 RETURN
