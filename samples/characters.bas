' CHARACTERS - from the bench of the Lantern Loft.
'
' Proves    that the machine draws all of its 128 characters: the codes 0 to 63, each beside its
'           inverse, whose code is 128 more.
' Needs     1K.
' Result    Eight rows of eight pairs; the number before a row is the code of its first. Look for
'           missing or doubled dots. The same dot missing in every character is a data line between
'           the ROM and the shift register; a character in another's place is an address line.
'           Row 0 is the graphics: the halves and quarters must meet with no line between.
.name "CHARACTERS"
10 FOR R=NOT PI TO VAL "14" STEP VAL "2"
20 PRINT AT R,NOT PI;VAL "4"*R
30 FOR C=NOT PI TO VAL "7"
40 LET N=VAL "4"*R+C
50 PRINT AT R,VAL "4"+VAL "3"*C;CHR$ N;CHR$ (N+VAL "128")
60 NEXT C
70 NEXT R
