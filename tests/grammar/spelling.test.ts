import { describe, expect, it } from 'vitest';
import {
  countSpaces,
  endOfSpeltName,
  endOfSpeltNumber,
  type Spelling,
  withoutSpaces,
} from '../../grammar/spelling.js';

const spellingOf = (text: string): Spelling => ({
  unitAt: (at) => text.toUpperCase().charCodeAt(at),
  after: (at) => at + 1,
});

// G. Wearmouth, "An Assembly Listing of the Operating System" (2004): DEC-TO-FP 14D9.
describe('a number ends behind the bar', () => {
  it.each([
    '12|',
    '12|+1',
    '1 2|  ',
    '1.|',
    '.|',
    '.5|.5',
    '1 . 5| A',
    '1 .| +',
    '1E5|',
    '1E|',
    '1E|*',
    '1E+|',
    '1E-12|',
    '1E - 1 2| ',
    '1E+|A',
    '1 E 5|E',
    '1E| ,',
    '1. E5|',
    // An E that a word begins with.
    '1|EXP',
    '1|E5A'.replace('|E5A', 'E5|A'),
    '1|ELSE',
    '1E| X',
    '1|F',
    '1| F',
  ])('%s', (marked) => {
    const end = marked.indexOf('|');
    expect(endOfSpeltNumber(spellingOf(marked.replace('|', '')), 0)).toBe(end);
  });
});

// The same, LOOK-VARS 111C.
describe('a name ends behind the bar', () => {
  it.each([
    'A|',
    'A|+B',
    'A1|.5',
    'HIGH SCORE|  =',
    'A$|B',
    'A $|',
    'A  B $|C',
    'A B1|',
    'A| TO',
    'A B| TO B',
    'AB| CODE$ C',
    'A| (',
    'A|_',
    'A|[',
    'AZ09|:',
    'A|@',
  ])('%s', (marked) => {
    const text = marked.replace('|', '');
    const isOther = (start: number, end: number) =>
      ['TO', 'CODE$'].includes(text.slice(start, end));
    expect(endOfSpeltName(spellingOf(text), 0, isOther)).toBe(marked.indexOf('|'));
  });

  it('whatever words it is made of, where none is another', () => {
    expect(endOfSpeltName(spellingOf('A TO B+'), 0)).toBe(6);
  });
});

it('the spaces within are counted, and left out', () => {
  expect(['AB', 'A B', 'A[sp]B', 'A [ sp ]B', ''].map(withoutSpaces)).toEqual([
    'AB',
    'AB',
    'AB',
    'AB',
    '',
  ]);
  expect(['AB', 'A B', 'A[sp]B', 'A [ sp ]B', ''].map(countSpaces)).toEqual([0, 1, 1, 2, 0]);
});
