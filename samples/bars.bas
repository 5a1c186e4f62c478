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
10 FOR N=NOT PI TO VAL "3"
20 PRINT AT N,NOT PI;"        ▒▒▒▒▒▒▒▒🮐🮐🮐🮐🮐🮐🮐🮐████████"
30 PRINT AT N+VAL "4",NOT PI;"▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌▌"
40 PRINT AT N+VAL "8",NOT PI;"▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀"
50 NEXT N
