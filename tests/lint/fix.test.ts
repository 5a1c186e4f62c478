/** Fixes: the program does the same, its lines keep their numbers, and what is claimed is saved. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Expression, Line, Listing } from '../../grammar/tree.js';
import { withoutBrackets } from '../../grammar/visit.js';
import { fixBy, fixListing } from '../../src/lint/fix.js';
import { bytesOver } from '../../src/lint/room.js';
import type { Rule } from '../../src/lint/rule.js';
import { RULES } from '../../src/lint/rules.js';
import { hasErrors } from '../../src/listing/diagnostics.js';
import { charactersText } from '../../src/listing/print.js';
import { readListing } from '../../src/listing/read.js';
import { numberOfDecimal } from '../../src/machine/arithmetic/decimal.js';
import { budgetOf } from '../../src/memory/budget.js';
import { drawListing } from '../support/draw-listing.js';

const runs = Number(process.env.FIXES ?? (process.env.FUZZ ? 5000 : 150));

function fix(text: string, options: Parameters<typeof fixListing>[1] = {}) {
  return fixListing(readListing(text), options);
}

/** A statement with every exact spelling of a number as that number, and no needless brackets. */
function meaning(node: unknown, names: Map<string, string>): unknown {
  if (node instanceof Uint8Array) return [...node];
  if (Array.isArray(node)) return node.map((part) => meaning(part, names));
  if (typeof node !== 'object' || node === null) return node;
  const value = numberOf(node as Expression);
  if (value !== undefined) return { value };
  const { kind, inner } = node as { kind?: string; inner?: unknown };
  if (kind === 'brackets') return meaning(inner, names);
  if (kind === 'IF') {
    const { condition, then } = node as { condition: Expression; then: unknown };
    return { test: meaning(tested(condition), names), goesTo: meaning(then, names) };
  }
  if (
    kind === 'FOR' &&
    numberOf(withoutBrackets((node as { step?: Expression }).step ?? ONE)) === 1
  ) {
    const { step, ...bare } = node as { step?: Expression };
    return step === undefined ? parts(bare, names) : meaning(bare, names);
  }
  if (kind === 'variable') {
    const { name } = node as { name: string };
    if (!names.has(name)) names.set(name, `name ${names.size}`);
    return names.get(name);
  }
  return parts(node, names);
}

function parts(node: object, names: Map<string, string>): unknown {
  const own = Object.entries(node).filter(([key]) => key !== 'start' && key !== 'end');
  return Object.fromEntries(own.map(([key, part]) => [key, meaning(part, names)]));
}

const ONE = { kind: 'number', value: 1, stored: 'digits' } as Expression;

/** What IF asks: whether something is 0, or has no length, without the comparison. */
function tested(condition: Expression): unknown {
  const bare = withoutBrackets(condition);
  if (numberOf(bare) !== undefined) return bare;
  if (bare.kind === 'unary' && bare.operator === 'NOT') return { not: tested(bare.operand) };
  if (bare.kind === 'call' && bare.function === 'LEN') return { length: bare.argument };
  if (bare.kind !== 'binary' || !/^(=|<>)$/.test(bare.operator)) return condition;
  const { left, right, operator } = bare;
  const isEmpty = right.kind === 'string' && right.codes.length === 0;
  if (!isEmpty && numberOf(right) !== 0) return condition;
  const what = isEmpty ? { length: left } : tested(left);
  return operator === '=' ? { not: what } : what;
}

function numberOf(node: Expression): number | undefined {
  if (node.kind === 'number') return node.stored === 'digits' ? node.value : undefined;
  if (node.kind === 'unary' && node.operator === 'NOT' && isPi(node.operand)) return 0;
  if (node.kind !== 'call') return undefined;
  const { function: name } = node;
  const argument = withoutBrackets(node.argument);
  if (name === 'SGN' && isPi(argument)) return 1;
  if (name === 'INT' && isPi(argument)) return 3;
  if (argument.kind !== 'string') return undefined;
  if (name === 'CODE' && argument.codes.length <= 1) return argument.codes[0] ?? 0;
  const text = charactersText(argument.codes, true);
  const isNumber = /^(\d+\.?\d*|\.\d+)(E[+-]?\d+)?$/.test(text);
  return name === 'VAL' && isNumber ? numberOfDecimal(text) : undefined;
}

function isPi(node: Expression): boolean {
  const inner = withoutBrackets(node);
  return inner.kind === 'constant' && inner.name === 'PI';
}

function meaningOf({ lines }: Listing, kept: ReadonlySet<number>): unknown {
  const names = new Map<string, string>();
  return lines
    .filter(({ number }) => kept.has(number))
    .map(({ number, statement, codes }: Line) => [
      number,
      statement?.kind === 'REM' || statement?.kind === 'unchecked'
        ? [...codes]
        : meaning(statement, names),
    ]);
}

