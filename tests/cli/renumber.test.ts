import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const file = (name: string, content: string): string => {
  writeFileSync(join(folder, name), content);
  return name;
};
const run = (args: string[], input = '') => {
  const { status, stdout, stderr } = runCli(['renumber', ...args], { cwd: folder, input });
  return { status, stdout: stdout.toString(), stderr };
};
const content = (name: string): string => readFileSync(join(folder, name), 'utf8');

const TEXT = ".start 3\n1 CLS\n' loop\n3 GOTO 3\n";

it('gives new numbers in place, from 10 by 10', () => {
  const name = file('loop.bas', TEXT);
  expect(run([name])).toEqual({
    status: 0,
    stdout: '',
    stderr: 'loop.bas: 2 lines from 10 by 10\n',
  });
  expect(content(name)).toBe(".start 20\n10 CLS\n' loop\n20 GOTO 20\n");
});

it('from a start by a step, to another file or standard output', () => {
  const name = file('other.bas', TEXT);
  const wanted = ".start 105\n100 CLS\n' loop\n105 GOTO 105\n";
  expect(run([name, '--start', '100', '--step', '5', '-o', 'new.bas']).status).toBe(0);
  expect([content(name), content('new.bas')]).toEqual([TEXT, wanted]);
  expect(run([name, '--start', '100', '--step', '5', '-o', '-']).stdout).toBe(wanted);
  expect(run(['-', '--start', '100', '--step', '5'], TEXT).stdout).toBe(wanted);
  expect(content(name)).toBe(TEXT);
});

it('stops at a computed target, unless forced', () => {
  const text = '1 LET A=2\n2 GOTO A*100\n';
  const name = file('computed.bas', text);
  const stopped = run([name]);
  expect(stopped.status).toBe(1);
  expect(stopped.stderr).toMatch(
    /^computed\.bas:2:8: error: the target of this GOTO is computed$/m,
  );
  expect(stopped.stderr).toMatch(/nothing was renumbered$/m);
  expect(content(name)).toBe(text);
  const forced = run([name, '--force']);
  expect(forced.status).toBe(0);
  expect(forced.stderr).toMatch(/^computed\.bas:2:8: warning: /m);
  expect(content(name)).toBe('10 LET A=2\n20 GOTO A*100\n');
});

it('leaves a listing with errors as it is', () => {
  const name = file('bad.bas', '1 PRONT\n');
  expect(run([name]).status).toBe(1);
  expect(content(name)).toBe('1 PRONT\n');
});

it('refuses numbers past 9999', () => {
  const name = file('past.bas', TEXT);
  const { status, stderr } = run([name, '--start', '9995']);
  expect(status).toBe(1);
  expect(stderr).toMatch(/^past\.bas:4:1: error: line 3 would be 10005$/m);
  expect(content(name)).toBe(TEXT);
});

it.each([
  ['--start', '0'],
  ['--start', '10000'],
  ['--step', '0'],
  ['--step', 'ten'],
  ['--step', '-5'],
])('cannot be asked for %s %s', (option, value) => {
  const name = file('asked.bas', TEXT);
  const { status, stderr } = run([name, `${option}=${value}`]);
  expect(status).toBe(2);
  expect(stderr).toContain(`${option}: ${value} is not a whole number from 1 to 9999`);
  expect(content(name)).toBe(TEXT);
});
