import { describe, expect, it } from 'vitest';
import { tokensOf } from '../../../grammar/lexer.js';
import { parseStatement } from '../../../grammar/parser.js';
import { type Node, visit } from '../../../grammar/visit.js';

const parse = (text: string) => parseStatement(tokensOf(`1 ${text}`).slice(1));

/** Kind and text of each node of a statement, each before what it holds. */
function nodesOf(text: string): string[] {
  const { statement, problems, failure } = parse(text);
  expect([problems, failure]).toEqual([[], undefined]);
  const found: string[] = [];
  visit(statement!, ({ kind, start, end }: Node) =>
    found.push(`${kind} ${`1 ${text}`.slice(start, end)}`),
  );
  return found;
}

describe('a node reaches from its first token to its last', () => {
  it.each([
    ['CLS  ', ['CLS CLS']],
    ['GOTO  A', ['GOTO GOTO  A', 'variable A']],
    ['PLOT 1,A ', ['PLOT PLOT 1,A', 'number 1', 'variable A']],
    ['PRINT  ', ['PRINT PRINT']],
    ['LPRINT ;', ['LPRINT LPRINT ;', 'separator ;']],
    [
      'PRINT TAB A,AT 1,(B)',
      [
        ...['PRINT PRINT TAB A,AT 1,(B)', 'TAB TAB A', 'variable A', 'separator ,'],
        ...['AT AT 1,(B)', 'number 1', 'brackets (B)', 'variable B'],
      ],
    ],
    ['LET A$="" ', ['LET LET A$=""', 'variable A$', 'string ""']],
    [
      'INPUT A$(1)(2 TO )',
      [
        ...['INPUT INPUT A$(1)(2 TO )', 'subscripted A$(1)(2 TO )', 'subscripted A$(1)'],
        ...['variable A$', 'number 1', 'range 2 TO', 'number 2'],
      ],
    ],
    [
      'PRINT A$( TO )+B$( TO 3)',
      [
        ...['PRINT PRINT A$( TO )+B$( TO 3)', 'binary A$( TO )+B$( TO 3)', 'subscripted A$( TO )'],
        ...['variable A$', 'range TO', 'subscripted B$( TO 3)', 'variable B$', 'range TO 3'],
        'number 3',
      ],
    ],
    ['DIM A(B) ', ['DIM DIM A(B)', 'variable A', 'variable B']],
    ['FOR I=A TO B ', ['FOR FOR I=A TO B', 'variable I', 'variable A', 'variable B']],
    [
      'FOR I=1 TO 2 STEP RND',
      ['FOR FOR I=1 TO 2 STEP RND', 'variable I', 'number 1', 'number 2', 'constant RND'],
    ],
    ['NEXT I ', ['NEXT NEXT I', 'variable I']],
    [
      'IF NOT -A THEN REM B ',
      [...['IF IF NOT -A THEN REM B ', 'unary NOT -A', 'unary -A', 'variable A'], 'REM REM B '],
    ],
    ['PAUSE SIN 1E1', ['PAUSE PAUSE SIN 1E1', 'call SIN 1E1', 'number 1E1']],
  ])('%s', (text, nodes) => {
    expect(nodesOf(text)).toEqual(nodes);
  });
});

