import { describe, expect, it } from 'vitest';
import type { Expression, Statement } from '../../grammar/tree.js';
import { Places } from '../../src/listing/diagnostics.js';
import { charactersText, statementText } from '../../src/listing/print.js';
import { readListing } from '../../src/listing/read.js';

/** `line:column severity rule: message` of each diagnostic. */
function messages(text: string): string[] {
  const places = new Places(text);
  return readListing(text).diagnostics.map(({ start, severity, rule, message }) => {
    const { line, column } = places.at(start);
    return `${line}:${column} ${severity} ${rule}: ${message}`;
  });
}

/** The statement of a one-line listing without errors. */
function statement(text: string): Statement {
  const { listing, diagnostics } = readListing(`10 ${text}`);
  expect(diagnostics).toEqual([]);
  return listing.lines[0].statement!;
}

/** An expression with brackets around every operation, to show what binds how. */
function shape(expression: Expression): string {
  switch (expression.kind) {
    case 'number':
      return expression.text;
    case 'string':
      return '""';
    case 'variable':
      return expression.name;
    case 'constant':
      return expression.name;
    case 'brackets':
      return shape(expression.inner);
    case 'unary':
      return `(${expression.operator} ${shape(expression.operand)})`;
    case 'call':
      return `(${expression.function} ${shape(expression.argument)})`;
    case 'binary':
      return `(${shape(expression.left)} ${expression.operator} ${shape(expression.right)})`;
    case 'subscripted':
      return `${shape(expression.base)}(${expression.subscripts
        .map((one) =>
          one.kind === 'range'
            ? `${one.from ? shape(one.from) : ''} TO ${one.to ? shape(one.to) : ''}`
            : shape(one),
        )
        .join(',')})`;
  }
}

const shapeOf = (text: string): string => {
  const let_ = statement(`LET X=${text}`);
  return let_.kind === 'LET' ? shape(let_.value) : '';
};

describe('priorities (manual, chapter 5 and Appendix C, from memory)', () => {
  it.each([
    ['A+B*C', '(A + (B * C))'],
    ['A-B-C', '((A - B) - C)'],
    ['A/B*C', '((A / B) * C)'],
    ['A**B**C', '((A ** B) ** C)'],
    ['-A**B', '(- (A ** B))'],
    ['A**-B*C', '((A ** (- B)) * C)'],
    ['-A*B', '((- A) * B)'],
    ['SIN A**B', '((SIN A) ** B)'],
    ['SIN -A', '(SIN (- A))'],
    ['NOT A=B', '(NOT (A = B))'],
    ['NOT A AND B', '((NOT A) AND B)'],
    ['A OR B AND C', '(A OR (B AND C))'],
    ['A=B=C', '((A = B) = C)'],
    ['A<B+C', '(A < (B + C))'],
    ['A*NOT B=C', '(A * (NOT (B = C)))'],
    ['CODE A$(2)', '(CODE A$(2))'],
    ['(A+B)*C', '((A + B) * C)'],
    ['LEN (A$+B$)(2 TO )', '(LEN (A$ + B$)(2 TO ))'],
    ['A(1,B+2)', 'A(1,(B + 2))'],
    ['VAL "5"+PI*RND', '((VAL "") + (PI * RND))'],
    ['(A$="" AND B$<>C$)', '((A$ = "") AND (B$ <> C$))'],
    ['LEN (A$ AND B)', '(LEN (A$ AND B))'],
  ])('%s is %s', (text, expected) => {
    expect(shapeOf(text)).toBe(expected);
  });
});

