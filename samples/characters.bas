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
10 FOR R=NOT PI TO VAL "56" STEP VAL "8"
20 PRINT R;TAB VAL "4";
30 FOR N=R TO R+VAL "7"
40 PRINT CHR$ N;CHR$ (N+VAL "128");" ";
50 NEXT N
60 PRINT
70 PRINT
80 NEXT R
