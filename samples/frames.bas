' FRAMES - from the bench of the Lantern Loft.
'
' Proves    that the machine makes its picture and counts the frames while it works: the clock that
'           PAUSE waits by.
' Needs     1K.
' Result    PICTURES A SECOND is what this machine was built for: 50 or 60. FRAMES COUNTED is how
'           many went by in a hundred turns of an empty loop: write down what a good machine gives;
'           another with the same ROM and the same picture rate must give the same, within three.
'           NO FRAMES is a machine that stays in FAST: look at what makes the interrupts for SLOW.
.name "FRAMES"
10 SLOW
20 PRINT "PICTURES A SECOND ";50+10*(PEEK 16424=31)
30 POKE 16437,255
40 POKE 16436,255
50 FOR N=1 TO 100
60 NEXT N
70 LET F=255-PEEK 16436
80 PRINT "FRAMES COUNTED ";F
90 IF F=0 THEN PRINT "NO FRAMES"
