import { describe, expect, it } from 'vitest';
import { CannotRename, prepareRename, rename } from '../../src/editing/questions/rename.js';
import { at, edited, URI } from './at.js';

function renamed(marked: string, name: string): string {
  const [snapshot, offset] = at(marked);
  const edit = rename(snapshot, URI, offset, name);
  return edited(snapshot, edit?.changes?.[URI] ?? []);
}

describe('rename', () => {
  it.each([
    ['a variable', '10 LET ‸A=1\n20 PRINT A;"A"', 'total', '10 LET TOTAL=1\n20 PRINT TOTAL;"A"'],
    ['one in a VAL', '10 LET ‸A=1\n20 PRINT VAL "A+1"', 'B', '10 LET B=1\n20 PRINT VAL "B+1"'],
    ['a string', '10 LET ‸A$="A$"\n20 PRINT A$(1)', 'b$', '10 LET B$="A$"\n20 PRINT B$(1)'],
    ['an array alone', '10 DIM ‸A(2)\n20 LET A=A(1)', 'B', '10 DIM B(2)\n20 LET A=B(1)'],
    ['one that is saved', '.var K = 3\n10 PRINT ‸K', 'M', '.var M = 3\n10 PRINT M'],
    [
      'a line with its jumps',
      '1‸0 CLS\n20 GOTO 10\n30 RUN VAL "10"',
      '15',
      '15 CLS\n20 GOTO 15\n30 RUN VAL "15"',
    ],
    ['a line from a jump to it', '10 CLS\n20 GOTO ‸10', '7', '7 CLS\n20 GOTO 7'],
    ['.start', '.start 10\n‸10 CLS', '5', '.start 5\n5 CLS'],
    [
      'a line past a jump that would then miss it',
      '10 CLS\n‸20 STOP\n30 GOTO 15',
      '12',
      '10 CLS\n12 STOP\n30 GOTO 12',
    ],
  ])('renames %s', (_, marked, name, wanted) => {
    expect(renamed(marked, name)).toBe(wanted);
  });

  it.each([
    ['10 LET ‸A=1\n20 LET B=2', 'B', 'B is another variable already: it stands in line 20'],
    ['10 LET ‸A=1', 'PRINT', 'PRINT is a keyword'],
    ['10 LET ‸A=1', '1A', 'a name is a letter, then letters and digits, not 1A'],
    ['10 LET ‸A$=""', 'AB$', "a string's name is one letter and $, not AB$"],
    ['10 FOR ‸I=1 TO 2\n20 NEXT I', 'IX', 'the name of a FOR variable is one letter'],
    ['10 DIM ‸A(2)', 'AB', "an array's name is one letter"],
    [
      '10 LET ‸A=1\n20 PRINT VAL B$',
      'C',
      'VAL in line 20 reads a text that only the run makes, and it may name A',
    ],
    ['‸10 CLS\n20 GOTO N', '15', 'the GOTO in line 20 is computed and may mean line 10'],
    ['‸10 CLS\n20 CLS', '20', 'it would no longer stand before line 20'],
    ['10 CLS\n‸20 CLS', '5', 'it would no longer stand behind line 10'],
    ['‸10 CLS', '10000', 'a line number is 1 to 9999, not 10000'],
    [
      '‸10 CLS\n20 PRIMT',
      '5',
      'the listing has errors: what names this line may stand in one of them',
    ],
  ])('refuses %j to %s with the reason', (marked, name, reason) => {
    expect(() => renamed(marked, name)).toThrow(CannotRename);
    expect(() => renamed(marked, name)).toThrow(reason);
  });

  it('says beforehand what would be renamed', () => {
    const ask = (marked: string) => prepareRename(...at(marked))?.placeholder;
    expect(ask('10 LET SC‸ORE=1')).toBe('SCORE');
    expect(ask('10 GOTO 1‸0')).toBe('10');
    expect(ask('10 GOTO ‸5')).toBeUndefined();
    expect(ask('10 CL‸S')).toBeUndefined();
    expect(ask('10 REM ‸A')).toBeUndefined();
  });
});
