/** Nothing in a listing, a name or a file's name steers the terminal that shows a message. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { LAUNCHER, runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const STEER = '\u001b[2J\u202e\u009b\u0007';
const CODES = '[U+001B][2J[U+202E][U+009B][U+0007]';
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what it is about
const STEERING = /[\0-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]/;

const hostile = `lamp${STEER}.bas`;
writeFileSync(join(folder, hostile), `10 PRNT ${STEER}"A"\n20 REM [file "${STEER}"]\n`);
writeFileSync(join(folder, 'good.bas'), '10 PRINT "A"\n20 GOTO 10\n');
writeFileSync(join(folder, `also${STEER}.bas`), '10 PRINT "B"\n20 GOTO 90\n');
writeFileSync(join(folder, 'comment.bas'), `' ${STEER}\n10 CLS\n`);

describe('a message has codes for what would steer the terminal', () => {
  it.each([
    ['a listing with errors, and its name', ['tokenise', hostile], CODES],
    ['a directive', ['lint', '-'], CODES, `.var ${STEER}\n`],
    ['a file that is not there', ['lint', `${STEER}.bas`], CODES],
    ['a value of an option', ['tokenise', 'good.bas', '--ram', STEER], CODES],
    ['an option that is none', ['tokenise', 'good.bas', `--${STEER}`], CODES],
    ['a place to write to', ['tokenise', 'good.bas', '-o', `${STEER}/x`], CODES],
    ['a file that was written', ['tokenise', 'good.bas', '-o', `${STEER}.img`], CODES],
    ['findings', ['lint', `also${STEER}.bas`], CODES],
    ['a comparison', ['compare', 'good.bas', `also${STEER}.bas`], CODES],
    [
      'what is not in its tidy form',
      ['format', '--check', '-'],
      'standard input',
      `' x${STEER} \n`,
    ],
    ['a scanned page', ['transcribe', '-', '-o', `${STEER}.txt`], 'change', `1O PR1NT "${STEER}\n`],
    ['values for INPUT', ['rehearse', 'good.bas', '--inputs', `${STEER}`], CODES],
    ['a name on tape', ['record', 'good.bas', '--name', STEER], CODES.slice(0, 8)],
  ])('%s', (_, args, words, input = '') => {
    const { stdout, stderr } = runCli(args, { cwd: folder, input });
    expect(`${stdout}${stderr}`).not.toMatch(STEERING);
    expect(`${stdout}${stderr}`).toContain(words);
  });

  it('under which the marks stand where they belong', () => {
    const { stderr } = runCli(['tokenise', '-'], { input: '10 PRINT \u001b\u001b+\u001bQ QQ\n' });
    const [, quoted, marks] = stderr.split('\n');
    expect(quoted).toContain('10 PRINT [U+001B]');
    expect(marks).toMatch(/^ +\^+$/);
    const at = marks.indexOf('^');
    expect(quoted.slice(at, at + 8)).toBe('[U+001B]');
  });

  it('and a line feed in a name begins no line', () => {
    const { stderr } = runCli(['lint', 'a\nb.bas'], { cwd: folder });
    expect(stderr).toMatch(/^listwright: a\[U\+000A\]b\.bas: cannot be read/);
  });
});

describe('a listing that is printed', () => {
  it('is exact in a pipe', () => {
    const { stdout } = runCli(['format', '-'], { input: `' ${STEER}\n10 CLS\n` });
    expect(stdout.toString()).toBe(`' ${STEER}\n10 CLS\n`);
  });

  const hasTerminals = spawnSync('script', ['-qec', 'true', '/dev/null']).status === 0;
  const seen = (args: string, typed = ''): string =>
    spawnSync('script', ['-qec', `"${process.execPath}" "${LAUNCHER}" ${args}`, '/dev/null'], {
      cwd: folder,
      encoding: 'utf8',
      input: typed,
      env: { ...process.env, TERM: 'xterm', NO_COLOR: '' },
    }).stdout;

  it.skipIf(!hasTerminals)('is safe on a terminal, where colours are', () => {
    mkdirSync(join(folder, 'seen'));
    const formatted = seen('format - < comment.bas');
    expect(formatted).toContain(CODES);
    expect(formatted.replace(/\r\n/g, '\n')).not.toMatch(STEERING);
    const coloured = seen(`tokenise lamp*.bas`);
    expect(coloured).toContain('\u001b[1;31merror:\u001b[0m');
    expect(coloured).toContain(CODES);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: the sequences of the styles
    expect(coloured.replace(/\u001b\[[\d;]+m|\r/g, '')).not.toMatch(STEERING);
  });

  it.skipIf(!hasTerminals)('has no progress bar left in it when a person is asked', () => {
    writeFileSync(join(folder, 'asks.bas'), '10 FOR I=1 TO 40000000\n20 NEXT I\n30 INPUT A\n');
    const shown = seen('rehearse asks.bas --statements 100000000', '5\n');
    const [before, after] = shown.split('line 30 wants a number: ');
    expect(after).toMatch(/report 0\/30/);
    // Drawn at all, then wiped, before the screen is shown with the question.
    expect(before).toMatch(/left \r +\r\u250c[^\r]*\r\n[^[\]]*$/);
  });
});
