import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const file = (name: string, content: string): string => {
  writeFileSync(join(folder, name), content);
  return name;
};
const run = (args: string[], input = '') => {
  const { status, stdout, stderr } = runCli(['format', ...args], { cwd: folder, input });
  return { status, stdout: stdout.toString(), stderr };
};
const content = (name: string): string => readFileSync(join(folder, name), 'utf8');

const UNTIDY = '\' lamps\n20 print  "oak"\n10 cls\n.ram 2k\n';
const TIDY = '.ram 2K\n10 CLS\n\' lamps\n20 PRINT "OAK"\n';

describe('in place', () => {
  it('writes the tidy form, comments and all, and says so', () => {
    const name = file('lamps.bas', UNTIDY);
    const { status, stdout, stderr } = run([name]);
    expect([status, stdout, stderr]).toEqual([0, '', 'lamps.bas: put in its tidy form, 2 lines\n']);
    expect(content(name)).toBe(TIDY);
  });
  it('does not touch what is tidy already', () => {
    const name = file('tidy.bas', TIDY);
    const before = statSync(join(folder, name)).ino;
    expect(run([name])).toEqual({ status: 0, stdout: '', stderr: '' });
    expect(statSync(join(folder, name)).ino).toBe(before);
  });
  it('takes several files; one with errors is left as it is, with the place told', () => {
    const names = [
      file('one.bas', '10 cls\n'),
      file('bad.bas', '10 pront 1\n'),
      file('two.bas', '10 run\n'),
    ];
    const { status, stderr } = run(names);
    expect(status).toBe(1);
    expect(names.map(content)).toEqual(['10 CLS\n', '10 pront 1\n', '10 RUN\n']);
    expect(stderr).toMatch(/^bad\.bas:1:4: error: /m);
    expect(stderr).toMatch(/^bad\.bas: not put in its tidy form, because of errors$/m);
  });
  it('changes nothing where one of the files cannot be read', () => {
    const name = file('kept.bas', '10 cls\n');
    const { status, stderr } = run([name, 'nowhere.bas']);
    expect(status).toBe(2);
    expect(stderr).toMatch(/nowhere\.bas: cannot be read: there is no such file/);
    expect(content(name)).toBe('10 cls\n');
  });
  it('is done whatever RAM the listing fits', () => {
    const name = file('large.bas', `10 rem ${'x'.repeat(2000)}\n`);
    expect(run([name]).status).toBe(0);
    expect(content(name)).toBe(`10 REM ${'X'.repeat(2000)}\n`);
  });
  it('says what it read in words that were run together', () => {
    const name = file('together.bas', '10 FORI=1TO5\n');
    const { status, stderr } = run([name]);
    expect(status).toBe(0);
    expect(stderr).toMatch(/read as 10 FOR I=1 TO 5/);
    expect(content(name)).toBe('10 FOR I=1 TO 5\n');
  });
  it('leaves no other file behind', () => {
    expect(readdirSync(folder).filter((name) => !name.endsWith('.bas'))).toEqual([]);
  });
});

describe('--check', () => {
  it('writes nothing, names what is not tidy, and its first line that is not', () => {
    const names = [file('untidy.bas', '10 CLS\n20 stop\n'), file('fine.bas', TIDY)];
    expect(run(['--check', ...names])).toEqual({
      status: 1,
      stdout: 'untidy.bas: not in its tidy form, from line 2 on\n',
      stderr: '',
    });
    expect(names.map(content)).toEqual(['10 CLS\n20 stop\n', TIDY]);
  });
  it('is content with tidy listings', () => {
    expect(run(['--check', file('fine.bas', TIDY)])).toEqual({ status: 0, stdout: '', stderr: '' });
  });
});

it('goes from standard input to standard output', () => {
  expect(run(['-'], UNTIDY)).toEqual({ status: 0, stdout: TIDY, stderr: '' });
});

describe('a file of blank lines alone', () => {
  const blank = '\n  \n\n';
  const note = 'note: nothing is in it but blank lines: left as it is\n';
  it('is left as it is, with a note, and what is beside it is done', () => {
    const names = [file('blank.bas', blank), file('beside.bas', '10 cls\n')];
    expect(run(names)).toEqual({
      status: 0,
      stdout: '',
      stderr: `blank.bas: ${note}beside.bas: put in its tidy form, 1 line\n`,
    });
    expect(names.map(content)).toEqual([blank, '10 CLS\n']);
    expect(run(['--check', 'blank.bas'])).toEqual({
      status: 0,
      stdout: '',
      stderr: `blank.bas: ${note}`,
    });
  });
  it('goes through from standard input to standard output', () => {
    expect(run(['-'], blank)).toEqual({
      status: 0,
      stdout: blank,
      stderr: `<standard input>: ${note}`,
    });
  });
});

describe('a file that a REM puts in', () => {
  it('stays a file', () => {
    file('code.bin', '**');
    const name = file('code.bas', '10 rem [file "code.bin"]\n');
    expect(run([name]).status).toBe(0);
    expect(content(name)).toBe('10 REM [file "code.bin"]\n');
  });
});
