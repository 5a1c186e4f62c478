import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const file = (name: string, content: string): string => {
  writeFileSync(join(folder, name), content);
  return name;
};
const cli = (args: string[], input = '') => {
  const { status, stdout, stderr } = runCli(args, { cwd: folder, input });
  return { status, stdout: stdout.toString(), stderr };
};
const run = (args: string[], input = '') => cli(['compare', ...args], input);

file('one.bas', '10 CLS\n20 PRINT "OAK";A\n30 STOP\n.var A = 1\n');
file('two.bas', '.start 10\n10 CLS\n20 PRINT "ELM";A\n40 STOP\n.var A = 2\n');
cli(['tokenise', 'one.bas']);
cli(['record', 'one.bas', '--lead', '0.2']);

describe('listing, image and recording', () => {
  it.each([
    ['one.bas', 'one.img', 'listing', 'image'],
    ['one.img', 'one.wav', 'image', 'recording'],
    ['one.wav', 'one.bas', 'recording', 'listing'],
  ])('%s and %s hold the same bytes', (a, b, kindA, kindB) => {
    const { status, stdout, stderr } = run([a, b]);
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout.split('\n')).toEqual([
      expect.stringMatching(new RegExp(`^A {2}${a}: ${kindA}, 3 lines, \\d+ bytes, up to address`)),
      expect.stringMatching(new RegExp(`^B {2}${b}: ${kindB}, 3 lines, \\d+ bytes, up to address`)),
      expect.stringMatching(/^the same \d+ bytes$/),
      '',
    ]);
  });
});

it('shows lines with the changed words marked, then variables, then system variables', () => {
  const { status, stdout } = run(['one.img', 'two.bas']);
  expect(status).toBe(1);
  expect(stdout.split('\n').slice(3)).toEqual([
    '- 20 PRINT "OAK";A',
    '            ^^^',
    '+ 20 PRINT "ELM";A',
    '            ^^^',
    '- 30 STOP',
    '+ 40 STOP',
    '',
    'variables',
    '- .var A = 1',
    '           ^',
    '+ .var A = 2',
    '           ^',
    '',
    'system variables',
    '+ .start 10',
    '',
    '1 line changed; 1 line only in A; 1 line only in B; 1 variable differs; 1 system variable differs',
    '',
  ]);
});

it('shows rows of the display, and what is long in part', () => {
  const code = (byte: string) => `10 REM [${'00 43 '.repeat(40)}${byte}${' 44'.repeat(40)}]\n`;
  file('long-a.bas', `${code('01')}.display\n OAK\n.end\n`);
  file('long-b.bas', `${code('02')}.display\n ELM\n.end\n`);
  const rows = run(['long-a.bas', 'long-b.bas']).stdout.split('\n');
  const [before, marks] = rows.slice(3);
  expect(before).toMatch(/^- 10 REM \[ 00 43 .* … .* 01 .* … .*\]$/);
  expect(before.length).toBeLessThan(120);
  expect(before.slice(marks.indexOf('^'), marks.length)).toBe('01');
  expect(rows).toContain('- row 0:  OAK');
  expect(rows).toContain('+ row 0:  ELM');
});

it('says where more words differ than are told apart', () => {
  const row = (of: (at: number) => number) =>
    `10 REM ${Array.from({ length: 300 }, (_, at) => of(at)).join(' ')}\n`;
  file('many-a.bas', `.ram 16K\n${row((at) => at)}`);
  file('many-b.bas', `.ram 16K\n${row((at) => at + 500)}`);
  file('some-b.bas', `.ram 16K\n${row((at) => (at % 2 === 0 ? at : at + 500))}`);
  const said = /^ {2}more than 400 words differ, so all are marked$/m;
  expect(run(['many-a.bas', 'many-b.bas']).stdout).toMatch(said);
  expect(run(['many-a.bas', 'some-b.bas']).stdout).not.toMatch(said);
  const { lines } = JSON.parse(run(['--format', 'json', 'many-a.bas', 'many-b.bas']).stdout);
  expect(lines[0].coarse).toBe(true);
});

it('--bytes gives offsets and addresses', () => {
  const { stdout } = run(['--bytes', 'one.bas', 'two.bas']);
  expect(stdout).toMatch(/^offset 32, address 16425, system variables: A \w\w, B 7D$/m);
  expect(stdout).toMatch(/^offset \d+, address \d+, program: A 34 26 30, B 2A 31 32$/m);
  expect(run(['one.bas', 'two.bas']).stdout).not.toMatch(/offset/);
});

it('--format json gives the same as data', () => {
  const { status, stdout } = run(['--format', 'json', '--bytes', 'one.bas', 'two.bas']);
  expect(status).toBe(1);
  const found = JSON.parse(stdout);
  expect(found.a).toEqual({
    file: 'one.bas',
    kind: 'listing',
    lines: 3,
    bytes: expect.any(Number),
  });
  expect(found.equal).toBe(false);
  expect(found.lines.map(({ key }: { key: string }) => key)).toEqual(['20', '30', '40']);
  expect(found.variables).toHaveLength(1);
  expect(found.bytes[0].a).toEqual([expect.any(Number)]);
  expect(JSON.parse(run(['--format', 'json', 'one.bas', 'one.img']).stdout).equal).toBe(true);
});

it('takes one of the two from standard input', () => {
  expect(run(['-', 'one.img'], '10 CLS\n20 PRINT "OAK";A\n30 STOP\n.var A = 1\n').status).toBe(0);
});

describe('what cannot be asked', () => {
  it.each([
    [['-', '-'], /standard input can be only one/],
    [['one.bas'], /missing required argument 'b'/],
    [['one.bas', 'nowhere'], /nowhere: cannot be read: there is no such file/],
    [['one.bas', file('bad.bas', '10 PRONT\n')], /bad\.bas: it has errors, so there is no image/],
    [['one.bas', file('bad.img', '\0\0\0')], /bad\.img: this is not a program image/],
    [['one.bas', 'two.bas', '--ram', '1M'], /--ram: 1M is not a size of RAM/],
  ])('%j', (args, message) => {
    const { status, stdout, stderr } = run(args);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(message);
  });
});
