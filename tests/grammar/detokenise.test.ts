/** Codes of a statement, of a string and of REM to their text; and that the text stores the same codes. */
import { describe, expect, it } from 'vitest';
import { charactersText, remText, statementText } from '../../grammar/detokenise.js';
import { tokensOf } from '../../grammar/lexer.js';
import { ByteBuffer } from '../../grammar/text.js';
import { Tokeniser } from '../../grammar/tokenise.js';
import { codesOfText, KEYWORD_CODES } from '../../src/machine/characters.js';

const INVERSE = 128;
const MARKER = 126;
/** The manual, chapter 27: 1 and 3 in five bytes. */
const ONE = [MARKER, 0x81, 0, 0, 0, 0];
const THREE = [MARKER, 0x82, 0x40, 0, 0, 0];

/** Codes as they are, and those of the characters of a text; a keyword in `<` `>`. */
function codes(...parts: readonly (number | string | ArrayLike<number>)[]): Uint8Array {
  return Uint8Array.from(
    parts.flatMap((part) => {
      if (typeof part === 'number') return [part];
      if (typeof part !== 'string') return Array.from(part);
      const word = /^<(.+)>$/.exec(part);
      return word === null ? [...codesOfText(part)] : [KEYWORD_CODES.get(word[1])!];
    }),
  );
}

const inverse = (text: string): number[] => [...codesOfText(text)].map((code) => code + INVERSE);

/** Rows of codes and their text, to be called by the text. */
const byText = (rows: readonly [Uint8Array, string][]): [string, Uint8Array][] =>
  rows.map(([given, text]) => [text, given]);

/** What the text of a statement stores. */
function stored(text: string): Uint8Array {
  const tokeniser = new Tokeniser(new ByteBuffer(), 'typed');
  tokeniser.push(tokensOf(`1 ${text}`).slice(1));
  return tokeniser.codes.from(0);
}

describe('the text of REM', () => {
  it.each(
    byText([
      [codes(), ''],
      [codes('OAK'), ' OAK'],
      [codes(' OAK'), '  OAK'],
      // An editor would drop a space at the end of a row.
      [codes('OAK '), ' OAK[sp]'],
      [codes(' '), ' [sp]'],
      [codes('  '), '  [sp]'],
      [codes('A"B'), ' A"B'],
      [codes('A', 192, 'B'), ' A[""]B'],
      [codes('<PRINT>', 'A', '<RND>'), ' [PRINT]A[RND]'],
      [codes(inverse('AB'), 'C', inverse('D')), ' [~AB]C[~D]'],
      // The first and the last sign that has an inverse.
      [codes(inverse('"Z')), ' [~"Z]'],
      [codes(6, inverse('A'), 134, 136), ' ▞[~A]▚🮐'],
      // An inverse space is a block, but between inverse signs it is their space.
      [codes(inverse('A B')), ' [~A B]'],
      [codes(inverse('A  B')), ' [~A]██[~B]'],
      [codes(inverse(' A')), ' █[~A]'],
      [codes(inverse('A ')), ' [~A]█'],
      [codes(inverse('A '), 'B'), ' [~A]█B'],
      [codes('B', inverse(' A')), ' B█[~A]'],
      [codes(inverse(' ')), ' █'],
      // What no key gives makes all of it machine code, in rows of 16.
      [codes(0x76), ' [76]'],
      [codes('A', 0x76, 'B'), ' [26 76 27]'],
      [codes(67), ' [43]'],
      [codes(195), ' [C3]'],
      [codes(new Array(16).fill(0x7f)), ` [${'7F '.repeat(15)}7F]`],
      [codes(new Array(17).fill(0x7f)), ` [\n  ${'7F '.repeat(15)}7F\n  7F\n]`],
      [codes(new Array(32).fill(0x7f)), ` [${`\n  ${'7F '.repeat(15)}7F`.repeat(2)}\n]`],
    ]),
  )('%j', (text, given) => {
    expect(remText(given)).toBe(text);
    expect(statementText(codes('<REM>', given))).toBe(`REM${text}`);
    expect([...stored(`REM${text}`)]).toEqual([...codes('<REM>', given)]);
  });
});

