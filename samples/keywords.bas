' KEYWORDS - from the bench of the Lantern Loft.
'
' Proves    that the table of words in the ROM reads right, from RND to COPY.
' Needs     1K.
' Result    The 66 words and signs in the order of their codes, 64 to 66, then 192 to 194, then
'           196 to 255, four to a row. A misspelt word is a fault of the ROM or of its lines, and
'           ROM SUM will say more.
.name "KEYWORDS"
10 FOR C=NOT PI TO VAL "2"
20 PRINT AT NOT PI,VAL "7"*C;CHR$ (VAL "64"+C);AT SGN PI,VAL "7"*C;CHR$ (VAL "192"+C)
30 NEXT C
40 FOR R=NOT PI TO VAL "14"
50 FOR C=NOT PI TO VAL "3"
60 PRINT AT R+VAL "2",VAL "7"*C;CHR$ (VAL "196"+VAL "4"*R+C)
70 NEXT C
80 NEXT R
