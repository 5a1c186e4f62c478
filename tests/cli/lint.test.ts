/** `lint`: findings as text, JSON and SARIF; fixes shown as a diff, and written whole. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const file = (name: string, text: string): string => {
  writeFileSync(join(folder, name), text);
  return name;
};
const text = (name: string): string => readFileSync(join(folder, name), 'utf8');

function lint(args: string[], input?: string) {
  const { status, stdout, stderr } = runCli(['lint', ...args], { cwd: folder, input });
  return { status, out: stdout.toString(), stderr };
}

const clean = file('clean.bas', '10 PRINT "OAK"\n');
const warned = file('warned.bas', '10 GOTO VAL "15"\n20 STOP\n');
const faulty = file('faulty.bas', '10 PRINT SGN PI/NOT PI\n');
const unread = file('unread.bas', '10 PRIMT 5\n');

describe('the exit status', () => {
  it.each([
    ['a clean listing', [clean], 0],
    ['warnings alone', [warned], 0],
    ['warnings with --strict', [warned, '--strict'], 1],
    ['a mistake that stops the program', [faulty], 1],
    ['one such listing of several', [clean, faulty], 1],
    ['a listing that cannot be read as one', [unread], 1],
    ['no such file', ['none.bas'], 2],
    ['--until-fits without --fix', [clean, '--until-fits'], 2],
    ['--fix with another format', [clean, '--fix', '--format', 'json'], 2],
    ['no listing', [], 2],
  ])('for %s', (_, args, status) => {
    const result = lint(args);
    expect(result.status).toBe(status);
    expect(result.stderr).not.toMatch(/\n\s+at .+:\d+/);
    if (status === 2) expect(result.stderr.length).toBeGreaterThan(10);
  });
});

describe('findings', () => {
  it('that stop a program stand on standard error, with place, why and what to do', () => {
    const { stderr, out } = lint([faulty]);
    expect(stderr).toMatch(/faulty\.bas:1:17: error: this divides by zero \[division-by-zero\]/);
    expect(stderr).toMatch(/why: .*report 6/);
    expect(out).toMatch(
      /^faulty\.bas: 1 error, 0 warnings, 0 notes; runs in 1K, \d+ bytes to spare\n$/,
    );
  });

  it('that save bytes are a line each, and summed up', () => {
    const { out } = lint(['-'], '10 PRINT 5\n');
    expect(out.split('\n')).toEqual([
      '<standard input>:1:10: note: 5 as VAL "5" takes 4 bytes instead of 7 [number-form]',
      expect.stringMatching(
        /^<standard input>: 0 errors, 0 warnings, 1 note; --fix saves about 3 bytes; runs in 1K, \d+ bytes to spare$/,
      ),
      '',
    ]);
  });

  it('come as JSON with their places', () => {
    const findings = JSON.parse(lint([faulty, warned, '--format', 'json']).out);
    expect(findings).toMatchObject([
      { file: 'faulty.bas', rule: 'division-by-zero', line: 1, column: 17, severity: 'error' },
      { file: 'warned.bas', rule: 'missing-line', line: 1, column: 9, severity: 'warning' },
    ]);
  });

  it('come as SARIF, errors of reading too', () => {
    const log = JSON.parse(lint([unread, warned, '--format', 'sarif']).out);
    expect(log.version).toBe('2.1.0');
    const [{ results, tool }] = log.runs;
    expect(results.map(({ level }: { level: string }) => level)).toEqual(['error', 'warning']);
    expect(tool.driver.version).toMatch(/^\d+\.\d+\.\d+/);
  });
});

describe('--fix', () => {
  const before = '10 LET SCORE=0\n20 PRINT SCORE\n';

  it('shows a diff and writes the listing', () => {
    file('fix.bas', before);
    const { status, out } = lint(['--fix', 'fix.bas']);
    expect(status).toBe(0);
    expect(out).toContain('-10 LET SCORE=0\n');
    expect(out).toContain('+10 LET S=NOT PI\n');
    expect(text('fix.bas')).toBe('10 LET S=NOT PI\n20 PRINT S\n');
  });

  it('with --dry-run shows it and writes nothing', () => {
    file('dry.bas', before);
    expect(lint(['--fix', '--dry-run', 'dry.bas']).out).toContain('+10 LET S=NOT PI\n');
    expect(text('dry.bas')).toBe(before);
  });

  it('of standard input writes the listing to standard output, and the diff beside it', () => {
    const { out, stderr } = lint(['--fix', '-'], before);
    expect(out).toBe('10 LET S=NOT PI\n20 PRINT S\n');
    expect(stderr).toContain('+10 LET S=NOT PI');
  });

  it('changes nothing in a listing with errors', () => {
    const { status, stderr } = lint(['--fix', unread]);
    expect(status).toBe(1);
    expect(stderr).toMatch(/nothing was changed/);
    expect(text(unread)).toBe('10 PRIMT 5\n');
  });
});

describe('--fix --until-fits', () => {
  const lines = Array.from({ length: 28 }, (_, at) => `${30 + at * 10} LET T=T+${100 + at}\n`);
  const large = `10 REM ${'A TEST '.repeat(45)}\n20 LET T=0\n${lines.join('')}900 PRINT T\n`;

  it('brings a listing that is too large for 1K to fit, and leaves the rest as it is', () => {
    file('large.bas', large);
    expect(runCli(['fit', 'large.bas'], { cwd: folder }).status).toBe(1);
    const { status, out } = lint(['--fix', '--until-fits', 'large.bas']);
    expect(status).toBe(0);
    expect(out).toMatch(/^before, runs : does not fit/m);
    expect(out).toMatch(/^after, {2}runs : fits/m);
    expect(runCli(['fit', 'large.bas'], { cwd: folder }).stdout.toString()).toMatch(
      /^runs : fits/m,
    );
    expect(text('large.bas')).toContain('LET T=T+127');
  });

  it('says no where all savings are not enough', () => {
    file('huge.bas', `10 PRINT "${'X'.repeat(1500)}"\n20 PRINT 5\n`);
    const { status, out } = lint(['--fix', '--until-fits', '--dry-run', 'huge.bas']);
    expect(status).toBe(1);
    expect(out).toMatch(/^after, {2}runs : does not fit/m);
  });
});