describe('every command reads', () => {
  it.each([
    ...'STOP SLOW FAST NEW SCROLL CONT CLS CLEAR RETURN COPY RUN LIST LLIST RAND PRINT LPRINT REM'.split(
      ' ',
    ),
    'GOTO 100',
    'GO TO 100',
    'GOSUB A*100',
    'GO SUB 5',
    'PAUSE 50',
    'RUN 10',
    'LIST 10',
    'LLIST 10',
    'RAND 5',
    'RAND USR 16514',
    'PLOT 1,2',
    'UNPLOT X,Y',
    'POKE 16514,255',
    'SAVE "LANTERN"',
    'LOAD ""',
    'LOAD A$+B$',
    'LET SCORE=SCORE+1',
    'LET A(1)=2',
    'LET A$(2 TO 4)="AB"',
    'LET C$(1,2)="A"',
    'LET A$(2)(1)="A"',
    'INPUT A',
    'INPUT A$',
    'INPUT A(3)',
    'DIM A(10)',
    'DIM A$(10,20)',
    'FOR I=1 TO 10',
    'FOR I=10 TO 1 STEP -1',
    'NEXT I',
    'IF A=1 THEN GOTO 10',
    'IF A$="" THEN IF B THEN PRINT "X"',
    'PRINT ,,"A";AT 1,2;TAB 5;A$,',
    'LPRINT "A";1',
    'PRINT AT 21-I,INT (RND*32);CHR$ 128',
    'PRINT INKEY$;A$( TO 3);A$( TO );A$()',
    'REM ANYTHING "AT ALL',
    'IF A THEN REM SO',
  ])('%s', (text) => {
    expect(statement(text)).toBeDefined();
  });
});

describe('keywords are whole words', () => {
  it('keeps TOTAL, PRINTER and FORK as names', () => {
    expect(shapeOf('TOTAL+PRINTER*FORK')).toBe('(TOTAL + (PRINTER * FORK))');
  });

  it('reads either case and prints capitals', () => {
    const { listing } = readListing('10 print "a";tab 5;at 1,2;inkey$');
    expect(statementText(listing.lines[0].codes)).toBe('PRINT "A";TAB 5;AT 1,2;INKEY$');
  });
});

describe('words run together', () => {
  it.each([
    ['PRINTAT 3,4;', 'PRINT AT 3,4;'],
    ['FORI=1TO9', 'FOR I=1 TO 9'],
    ['FORI=1TO9.5STEP.5', 'FOR I=1 TO 9.5 STEP .5'],
    ['IFA=1THENGOTO50', 'IF A=1 THEN GOTO 50'],
    ['GOTO50', 'GOTO 50'],
    ['LETA=B', 'LET A=B'],
    ['IFA$="X"THENPRINT"Y"', 'IF A$="X" THEN PRINT "Y"'],
    ['NEXTI', 'NEXT I'],
    ['POKE16514,5', 'POKE 16514,5'],
    ['REMARKABLE', 'REM ARKABLE'],
    ['PRINT"A"', 'PRINT "A"'],
  ])('%s is %s', (text, expected) => {
    const { listing, diagnostics } = readListing(`10 ${text}`);
    expect(statementText(listing.lines[0].codes)).toBe(expected);
    expect(listing.lines[0].statement).toBeDefined();
    const plain = text === 'PRINT"A"';
    expect(diagnostics.map(({ severity, message }) => `${severity} ${message}`)).toEqual(
      plain ? [] : [`warning read as 10 ${expected}`],
    );
  });

  it('keeps the codes of a string in the tree', () => {
    const { listing } = readListing('10 PRINTAT 3,4;"HELLO"\n20 PRINT "WORLD"\n');
    const strings = listing.lines.map(({ statement }) => {
      const last = statement?.kind === 'PRINT' ? statement.items.at(-1) : undefined;
      return last?.kind === 'string' ? charactersText(last.codes, true) : undefined;
    });
    expect(strings).toEqual(['HELLO', 'WORLD']);
  });

  it('reads nothing where there are two ways', () => {
    expect(messages('10 IFA=BORC=DTHENGOTO50')).toEqual([
      '1:4 error run-together: the words run together here can be read in more than one way',
    ]);
    expect(messages('10 RANDUSR16514')).toEqual([
      '1:4 error run-together: the words run together here can be read in more than one way',
    ]);
  });

  it('leaves a line alone that parses as it stands', () => {
    expect(messages('10 LET FORI=LETA')).toEqual([]);
  });
});

