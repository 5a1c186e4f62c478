/** What an expression gives on the machine, and what is meant by it. */
import { describe, expect, it } from 'vitest';
import type { Expression } from '../../grammar/tree.js';
import { analyse } from '../../src/analysis/program.js';
import { meantAlike, meantWhole, passesOf, reckon } from '../../src/lint/reckoned.js';
import { readListing } from '../../src/listing/read.js';
import { numberOfDecimal } from '../../src/machine/arithmetic/decimal.js';
import * as functions from '../../src/machine/arithmetic/functions.js';
import { add, divide, multiply, subtract } from '../../src/machine/arithmetic/operations.js';

/** The value that line 9000 gives to Z, and how it is asked for. */
function asked(lines: readonly string[], expression: string, doubt = 0) {
  const text = [...lines, `9000 LET Z=${expression}`].join('\n');
  const { listing, diagnostics } = readListing(text);
  expect(diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  const { statement } = listing.lines.at(-1)!;
  const node = (statement as { value: Expression }).value;
  return { node, of: { program: analyse(listing), doubt } };
}

function reckoned(expression: string, doubt = 0) {
  const { node, of } = asked([], expression, doubt);
  const found = reckon(node, new Map(), of);
  return found && [found.machine, found.meant];
}

describe('an expression of numbers', () => {
  const tenth = numberOfDecimal('.1');
  const half = numberOfDecimal('.5');
  it.each<[string, number[] | undefined]>([
    ['2', [2, 2]],
    ['.1', [tenth, 0.1]],
    ['.', [0, 0]],
    ['.E5', [0, 0]],
    ['1E', [1, 1]],
    ['2E+', [2, 2]],
    ['2E-1', [numberOfDecimal('2E-1'), 0.2]],
    ['5[=82 40 00 00 00]', [3, 3]],
    ['(.5)', [half, 0.5]],
    ['-.5', [-half, -0.5]],
    ['-0', [0, -0]],
    ['PI', [functions.PI, Math.PI]],
    ['RND', undefined],
    ['NOT 0', undefined],
    ['.1+.5', [add(tenth, half), 0.6]],
    ['1-.1', [subtract(1, tenth), 0.9]],
    ['.1*10', [multiply(tenth, 10), 1]],
    ['1/10', [divide(1, 10), 0.1]],
    ['1/0', undefined],
    ['1E38*1E38', undefined],
    ['2**.5', [functions.power(2, half), Math.SQRT2]],
    ['(-2)**2', undefined],
    ['0**2', [0, 0]],
    ['1=1', undefined],
    ['1 AND 1', undefined],
    ['1+RND', undefined],
    ['RND+1', undefined],
    ['INT 2.5', [2, 2]],
    ['INT -2.5', [-3, -3]],
    ['INT (.1*10)', [0, 1]],
    ['ABS -.5', [half, 0.5]],
    ['SQR 9', [3, 3]],
    ['SQR 2', [functions.squareRoot(2), Math.SQRT2]],
    ['SQR -1', undefined],
    ['SIN 1', [functions.sine(1), Math.sin(1)]],
    ['COS 1', [functions.cosine(1), Math.cos(1)]],
    ['TAN 1', [functions.tangent(1), Math.tan(1)]],
    ['ATN 1', [functions.arcTangent(1), Math.atan(1)]],
    ['EXP 1', [functions.exponential(1), Math.exp(1)]],
    ['EXP 100', undefined],
    ['SGN 5', undefined],
    ['LN 2', undefined],
    ['LEN "OAK"', [3, 3]],
    ['CODE "A"', [38, 38]],
    ['VAL "5"', [5, 5]],
    ['VAL ".5"', undefined],
    ['LEN INKEY$', undefined],
    ['INT RND', [0, 0]],
    ['INT (RND*2)', undefined],
  ])('%s', (expression, wanted) => {
    const found = reckoned(expression);
    if (wanted === undefined) expect(found).toBeUndefined();
    else {
      expect(found?.[0]).toBe(wanted[0]);
      expect(found?.[1]).toBeCloseTo(wanted[1], 12);
    }
  });

  it('has its series moved by units of the last bit, and nothing that is exact', () => {
    for (const doubt of [-4, 4]) {
      expect(reckoned('SIN 1', doubt)![0]).toBe(functions.sine(1) + doubt * 2 ** -32);
      expect(reckoned('SIN -1', doubt)![0]).toBe(functions.sine(-1) + doubt * 2 ** -32);
      expect(reckoned('SQR 2', doubt)![0]).toBe(functions.squareRoot(2) + doubt * 2 ** -31);
      expect(reckoned('2**3', doubt)![0]).toBe(functions.power(2, 3) + doubt * 2 ** -28);
      expect(reckoned('SQR 16+INT .5+ABS -1', doubt)).toEqual([5, 5]);
      expect(reckoned('SQR 25', doubt)).toEqual([5 + 2 ** -29, 5]);
      expect(reckoned('SIN 0', doubt)).toEqual([0, 0]);
    }
  });
});

describe('what is meant', () => {
  it('is alike to a part in 10^11, or to 10^-11 near 0', () => {
    expect(meantAlike(1, 1 + 0.9e-11)).toBe(true);
    expect(meantAlike(1, 1 + 1.1e-11)).toBe(false);
    expect(meantAlike(1e6, 1e6 + 0.9e-5)).toBe(true);
    expect(meantAlike(-1e6, -1e6 - 1.1e-5)).toBe(false);
    expect(meantAlike(1e-20, -1e-20)).toBe(true);
    expect(meantAlike(1, -1)).toBe(false);
  });

  it('by INT is the whole number that a double misses by its rounding', () => {
    expect([2.5, -2.5, 0.57 * 100, 1 - 2 ** -52, 3].map(meantWhole)).toEqual([2, -3, 57, 1, 3]);
  });
});

describe('the values of its variables', () => {
  const passes = (lines: string[], expression: string) => {
    const { node, of } = asked(lines, expression);
    return passesOf([node], of)?.map((values) =>
      Object.fromEntries([...values].map(([name, { machine }]) => [name, machine])),
    );
  };

  it.each<[string, string[], string, object[] | undefined]>([
    ['none', [], '5', [{}]],
    ['one that LET sets', ['10 LET A=5'], 'A+1', [{ A: 5 }]],
    ['those that hang on others', ['10 LET A=5', '20 LET B=A*2'], 'B-A', [{ B: 10, A: 5 }]],
    ['in brackets and functions', ['10 LET A=5'], '-(SIN A)', [{ A: 5 }]],
    ['one that is set twice', ['10 LET A=5', '20 LET A=6'], 'A', undefined],
    ['one that nothing sets', [], 'A', undefined],
    ['one that is saved', ['.var A = 5', '10 LET A=5'], 'A', undefined],
    ['one that INPUT sets', ['10 INPUT A'], 'A', undefined],
    ['one that RND makes', ['10 LET A=RND'], 'A', undefined],
    ['one that hangs on itself', ['10 LET A=A+1'], 'A', undefined],
    ['two that hang on one another', ['10 LET A=B', '20 LET B=A'], 'A', undefined],
    ['an element', ['10 DIM A(2)', '20 LET A(1)=5'], 'A(1)', [{}]],
    [
      'a loop, with the value that ends it',
      ['10 FOR I=1 TO 3', '20 NEXT I'],
      'I',
      [{ I: 1 }, { I: 2 }, { I: 3 }, { I: 4 }],
    ],
    ['a loop down', ['10 FOR I=3 TO 2 STEP -1', '20 NEXT I'], 'I', [{ I: 3 }, { I: 2 }, { I: 1 }]],
    ['a loop of no pass', ['10 FOR I=3 TO 2', '20 NEXT I'], 'I', [{ I: 3 }]],
    [
      'a loop of a value that LET sets',
      ['10 LET A=2', '20 FOR I=A TO A', '30 NEXT I'],
      'I*A',
      [
        { A: 2, I: 2 },
        { A: 2, I: 3 },
      ],
    ],
    ['a loop up to INPUT', ['10 INPUT A', '20 FOR I=1 TO A', '30 NEXT I'], 'I', undefined],
    ['a loop from INPUT', ['10 INPUT A', '20 FOR I=A TO 9', '30 NEXT I'], 'I', undefined],
    ['a loop by INPUT', ['10 INPUT A', '20 FOR I=1 TO 9 STEP A', '30 NEXT I'], 'I', undefined],
    ['a loop without NEXT', ['10 FOR I=1 TO 3'], 'I', undefined],
    ['a loop that LET changes', ['10 FOR I=1 TO 3', '20 LET I=9', '30 NEXT I'], 'I', undefined],
    [
      'a loop that hangs on a loop',
      ['10 FOR I=1 TO 3', '20 FOR J=I TO 3', '30 NEXT J', '40 NEXT I'],
      'J',
      undefined,
    ],
    [
      'two loops at once',
      ['10 FOR I=1 TO 2', '20 FOR J=1 TO 2', '30 NEXT J', '40 NEXT I'],
      'I+J',
      undefined,
    ],
  ])('%s', (_, lines, expression, wanted) => {
    expect(passes(lines, expression)).toEqual(wanted);
  });

  it('are those of a thousand passes, and of no more', () => {
    const loop = (last: number) => [`10 FOR I=1 TO ${last}`, '20 NEXT I'];
    expect(passes(loop(1000), 'I')).toHaveLength(1001);
    expect(passes(loop(1001), 'I')).toBeUndefined();
  });

  it('count as NEXT does', () => {
    const { node, of } = asked(['10 FOR I=0 TO 1 STEP .1', '20 NEXT I'], 'I');
    const last = passesOf([node], of)!.at(-1)!.get('I')!;
    let machine = 0;
    while (machine <= 1) machine = add(machine, numberOfDecimal('.1'));
    expect(last.machine).toBe(machine);
    // On the machine the tenth sum of .1 is above 1 already.
    expect(last.meant).toBeCloseTo(1, 12);
  });
});
