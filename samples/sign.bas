' SIGN - from the bench of the Lantern Loft.
'
' Proves    PRINT AT and TAB, and all 16 shapes of blocks.
' Needs     1K.
' Result    A lantern that shines, with the club's name below it, for a machine that runs while its
'           owner is fetched. No block may be missing at an edge, and none may flicker.
'
' The lantern is pictures/lantern.svg, and all of it came from draw:
'   draw pictures/lantern.svg --size 40x30 --place 1,6 --as strings -o sign.bas
'   draw --text "LANTERN LOFT" --letters 4x4 --place 17,1 --as strings --into sign.bas --at 200
'
.name "SIGN"
10 PRINT AT VAL "2",CODE ":";"▗▀▀▖"
20 PRINT TAB CODE ":";"▜▟▙▛"
30 PRINT "         ▖   ▗████▖   ▗"
40 PRINT "         ▝▚ ▐██████▌ ▞▘"
50 PRINT TAB CODE "$";"█▀▀▀▀█"
60 PRINT TAB CODE "$";"█  ▖ █"
70 PRINT "        ▄▄▖  ▛ ▐▙ ▜  ▗▄▄"
80 PRINT TAB CODE "$";"▌ █▜ ▐"
90 PRINT TAB CODE "£";"▗▌ ▌▐ ▐▖"
100 PRINT TAB CODE "🮎";"▗ ▐▌    ▐▌ ▖"
110 PRINT "         ▞▘ ▟██████▙ ▝▚"
120 PRINT TAB CODE "£";"████████"
130 PRINT TAB CODE "$";"▝▀▀▀▀▘"
200 PRINT AT CODE ")",SGN PI;"▌ ▗▀▖▙▐▝▛ █▘▐▀▖▙▐   ▌ ▐▀▌▛▘▝▛   ▙▄▐▀▌▌▜ ▌ ▙▖▐▀▖▌▜   ▙▄▐▄▌▛  ▌"
