/** The page beside the rules is the one that the rules give; with UPDATE set, it is written. */
import { readFileSync, writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { rulePage } from '../../src/lint/rule-table.js';
import { isSaving, RULES } from '../../src/lint/rules.js';

const FILE = new URL('../../src/lint/rules/README.md', import.meta.url);

it('the page has a row and a text for every rule', () => {
  const page = rulePage();
  for (const { name, summary, page: text } of RULES) {
    expect(page).toContain(`| [\`${name}\`](#${name}) | ${summary} |`);
    expect(page).toContain(`### ${name}\n\n${text}\n`);
  }
});

it('the page beside the rules is up to date', () => {
  if (process.env.UPDATE) writeFileSync(FILE, rulePage());
  expect(readFileSync(FILE, 'utf8')).toBe(rulePage());
});

it('the names of rules are stable words, each once', () => {
  const names = RULES.map(({ name }) => name);
  expect(new Set(names).size).toBe(names.length);
  for (const name of names) expect(name).toMatch(/^[a-z]+(-[a-z]+)*$/);
});

it('what saves bytes can wait, unless it may stop the program', () => {
  for (const { name, kind } of RULES) {
    expect([name, isSaving({ rule: name, severity: 'note' })]).toEqual([name, kind === 'memory']);
    expect(isSaving({ rule: name, severity: 'warning' })).toBe(false);
    expect(isSaving({ rule: name, severity: 'error' })).toBe(false);
  }
});
