/** `tokenise` on the command line: what it says of what it wrote. */
import { existsSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const tokenise = (text: string, ...options: string[]) => {
  rmSync(join(folder, 'oak.img'), { force: true });
  writeFileSync(join(folder, 'oak.bas'), text);
  const { status, stdout, stderr } = runCli(['tokenise', 'oak.bas', ...options], { cwd: folder });
  return {
    status,
    stdout: stdout.toString(),
    stderr,
    written: existsSync(join(folder, 'oak.img')),
  };
};

it('sums up what was written', () => {
  const { status, stderr, written } = tokenise('10 CLS\n');
  expect([status, written]).toEqual([0, true]);
  expect(stderr).toMatch(
    /^oak\.img: 1 line, program 6 bytes, image 148 bytes; \d+ s on tape\noak\.bas: runs in 1K, \d+ bytes to spare\n$/,
  );
});

it.each([
  ['of blank lines', '\n \n', '1:1'],
  ['of directives', '\n.ram 2K\n.var A = 1\n', '2:1'],
  ['of comments', "' later\n", '1:1'],
])('notes that a listing %s alone has no program line', (_, text, place) => {
  const { status, stderr, written } = tokenise(text);
  expect([status, written]).toEqual([0, true]);
  expect(stderr).toMatch(`oak.bas:${place}: note: there is no program line in this listing\n`);
  expect(stderr).toMatch(/^ {2}do: {2}a line is a number and a statement, as in 10 PRINT "OAK"$/m);
  const { diagnostics } = JSON.parse(tokenise(text, '--format', 'json').stdout);
  expect(diagnostics).toMatchObject([{ severity: 'note', rule: 'no-lines' }]);
});

it('has no such note where the bytes of the program are given, or for a listing with errors', () => {
  expect(tokenise('.raw 00 0A 02 00 FB 76\n').stderr).not.toMatch(/note/);
  const { status, stderr } = tokenise('.ram 3M\n');
  expect(status).toBe(1);
  expect(stderr).not.toMatch(/note/);
});

describe('mistakes that the linter knows', () => {
  const mistaken = '10 PRINT SCOR\n20 DIM B(3)\n30 LET B(4)=1\n40 LET A=VAL "5"\n50 LET C=0010\n';

  it('are told as warnings, and the image is written', () => {
    const { status, stderr, written } = tokenise(mistaken);
    expect([status, written]).toEqual([0, true]);
    expect(stderr.match(/^oak\.bas:\d+:\d+: \w+: .*$/gm)).toEqual([
      expect.stringMatching(/^oak\.bas:1:10: warning: .*SCOR/),
      expect.stringMatching(/^oak\.bas:3:10: warning: 4 is no subscript of B/),
    ]);
    expect(stderr).toMatch(
      /^oak\.bas: 2 mistakes that the machine would stop at; `listwright lint oak\.bas` says/m,
    );
  });
  it('are none where the linter has notes and warnings alone', () => {
    expect(tokenise('10 LET A=0010\n20 GOTO 15\n').stderr).not.toContain('warning');
  });
});
