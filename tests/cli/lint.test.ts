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
const warned = file('warned.bas', '10 GOTO VAL "15"\n12 CLS\n20 GOTO VAL "12"\n');
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
    ['--savings with a format that has them all', [clean, '--savings', '--format', 'json'], 2],
    ['no listing', [], 2],
  ])('for %s', (_, args, status) => {
    const result = lint(args);
    expect(result.status).toBe(status);
    expect(result.stderr).not.toMatch(/\n\s+at .+:\d+/);
    if (status === 2) expect(result.stderr.length).toBeGreaterThan(10);
  });
});

describe('findings', () => {
  it('that stop a program come whole, with place, why and what to do', () => {
    const { stderr, out } = lint([faulty]);
    expect(stderr).toBe('');
    expect(out).toMatch(/^faulty\.bas:1:17: error: this divides by zero \[division-by-zero\]\n/);
    expect(out).toMatch(/why: .*report 6/);
    expect(out).toMatch(
      /\nfaulty\.bas: 1 error, 0 warnings, 0 notes; runs in 1K, \d+ bytes to spare\n$/,
    );
  });

  it('of reading the listing stand on standard output too', () => {
    const { stderr, out } = lint([unread]);
    expect(stderr).toBe('');
    expect(out).toMatch(/^unread\.bas:1:4: error: .*\[no-such-command\]\n/);
    expect(out).toMatch(/\nunread\.bas: 1 error, 0 warnings, 0 notes\n$/);
  });

  it('of one line are shown under one quotation, each with its place', () => {
    const { out } = lint(['-'], '10 PRINT 1/0;Q\n');
    expect(out.split('\n').slice(0, 8)).toEqual([
      '<standard input>:1:12: error: this divides by zero [division-by-zero]',
      '    10 PRINT 1/0;Q',
      '               ^ ^',
      '  why: the machine stops here with report 6: arithmetic overflow',
      '  do:  divide by something else, or ask for zero first',
      '<standard input>:1:14: error: nothing ever sets Q [unset-variable]',
      '  why: the machine stops here with report 2',
      expect.stringMatching(/^ {2}do: /),
    ]);
  });
});

describe('savings', () => {
  const program = '10 PRINT 5;5\n20 PRINT 3000;"A"\n';
  const full = (bytes: number): string =>
    `10 PRINT 5;5\n20 PRINT "${'X'.repeat(bytes)}"\n30 PRINT 1\n`;

  it('are a line a rule where there is room', () => {
    const { out } = lint(['-', '--ram', '16K'], program);
    expect(out.split('\n')).toEqual([
      '<standard input>: what could be saved, though 16K has room (--savings lists it):',
      '  number-form  3 places, 9 bytes',
      expect.stringMatching(
        /^<standard input>: 0 errors, 0 warnings, 3 notes; --fix saves about 9 bytes; runs in 16K, \d+ bytes to spare$/,
      ),
      '',
    ]);
  });

  it('are listed when asked for, those of a line together, the largest first', () => {
    const { out } = lint(['-', '--savings'], program);
    expect(out.split('\n').slice(0, 2)).toEqual([
      '<standard input>:1:10: note: 2 × 5 as VAL "5" takes 4 bytes instead of 7 [number-form]',
      '<standard input>:2:10: note: 3000 as VAL "3000" takes 7 bytes instead of 10 [number-form]',
    ]);
  });

  it('are listed unasked within a tenth of the RAM of not fitting', () => {
    const spare = (out: string): number => Number(/(\d+) bytes to spare/.exec(out)?.[1]);
    const most = spare(lint(['-'], full(0)).out) / 2;
    // A character is stored in the line and printed on the display.
    const far = lint(['-'], full(Math.floor(most - 60))).out;
    const near = lint(['-'], full(Math.floor(most - 40))).out;
    expect(spare(far)).toBeGreaterThan(102.4);
    expect(far).toContain('--savings lists it');
    expect(spare(near)).toBeLessThan(102.4);
    expect(near).toMatch(/:1:10: note: 2 × 5 as VAL/);
  });

  it('are at most 20 lines unless all are asked for', () => {
    const lines = Array.from({ length: 30 }, (_, at) => `${10 + at} RAND ${5000 + at}\n`).join('');
    const some = lint(['-', '--savings', '--ram', '16K'], lines).out.split('\n');
    expect(some).toHaveLength(20 + 3);
    expect(some[20]).toBe('<standard input>: and 10 more; --all shows them');
    const all = lint(['-', '--savings', '--all', '--ram', '16K'], lines).out.split('\n');
    expect(all.filter((line) => line.includes('number-form'))).toHaveLength(30);
  });
});