describe('fixes', () => {
  it('mean the same, keep the numbers, and save what they claim', () => {
    let applied = 0;
    fc.assert(
      fc.property(drawListing({ lines: [1, 12] }), (text) => {
        const before = readListing(text).listing;
        const result = fix(text, { ram: 1024 });
        const { listing: after, diagnostics } = readListing(result.text);
        expect(hasErrors(diagnostics)).toBe(false);
        const kept = new Set(after.lines.map(({ number }) => number));
        const numbers = new Set(before.lines.map(({ number }) => number));
        expect([...kept].every((number) => numbers.has(number))).toBe(true);
        // What is no longer a line is still there to be read, as a comment.
        for (const { number, statement } of before.lines) {
          if (kept.has(number)) continue;
          expect(['REM', 'LET', 'GOTO']).toContain(statement?.kind);
          expect(result.text).toContain(`' ${number}`);
        }
        // The text of a REM may have gone above it.
        for (const { number, statement } of before.lines) {
          if (statement?.kind === 'REM') kept.delete(number);
        }
        // A constant in place of its variable is another tree; that it does the same is rehearsed.
        if (!result.applied.some(({ rule }) => rule === 'single-use')) {
          expect(meaningOf(after, kept)).toEqual(meaningOf(before, kept));
        }
        expect(result.saved).toBe(result.applied.reduce((sum, { bytes }) => sum + bytes, 0));
        expect(result.before.image - result.after.image).toBe(result.saved);
        applied += result.applied.length;
      }),
      { numRuns: runs, seed: 11 },
    );
    expect(applied).toBeGreaterThan(runs);
  });

  it('are all made, in as many rounds as they need', () => {
    const { text, saved } = fix('10 PRINT ((007)+(RND))\n');
    expect(text).toBe('10 PRINT VAL "7"+RND\n');
    expect(saved).toBe(5 + 6);
  });

  it('leave a listing without savings as it is', () => {
    const text = '10 PRINT "OAK"\n20 GOTO VAL "10"\n';
    expect(fix(text)).toMatchObject({ text, applied: [], saved: 0 });
  });
});

type Cut = readonly [start: number, end: number, bytes: number];

/** A rule that takes out of REMs what stands between two places of the text, and says what that saves. */
function cutter(...cuts: readonly Cut[]): Rule {
  return {
    ...RULES[0],
    name: 'cut',
    severity: 'note',
    check({ text }, report) {
      if (!text.startsWith('10 REM ABCDEFGHIJ')) return;
      for (const [start, end, bytes] of cuts) {
        const fix = { what: `${bytes} off`, edits: [{ start, end, text: '' }] };
        report({ start, end }, { message: 'cut', why: 'cut', bytes, fix });
      }
    },
  };
}

describe('fixes of a rule', () => {
  // Letters of the first REM begin at offset 7, those of the second at 25.
  const text = '10 REM ABCDEFGHIJ\n20 REM KLMNOPQRST\n';
  const cut = (...cuts: readonly Cut[]) => fixBy([cutter(...cuts)], readListing(text));

  it('are told with the line where they begin, the best-paying first', () => {
    const { applied, saved, text: after } = cut([8, 9, 1], [25, 28, 3], [11, 12, 1]);
    expect(after).toBe('10 REM ACDFGHIJ\n20 REM NOPQRST\n');
    expect(saved).toBe(5);
    expect(applied.map(({ rule, what, line, bytes }) => [rule, what, line, bytes])).toEqual([
      ['cut', '3 off', 20, 3],
      ['cut', '1 off', 10, 1],
      ['cut', '1 off', 10, 1],
    ]);
  });

  it('that touch one another are not made together', () => {
    expect(cut([8, 10, 2], [10, 11, 1]).text).toBe('10 REM ADEFGHIJ\n20 REM KLMNOPQRST\n');
    expect(cut([8, 10, 2], [11, 12, 1]).text).toBe('10 REM ADFGHIJ\n20 REM KLMNOPQRST\n');
    expect(cut([8, 12, 4], [9, 10, 1]).text).toBe('10 REM AFGHIJ\n20 REM KLMNOPQRST\n');
  });

  it('are none where they save nothing', () => {
    expect(cut([8, 8, 0]).applied).toEqual([]);
  });

  it('that claim other than they save, or break the listing, are a fault of the rule', () => {
    expect(() => cut([8, 9, 2])).toThrow(new Error('fixes that claimed 2 bytes saved 1'));
    expect(() => cut([0, 3, 5])).toThrow(/^a fix broke the listing: this line has no line number$/);
  });

  it('stop after twenty rounds, and it is said that there are more', () => {
    const long = `10 REM ABCDEFGHIJ${'A'.repeat(40)}\n`;
    const { applied, saved, isUnfinished } = fixBy([cutter([20, 21, 1])], readListing(long));
    expect([applied.length, saved, isUnfinished]).toEqual([20, 20, true]);
    expect(fix('10 PRINT ((2))\n').isUnfinished).toBe(false);
  });

  it('leave out all pairs of brackets one within the other at once', () => {
    const nested = (many: number) => `${'('.repeat(many)}A+B${')'.repeat(many)}`;
    const of = (before: string) => fix(`10 INPUT A\n20 INPUT B\n30 PRINT ${before};A;B\n`);
    expect(of(nested(50)).text).toContain('PRINT A+B;');
    expect(of(nested(50)).applied).toHaveLength(1);
    // The outermost is needed here.
    expect(of(`2*${nested(50)}`).text).toContain('*(A+B);');
    expect(of(`((2*${nested(50)}))`).text).toContain('*(A+B);');
  });

  it('until it fits are the fewest, and the last of them the smallest that does', () => {
    const image = budgetOf(readListing(text).listing, { ram: 1024 });
    const over = (bytes: number) => image.runs.high - bytes;
    const until = (bytes: number, ...cuts: readonly Cut[]) =>
      fixBy([cutter(...cuts)], readListing(text), {
        ram: over(bytes),
        untilFits: true,
      }).applied.map((one) => one.bytes);
    const cuts: Cut[] = [
      [8, 9, 1],
      [10, 12, 2],
      [13, 16, 3],
      [25, 30, 5],
    ];
    expect(until(0, ...cuts)).toEqual([]);
    expect(until(1, ...cuts)).toEqual([1]);
    expect(until(2, ...cuts)).toEqual([2]);
    expect(until(3, ...cuts)).toEqual([3]);
    expect(until(4, ...cuts)).toEqual([5]);
    expect(until(5, ...cuts)).toEqual([5]);
    expect(until(6, ...cuts)).toEqual([5, 1]);
    expect(until(7, ...cuts)).toEqual([5, 2]);
    expect(until(9, ...cuts)).toEqual([5, 3, 1]);
    expect(until(99, ...cuts)).toEqual([5, 3, 2, 1]);
  });
});

