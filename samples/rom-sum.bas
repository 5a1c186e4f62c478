' ROM SUM - from the bench of the Lantern Loft.
'
' Proves    that the 8K ROM reads the same today as on a machine that is known to be good.
' Needs     1K. It stays in FAST, shows the picture after each block, and takes about two
'           minutes.
' Result    The sum of the bytes of each 1K block and of all. Keep the sums of a good machine with
'           the same ROM on a card, and compare. One block wrong: the ROM. All wrong: an address
'           or a data line. Two runs that differ on one machine: a poor contact, or the supply.
.name "ROMSUM"
10 FAST
20 LET T=NOT PI
30 FOR B=NOT PI TO VAL "7"
40 LET S=NOT PI
50 FOR N=VAL "1024"*B TO VAL "1024"*B+VAL "1023"
60 LET S=S+PEEK N
70 NEXT N
80 LET T=T+S
90 PRINT AT B,NOT PI;"BLOCK ";B;TAB VAL "9";S
100 PAUSE VAL "50"
110 POKE VAL "16437",VAL "255"
120 NEXT B
130 PRINT AT VAL "9",NOT PI;"ALL";TAB VAL "9";T
140 SLOW
