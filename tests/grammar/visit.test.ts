import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Expression, Statement } from '../../grammar/tree.js';
import {
  baseOf,
  baseVariable,
  childrenOf,
  partsOf,
  visit,
  withoutBrackets,
} from '../../grammar/visit.js';
import { readListing } from '../../src/listing/read.js';
import { drawStatement } from '../support/draw-listing.js';

const statementOf = (text: string): Statement | undefined =>
  readListing(`10 ${text}\n`).listing.lines[0]?.statement;

function expressionOf(text: string): Expression {
  const statement = statementOf(`LET A=${text}`) ?? statementOf(`LET A$=${text}`);
  if (statement?.kind !== 'LET') throw new Error(`${text} is no value`);
  return statement.value;
}

/** Every object with a kind within a node, whatever it is called: what `visit` must find. */
function everythingIn(node: unknown, found: object[] = []): object[] {
  if (typeof node !== 'object' || node === null || ArrayBuffer.isView(node)) return found;
  if ('kind' in node) found.push(node);
  for (const part of Object.values(node)) everythingIn(part, found);
  return found;
}

describe('visit', () => {
  it('comes to every node of any statement once, each before what it holds', () => {
    let nodes = 0;
    fc.assert(
      fc.property(drawStatement(), (text) => {
        const statement = statementOf(text);
        if (statement === undefined) return;
        const seen = new Set<object>();
        let count = 0;
        let late = 0;
        visit(statement, (node) => {
          late += childrenOf(node).filter((child) => seen.has(child)).length;
          seen.add(node);
          count++;
        });
        const all = everythingIn(statement);
        const missed = all.filter((node) => !seen.has(node));
        expect({ late, count, missed }).toEqual({ late: 0, count: all.length, missed: [] });
        nodes += count;
      }),
      { numRuns: 200, seed: 14 },
    );
    expect(nodes).toBeGreaterThan(1000);
  });

  it('goes in the order of the text', () => {
    const starts = (text: string): number[] => {
      const found: number[] = [];
      visit(statementOf(text)!, ({ start }) => found.push(start));
      return found;
    };
    for (const text of [
      'FOR I=A TO B STEP C',
      'IF A=B THEN LET C(1,2)=D',
      'PRINT AT A,B;TAB C;D,E',
      'DIM A(B,C)',
      'LET A$(B TO C)=D$( TO E)',
      'PLOT A,B',
    ]) {
      const found = starts(text);
      expect(found).toEqual([...found].sort((a, b) => a - b));
      expect(found.length).toBeGreaterThan(2);
    }
  });
});

describe('partsOf', () => {
  it('gives the ends of a slice, where it has them, and no range', () => {
    const kinds = (text: string): string[] => partsOf(expressionOf(text)).map(({ kind }) => kind);
    expect(kinds('B$(1 TO C)')).toEqual(['variable', 'number', 'variable']);
    expect(kinds('B$( TO )')).toEqual(['variable']);
    expect(kinds('SIN B')).toEqual(['variable']);
    expect(kinds('"B"')).toEqual([]);
  });
});

describe('beneath subscripts and brackets', () => {
  it('stands the base', () => {
    expect(baseOf(expressionOf('"OAK"(2 TO )(1)')).kind).toBe('string');
    expect(baseVariable(expressionOf('B$(2)(1)'))?.name).toBe('B$');
    expect(baseVariable(expressionOf('B'))?.name).toBe('B');
    expect(baseVariable(expressionOf('(B$+C$)(1)'))).toBeUndefined();
    expect(withoutBrackets(expressionOf('((B))')).kind).toBe('variable');
  });
});