describe('errors: where and what', () => {
  it.each([
    ['10 LET A="B"', '1:10 error type: a string stands where a number belongs'],
    ['10 LET A$=5', '1:11 error type: a number stands where a string belongs'],
    ['10 PRINT A$*2', '1:10 error type: a string stands where a number belongs'],
    ['10 PRINT 1+A$', '1:12 error type: a string stands where a number belongs'],
    ['10 GOTO "A"', '1:9 error type: a string stands where a number belongs'],
    ['10 SAVE 5', '1:9 error type: a number stands where a string belongs'],
    ['10 PRINT SIN A$', '1:14 error type: a string stands where a number belongs'],
    ['10 PRINT LEN 5', '1:14 error type: a number stands where a string belongs'],
    ['10 PRINT A$ AND B$', '1:17 error type: a string stands where a number belongs'],
    ['10 PRINT A(A$)', '1:12 error type: a string stands where a number belongs'],
    ['10 FOR II=1 TO 5', '1:8 error loop-name: II cannot count a loop'],
    ['10 DIM AB(5)', '1:8 error array-name: AB cannot be the name of an array'],
    ['10 LET AB$="A"', '1:8 error string-name: AB$ is not a name for a string'],
    [
      '10 PRINT A(1 TO 2)',
      '1:12 error slice-of-number: TO makes a slice, and only strings have slices',
    ],
    ['10 PRINT (5)(2)', '1:13 error subscripts: only an array or a string has subscripts'],
    [
      '10 PRINT A$(1 TO 2,3)',
      '1:13 error slice-not-last: a slice can only be the last of the subscripts',
    ],
    ['10 PRNT 5', '1:4 error no-such-command: no statement begins with PRNT'],
    ['10 A=5', '1:4 error let-missing: LET is missing before A'],
    ['10 A(1)=5', '1:4 error let-missing: LET is missing before A(1)'],
    ['10', '1:3 error no-statement: there is no statement after the line number'],
    ['10 PRINT "ABC', '1:10 error open-string: this string has no closing quote'],
    ['10 PRINT (1+2', '1:13 error syntax: a bracket is not closed'],
    ['10 PRINT "A" "B"', '1:14 error syntax: ; or , is missing before "B"'],
    ['10 PRINT 1+', '1:12 error syntax: the line ends where a value belongs, after +'],
    ['10 IF A=1 GOTO 5', '1:11 error syntax: THEN is missing'],
    ['10 IF A THEN', '1:13 error syntax: the line ends where a statement belongs, after THEN'],
    ['10 FOR I=1 STEP 2', '1:12 error syntax: STEP stands where TO belongs, after 1'],
    ['10 PLOT 5', '1:10 error syntax: the line ends where "," belongs, after 5'],
    ['10 LET A=1E39', '1:10 error number-too-large: 1E39 is too large for the machine'],
    ['10 PRINT "é"', '1:11 error no-such-character: the machine has no character "é" (U+00E9)'],
    ['10 PRINT "[foo]"', '1:11 error no-such-form: [foo] is not a form that the notation has'],
    ['10 PRINT 5[=00 01]', '1:11 error stored-value: [=00 01] does not give five bytes'],
    ['0 CLS', '1:1 error line-number: 0 cannot be a line number'],
    ['10000 CLS', '1:1 error line-number: 10000 cannot be a line number'],
    ['PRINT 5', '1:1 error no-line-number: this line has no line number'],
    ['10 CLS\n10 STOP', '2:1 error line-twice: there are two lines 10'],
    ['20 CLS\n10 STOP', '2:1 warning line-order: line 10 stands after line 20'],
    ['.foo', '1:1 error directive: there is no directive .foo'],
  ])('%j: %s', (text, expected) => {
    expect(messages(text)).toEqual([expected]);
  });

  it('shows every bad line, whatever is wrong with the one before', () => {
    expect(messages('10 PRINT (\n20 PRINT "\n30 FOO\n40 PRINT 1\n50 LET A="X"')).toHaveLength(4);
  });

  it('stands a place in columns of characters, not of bytes', () => {
    expect(messages('10 PRINT "▘\u{1FB8F}";A$*2')).toEqual([
      '1:15 error type: a string stands where a number belongs',
    ]);
  });
});

