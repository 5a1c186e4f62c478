/** What helps a program that lacks room: a fix while one is left, then what a person can do. */
import { describe, expect, it } from 'vitest';
import { analyse } from '../../src/analysis/program.js';
import { fixListing } from '../../src/lint/fix.js';
import { lint } from '../../src/lint/lint.js';
import { helpByHand, ramThatRuns, savingOptions } from '../../src/lint/room.js';
import { readListing } from '../../src/listing/read.js';
import { budgetOf } from '../../src/memory/budget.js';

const read = (text: string) => readListing(text);
const optionsOf = (text: string) => {
  const { findings, budget } = lint(read(text));
  return savingOptions(findings, budget);
};
const byHand = (text: string): string => {
  const { listing } = read(text);
  return helpByHand(budgetOf(listing), analyse(listing));
};
/** The help of the finding that says that there is no room. */
const helpOf = (text: string) =>
  lint(read(text)).findings.find(({ rule }) => rule === 'no-room')?.help;

describe('the options that save something', () => {
  it('are those of the fewest fixes where it is known how much is over', () => {
    expect(optionsOf('10 DIM A(200)\n')).toBe('--fix --until-fits');
  });

  it('are those of all fixes where nothing bounds what is over', () => {
    expect(optionsOf('10 LET A$=""\n20 INPUT B$\n30 LET A$=A$+B$\n40 GOTO 20\n')).toBe('--fix');
  });

  it('are none where no fix is left, as after all that could be made', () => {
    const fixed = fixListing(read('10 DIM A(200)\n20 PRINT A(200)\n'), { untilFits: true });
    expect(fixed.after.verdict.kind).toBe('does not run');
    expect(optionsOf(fixed.text)).toBeUndefined();
    expect(helpOf(fixed.text)).toBe(byHand(fixed.text));
    expect(helpOf('10 DIM A(200)\n')).toContain('lint --fix --until-fits');
  });
});

describe('what helps by hand', () => {
  it('names how much is over, the largest that the run makes, and the RAM that is enough', () => {
    const text = `10 DIM A(VAL "99")\n20 LET B$="${'X'.repeat(300)}"\n30 PRINT B$,A(PI)\n`;
    expect(byHand(text)).toMatch(
      /^no fix is left that saves more: \d+ bytes at least have to go; most is taken by A\(\) \(501 bytes, line 10\), the program \(\d+ bytes, 311 of them line 20\), the display \(\d+ bytes\), B\$ \(303 bytes, line 20\); what helps: a smaller DIM of A, or fewer or shorter lines, or fewer rows on the screen, and printed further left, for a row takes a byte for each column up to its last, or a shorter B\$, or two programs in place of one, each loaded by itself, or RAM of 2K, where it runs$/,
    );
    const { listing } = read(text);
    expect(ramThatRuns(budgetOf(listing), analyse(listing))).toBe(2048);
  });

  it('names of one that does not load only what is on the tape', () => {
    const line = `10 PRINT "${'X'.repeat(600)}"\n20 DIM A(90)\n`;
    expect(byHand(`${line}.var B(60) = ${Array(60).fill(1).join(',')}\n`)).toMatch(
      /taken by the program \(\d+ bytes, \d+ of them line 10\), the display and the variables that are saved with it \(\d+ bytes\); what helps: fewer or shorter lines, or saving it without them, or two programs/,
    );
    expect(byHand(`10 PRINT "${'X'.repeat(950)}"\n20 DIM A(90)\n`)).not.toMatch(/A\(\)|display/);
  });

  it('says of a string that grows without bounds how to end that, and names no RAM', () => {
    const help = byHand('10 LET A$=""\n20 INPUT B$\n30 LET A$=A$+B$\n40 GOTO 20\n');
    expect(help).toMatch(/nothing bounds how much it takes; .*A\$ \(nothing bounds it, line 30\)/);
    expect(help).toContain('an end to the growth of A$, by its LEN');
    expect(help).not.toContain('RAM of');
    const few = byHand(
      `10 LET A=1\n20 FOR I=A TO 2\n30 FOR J=A TO I\n40 PRINT "${'X'.repeat(800)}"\n`,
    );
    expect(few).toContain('3 variables of one number each (42 bytes)');
    expect(byHand(`10 LET A$="${'X'.repeat(400)}"\n20 PRINT A$\n`)).toContain('a shorter A$');
  });
});
