/** The page about the rules, made from the rules themselves. */
import type { Rule } from './rule.js';
import { RULES } from './rules.js';

/** The page that stands beside the rules, as Markdown: a table of each kind, then rule by rule. */
export function rulePage(rules: readonly Rule[] = RULES): string {
  const table = (kind: Rule['kind']): string[] => [
    '| rule | finds | as | fix |',
    '| --- | --- | --- | --- |',
    ...rules
      .filter((rule) => rule.kind === kind)
      .map(
        ({ name, summary, severity, fixes }) =>
          `| [\`${name}\`](#${name}) | ${summary} | ${severity} | ${fixes ? 'yes' : '–'} |`,
      ),
  ];
  return [
    '<!-- Made by `npm run rules` from the rules themselves: change them, not this. -->',
    '',
    '# What the linter looks for',
    '',
    "A finding is silenced by a comment before its line, `' lint: allow RULE — reason`, or for the",
    "whole file by `' lint: allow RULE in file — reason`. A reason is required.",
    '',
    '## Mistakes',
    '',
    ...table('mistake'),
    '',
    '## Savings of memory',
    '',
    ...table('memory'),
    '',
    '## Rule by rule: why it matters, and what to do',
    '',
    ...rules.flatMap(({ name, page }) => [`### ${name}`, '', page, '']),
  ].join('\n');
}
