import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT, runCli, scratchFolder } from '../support/run-cli.js';

describe('transcribe', () => {
  const cwd = scratchFolder();
  const run = (args: string[], input?: string) => {
    const result = runCli(['transcribe', ...args], { cwd, input });
    return { ...result, stdout: result.stdout.toString() };
  };

  it('writes the listing with what was changed, and says how much that was', () => {
    const { status, stdout, stderr } = run(['-'], '10 PR1NT “OAK”\n20 STOP\n');
    expect(status).toBe(0);
    expect(stdout).toBe(
      `' 10: “ read as " (0.99); ” read as " (0.99); PR1NT read as PRINT (0.98)\n10 PRINT "OAK"\n20 STOP\n`,
    );
    expect(stderr).toBe('<standard input>: 3 changes made, 0 questions left\n');
  });

  it('asks at the place in the print, with status 1', () => {
    const { status, stdout, stderr } = run(['-', '--no-comments'], '10 PRINT "{wobble}"\n');
    expect(status).toBe(1);
    expect(stdout).toBe('10 PRINT "[~?]"\n');
    expect(stderr).toContain('<standard input>:1:11: question: line 10: {wobble}: what is this?');
    expect(stderr).toContain('  why: a description of something that this tool does not know');
  });

  it('leaves a clean listing as it is', () => {
    const text = "' mine\n10  print  1\n";
    const { status, stdout, stderr } = run(['-'], text);
    expect([status, stdout]).toEqual([0, text]);
    expect(stderr).toContain('a clean listing already; nothing was changed');
  });

  it('writes the listing and the report to files, whole', () => {
    const page = join(ROOT, 'samples/pages/lamp-lottery.txt');
    const { status, stdout } = run([page, '-o', 'lamp.bas', '--report', 'lamp.html']);
    expect([status, stdout]).toEqual([1, '']);
    expect(readFileSync(join(cwd, 'lamp.bas'), 'utf8')).toContain('\n130 NEXT I\n');
    expect(readFileSync(join(cwd, 'lamp.html'), 'utf8')).toMatch(/^<!doctype html>/);
  });

  it('gives JSON with the place of every change, and spans of what came from the print', () => {
    const { stdout } = run(['-', '--format', 'json'], '10 STOP\n20 PR1NT 7\n');
    const { notes, text, spans } = JSON.parse(stdout);
    expect(notes).toMatchObject([
      { program: 20, line: 2, column: 4, from: 'PR1NT', to: 'PRINT', made: true },
    ]);
    // The comment is new; PRINT came from PR1NT, character for character.
    const last = text.indexOf('20 PRINT');
    expect(spans.at(-2)).toEqual({ start: last + 2 - 2, end: last + 2, from: 8, to: 10 });
    expect(spans.length).toBeLessThan(8);
  });

  it('makes only what is as sure as it is told', () => {
    const { status, stdout } = run(['-', '--sure', '1', '--no-comments'], '10 PR1NT 7\n');
    expect([status, stdout]).toEqual([1, '10 PR1NT 7\n']);
  });

  it.each([
    ['a certainty that is none', ['-', '--sure', '2']],
    ['a file that is not there', ['none.txt']],
    ['a folder that is not there', ['-', '--report', 'none/there.html']],
  ])('cannot be asked of %s', (_, args) => {
    const { status, stdout, stderr } = run(args, '10 STOP\n');
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).not.toMatch(/\bat .*:\d+:\d+\)/);
  });

  it('cannot be asked of what is no text', () => {
    writeFileSync(join(cwd, 'bytes.bin'), Uint8Array.of(0, 1, 2, 255));
    expect(run(['bytes.bin']).status).toBe(2);
  });
});
