import { lintBy } from '../../src/lint/lint.js';
import type { Finding } from '../../src/lint/rule.js';
import { RULES } from '../../src/lint/rules.js';
import { readListing } from '../../src/listing/read.js';

/** What one rule finds in a listing that has no errors, in 1K unless it says otherwise. */
export function findingsOf(text: string, rule: string): readonly Finding[] {
  const { listing, diagnostics } = readListing(text);
  const wrong = diagnostics.filter(({ severity }) => severity === 'error');
  if (wrong.length > 0) throw new Error(`the test's own listing is wrong: ${wrong[0].message}`);
  const rules = RULES.filter(({ name }) => name === rule);
  return lintBy(rules, { text, listing }).findings;
}
