/** Comments that silence a rule: for a line, for a file, and only with a reason. */
import { describe, expect, it } from 'vitest';
import { lint, lintBy } from '../../src/lint/lint.js';
import { RULES } from '../../src/lint/rules.js';
import { readListing } from '../../src/listing/read.js';

function linted(...lines: string[]) {
  const text = lines.join('\n');
  const { findings, silenced } = lint(readListing(text));
  return {
    rules: findings.map(({ rule }) => rule),
    messages: findings.map(({ message }) => message),
    silenced: silenced.map(({ finding, reason }) => `${finding.rule}: ${reason}`),
  };
}

describe('a comment that allows a rule', () => {
  it.each(['—', '–', '-', '--'])('with %s before its reason silences the next line', (dash) => {
    const { rules, silenced } = linted(
      `' lint: allow save-last ${dash} the tape is rewound by hand`,
      '10 SAVE "OAK"',
    );
    expect(rules).toEqual([]);
    expect(silenced).toEqual(['save-last: the tape is rewound by hand']);
  });

  it('reaches over blank lines and directives to the next line of the program, and no further', () => {
    const { rules } = linted(
      "' lint: allow pause-poke — the display is off",
      '',
      '.ram 2K',
      '10 PAUSE VAL "9"',
      '20 PAUSE VAL "9"',
    );
    expect(rules).toEqual(['pause-poke']);
  });

  it('silences several rules, in the whole file', () => {
    const { rules, silenced } = linted(
      '10 PAUSE VAL "9"',
      '20 PRINT RND/NOT PI',
      "' lint: allow pause-poke, division-by-zero in file — a test of reports",
    );
    expect(rules).toEqual([]);
    expect(silenced).toHaveLength(2);
  });

  it.each([
    ["' lint: allow save-last", /no reason/],
    ["' lint: allow save-last —", /no reason/],
    ["' lint: allow safe-last — typed wrong", /no rule safe-last/],
    ["' lint: off", /not understood/],
  ])('%s silences nothing and is a warning', (comment, message) => {
    const { rules, messages } = linted(comment, '10 SAVE "OAK"');
    expect(rules).toEqual(['lint-comment', 'save-last']);
    expect(messages[0]).toMatch(message);
  });

  it('is noted when it silences nothing', () => {
    const { messages } = linted("' lint: allow save-last — old", '10 SAVE "OAK"', '20 RUN');
    expect(messages).toEqual(['this comment silences nothing: save-last has no finding here']);
  });

  it('is noted with all of its rules', () => {
    const { messages } = linted("' lint: allow save-last, pause-poke — old", '10 RUN');
    expect(messages).toEqual([
      'this comment silences nothing: save-last, pause-poke has no finding here',
    ]);
  });

  it('is noted when no line follows it', () => {
    expect(linted('10 RUN', "' lint: allow save-last — old").rules).toEqual(['lint-comment']);
  });

  it('leaves other comments alone', () => {
    expect(linted("' lint and dust", '10 RUN').rules).toEqual([]);
  });

  it('may stand in capitals, with more spaces and with commas', () => {
    const { rules, silenced } = linted(
      "'  LINT : Allow  Save-Last ,pause-poke  —   begun by hand ",
      '10 SAVE "OAK"',
    );
    expect(rules).toEqual([]);
    expect(silenced).toEqual(['save-last: begun by hand']);
  });

  it('counts before another that stands behind it, for a line and for the file', () => {
    const line = "' lint: allow save-last — the line";
    const file = "' lint: allow save-last in file — the file";
    const save = '10 SAVE "OAK"';
    const unused = /^this comment silences nothing: save-last has no finding here$/;
    for (const [lines, reason] of [
      [[file, line, save], 'the file'],
      [[line, save, file], 'the line'],
      [[line, "' lint: allow save-last — again", save], 'the line'],
    ] as const) {
      const { silenced, messages } = linted(...lines);
      expect(silenced).toEqual([`save-last: ${reason}`]);
      expect(messages).toEqual([expect.stringMatching(unused)]);
    }
    expect(linted(line, '10 RUN', '20 RUN', save.replace('10', '30'), file)).toMatchObject({
      silenced: ['save-last: the file'],
    });
  });

  it('is complained of with a place, a why and what to do', () => {
    const text = "' lint: off\n' lint: allow save-last — old\n10 RUN\n";
    const found = lint(readListing(text)).findings;
    expect(found.map(({ severity, start, end }) => [severity, text.slice(start, end)])).toEqual([
      ['warning', "' lint: off"],
      ['note', "' lint: allow save-last — old"],
    ]);
    for (const { why } of found) expect(why).toMatch(/^\S.{9,}\S$/);
    expect(found.map(({ help }) => help)).toEqual([
      "write ' lint: allow RULE — reason, or ' lint: allow RULE in file — reason",
      'delete it',
    ]);
    for (const wrong of ["' lint: allow save-last", "' lint: allow safe-last — typed wrong"]) {
      const [{ why, help }] = lint(readListing(`${wrong}\n10 RUN\n`)).findings;
      expect([why, help].join()).toMatch(/^\S.{9,}, ?write ' lint: allow RULE/);
    }
  });
});

describe('the rules that are followed', () => {
  const text = '10 PAUSE VAL "9"\n20 LET UNUSED=1\n';
  const rules = (only?: 'memory' | 'mistake') => {
    const read = readListing(text);
    const followed = RULES.filter(({ kind }) => kind === only);
    const { findings } = only === undefined ? lint(read) : lintBy(followed, read);
    return findings.map(({ rule }) => rule);
  };
  it('are all, or those of one kind', () => {
    expect(rules('mistake')).toEqual(['pause-poke']);
    expect(rules('memory')).not.toContain('pause-poke');
    expect(rules('memory').length).toBeGreaterThan(0);
    expect(new Set(rules())).toEqual(new Set([...rules('mistake'), ...rules('memory')]));
  });
  it('find things in the order of the text', () => {
    const { findings } = lint(readListing(text));
    const starts = findings.map(({ start }) => start);
    expect(starts).toEqual([...starts].sort((a, b) => a - b));
  });
});
