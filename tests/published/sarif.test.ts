/**
 * The linter's interchange output against the published schema.
 * Source: OASIS, Static Analysis Results Interchange Format (SARIF) Version 2.1.0, JSON schema.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { Ajv, type ValidateFunction } from 'ajv';
import { describe, expect, it } from 'vitest';
import { lint } from '../../src/lint/lint.js';
import { RULES } from '../../src/lint/rules.js';
import { sarifLog } from '../../src/lint/sarif.js';
import { readListing } from '../../src/listing/read.js';

const resolve = createRequire(import.meta.url).resolve;
const schemaFile = resolve('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json');

/** The schema is of draft 4; what it uses of it means the same in draft 7, but for the name of its id. */
function schema(): object {
  const { $schema: _, id, ...rest } = JSON.parse(readFileSync(schemaFile, 'utf8'));
  return { $id: id, ...rest };
}

const ajv = new Ajv({
  allErrors: true,
  strict: false,
  validateFormats: false,
  unicodeRegExp: false,
});
let compiled: ValidateFunction | undefined;
/** Made when a test first asks, since it takes a quarter of a second. */
function validator(): ValidateFunction {
  compiled ??= ajv.compile(schema());
  return compiled;
}

function logOf(path: string, text: string) {
  const { listing, diagnostics } = readListing(text);
  const { findings, silenced } = lint({ text, listing });
  const log = sarifLog(
    [{ path, text, diagnostics: [...diagnostics, ...findings], silenced }],
    '1.2.3',
  );
  return JSON.parse(JSON.stringify(log));
}

const TEXT = [
  '10 LET SCORE=0',
  '20 PRINT "▒▒";AT 22,40;SCORE;(5)',
  '30 GOTO 15',
  "' lint: allow save-last — begun by hand",
  '40 SAVE "OAK"',
].join('\n');

describe('the schema', () => {
  it('is one that refuses what is wrong', () => {
    const validate = validator();
    expect(validate({ version: '2.1.0' })).toBe(false);
    expect(validate({ version: '2.0.0', runs: [] })).toBe(false);
    const log = logOf('a.bas', TEXT);
    log.runs[0].results[0].level = 'fatal';
    expect(validate(log)).toBe(false);
  });

  it.each([
    ['findings, fixes and silenced findings', 'bench/a b.bas', TEXT],
    ['a clean listing', 'clean.bas', '10 CLS\n'],
    ['an empty one', '/tmp/empty.bas', ''],
  ])('takes %s', (_, path, text) => {
    const log = logOf(path, text);
    const validate = validator();
    validate(log);
    expect(validate.errors ?? []).toEqual([]);
  });
});

describe('the log', () => {
  const firstRun = () => logOf('bench/a b.bas', TEXT).runs[0];

  it('has every rule, and a descriptor for every result', () => {
    const run = firstRun();
    const ids = run.tool.driver.rules.map(({ id }: { id: string }) => id);
    expect(ids).toEqual(expect.arrayContaining(RULES.map(({ name }) => name)));
    for (const { ruleId } of run.results) expect(ids).toContain(ruleId);
  });

  it('gives places in lines and characters', () => {
    const run = firstRun();
    const found = run.results.find(
      ({ ruleId }: { ruleId: string }) => ruleId === 'past-the-display',
    );
    expect(found.locations[0].physicalLocation).toMatchObject({
      artifactLocation: { uri: 'bench/a%20b.bas' },
      region: { startLine: 2, startColumn: 15, endLine: 2, endColumn: 23 },
    });
    expect(run.columnKind).toBe('unicodeCodePoints');
  });

  it('carries fixes that change the listing as they say, and reasons of silenced findings', () => {
    const run = firstRun();
    const fixed = run.results.find(({ ruleId }: { ruleId: string }) => ruleId === 'spare-brackets');
    expect(fixed.fixes[0].artifactChanges[0].replacements).toHaveLength(2);
    const silenced = run.results.find(({ ruleId }: { ruleId: string }) => ruleId === 'save-last');
    expect(silenced.suppressions).toEqual([{ kind: 'inSource', justification: 'begun by hand' }]);
  });
});
