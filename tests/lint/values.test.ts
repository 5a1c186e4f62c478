/** Values in messages, as the machine would print them. */
import { expect, test } from 'vitest';
import { lint } from '../../src/lint/lint.js';
import { readListing } from '../../src/listing/read.js';

function messageOf(text: string, rule: string): string | undefined {
  const { listing, diagnostics } = readListing(text.replaceAll('|', '\n'));
  expect(diagnostics).toEqual([]);
  return lint({ text, listing }).findings.find((finding) => finding.rule === rule)?.message;
}

test.each([
  ['10 PRINT SQR -.1', 'argument-range', 'SQR does not take -0.1: it takes 0 up'],
  ['10 PRINT LN -1E-9', 'argument-range', 'LN does not take -1E-9: it takes only what is above 0'],
  ['10 PAUSE -.01', 'argument-range', 'PAUSE does not take -.01: it takes 0 to 65535'],
  ['10 PRINT CHR$ 1E20', 'argument-range', 'CHR$ does not take 1E+20: it takes 0 to 255'],
  ['10 DIM A(99999)', 'argument-range', 'DIM does not take 99999: it takes 1 to 16384'],
  ['10 DIM A(2.5)|20 PRINT A(4)', 'subscript-range', '4 is no subscript of A: they go from 1 to 3'],
  [
    '10 INPUT N|20 DIM A(N)|30 PRINT A(0)',
    'subscript-range',
    '0 is no subscript of A: they go from 1 up',
  ],
  [
    '10 PRINT USR 16514.2',
    'machine-code-place',
    '16514 is in line 10, and not in the text of a REM',
  ],
  [
    '10 PRINT INT (.57*100)',
    'number-equality',
    'INT gives 56 here and not 57: a decimal is stored a little off: .1*10 is not 1',
  ],
  [
    '10 IF 1/2=.5 THEN STOP',
    'number-equality',
    'this is false where both print as 0.5: a quotient and a decimal differ in their last bit: 1/2=.5 is false',
  ],
  [
    '10 IF 1E10+.1=1E10 THEN STOP',
    'number-equality',
    'this is true, for both are 10000000000 here, where they are meant to differ: a decimal is stored a little off: .1*10 is not 1',
  ],
])('%s', (text, rule, message) => {
  expect(messageOf(text, rule)).toBe(message);
});

test('a number of another base is written in digits that the machine reads', () => {
  const { diagnostics } = readListing(`10 LET A=&H${'F'.repeat(23)}`);
  expect(diagnostics[0].help).toBe('write `LET A=4.9517602E+27`');
});
