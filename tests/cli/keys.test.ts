import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli, scratchFolder } from '../support/run-cli.js';

describe('keys', () => {
  const cwd = scratchFolder();
  writeFileSync(join(cwd, 'lamp.bas'), '10 PRINT "LAMP"\n20 GOTO 10\n');
  const run = (args: string[], input?: string) => {
    const result = runCli(args, { cwd, input });
    return { ...result, stdout: result.stdout.toString() };
  };

  it('shows the keys line by line, with the count of each line and of all', () => {
    const { status, stdout } = run(['keys', 'lamp.bas']);
    expect(status).toBe(0);
    expect(stdout).toBe(
      [
        '10 PRINT "LAMP"',
        '  K  1  0  P=PRINT',
        '  L  shift P="  L  A  M  P  shift P="  NEWLINE',
        '     10 presses',
        '',
        '20 GOTO 10',
        '  K  2  0  G=GOTO',
        '  L  1  0  NEWLINE',
        '     6 presses',
        '',
        '2 lines, 16 presses, 2 of them with SHIFT held',
        '',
      ].join('\n'),
    );
  });

  it('gives JSON with places, and a page', () => {
    const { stdout } = run(['keys', 'lamp.bas', '--format', 'json']);
    const { lines, total } = JSON.parse(stdout);
    expect(total).toBe(16);
    expect(lines[1]).toMatchObject({ number: 20, line: 2, column: 1, count: 6 });
    run(['keys', 'lamp.bas', '--format', 'html', '-o', 'lamp.html']);
    expect(readFileSync(join(cwd, 'lamp.html'), 'utf8')).toMatch(/^<!doctype html>/);
  });

  it('says which keys are never pressed, with status 1', () => {
    const { status, stdout } = run(['keys', '--cover', 'lamp.bas']);
    expect(status).toBe(1);
    expect(stdout).toContain('10 of 40 keys are pressed; never pressed: 3 4 5 6 7 8 9 Q W E');
  });

  it('says what no key gives, at its place, with status 1', () => {
    const { status, stderr, stdout } = run(['keys', '-'], '10 REM A[43]\n');
    expect(status).toBe(1);
    expect(stderr).toContain('<standard input>:1:1: warning: line 10: no key gives code 67');
    expect(stdout).toContain('  L  A  NEWLINE');
  });

  it('shows no keys for a listing with errors', () => {
    const { status, stderr, stdout } = run(['keys', '-'], '10 PRIMT A\n');
    expect([status, stdout]).toEqual([1, '']);
    expect(stderr).toContain('<standard input>:1:4: error:');
  });

  it('cannot be asked of a file that is not there, nor in a form that is none', () => {
    expect(run(['keys', 'none.bas']).status).toBe(2);
    expect(run(['keys', 'lamp.bas', '--format', 'xml']).status).toBe(2);
    expect(run(['keys', 'lamp.bas', '--cover', '--format', 'html']).status).toBe(2);
  });
});
