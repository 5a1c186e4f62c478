' ADDRESS LINES - from the bench of the Lantern Loft.
'
' Proves    that a 16K pack decodes its address lines 0 to 13 and its data lines 0 to 7, in
'           seconds, where RAM TEST takes more than an hour.
' Needs     16K.
' How       24576 and 20480 are far above the program. The places one, two, four ... 4096 above
'           24576 differ from it in one address line each; 28672 differs from 20480 in line 13
'           alone. Each place is given a number of its own, then all are read; then again from the
'           other end with other numbers. If a line is stuck or touches another, two places are
'           one, and the number read belongs to somebody else.
' Result    A row for each address line and for each data line, and BAD COUNT: 0 is a pass.
'           BASE and one line BAD: that line is stuck, open, or touches line 13. A12 and A13 BAD:
'           line 13 is stuck or open. Two lines BAD, with BASE or without: the two touch. A data line
'           BAD: begin with that. The bottom row names the last place that read wrong.
.name "LINES"
.ram 16K
10 IF PEEK 16388+256*PEEK 16389>=32768 THEN GOTO 40
20 PRINT "THIS NEEDS A 16K PACK"
30 STOP
40 LET F=0
50 DIM A(15)
55 DIM B(15)
60 DIM L$(15,4)
70 LET A(1)=20480
80 LET L$(1)="A13"
90 LET A(2)=24576
100 LET L$(2)="BASE"
110 LET D=1
120 FOR N=0 TO 12
130 LET A(N+3)=24576+D
140 LET L$(N+3)="A"+STR$ N
150 LET D=D+D
160 NEXT N
170 PRINT "ADDRESS"
180 FOR N=1 TO 15
190 POKE A(N),N
200 NEXT N
210 LET M=0
220 LET S=1
230 GOSUB 500
240 FOR N=15 TO 1 STEP -1
250 POKE A(N),255-N
260 NEXT N
270 LET M=255
280 LET S=-1
290 GOSUB 500
300 FOR N=1 TO 15
310 PRINT AT N+1,0;L$(N);TAB 5;
320 IF B(N)=0 THEN PRINT "GOOD"
330 IF B(N)>0 THEN PRINT "BAD"
340 NEXT N
350 PRINT AT 0,18;"DATA"
360 LET D=1
370 FOR N=0 TO 7
380 POKE 24576,D
390 LET P=PEEK 24576
400 PRINT AT N+2,18;"D";N;TAB 23;
410 IF P=D THEN PRINT "GOOD"
420 IF P<>D THEN PRINT "BAD ";P
430 IF P<>D THEN LET F=F+1
440 LET D=D+D
450 NEXT N
460 PRINT AT 18,0;"BAD COUNT: ";F
470 STOP
480 REM EVERY PLACE SHOULD STILL HOLD
490 REM WHAT IT WAS GIVEN
500 FOR N=1 TO 15
510 LET P=PEEK A(N)
520 IF P=M+S*N THEN GOTO 560
530 PRINT AT 20,0;A(N);" READS ";P;", NOT ";M+S*N;"  "
540 IF B(N)=0 THEN LET F=F+1
550 LET B(N)=1
560 NEXT N
570 RETURN