describe('the text of a string', () => {
  it.each(
    byText([
      [codes('OAK  '), 'OAK  '],
      [codes('A', 192, 'B'), 'A""B'],
      [codes('<PRINT>', '<TAB>'), '[PRINT][TAB]'],
      [codes('A', 67, 0x76, 'B', 0x7f), 'A[43 76]B[7F]'],
      [codes(67, inverse('A'), 67, '<RND>'), '[43][~A][43][RND]'],
      [codes('£$.', 1, '£'), '£$.▘£'],
    ]),
  )('%j', (text, given) => {
    expect(charactersText(given, true)).toBe(text);
    const statement = codes('<PRINT>', 11, given, 11);
    expect(statementText(statement)).toBe(`PRINT "${text}"`);
    expect([...stored(`PRINT "${text}"`)]).toEqual([...statement]);
  });

  it('has the quote that would end it as a byte, next to others or not', () => {
    expect(charactersText(codes(11), true)).toBe('[0B]');
    expect(charactersText(codes('A', 11, 'B', 67, 11, 67), true)).toBe('A[0B]B[43][0B][43]');
    expect(charactersText(codes('A', 11, 'B'), false)).toBe('A"B');
  });

  it('may be long', () => {
    for (const length of [63, 64, 65, 200]) {
      const text = 'OAK £2.50 ELM (3)'.repeat(20).slice(0, length);
      expect(charactersText(codes(text), true)).toBe(text);
      expect(charactersText(codes(text, 1, text, inverse(text)), true)).toBe(
        `${text}▘${text}${charactersText(codes(inverse(text)), true)}`,
      );
    }
  });
});

