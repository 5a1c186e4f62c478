import { describe, expect, it } from 'vitest';
import { definition, highlights, references } from '../../src/editing/questions/navigation.js';
import { at, textsOf } from './at.js';

describe('definition', () => {
  it.each([
    ['a variable', '10 LET SCORE=1\n20 PRINT SCO‸RE', ['1:SCORE']],
    ['a place right behind it', '10 LET A=1\n20 PRINT A‸', ['1:A']],
    ['an array apart from the number', '10 DIM A(3)\n20 LET A=1\n30 PRINT ‸A(2)', ['1:A']],
    ['a FOR variable, not its NEXT', '10 FOR I=1 TO 3\n20 NEXT ‸I', ['1:I']],
    ['a string and its slices', '10 LET A$="OAK"\n20 PRINT ‸A$(2 TO )', ['1:A$']],
    ['a saved variable', '.var K = 3\n10 PRINT ‸K', ['1:K']],
    ['the line of a GOTO', '10 CLS\n20 GOTO ‸10', ['1:10']],
    ['the next line where there is none', '10 CLS\n20 GOTO ‸5', ['1:10']],
    ['the line of a GOTO in VAL', '10 CLS\n20 GOTO VAL "1‸0"', ['1:10']],
    ['the line of .start', '.start ‸20\n10 CLS\n20 RUN', ['3:20']],
    ['nothing past the last line', '10 GOTO ‸99', []],
    ['nothing for a keyword', '10 ‸CLS', []],
  ])('finds %s', (_, marked, wanted) => {
    const [snapshot, offset] = at(marked);
    expect(textsOf(snapshot, definition(snapshot, offset))).toEqual(wanted);
  });
});

describe('references', () => {
  it.each([
    [
      'settings, readings and the text of a VAL',
      '10 LET N=1\n20 LET N=N+VAL "‸N*2"\n30 PRINT "N"',
      ['1:N', '2:N', '2:N', '2:N'],
    ],
    ['lines with errors too', '10 LET NEW1=1\n20 PRIMT NE‸W1 +', ['1:NEW1', '2:NEW1']],
    [
      'a line and its jumps',
      '1‸0 CLS\n20 IF A THEN GOTO 10\n30 GOSUB VAL "10"\n40 LIST 10',
      ['1:10', '2:10', '3:VAL "10"', '4:10'],
    ],
    ['words run together', '10FORI=1TO9\n20 NEXT ‸I', ['1:I', '2:I']],
  ])('finds %s', (_, marked, wanted) => {
    const [snapshot, offset] = at(marked);
    expect(textsOf(snapshot, references(snapshot, offset))).toEqual(wanted);
  });

  it('leaves out the settings when asked to', () => {
    const [snapshot, offset] = at('10 LET ‸A=1\n20 PRINT A');
    expect(textsOf(snapshot, references(snapshot, offset, false))).toEqual(['2:A']);
  });
});

it('highlights by whether a place sets or reads', () => {
  const [snapshot, offset] = at('10 LET ‸A=1\n20 PRINT A');
  expect(highlights(snapshot, offset).map(({ kind }) => kind)).toEqual([3, 2]);
});
