' KEYWORDS - from the bench of the Lantern Loft.
'
' Proves    that the table of words in the ROM reads right, from RND to COPY.
' Needs     1K.
' Result    The 66 words and signs in the order of their codes, and report 0. A misspelt word is a
'           fault of the ROM or of its lines, and ROM SUM will say more; the codes that it stands
'           between say where.
.name "KEYWORDS"
10 LET A=VAL "64"
20 LET B=VAL "66"
30 GOSUB VAL "120"
40 LET A=VAL "192"
50 LET B=VAL "194"
60 GOSUB VAL "120"
70 LET A=VAL "196"
80 LET B=VAL "255"
90 GOSUB VAL "120"
100 STOP
120 FOR N=A TO B
130 PRINT CHR$ N;" ";
140 NEXT N
150 RETURN
