import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { buildImage } from '../../src/image/build.js';
import { readListing } from '../../src/listing/read.js';
import { runCli, scratchFolder } from '../support/run-cli.js';

describe('rehearse', () => {
  const cwd = scratchFolder();
  const put = (name: string, text: string | Uint8Array) => writeFileSync(join(cwd, name), text);
  const run = (args: readonly string[], input?: string) => {
    const result = runCli(['rehearse', ...args], { cwd, input });
    return { ...result, stdout: result.stdout.toString() };
  };
  put('lamp.bas', '10 FOR N=1 TO 3\n20 PRINT N;"[~X]▘"\n30 NEXT N\n40 STOP\n50 PRINT\n');
  put('ask.bas', '10 INPUT A\n20 INPUT B$\n30 PRINT B$;A*2\n');
  put('key.bas', '10 IF INKEY$="" THEN GOTO 10\n20 PRINT INKEY$\n');
  put('fails.bas', '10 PRINT 1/0\n');
  put('bytes.txt', Uint8Array.of(0xff, 0x41));
  put('empty.txt', '');
  put('wrong.bas', '10 PRINT (1\n');

  it('shows the screen in a frame, the report, the room and the lines not run', () => {
    const { status, stdout, stderr } = run(['lamp.bas']);
    expect(status).toBe(0);
    expect(stderr).toMatch(/^lamp\.bas: runs in 1K, \d+ bytes to spare\n$/);
    const lines = stdout.split('\n');
    expect(lines[0]).toBe(`┌${'─'.repeat(32)}┐`);
    expect(lines[1]).toBe(`│${'1X▘'.padEnd(32)}│`);
    expect(lines[24]).toBe(`│${'9/40'.padEnd(32)}│`);
    expect(lines[25]).toBe(`└${'─'.repeat(32)}┘`);
    expect(stdout).toContain('inverse video: row 0 column 1; row 1 column 1; row 2 column 1');
    expect(stdout).toContain('report 9/40, STOP: the program came to STOP');
    expect(stdout).toMatch(/8 statements run, in 44 frames by count \(about .+\)/);
    expect(stdout).toMatch(/most memory: \d+ of 1024 bytes, in line \d+, \d+ bytes to spare/);
    expect(stdout).toContain('variables: N 18');
    expect(stdout).toContain('lines never run: 50');
  });

  it('types CONT after a report, and warns of what only looks like a whole number', () => {
    put('goes-on.bas', '10 PRINT "A"\n20 STOP\n30 PRINT INT (.57*100)\n');
    const { status, stdout, stderr } = run(['goes-on.bas', '--cont', '1']);
    expect(status).toBe(0);
    expect(stdout.split('\n')[1]).toBe(`│${'56'.padEnd(32)}│`);
    expect(stdout).toContain('report 0/30');
    expect(stdout).toContain('every line was run');
    expect(stderr).toContain('warning: in line 30: INT of a number that prints as 57 is 56');
    expect(run(['goes-on.bas', '--cont', '-1']).status).toBe(2);
  });

  it('gives JSON in the stated form', () => {
    const { status, stdout } = run(['lamp.bas', '--format', 'json']);
    expect(status).toBe(0);
    const result = JSON.parse(stdout);
    expect(result).toMatchObject({
      report: { code: '9', line: 40 },
      statements: 8,
      frames: 44,
      seconds: expect.any(Number),
      peak: { line: expect.any(Number), bytes: expect.any(Number), spare: expect.any(Number) },
      printer: [],
      unrun: [50],
      outcome: 'stopped',
      verdict: { is: 'runs', ram: 1024, basis: 'bounds' },
      rehearsed: { is: 'runs', ram: 1024, basis: 'rehearsal' },
      diagnostics: [],
    });
    expect(result.peak.bytes + result.peak.spare).toBe(1024);
    expect(result.screen).toHaveLength(24);
    expect(result.screen[1]).toBe('2[~X]▘');
    expect(result.screen[23]).toBe('9/40');
  });

  it('tells with --profile where the time goes, and draws it', () => {
    const { status, stdout } = run(['lamp.bas', '--profile', '--svg', join(cwd, 'time.svg')]);
    expect(status).toBe(0);
    expect(stdout).toMatch(/line\s+runs\s+time\s+part\n\s+\d+\s+\d+\s+[\d.]+ s\s+\d+ %\s+█+/);
    const svg = readFileSync(join(cwd, 'time.svg'), 'utf8');
    expect(svg).toContain('Where the time of LAMP goes');
    const { profile } = JSON.parse(run(['lamp.bas', '--profile', '--format', 'json']).stdout);
    expect(profile[0]).toMatchObject({ line: 10, runs: 1, seconds: expect.any(Number) });
  });

  it('is the same every time', () => {
    expect(run(['lamp.bas']).stdout).toBe(run(['lamp.bas']).stdout);
  });

  it('has status 1 for a report of an error, and says why and what to do', () => {
    const { status, stdout } = run(['fails.bas']);
    expect(status).toBe(1);
    expect(stdout).toContain('report 6/10, arithmetic overflow: 1/0: a division by zero');
    expect(stdout).toContain('do:');
  });

  it('has status 1 for a listing with errors, with their places', () => {
    const { status, stdout, stderr } = run(['wrong.bas']);
    expect([status, stdout]).toEqual([1, '']);
    expect(stderr).toContain('wrong.bas:1:');
    expect(stderr).toContain('only a program without errors can be rehearsed');
  });

  it('takes values for INPUT from options and from a file', () => {
    put('values.txt', '21\nOAK\n');
    const first = run(['ask.bas', '--input', '21', '--input', 'oak']);
    const second = run(['ask.bas', '--inputs', 'values.txt']);
    expect(first.stdout).toContain('│OAK42 ');
    expect(second.stdout).toBe(first.stdout);
    const third = run(['ask.bas', '--inputs', '-'], '21\nOAK');
    expect(third.stdout).toBe(first.stdout);
  });

  it('has status 2 where a value is missing or would not be taken', () => {
    const missing = run(['ask.bas', '--input', '21']);
    expect(missing.status).toBe(2);
    expect(missing.stdout).toContain('INPUT waits for a string, and only 1 given');
    expect(missing.stdout).toContain('│"L" ');
    const empty = run(['ask.bas', '--inputs', 'empty.txt']);
    expect(empty.stdout).toContain('INPUT waits for a number, and none is given');
    const refused = run(['ask.bas', '--input', '2+']);
    expect(refused.status).toBe(2);
    expect(refused.stdout).toContain('INPUT would not take value 1, "2+"');
  });

  it('presses keys, and says when it waits for one', () => {
    expect(run(['key.bas', '--keys', 'SHIFT+P']).stdout).toContain('│" ');
    const waits = run(['key.bas', '--statements', '3000']);
    expect(waits.status).toBe(0);
    expect(waits.stdout).toContain('it waits for a key');
    expect(run(['key.bas', '--keys', '40:BREAK']).stdout).toContain('report D/10, BREAK');
  });

  it('traces lines and values on standard error', () => {
    const { stderr } = run(['lamp.bas', '--trace']);
    expect(stderr.split('\n').slice(1, 4)).toEqual(['  10  N = 1', '  20', '  30  N = 2']);
  });

  it('draws the screen and the ledger', () => {
    run(['lamp.bas', '--svg', 'lamp.svg', '--ledger', 'ledger.svg']);
    const read = (name: string) => readFileSync(join(cwd, name), 'utf8');
    expect(read('lamp.svg')).toMatch(
      /^<svg [\s\S]*<title>The screen of LAMP<\/title>[\s\S]*<\/svg>\n$/,
    );
    expect(read('ledger.svg')).toContain('The room left while LAMP runs');
    const { stdout, stderr } = run(['lamp.bas', '--svg', '-']);
    expect(stdout).toBe(read('lamp.svg'));
    expect(stderr).toContain('report 9/40');
  });

  it('rehearses an image; one that starts by itself keeps its variables', () => {
    const text = '.var A = 5\n.start 20\n10 STOP\n20 PRINT A\n';
    put('auto.img', buildImage(readListing(text).listing).image!);
    expect(run(['auto.img']).stdout).toContain('│5 ');
    put('waits.img', buildImage(readListing(text.replace('.start 20\n', '')).listing).image!);
    expect(run(['waits.img']).stdout).toContain('report 9/10');
  });

  it('says in which line something is otherwise than on the machine', () => {
    put('rom.bas', '10 PRINT PEEK 5\n20 PRINT USR 16514\n');
    const stopped = run(['rom.bas']);
    expect(stopped.status).toBe(1);
    expect(stopped.stderr).toContain('rom.bas: warning: in line 10: PEEK 5 reads the ROM');
    expect(stopped.stdout).toContain('ended in line 20 without a report: USR 16514');
    const given = run(['rom.bas', '--usr', '3']);
    expect(given.status).toBe(0);
    expect(given.stdout).toContain('│3 ');
  });

  it.each([
    [['missing.bas'], 'no such file'],
    [['lamp.bas', '--keys', 'HELLO'], 'HELLO is no key'],
    [['lamp.bas', '--statements', 'many'], 'whole number'],
    [['lamp.bas', '--frames', '-1'], 'whole number'],
    [['lamp.bas', '--seed', '65536'], 'from 0 to 65535'],
    [['lamp.bas', '--usr', 'x'], 'whole number'],
    [['lamp.bas', '--ram', '5M'], '--ram'],
    [['lamp.bas', '--inputs', 'nothing.txt'], 'nothing.txt'],
    [['ask.bas', '--inputs', 'bytes.txt'], 'bytes.txt: the values are not UTF-8'],
    [['lamp.bas', '--svg', '-', '--ledger', '-'], 'standard output'],
    [['-', '--inputs', '-'], 'standard input'],
    [['lamp.bas', '--format', 'xml'], 'format'],
  ])('%j cannot be asked', (args, words) => {
    const { status, stdout, stderr } = run(args);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(words);
    expect(stderr).not.toMatch(/\n\s+at /);
  });

  it('leaves no file behind where it cannot write', () => {
    const { status, stderr } = run(['lamp.bas', '--svg', 'nowhere/lamp.svg']);
    expect(status).toBe(2);
    expect(stderr).toContain('nowhere/lamp.svg');
    expect(existsSync(join(cwd, 'nowhere'))).toBe(false);
  });

  it('takes 1K or 16K as it is told', () => {
    put('large.bas', '10 DIM A(500)\n20 PRINT PEEK 16388+256*PEEK 16389\n');
    expect(run(['large.bas']).status).toBe(1);
    const { stdout } = run(['large.bas', '--ram', '16K']);
    expect(stdout).toContain('│32768 ');
  });

  it('prints a strip for LPRINT', () => {
    put('strip.bas', '10 LPRINT "OAK"\n');
    expect(run(['strip.bas']).stdout).toContain('printed:\n┆OAK                             ┆');
  });
});
