import { describe, expect, it } from 'vitest';
import { KEYWORD_TABLE } from '../../grammar/keywords.js';
import { systemVariableAt } from '../../src/editing/addresses.js';
import { wordsOf } from '../../src/editing/keyword-words.js';
import { hover } from '../../src/editing/questions/hover.js';
import { SYSTEM_VARIABLES } from '../../src/machine/system-variables.js';
import { at } from './at.js';

function said(marked: string): string | undefined {
  const found = hover(...at(marked));
  return found && (found.contents as { value: string }).value;
}

describe('hover', () => {
  it('knows every keyword and every system variable', () => {
    for (const { word } of KEYWORD_TABLE) expect(wordsOf(word)?.does, word).toMatch(/\.$/);
    for (const { address, name } of SYSTEM_VARIABLES) {
      expect(systemVariableAt(address)?.label).toBe(name);
      expect(systemVariableAt(address)?.does).not.toContain('undefined');
    }
  });

  it.each([
    ['10 PR‸INT A', ['`PRINT items`', 'report 4 (no room in memory), 5']],
    ['10 R‸EM NOTE', ['`REM text`']],
    [
      '10 LET A=3\n20 FOR I=1 TO ‸A',
      ['**A**: a number', 'Takes 6 bytes', 'Set in line 10', 'always `3`'],
    ],
    [
      '10 FOR I=1 TO 9\n20 NEXT ‸I',
      ['the variable of a FOR loop', 'Takes 18 bytes', 'Whole numbers from `1` to `10`'],
    ],
    ['10 PRINT ‸Z', ['Nothing sets it: reading it is report 2']],
    ['10 LET A$="OAK"\n20 PRINT A‸$', ['a string', 'Always 3 characters long']],
    ['10 DIM A$(4,9)\n20 PRINT ‸A$(1)', ['an array of characters']],
    ['10 LET A=‸100', ['`87 48 00 00 00`', '9 bytes', 'is the same number in']],
    ['10 PRINT PEEK 1638‸8', ['**RAMTOP**']],
    ['10 POKE 16389,‸4', ['`83 00 00 00 00`']],
    ['10 PRINT PEEK (1638‸9)', ['**RAMTOP+1**']],
    ['10 CLS\n20 GOTO 1‸0', ['`10 CLS`']],
    ['10 GOTO 9‸9', ['no such line']],
    ['‸10 LET A=1', ['Line 10: 15 bytes, 6 of them hidden']],
    ['10 PRINT "LA‸MP"', ['4 characters', '4 columns']],
    ['10 PRINT CODE "‸A"', ['`CODE of it` is `38`']],
  ])('says of %j', (marked, parts) => {
    for (const part of parts) expect(said(marked)).toContain(part);
  });

  it('says nothing where nothing stands', () => {
    expect(said("' a com‸ment\n10 CLS")).toBeUndefined();
    expect(said('10 REM NO‸TE')).toBeUndefined();
    expect(said('10 CLS\n‸')).toBeUndefined();
  });

  it('takes a keyword that is spelt wrongly for no variable, but a name without LET for one', () => {
    expect(said('10 PR‸NT A')).toBeUndefined();
    expect(said('10 IF A=1 TH‸N GOTO 10')).toBeUndefined();
    expect(said('10 PRNT LAM‸P')).toContain('**LAMP**');
    expect(said('10 LAM‸P=1')).toContain('**LAMP**');
  });
});
