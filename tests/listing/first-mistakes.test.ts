/**
 * First mistakes: what people write who come from another dialect, from a printed listing or by a
 * slip of the finger; the message, its column in the statement, and what to write, which must read
 * without error. Where nothing can be written in its place, what the advice says.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readListing } from '../../src/listing/read.js';

interface Row {
  readonly typed: string;
  readonly column: number;
  readonly message: string;
  /** The statements to write instead; none where the advice says what to do. */
  readonly lines: readonly string[];
  readonly advice?: string;
}

const [, ...GROUPS] = readFileSync(new URL('first-mistakes.txt', import.meta.url), 'utf8')
  .split(/^=== /m)
  .map((group): [name: string, rows: readonly Row[]] => {
    const [name, ...rows] = group.trimEnd().split('\n\n');
    return [name, rows.map(rowOf)];
  });
const ROWS = GROUPS.flatMap(([, rows]) => rows);

function rowOf(text: string): Row {
  const [typed, told, ...rest] = text.split('\n');
  const [, column, message] = /^ {2}(\d+) (.*)$/.exec(told)!;
  const lines = rest.filter((line) => line.startsWith('  > ')).map((line) => line.slice(4));
  const advice = lines.length > 0 ? undefined : rest[0].slice(2);
  return { typed, column: Number(column), message, lines, advice };
}

const errorsOf = (text: string) =>
  readListing(text).diagnostics.filter(({ severity }) => severity === 'error');

describe.each(GROUPS)('first mistakes: %s', (_, rows) => {
  it.each(rows)('$typed', ({ typed, column, message, lines, advice }) => {
    const [found] = errorsOf(`10 ${typed}`);
    expect({
      column: found.start - '10'.length,
      message: found.message,
      instead: found.instead ?? found.help,
    }).toEqual({ column, message, instead: advice ?? lines });
    for (const line of lines) {
      expect(found.help).toContain(`\`${line}\``);
      expect(readListing(`10 ${line}`).diagnostics).toEqual([]);
    }
  });
});

describe('a first mistake', () => {
  it('stands once in the table, which has some of every command', () => {
    expect(new Set(ROWS.map(({ typed }) => typed)).size).toBe(ROWS.length);
    expect(ROWS.length).toBeGreaterThan(600);
    expect(GROUPS.filter(([, rows]) => rows.length < 3)).toEqual([]);
  });

  it('is told by more than the ways that stand here, never with a statement that does not read', () => {
    const words = ROWS.filter(({ lines }) => lines.length > 0).flatMap(({ typed }) =>
      typed.split(' '),
    );
    for (let at = 0; at < 2000; at++) {
      // Steps that share no factor with the number of words mix them differently each time.
      const typed = [1, 7, 31].map((step) => words[(at * step + step) % words.length]).join(' ');
      for (const { instead = [] } of readListing(`10 ${typed}`).diagnostics) {
        for (const line of instead) expect(errorsOf(`10 ${line}`)).toEqual([]);
      }
    }
  });
});
