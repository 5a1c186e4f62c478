/** What each finding becomes in the interchange format; tests/published holds the log to its schema. */
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/lint/rule.js';
import { RULES } from '../../src/lint/rules.js';
import { type LintedFile, sarifLog } from '../../src/lint/sarif.js';

const TEXT = '10 PRINT "▚𝄞"\n20 STOP\n';
const plain = { rule: 'zz-reader', start: 3, end: 14, message: 'it is odd' } as const;
const finding: Finding = {
  rule: 'save-last',
  severity: 'error',
  start: 17,
  end: 22,
  message: 'two words',
  why: 'because',
  help: 'do it',
  bytes: 7,
  fix: { what: 'take it out', edits: [{ start: 17, end: 22, text: 'X' }] },
};

const logOf = (file: Partial<LintedFile>) =>
  sarifLog([{ path: 'a.bas', text: TEXT, diagnostics: [], silenced: [], ...file }], '9.8.7');

describe('the log', () => {
  it('names its schema, its version, the tool and its units', () => {
    const log = logOf({});
    expect(log.$schema).toBe('https://json.schemastore.org/sarif-2.1.0.json');
    expect(log.version).toBe('2.1.0');
    const [run] = log.runs;
    expect(run.tool.driver).toMatchObject({ name: 'Listwright', version: '9.8.7' });
    expect(run.columnKind).toBe('unicodeCodePoints');
    expect(run.artifacts).toEqual([{ location: { uri: 'a.bas' } }]);
    expect([...run.results]).toEqual([]);
  });

  it('describes each rule by its texts, its kind and its severity', () => {
    const [run] = logOf({}).runs;
    expect(run.tool.driver.rules).toHaveLength(RULES.length);
    for (const [at, { name, summary, page, severity, kind }] of RULES.entries()) {
      expect(run.tool.driver.rules[at]).toEqual({
        id: name,
        shortDescription: { text: `${summary[0].toUpperCase()}${summary.slice(1)}.` },
        fullDescription: { text: page },
        help: { text: page, markdown: page },
        defaultConfiguration: { level: severity },
        properties: { tags: [kind] },
      });
    }
  });

  it('names what is no rule of the linter behind the rules, once, in the order of the alphabet', () => {
    const odd = (rule: string) => ({ ...plain, rule, severity: 'note' as const });
    const diagnostics = [odd('zz'), odd('aa'), finding, odd('zz')];
    const { rules } = logOf({ diagnostics }).runs[0].tool.driver;
    expect(rules.slice(RULES.length)).toEqual([{ id: 'aa' }, { id: 'zz' }]);
  });
});

describe('a result', () => {
  it('is made when its turn comes, and not kept', () => {
    let read = 0;
    const counted = Array.from({ length: 9 }, () => ({
      ...finding,
      get message() {
        read++;
        return 'odd';
      },
    }));
    const { results } = logOf({ diagnostics: counted }).runs[0];
    const made = results[Symbol.iterator]();
    expect(read).toBe(0);
    made.next();
    made.next();
    expect(read).toBe(2);
    expect(JSON.parse(JSON.stringify(results))).toHaveLength(9);
  });

  it('has the texts as sentences, and its place in lines and whole characters', () => {
    const bare = { ...plain, severity: 'note' as const };
    expect([...logOf({ diagnostics: [bare] }).runs[0].results]).toEqual([
      {
        ruleId: 'zz-reader',
        level: 'note',
        message: { text: 'It is odd.' },
        locations: [
          {
            physicalLocation: {
              artifactLocation: { uri: 'a.bas', index: 0 },
              region: { startLine: 1, startColumn: 4, endLine: 1, endColumn: 14 },
            },
          },
        ],
      },
    ]);
  });

  it('has its bytes, and a fix with its edits', () => {
    const [result] = logOf({ diagnostics: [finding] }).runs[0].results;
    expect(result).toMatchObject({
      level: 'error',
      message: { text: 'Two words. Because. Do it.' },
      properties: { bytes: 7 },
      fixes: [
        {
          description: { text: 'Take it out.' },
          artifactChanges: [
            {
              artifactLocation: { uri: 'a.bas', index: 0 },
              replacements: [
                {
                  deletedRegion: { startLine: 2, startColumn: 3, endLine: 2, endColumn: 8 },
                  insertedContent: { text: 'X' },
                },
              ],
            },
          ],
        },
      ],
    });
    expect(result).not.toHaveProperty('suppressions');
  });

  it('that a comment silences carries its reason', () => {
    const { fix: _, bytes: __, ...rest } = finding;
    const [result] = logOf({ silenced: [{ finding: rest, reason: 'by hand' }] }).runs[0].results;
    expect(result.suppressions).toEqual([{ kind: 'inSource', justification: 'by hand' }]);
    expect(result).not.toHaveProperty('fixes');
    expect(result).not.toHaveProperty('properties');
  });
});

it.each([
  ['-', 'stdin'],
  ['./a.bas', 'a.bas'],
  ['loft/a b.bas', 'loft/a%20b.bas'],
  ['loft\\a.bas', 'loft/a.bas'],
  ['/tmp/a.bas', 'file:///tmp/a.bas'],
  ['../b/./c.bas', '../b/./c.bas'],
])('the address of %s is %s', (path, uri) => {
  expect(logOf({ path }).runs[0].artifacts[0].location.uri).toBe(uri);
});
