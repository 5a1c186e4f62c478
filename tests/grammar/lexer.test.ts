import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tokensOf } from '../../grammar/lexer.js';

const shown = (text: string): string[] =>
  tokensOf(text).map(({ tokenType, image }) => `${tokenType.name} ${image}`);

describe('tokensOf', () => {
  it.each([
    ['10 PRINT A', ['LineNumber 10', 'PrintCommand PRINT', 'NumberName A']],
    ['10 TOTAL PRINTER', ['LineNumber 10', 'NumberName TOTAL', 'NumberName PRINTER']],
    ['10 GO  TO 5', ['LineNumber 10', 'OneCommand GO  TO', 'Number 5']],
    ['10 STRD+JJ', ['LineNumber 10', 'NumberName STRD', 'Operator +', 'NumberName JJ']],
    ['10 str$ chr$', ['LineNumber 10', 'Function STR$', 'Function CHR$']],
    ['10 GOT O', ['LineNumber 10', 'NumberName GOT', 'NumberName O']],
    [
      '10 REM[76\n 00]X\n20 CLS',
      ['LineNumber 10', 'REM REM[76\n 00]X', 'LineNumber 20', 'BareCommand CLS'],
    ],
    ['10 REM [X\n20 CLS', ['LineNumber 10', 'REM REM [X', 'LineNumber 20', 'BareCommand CLS']],
    ['1 "A""B[~"]"', ['LineNumber 1', 'String "A""B[~"]"']],
    ['1 "A\n2 CLS', ['LineNumber 1', 'OpenString "A', 'LineNumber 2', 'BareCommand CLS']],
    [
      '1 .5E-3 5.E2 1E 1.2.3',
      ['LineNumber 1', 'Number .5E-3', 'Number 5.E2', 'Number 1E', 'Number 1.2', 'Number .3'],
    ],
    ['1 5[=][=82]', ['LineNumber 1', 'Number 5[=]', 'Escape [=82]']],
    [
      '1 **<=<>>=<>',
      ['LineNumber 1', 'Operator **', 'Operator <=', 'Operator <>', 'Operator >=', 'Operator <>'],
    ],
    ['1 [sp][[F5]', ['LineNumber 1', 'Escape [sp]', 'Foreign [', 'Escape [F5]']],
    [
      '\n \n\t 10 CLS\n\n  \r\n  20 CLS \n ',
      ['LineNumber 10', 'BareCommand CLS', 'LineNumber 20', 'BareCommand CLS'],
    ],
    [" ' A\n .ram 1K", ["CommentLine ' A", 'DirectiveLine .ram 1K']],
    ['1\t\vCLS\f\u00A0', ['LineNumber 1', 'BareCommand CLS']],
    ['12', ['LineNumber 12']],
    ['1 GOTO GO TO', ['LineNumber 1', 'OneCommand GOTO', 'OneCommand GO TO']],
    [
      '1 go\tsub GO SUBS GO TO5',
      [
        'LineNumber 1',
        'OneCommand go\tsub',
        'NumberName GO',
        'NumberName SUBS',
        'NumberName GO',
        'NumberName TO5',
      ],
    ],
    ['1 GOO TO XO TO', ['LineNumber 1', 'NumberName GOO', 'TO TO', 'NumberName XO', 'TO TO']],
    ['1 A[sp]B[sp]TO', ['LineNumber 1', 'NumberName A[sp]B', 'Escape [sp]', 'TO TO']],
    ['1 A[ SP ]$ A[F5]', ['LineNumber 1', 'StringName A[ SP ]$', 'NumberName A', 'Escape [F5]']],
    [
      '1 5[sp]0[sp][=] 5[sp][F5]',
      ['LineNumber 1', 'Number 5[sp]0[sp][=]', 'Number 5[sp]', 'Escape [F5]'],
    ],
    ['1 "A[\n', ['LineNumber 1', 'OpenString "A[']],
    ['1 "A["', ['LineNumber 1', 'String "A["']],
    ['1 "A""', ['LineNumber 1', 'OpenString "A""']],
    ['1 "[["]"', ['LineNumber 1', 'String "[["]"']],
    ['1 REMA[76 0F]\rB', ['LineNumber 1', 'NumberName REMA', 'Escape [76 0F]', 'NumberName B']],
    [
      '1 REM[]\n2 REM [7\nG]',
      ['LineNumber 1', 'REM REM[]', 'LineNumber 2', 'REM REM [7', 'StrayLine G]'],
    ],
    ['.displays\n.display X', ['DirectiveLine .displays', 'DisplayBlock .display X']],
    ['.DISPLAY\n .END X\nfoo', ['DisplayBlock .DISPLAY\n .END X', 'StrayLine foo']],
    ['.display\n.ends\n.end', ['DisplayBlock .display\n.ends\n.end']],
    ['1 é\u{1FB8F}.', ['LineNumber 1', 'Foreign é', 'Foreign \u{1FB8F}', 'Number .']],
    ["' A\n.name X\nfoo", ["CommentLine ' A", 'DirectiveLine .name X', 'StrayLine foo']],
    [
      '.display\nA\n.X\n.end\n1 CLS',
      ['DisplayBlock .display\nA\n.X\n.end', 'LineNumber 1', 'BareCommand CLS'],
    ],
  ])('%j', (text, expected) => {
    expect(shown(text)).toEqual(expected);
  });

  it('loses no character but white space, and puts every token where it stands', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 80 }), (drawn) => {
        const text = `1 ${drawn}`;
        let at = 0;
        // One check a text: one a token takes most of the test's time.
        let lost = '';
        let moved = '';
        for (const { image, startOffset } of tokensOf(text)) {
          lost += text.slice(at, startOffset).trim();
          const stands = text.slice(startOffset, startOffset + image.length);
          if (stands.toUpperCase() !== image.toUpperCase()) moved += image;
          at = startOffset + image.length;
        }
        expect([lost + text.slice(at).trim(), moved]).toEqual(['', '']);
      }),
      { numRuns: process.env.FUZZ ? 200_000 : 2_000, seed: 7 },
    );
  });
});
