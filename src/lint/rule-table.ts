/** README's table of rules and their pages, made from the rules themselves. */
import type { Rule } from './rule.js';
import { RULES } from './rules.js';

export const TABLE_BEGINS = '<!-- rules -->';
export const TABLE_ENDS = '<!-- /rules -->';

/** The table and the pages, as Markdown. */
export function ruleTable(rules: readonly Rule[] = RULES): string {
  const part = (kind: Rule['kind'], title: string): string[] => {
    const own = rules.filter((rule) => rule.kind === kind);
    return [
      `| ${title} | finds | as | fix |`,
      '| --- | --- | --- | --- |',
      ...own.map(
        ({ name, summary, severity, fixes }) =>
          `| \`${name}\` | ${summary} | ${severity} | ${fixes ? 'yes' : '–'} |`,
      ),
    ];
  };
  const pages = rules.map(({ name, page }) => `- **\`${name}\`** ${page}`);
  return [
    ...part('mistake', 'mistakes'),
    '',
    ...part('memory', 'memory'),
    '',
    '<details><summary>Each rule, why it matters and what to do</summary>',
    '',
    ...pages,
    '',
    '</details>',
  ].join('\n');
}

/** A text with what stands between the two markers replaced; undefined where it has not both. */
export function withRuleTable(text: string, table = ruleTable()): string | undefined {
  const begins = text.indexOf(TABLE_BEGINS);
  const ends = text.indexOf(TABLE_ENDS);
  if (begins < 0 || ends < begins) return undefined;
  return `${text.slice(0, begins + TABLE_BEGINS.length)}\n${table}\n${text.slice(ends)}`;
}
