' RAM SIZE - from the bench of the Lantern Loft, a repair club above a boathouse.
'
' Proves    that the machine counted its RAM when it was switched on, and how much it found.
' Needs     1K.
' Result    BYTES is what was found: 1024 for the RAM on the board, 16384 with a 16K pack.
'           "A USUAL SIZE" is a pass. "CUT SHORT" means that the count stopped at the first byte
'           that did not hold what was written to it, or that somebody has lowered RAMTOP:
'           switch off and on, run it again, and look for the fault at the address RAMTOP.
'           A pack that is fitted and not counted is a matter of its plug: clean the contacts,
'           with the supply off.
'           FREE is the room between this program and the machine's own stack.
.name "RAMSIZE"
10 LET T=PEEK 16388+256*PEEK 16389
20 LET B=T-16384
30 PRINT "LANTERN LOFT: RAM SIZE"
40 PRINT
50 PRINT "RAMTOP",T
60 PRINT "BYTES",B
70 PRINT "K",B/1024
80 PRINT "FREE",PEEK 16386+256*PEEK 16387-PEEK 16410-256*PEEK 16411
90 PRINT
100 IF B=1024 OR B=2048 OR B=16384 THEN PRINT "A USUAL SIZE"
110 IF B<>1024 AND B<>2048 AND B<>16384 THEN PRINT "CUT SHORT AT ";T
