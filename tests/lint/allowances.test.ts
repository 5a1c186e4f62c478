/** Comments that silence a rule: for a line, for a file, and only with a reason. */
import { describe, expect, it } from 'vitest';
import { lint } from '../../src/lint/lint.js';
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

  it('is noted when no line follows it', () => {
    expect(linted('10 RUN', "' lint: allow save-last — old").rules).toEqual(['lint-comment']);
  });

  it('leaves other comments alone', () => {
    expect(linted("' lint and dust", '10 RUN').rules).toEqual([]);
  });
});
