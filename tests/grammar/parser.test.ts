import { createToken, type ISerializedGast } from 'chevrotain';
import { describe, expect, it } from 'vitest';
import { KEYWORD_TABLE } from '../../grammar/keywords.js';
import { tokensOf } from '../../grammar/lexer.js';
import { grammarRules, parseStatement, StatementParser } from '../../grammar/parser.js';
import { DEEPEST_NESTING, MOST_OPERATORS } from '../../grammar/parsing/fold.js';
import { tableOf } from '../../grammar/tokens.js';
import type { Expression, PrintItem, Range, Statement } from '../../grammar/tree.js';

const parse = (text: string) => parseStatement(tokensOf(`1 ${text}`).slice(1));

/** An expression with every operator's reach in round brackets, brackets of its own in square ones. */
function reach(value: Expression | Range): string {
  switch (value.kind) {
    case 'number':
      return value.text;
    case 'string':
      return `"${value.size}"`;
    case 'variable':
    case 'constant':
      return value.name;
    case 'brackets':
      return `[${reach(value.inner)}]`;
    case 'unary':
      return `(${value.operator} ${reach(value.operand)})`;
    case 'binary':
      return `(${reach(value.left)} ${value.operator} ${reach(value.right)})`;
    case 'call':
      return `(${value.function} ${reach(value.argument)})`;
    case 'subscripted':
      return `${reach(value.base)}<${value.subscripts.map(reach).join(' ')}>`;
    case 'range':
      return `${value.from ? reach(value.from) : ''}..${value.to ? reach(value.to) : ''}`;
  }
}

function valueIn(text: string): string {
  const { statement, problems, failure } = parse(`PRINT ${text}`);
  expect([text, problems, failure]).toEqual([text, [], undefined]);
  const [item] = (statement as Extract<Statement, { items: readonly PrintItem[] }>).items;
  return reach(item as Expression);
}

describe('the rules', () => {
  it('are a grammar in which one token of lookahead makes every choice', () => {
    expect(() => new StatementParser(true)).not.toThrow();
  });

  it('have names that readers can tell apart', () => {
    const names = grammarRules().map((rule) => (rule as ISerializedGast & { name: string }).name);
    expect(names[0]).toBe('statement');
    expect(names).toContain('expression');
    expect(new Set(names).size).toBe(names.length);
    for (const name of names) expect(name).toMatch(/^[a-z]+([A-Z][a-z]+)*$/);
  });

  it('begin a statement with every command of the table, and with no other keyword', () => {
    for (const { word, kind } of KEYWORD_TABLE) {
      const { failure } = parse(word);
      const begins = failure === undefined || failure.token === undefined;
      expect([word, begins]).toEqual([word, kind === 'simple' || kind === 'command']);
    }
  });

  it('know their tokens, however many others the process has made before', () => {
    const others = Array.from({ length: 300 }, (_, at) => createToken({ name: `other ${at}` }));
    const last = others.at(-1)!;
    expect(tableOf(last)[last.tokenTypeIdx!]).toBe(1);
  });
});

// Priorities: the manual, chapter 5 and Appendix C, from memory.
describe('an expression', () => {
  it.each([
    ['1', '1'],
    ['A+B*C', '(A + (B * C))'],
    ['A-B-C', '((A - B) - C)'],
    ['2**3**2', '((2 ** 3) ** 2)'],
    ['-A**2', '(- (A ** 2))'],
    ['A**-2', '(A ** (- 2))'],
    ['SIN A**2', '((SIN A) ** 2)'],
    ['SIN -A', '(SIN (- A))'],
    ['NOT A=B', '(NOT (A = B))'],
    ['NOT A AND B', '((NOT A) AND B)'],
    ['A OR B AND C', '(A OR (B AND C))'],
    ['A<B=C', '((A < B) = C)'],
    ['-PEEK A+NOT NOT B', '((- (PEEK A)) + (NOT (NOT B)))'],
    ['(A+B)*C', '([(A + B)] * C)'],
    ['A(1,B+2)', 'A<1 (B + 2)>'],
    ['A$(2 TO )( TO 3)', 'A$<2..><..3>'],
    ['("A"+B$)(1)', '[("1" + B$)]<1>'],
    ['A$()', 'A$<>'],
    ['CODE A$(1)', '(CODE A$<1>)'],
    ['RND*PI', '(RND * PI)'],
    ['-1 AND -(-(2))', '((- 1) AND (- [(- [2])]))'],
  ])('%s is %s', (text, wanted) => expect(valueIn(text)).toBe(wanted));

  it('reaches from its first token to its last', () => {
    const { statement } = parse('LET A=-B(1)+SIN 2');
    expect(statement).toMatchObject({ kind: 'LET', start: 2, value: { start: 8, end: 19 } });
  });
});

/** What belongs where a statement stops being one: the words that an explanation is made of. */
describe('a failure', () => {
  it.each([
    ['', undefined, 'a statement'],
    ['A=1', 'A', 'a statement'],
    ['IF A THEN 5', '5', 'a statement'],
    ['IF A GOTO 5', 'GOTO', 'THEN'],
    ['LET 5=A', '5', 'a name'],
    ['DIM 5', '5', 'a name'],
    ['DIM A()', ')', 'a size'],
    ['LET A 5', '5', '"="'],
    ['LET A=', undefined, 'a value'],
    ['PRINT 1+*2', '*', 'a value'],
    ['PRINT (1', undefined, '")"'],
    ['PRINT ()', ')', 'a value'],
    ['PRINT A(1,)', ')', 'a value'],
    ['PRINT AT 1;2', ';', '","'],
    ['PLOT 1', undefined, '","'],
    ['FOR I=1', undefined, 'TO'],
    ['NEXT', undefined, 'a name'],
    ['CLS 5', '5', 'the end'],
    ['PRINT "A""B"C', 'C', 'the end'],
  ])('%s: at %s, where %s belongs', (text, token, wanted) => {
    const { failure } = parse(text);
    expect([failure?.token?.image, failure?.wanted]).toEqual([token, wanted]);
  });
});

describe('what is too deep', () => {
  const deep = (most: number) => `PRINT ${'('.repeat(most)}1${')'.repeat(most)}`;
  const long = (most: number) => `PRINT 1${'+1'.repeat(most)}`;
  const ifs = (most: number) => `${'IF 1 THEN '.repeat(most)}CLS`;
  it.each([
    ['brackets', deep, DEEPEST_NESTING],
    ['operators', long, MOST_OPERATORS],
    ['IFs', ifs, DEEPEST_NESTING],
  ] as const)('%s are taken up to a limit, and told beyond it', (_, textOf, most) => {
    expect(parse(textOf(most))).toMatchObject({ problems: [] });
    expect(parse(textOf(most)).statement).toBeDefined();
    expect(parse(textOf(most + 1))).toMatchObject({ problems: [{ rule: 'too-deep' }] });
    // The next statement is read as if nothing had been.
    expect(parse('PRINT 1+2').statement).toBeDefined();
  });
});
