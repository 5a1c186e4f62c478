import { describe, expect, it } from 'vitest';
import { KEYWORD_TABLE } from '../../grammar/keywords.js';
import { completion } from '../../src/editing/questions/completion.js';
import { readListing } from '../../src/listing/read.js';
import { at, edited } from './at.js';

const labels = (marked: string): string[] => completion(...at(marked)).map(({ label }) => label);

/** The text after the one item of this label was taken. */
function taken(marked: string, label: string): string {
  const [snapshot, offset] = at(marked);
  const item = completion(snapshot, offset).find((one) => one.label === label);
  return edited(snapshot, [item!.textEdit as never]);
}

describe('completion', () => {
  it.each([
    ['the next line number', '10 CLS\n‸', ['20', '.ram'], ['30']],
    ['a number between two lines', '10 CLS\n‸\n20 CLS', ['15'], []],
    ['directives', '.‸', ['.name', '.display', '.var'], []],
    ['sizes of RAM', '.ram ‸', ['1K', '16K'], []],
    ['lines after .start', '.start ‸\n10 CLS', ['10'], []],
    ['system variables in .system', '.system ‸', ['DF_SZ ='], []],
    ['commands at the start', '10 ‸', ['PRINT', 'GOTO', 'IF'], ['SIN', 'THEN', 'TO', 'AT']],
    ['commands after THEN', '10 IF A THEN ‸', ['PRINT', 'LET'], ['SIN']],
    [
      'what ends a condition',
      '10 LET A=1\n20 IF A ‸',
      ['THEN', 'AND', 'OR'],
      ['PRINT', 'SIN', 'STEP'],
    ],
    [
      'values after PRINT',
      '10 LET LAMP=1\n20 PRINT ‸',
      ['AT', 'TAB', 'SIN', 'INKEY$', 'LAMP'],
      ['PRINT', 'THEN'],
    ],
    ['TO after a first value', '10 FOR I=1 ‸', ['TO'], ['STEP', 'THEN']],
    ['STEP after TO', '10 FOR I=1 TO 9 ‸', ['STEP'], ['TO', 'THEN']],
    [
      'strings alone where only they stand',
      '10 LET A$=""\n20 LET N=1\n30 SAVE ‸',
      ['A$', 'CHR$'],
      ['GOTO'],
    ],
    [
      'the open loop first after NEXT',
      '10 FOR J=1 TO 2\n20 LET LONG=1\n30 NEXT ‸',
      ['J'],
      ['LONG', 'SIN'],
    ],
    ['lines with their text after GOTO', '10 CLS\n20 GOTO ‸', ['10', '20'], ['SIN']],
    ['system variables after PEEK', '10 PRINT PEEK ‸', ['RAMTOP 16388'], []],
    ['graphics behind a bracket', '10 PRINT "[‸', ['[ul+lr]', '[~…]', '[PRINT]'], []],
    ['nothing within a string', '10 PRINT "LAMP‸', [], ['PRINT']],
    ['rules in a comment that allows', "' lint: allow ‸", ['number-form'], []],
  ])('offers %s', (_, marked, there, absent) => {
    const found = labels(marked);
    for (const label of there) expect(found).toContain(label);
    for (const label of absent) expect(found).not.toContain(label);
  });

  it('replaces what is typed', () => {
    expect(taken('10 pri‸', 'PRINT')).toBe('10 PRINT ');
    expect(taken('10 CLS\n20 GOTO 1‸', '10')).toBe('10 CLS\n20 GOTO 10');
    expect(taken('10 PRINT PEEK 163‸', 'RAMTOP 16388')).toBe('10 PRINT PEEK 16388');
    expect(taken('10 PRINT "[u‸', '[ul+lr]')).toBe('10 PRINT "[ul+lr]');
  });

  it('offers no keyword at which the reader would stumble', () => {
    for (const before of [
      '10 ',
      '10 PRINT ',
      '10 LET A=',
      '10 IF A ',
      '10 FOR I=1 ',
      '10 PLOT 1',
      '10 PRINT A;',
    ]) {
      for (const label of labels(`${before}‸`)) {
        if (!KEYWORD_TABLE.some(({ word }) => word === label)) continue;
        const { diagnostics } = readListing(`${before} ${label}`);
        // Of the wrong type is not wrong yet: LET A=INKEY$="Y" goes on so.
        const stumbles = diagnostics.filter(
          ({ rule, start, end }) =>
            rule !== 'type' && start === before.length + 1 && end === start + label.length,
        );
        expect(stumbles, `${before}${label}`).toEqual([]);
      }
    }
  });
});