describe('errors: what to do', () => {
  it.each([
    ['GOTO', 'write it as in GOTO 100'],
    ['LET 5=A', 'write `LET A=5`'],
    ['LET A=', 'write it as in LET A=5'],
    ['IF A= THEN STOP', 'write a value after =, or leave = out'],
    ['FOR I=1 TO', 'write it as in FOR I=1 TO 9'],
    ['NEXT 5', 'write it as in NEXT I, where I is the letter of the FOR'],
    ['DIM A', 'write it as in DIM A(10)'],
    ['IF A THEN POKE 5,', 'write it as in POKE 16514,255'],
    ['PRINT AT 5,', 'write it as in PRINT AT 10,5;"OAK"'],
    ['PRINT A(1,', 'write a value after the comma, or leave the comma out'],
    ['PRINT SIN', 'write what it is of, as in SIN 5'],
    ['PRINT LEN', 'write what it is of, as in LEN "OAK"'],
    ['RAND USR', 'write it as in RAND USR 16514'],
    ['PRINT ()', 'write a value in the brackets, as in (A+1)'],
    ['PRINT 1+', 'write a value after +, or leave + out'],
    ['5', 'write `PRINT 5`'],
    ['LET CAFé=1', 'write it with the letters A to Z, or leave it out'],
    ['PRINT ▚', 'graphics can only stand in a string or REM, as in PRINT "▚"'],
    ['PRINT A]', 'write round brackets; square ones hold bytes, as in [F5]'],
    ['PRINT A.B', 'a point stands in a number alone, as in 0.5'],
    ['PRINT A()', 'write the number of the element, as in A(3)'],
    ['PRINT A(1 TO 2)', 'write one number for each dimension, as in A(2,3)'],
    ['PRINT A$(1 TO 2,3)', 'write the slice last, as in C$(2,1 TO 3)'],
    ['PRINT "[~█]"', 'write it outside the brackets'],
    ['REM "["', 'close it with ], or leave it out'],
    ['REM 50%', 'write PERCENT'],
    ['REM IT’S', 'leave it out, or use a comma'],
    ['REM é', 'leave it out, or write a byte as [XX]'],
    [
      'REM [file "OAK.BIN"]',
      'name a file in the folder of the listing, or write the bytes themselves, as in REM [76 00]',
    ],
  ])('%s: %s', (text, help) => {
    const { diagnostics } = readListing(`10 ${text}`);
    expect(diagnostics.map((diagnostic) => diagnostic.help)).toEqual([help]);
  });

  it('says once that a form in brackets is none', () => {
    for (const text of ['10 [foo]', '10 PRINT A[1]']) {
      expect(readListing(text).diagnostics.map(({ rule }) => rule)).toEqual(['no-such-form']);
    }
  });
});

describe('words of other dialects', () => {
  it.each([
    ['10 READ A', 'READ', /LET/],
    ['10 DATA 1,2', 'DATA', /LET/],
    ['10 IF A THEN GOTO 5 ELSE GOTO 6', 'ELSE', /line of its own `GOTO 6`/],
    ['10 PRINT MID$(A$,2,3)', 'MID$', /A\$\(2 TO 4\)/],
    ['10 PRINT LEFT$(A$,2)', 'LEFT$', /A\$\( TO 2\)/],
    ['10 PRINT RIGHT$(A$,2)', 'RIGHT$', /A\$\(LEN A\$-1 TO \)/],
    ['10 PRINT 1:PRINT 2', 'one statement', /`PRINT 2`/],
    ['10 PRINT A^2', 'power', /A\*\*2/],
    ['10 PRINT @5,"A"', '@', /AT/],
    ['10 PRINT #1', 'channels', /LPRINT/],
    ['10 PRINT "A"!', '!', /REM/],
    ['10 draw 5,5', 'DRAW', /PLOT/],
    ['10 circle 5,5,5', 'CIRCLE', /PLOT/],
    ['10 END', 'END', /STOP/],
    ['10 PRINT SQRT(5)', 'SQRT', /SQR/],
  ])('%s: %s has something else here', (text, word, help) => {
    const [first] = readListing(text).diagnostics;
    expect(first.message).toContain(word);
    expect(first.help).toMatch(help);
  });

  it('suggests the keyword that was meant', () => {
    expect(readListing('10 PRNT 5').diagnostics[0].help).toBe('did you mean PRINT?');
    expect(readListing('10 GOSBU 5').diagnostics[0].help).toBe('did you mean GOSUB?');
  });
});

