/** README's table of rules is the one that the rules give; with UPDATE set, it is written. */
import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ruleTable, TABLE_BEGINS, TABLE_ENDS, withRuleTable } from '../../src/lint/rule-table.js';
import { RULES } from '../../src/lint/rules.js';

describe('the table of rules', () => {
  it('has a row and a page for every rule', () => {
    const table = ruleTable();
    for (const { name } of RULES) {
      expect(table.split(`\`${name}\``).length - 1).toBeGreaterThanOrEqual(2);
    }
  });

  it('replaces what stands between the markers, and nothing else', () => {
    const text = `a\n${TABLE_BEGINS}\nold\n${TABLE_ENDS}\nb\n`;
    expect(withRuleTable(text, 'new')).toBe(`a\n${TABLE_BEGINS}\nnew\n${TABLE_ENDS}\nb\n`);
    expect(withRuleTable('no markers', 'new')).toBeUndefined();
  });

  it('in README is up to date', () => {
    const file = new URL('../../README.md', import.meta.url);
    const readme = readFileSync(file, 'utf8');
    if (process.env.UPDATE) writeFileSync(file, withRuleTable(readme)!);
    expect(readFileSync(file, 'utf8')).toBe(withRuleTable(readme));
  });
});

it('the names of rules are stable words, each once', () => {
  const names = RULES.map(({ name }) => name);
  expect(new Set(names).size).toBe(names.length);
  for (const name of names) expect(name).toMatch(/^[a-z]+(-[a-z]+)*$/);
});