describe('what is wrong with types and names is said with its place and its reason', () => {
  const STRING = 'VAL gives the number that a string spells, CODE the code of its first character';
  const NUMBER = 'STR$ gives the characters of a number; quotes make a string';
  it.each<[string, string, string, string | undefined, string]>([
    ['LET A="B"', '"B"', 'a string stands where a number belongs', 'A holds a number', STRING],
    ['LET A$(1)=5', '5', 'a number stands where a string belongs', 'A$ holds a string', NUMBER],
    ['PRINT 1-A$', 'A$', 'a string stands', 'the left side of - is a number', STRING],
    ['PRINT A$ AND ""', '""', 'a string stands', 'a string AND a number gives a string', STRING],
    ['PRINT A$/2', 'A$', 'a string stands', 'compared, or chosen by AND; not by /', STRING],
    ['PRINT A$>2', '2', 'a number stands', 'the left side of > is a string', NUMBER],
    ['PRINT A$+2', '2', 'a number stands', 'the left side of + is a string', NUMBER],
    ['PRINT LEN 5', '5', 'a number stands', 'LEN takes a string', NUMBER],
    ['PLOT 1,A$', 'A$', 'a string stands', 'PLOT takes a number here', STRING],
    ['SAVE 5', '5', 'a number stands', 'SAVE takes a string here', NUMBER],
    ['PRINT NOT ""', '""', 'a string stands', undefined, STRING],
    ['PRINT AT "1",2', '"1"', 'a string stands', undefined, STRING],
    ['PRINT AT 1,"2"', '"2"', 'a string stands', undefined, STRING],
    ['PRINT TAB ""', '""', 'a string stands', undefined, STRING],
    ['IF A$ THEN CLS', 'A$', 'a string stands', undefined, STRING],
    ['FOR I="" TO 2', '""', 'a string stands', undefined, STRING],
    ['FOR I=1 TO ""', '""', 'a string stands', undefined, STRING],
    ['FOR I=1 TO 2 STEP ""', '""', 'a string stands', undefined, STRING],
    ['DIM A(2,"")', '""', 'a string stands', undefined, STRING],
    ['PRINT A$("")', '""', 'a string stands', undefined, STRING],
    ['PRINT A$("" TO )', '""', 'a string stands', undefined, STRING],
    ['PRINT A$(1 TO "")', '""', 'a string stands', undefined, STRING],
    ['FOR IX=1 TO 2', 'IX', 'IX cannot count a loop', 'one letter', 'use I, if nothing else does'],
    ['NEXT IX', 'IX', 'IX cannot count a loop', 'one letter', 'use I, if nothing else does'],
    ['DIM AB(5)', 'AB', 'AB cannot be the name', 'one letter', 'use A, if no other array does'],
    ['PRINT CD(5)', 'CD', 'CD cannot be the name', 'one letter', 'use C, if no other array does'],
    ['PRINT AB$', 'AB$', 'AB$ is not a name for a string', 'one letter and $', 'such as A$'],
    ['PRINT 1(2)', '(2)', 'only an array or a string has subscripts', undefined, 'write * before'],
    ['PRINT A()', '()', 'a subscript is missing here', undefined, 'as in A(3)'],
    ['PRINT A(1 TO 2)', '1 TO 2', 'only strings have slices', undefined, 'as in A(2,3)'],
    ['PRINT A$( TO 2,3)', 'TO 2', 'only be the last', undefined, 'as in C$(2,1 TO 3)'],
    ['PRINT 1E39', '1E39', '1E39 is too large', 'up to about 1.7E38', 'use a smaller number'],
    ['PRINT 5[=1]', '[=1]', '[=1] does not give five bytes', undefined, 'write [=82 40 00 00 00]'],
  ])('%s: at %s', (text, at, message, why, help) => {
    const { problems } = parse(text);
    expect(problems).toHaveLength(1);
    const [{ start, end, ...said }] = problems;
    expect(`1 ${text}`.slice(start, end)).toBe(at);
    expect(said.message).toContain(message);
    if (why === undefined) expect(said.why).toBeUndefined();
    else expect(said.why).toContain(why);
    expect(said.help).toContain(help);
    expect(said.rule).toMatch(/^[a-z]+(-[a-z]+)*$/);
  });

  it('a long number that is too large is shown by its first digits', () => {
    const message = (digits: number) => parse(`PRINT ${'9'.repeat(digits)}E38`).problems[0].message;
    expect(message(21)).toBe(`${'9'.repeat(21)}E38 is too large for the machine`);
    expect(message(22)).toBe(`${'9'.repeat(20)}… is too large for the machine`);
  });

  it.each(['PRINT A$+B$<C$', 'PRINT A$ AND B', 'PRINT B AND C', 'DIM AB$(2)', 'DIM A$(2)'])(
    '%s has the right types',
    (text) => {
      expect(parse(text).problems.map(({ rule }) => rule)).toEqual(
        text === 'DIM AB$(2)' ? ['string-name'] : [],
      );
    },
  );
});

describe('a number', () => {
  it.each([
    ['12', { text: '12', value: 12, stored: 'digits' }],
    ['1[sp]2', { text: '12', value: 12, stored: 'digits', spaces: 1 }],
    ['12[=]', { text: '12', value: 0, stored: 'nothing' }],
    ['12[=82 40 00 00 00]', { text: '12', value: 3, stored: 'given' }],
    ['1[sp]2[=82 40 00 00 00]', { text: '12', value: 3, stored: 'given', spaces: 1 }],
  ])('%s', (text, wanted) => {
    const { statement } = parse(`PRINT 7;${text}`);
    const [, , number] = (statement as Extract<typeof statement, { items: readonly unknown[] }>)
      .items;
    expect(number).toEqual({
      kind: 'number',
      type: 'number',
      ...wanted,
      start: 10,
      end: 10 + text.length,
    });
  });
});
