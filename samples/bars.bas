' BARS - from the bench of the Lantern Loft.
'
' Proves    the levels of the picture: white, two greys, black; then stripes upright and level.
' Needs     1K.
' Result    Top: from left to right white, two greys that must look alike, and black. Middle:
'           upright stripes of half a character, to focus by; smeared stripes are a matter of the
'           video lead or of the modulator. Bottom: level stripes, which must be straight and of
'           one height. Nothing may bend to one side where black meets white: that is a picture
'           signal too strong for the television.
.name "BARS"
10 FOR N=SGN PI TO VAL "4"
20 PRINT "        ▒▒▒▒▒▒▒▒🮐🮐🮐🮐🮐🮐🮐🮐████████";
30 NEXT N
40 FOR N=SGN PI TO VAL "128"
50 PRINT "▌";
60 NEXT N
70 FOR N=SGN PI TO VAL "128"
80 PRINT "▀";
90 NEXT N
