/** `tokenise` on the command line: what it says of what it wrote. */
import { existsSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
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