describe('findings for other programs', () => {
  it('come as JSON with their places', () => {
    const linted = JSON.parse(lint([faulty, warned, unread, '--format', 'json']).out);
    const verdict = { is: 'runs', ram: 1024 };
    const places = [
      { rule: 'division-by-zero', line: 1, column: 17, severity: 'error' },
      { rule: 'missing-line', line: 1, column: 9, severity: 'warning' },
    ];
    expect(linted).toMatchObject([
      { file: 'faulty.bas', verdict, diagnostics: [{ file: 'faulty.bas', ...places[0] }] },
      { file: 'warned.bas', verdict, diagnostics: [{ file: 'warned.bas', ...places[1] }] },
      { file: 'unread.bas', verdict: null, diagnostics: [{ severity: 'error' }] },
    ]);
  });

  it('come as SARIF, errors of reading too', () => {
    const log = JSON.parse(lint([unread, warned, '--format', 'sarif']).out);
    expect(log.version).toBe('2.1.0');
    const [{ artifacts, results, tool }] = log.runs;
    expect(artifacts[0]).not.toHaveProperty('properties');
    expect(artifacts[1].properties.verdict).toMatchObject({ is: 'runs', ram: 1024 });
    expect(results.map(({ level }: { level: string }) => level)).toEqual(['error', 'warning']);
    expect(tool.driver.version).toMatch(/^\d+\.\d+\.\d+/);
  });
});

describe('--fix', () => {
  const before = '10 LET SCORE=0\n20 PRINT SCORE;SCORE\n';

  it('shows a diff and writes the listing', () => {
    file('fix.bas', before);
    const { status, out } = lint(['--fix', 'fix.bas']);
    expect(status).toBe(0);
    expect(out).toContain('-10 LET SCORE=0\n');
    expect(out).toContain('+10 LET S=NOT PI\n');
    expect(text('fix.bas')).toBe('10 LET S=NOT PI\n20 PRINT S;S\n');
  });

  it('with --dry-run shows it and writes nothing', () => {
    file('dry.bas', before);
    expect(lint(['--fix', '--dry-run', 'dry.bas']).out).toContain('+10 LET S=NOT PI\n');
    expect(text('dry.bas')).toBe(before);
  });

  it('of standard input writes the listing to standard output, and the diff beside it', () => {
    const { out, stderr } = lint(['--fix', '-'], before);
    expect(out).toBe('10 LET S=NOT PI\n20 PRINT S;S\n');
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
    expect(out).toMatch(/^before: does not load in 1K/m);
    expect(out).toMatch(/^after: {2}runs in 1K/m);
    expect(runCli(['fit', 'large.bas'], { cwd: folder }).stdout.toString()).toMatch(
      /^runs : fits/m,
    );
    expect(text('large.bas')).toContain('LET T=T+127');
  });

  it('says what a saving takes again elsewhere', () => {
    file('again.bas', '10 PRINT 5*7+8\n');
    expect(lint(['--fix', '--dry-run', 'again.bas']).out).toMatch(
      /^again\.bas: 9 bytes saved by 3 changes, for 1K\nof that the program takes again while it runs: up to \d+ bytes in the workspace/m,
    );
  });

  it('says no where all savings are not enough', () => {
    file('huge.bas', `10 PRINT "${'X'.repeat(1500)}"\n20 PRINT 5\n`);
    const { status, out } = lint(['--fix', '--until-fits', '--dry-run', 'huge.bas']);
    expect(status).toBe(1);
    expect(out).toMatch(/^after: {2}does not load in 1K/m);
  });

  it('is named by no command any more once it can save nothing', () => {
    file('spent.bas', '10 DIM A(VAL "180")\n20 PRINT A(180)\n30 INPUT A\n');
    const told = (...args: string[]) => runCli([...args, 'spent.bas'], { cwd: folder }).stderr;
    expect(told('tokenise')).toContain('`listwright lint spent.bas --fix --until-fits`');
    expect(told('lint', '--fix', '--until-fits')).toContain('do:  no fix is left that saves more');
    for (const command of [['tokenise'], ['fit'], ['fit', '--rehearse'], ['rehearse']]) {
      const stderr = told(...command);
      expect(stderr).toMatch(/most is taken by A\(\) .*; what helps: a smaller DIM of A, or /);
      expect(stderr).not.toContain('--until-fits');
    }
  });
});