/** A listing that needs a little more than 1K, and has much to save. */
function largeListing(lines: number): string {
  const text = ['10 REM A TEST THAT IS TOO LARGE', '20 LET TOTAL=0'];
  for (let at = 0; at < lines; at++) text.push(`${30 + at * 10} LET TOTAL=TOTAL+${100 + at}`);
  text.push('900 PRINT TOTAL');
  return `${text.join('\n')}\n`;
}

describe('fixes until it fits', () => {
  const text = largeListing(28);
  const result = fix(text, { ram: 1024, untilFits: true });

  it('begin with a program that does not fit and end with one that does', () => {
    expect(result.before.runs.verdict).toBe('does not fit');
    expect(result.after.runs.verdict).toBe('fits');
    expect(result.after.loads.verdict).toBe('fits');
    expect(bytesOver(result.after)).toBeLessThanOrEqual(0);
  });

  it('are the fewest: without the smallest of them it would not fit', () => {
    const least = Math.min(...result.applied.map(({ bytes }) => bytes));
    expect(bytesOver(result.after) + least).toBeGreaterThan(0);
    const all = fix(text, { ram: 1024 });
    expect(result.applied.length).toBeLessThan(all.applied.length);
  });

  it('count what is over to the byte', () => {
    const { after } = result;
    const needed = after.runs.high;
    expect(Number.isFinite(needed)).toBe(true);
    const bounded = { ...after, verdict: { ...after.verdict, basis: { on: 'bounds' as const } } };
    expect(bytesOver({ ...bounded, ram: needed })).toBe(0);
    expect(bytesOver({ ...bounded, ram: needed - 1 })).toBe(1);
    const open = { ...after.runs, high: Number.POSITIVE_INFINITY };
    const low = Math.max(open.low, after.loads.low);
    expect(bytesOver({ ...bounded, runs: open, ram: low - 1 })).toBe(1);
  });

  it('count what a rehearsal took to the byte', () => {
    const { listing } = readListing('10 PRINT 1\n');
    const bounds = budgetOf(listing, { ram: 1024 });
    const verdict = {
      ...bounds.verdict,
      needed: { ...bounds.verdict.needed, high: 1000 },
      basis: { on: 'rehearsal' as const, whole: true, line: 10 },
    };
    const over = (ram: number) => bytesOver({ ...bounds, verdict, ram });
    expect([999, 1000, 1001].map(over)).toEqual([1, 0, -1]);
  });

  it('are none where it fits already', () => {
    expect(fix(text, { ram: 16384, untilFits: true }).applied).toEqual([]);
  });

  it('do what they can where all of them are not enough', () => {
    const { after, applied } = fix(largeListing(60), { ram: 1024, untilFits: true });
    expect(after.runs.verdict).toBe('does not fit');
    expect(applied.length).toBeGreaterThan(60);
  });
});
