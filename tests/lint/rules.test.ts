/** Each rule: what it accepts and what it rejects, with line and column; and what each fix saves. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/lint/rules.js';
import { Places } from '../../src/listing/diagnostics.js';
import { applyEdits } from '../../src/listing/edits.js';
import { readListing } from '../../src/listing/read.js';
import { SAVINGS } from './examples/memory.js';
import { MISTAKES } from './examples/mistakes.js';
import { SPELLINGS } from './examples/spelling.js';
import { VALUES } from './examples/values.js';
import { findingsOf } from './findings.js';

const TABLE = { ...MISTAKES, ...SAVINGS, ...SPELLINGS, ...VALUES };

const lined = (text: string): string => text.replaceAll('|', '\n');

const programBytes = (text: string): number =>
  readListing(text).listing.lines.reduce((sum, { codes }) => sum + codes.length + 5, 0);

it('the table has every rule', () => {
  expect(Object.keys(TABLE).sort()).toEqual(RULES.map(({ name }) => name).sort());
});

describe.each(Object.entries(TABLE))('%s', (rule, { accepted, rejected }) => {
  it.each(accepted)('accepts %s', (text) => {
    expect(findingsOf(lined(text), rule)).toEqual([]);
  });

  it.each([...rejected])('rejects %s at %s', (short: string, at: string, fixed?: string) => {
    const text = lined(short);
    const places = new Places(text);
    const found = findingsOf(text, rule);
    const finding = found.find(({ start }) => {
      const { line, column } = places.at(start);
      return `${line}:${column}` === at;
    });
    expect(
      finding,
      found
        .map(({ start }) => places.at(start))
        .map((p) => `${p.line}:${p.column}`)
        .join(),
    ).toBeDefined();
    const { message, why, help, start, end, fix } = finding!;
    for (const said of [message, why]) expect(said).toMatch(/^\S.{9,}\S$/);
    for (const said of [help, fix?.what]) {
      if (said !== undefined) expect(said).toMatch(/^\S.+ .*\S$/);
    }
    expect(text.slice(start, end)).toMatch(/^\S(.*\S)?$/);
    if (fixed === undefined && rule !== 'number-form') {
      expect(finding!.fix).toBeUndefined();
      return;
    }
    const mended = applyEdits(text, finding!.fix!.edits);
    expect(mended).toBe(lined(fixed!));
    expect(readListing(mended).diagnostics).toEqual([]);
    expect(programBytes(text) - programBytes(mended)).toBe(finding!.bytes);
  });

  it('finds its why, its page and its severity set down', () => {
    const { summary, page, fixes = false } = RULES.find(({ name }) => name === rule)!;
    expect(summary.length).toBeGreaterThan(20);
    expect(page.length).toBeGreaterThan(20);
    expect(rejected.some(([, , fixed]) => fixed !== undefined)).toBe(fixes);
  });
});