// As LIST shows keywords: machine facts, common practice.
describe('a statement', () => {
  it.each(
    byText([
      [codes('<CLS>'), 'CLS'],
      [
        codes('<IF>', 'A=', '<VAL>', '"3"', '<THEN>', '<GOTO>', '10', MARKER, 0x84, 0x20, 0, 0, 0),
        'IF A=VAL "3" THEN GOTO 10',
      ],
      [codes('<LET>', 'B=', '<NOT>', 'C'), 'LET B=NOT C'],
      [codes('<PRINT>', 'A$(', '<TO>', '1', ONE, ')'), 'PRINT A$( TO 1)'],
      [codes('<PRINT>', 'A', '<<=>', 'B', '<AND>', 'C', '<**>', 'D'), 'PRINT A<=B AND C**D'],
      [codes('<PRINT>', '<AT>', 'A,B;', '<TAB>', 'C'), 'PRINT AT A,B;TAB C'],
      [codes('<PRINT>', '<RND>', '*', '<PI>', '<INKEY$>'), 'PRINT RND*PI INKEY$'],
      [codes('<IF>', 'A', '<THEN>', '<REM>'), 'IF A THEN REM'],
      [codes('<IF>', 'A', '<THEN>', '<REM>', 'A'), 'IF A THEN REM A'],
      // Digits with their five bytes, with other ones, with none, and with too few.
      [codes('<PRINT>', '1', ONE), 'PRINT 1'],
      [codes('<PRINT>', '1', THREE), 'PRINT 1[=82 40 00 00 00]'],
      [codes('<PRINT>', '1', THREE, '+', '1', ONE), 'PRINT 1[=82 40 00 00 00]+1'],
      [codes('<PRINT>', '1'), 'PRINT 1[=]'],
      [codes('<PRINT>', '1+', '2'), 'PRINT 1[=]+2[=]'],
      [codes('<PRINT>', '1', ONE.slice(0, 5)), 'PRINT 1[=][7E][81][sp][sp][sp]'],
      [codes('<PRINT>', '1', MARKER), 'PRINT 1[=][7E]'],
      [codes('<PRINT>', '.5', MARKER, 0x7f, 0x7f, 255, 255, 255), 'PRINT .5'],
      [codes('<PRINT>', '.5', MARKER, 0x80, 0, 0, 0, 0), 'PRINT .5[=80 00 00 00 00]'],
      [codes('<PRINT>', '1E', ONE), 'PRINT 1E'],
      // Digits that no five bytes can hold.
      [codes('<PRINT>', '1E99', ONE), 'PRINT 1E99[=81 00 00 00 00]'],
      [codes('<PRINT>', '.', MARKER, 0, 0, 0, 0, 0), 'PRINT .'],
      // Spaces within and around names and numbers, which the machine passes over.
      [codes('<LET>', 'A B=1 0', MARKER, 0x84, 0x20, 0, 0, 0), 'LET A[sp]B=1[sp]0'],
      [codes('<PRINT>', 'A $'), 'PRINT A[sp]$'],
      [codes('<PRINT>', '1 ', ONE), 'PRINT 1[sp]'],
      [codes('<PRINT>', '1 . 0', ONE), 'PRINT 1[sp].[sp]0'],
      [codes('<PRINT>', '1', ONE, ' ', '+A'), 'PRINT 1 [sp]+A'],
      [codes(' ', '<PRINT>', ' ', 'A'), '[sp] PRINT [sp]A'],
      [codes('<PRINT>', 'A1Z9'), 'PRINT A1Z9'],
      [codes('<PRINT>', 'Z$(1', ONE, ')'), 'PRINT Z$(1)'],
      // Signs that no statement has, and a string that nothing closes.
      [codes('<PRINT>', 'A:B?'), 'PRINT A[0E]B[0F]'],
      [codes('<PRINT>', '£$'), 'PRINT [0C][0D]'],
      [codes('<PRINT>', 192), 'PRINT [C0]'],
      [codes('<PRINT>', '"A'), 'PRINT [0B]A'],
      [codes('<PRINT>', 67, 1, 166), 'PRINT [43][01][A6]'],
      [codes('<PRINT>', '()>A<+A=-*/;,'), 'PRINT ()>A<+A=-*/;,'],
      // Words and numbers that would be read as one are kept apart.
      [codes('<PRINT>', 'A$', 'B'), 'PRINT A$ B'],
      [codes('<PRINT>', '1', ONE, 'A'), 'PRINT 1 A'],
      [codes('<PRINT>', 'A$', '0', MARKER, 0, 0, 0, 0, 0), 'PRINT A$ 0'],
      [codes('<PRINT>', 'Z', '<RND>', 'A'), 'PRINT Z RND A'],
      [codes('<PRINT>', '<INKEY$>', '9', MARKER, 0x84, 0x10, 0, 0, 0), 'PRINT INKEY$ 9'],
      [codes('<PRINT>', '.', MARKER, 0, 0, 0, 0, 0, 'A'), 'PRINT . A'],
      [codes('<PRINT>', 'A', '<CODE>', 'B'), 'PRINT A CODE B'],
      [codes('<PRINT>', '(', '<CODE>', 'B'), 'PRINT (CODE B'],
      [codes('<PRINT>', '"A"', '"B"', 'C'), 'PRINT "A""B"C'],
    ]),
  )('%j', (text, given) => {
    expect(statementText(given)).toBe(text);
    if (!/"A""B"/.test(text)) expect([...stored(text)]).toEqual([...given]);
  });

  it('whose numbers were made as the nearest shows these plainly, and others by their bytes', () => {
    const half = (bytes: number[]) => codes('<PRINT>', '.5', MARKER, bytes);
    expect(statementText(half([0x80, 0, 0, 0, 0]), 'nearest')).toBe('PRINT .5');
    expect(statementText(half([0x7f, 0x7f, 255, 255, 255]), 'nearest')).toBe(
      'PRINT .5[=7F 7F FF FF FF]',
    );
  });
});