describe('what a line can hold besides', () => {
  it.each([
    ['REM [76 00 FF]', [234, 0x76, 0, 0xff]],
    ['REM [\n  01 02\n  03\n]', [234, 1, 2, 3]],
    ['PRINT "[~AB C]"', [245, 11, 166, 167, 128, 168, 11]],
    ['PRINT "[PRINT]""[""]"', [245, 11, 245, 192, 192, 11].slice(0, 3).concat([192, 192, 11])],
    ['PRINT "[ul+lr][grey][pound][sp]"', [245, 11, 134, 8, 12, 0, 11]],
    ['PRINT "▚▒£ "', [245, 11, 134, 8, 12, 0, 11]],
    ['PRINT[sp]5[=]', [245, 0, 33]],
    ['PRINT 5[=82 40 00 00 00]', [245, 33, 126, 0x82, 0x40, 0, 0, 0]],
    ['[F5]PRINT PRINT', [245, 245, 245]],
    ['[]', []],
    ['REM a ', [234, 38, 0]],
    ['REM', [234]],
  ] as [string, number[]][])('%j', (text, codes) => {
    const { listing, diagnostics } = readListing(`10 ${text}`);
    expect(diagnostics).toEqual([]);
    expect([...listing.lines[0].codes]).toEqual(codes);
  });

  it('takes the value that the listing gives for a literal', () => {
    const read = statement('LET A=100[=82 40 00 00 00]');
    expect(read).toMatchObject({ value: { text: '100', value: 3, stored: 'given' } });
  });

  it('reads lines that end in carriage returns', () => {
    for (const end of ['\r\n', '\r']) {
      const { listing, diagnostics } = readListing(`10 REM A${end}20 CLS${end}`);
      expect(diagnostics).toEqual([]);
      expect(listing.lines.map(({ codes }) => [...codes])).toEqual([[234, 38], [251]]);
    }
  });

  it('nests only as deep as can be read, and says so', () => {
    const deep = `10 PRINT ${'('.repeat(5000)}1${')'.repeat(5000)}`;
    expect(messages(deep)[0]).toContain('too-deep');
    expect(messages(`10 PRINT ${'-'.repeat(5000)}1`)[0]).toContain('too-deep');
    expect(messages(`10 ${'IF A THEN '.repeat(500)}STOP`)[0]).toContain('too-deep');
  });
});

describe('numbers run together', () => {
  it('never make a number that is none of two that touch', () => {
    for (const text of ['10 FOR I=1TO9E5.5', '10 PRINT AT1.5.5,2', '10 GOTO9E1E1']) {
      expect(() => readListing(text)).not.toThrow();
    }
  });
});

it('says from where on less is tried to explain mistakes, once', () => {
  const wrong = (lines: number) =>
    Array.from({ length: lines }, (_, at) => `${at + 1} PRINT 1,,*\n`).join('');
  const notes = (lines: number) => messages(wrong(lines)).filter((text) => / note /.test(text));
  expect(notes(100)).toEqual([]);
  expect(notes(103)).toEqual([expect.stringMatching(/^101:5 note many-errors: from here on/)]);
});

it('says what is wrong where a line begins with TO and a bracket comes later', () => {
  const { diagnostics } = readListing('1TO THEN DIM A(\n');
  expect(diagnostics.map(({ message }) => message)).toEqual([
    'TO is part of a FOR, and cannot begin a line',
  ]);
});
