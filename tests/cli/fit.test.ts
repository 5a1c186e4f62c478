/** `fit`: the verdict as an exit status, the table, JSON and the picture. */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT, runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const file = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};
const small = file('small.bas', '10 PRINT "OAK"\n');
const large = file('large.bas', `10 REM ${'X'.repeat(1500)}\n`);
const open = file('open.bas', '10 LET A$=""\n20 LET A$=A$+"X"\n30 GOTO 20\n');
const wrong = file('wrong.bas', '10 PRIMT "OAK"\n');

function ask(...args: string[]) {
  const { status, stdout, stderr } = runCli(['fit', ...args], { cwd: folder });
  return { status, out: stdout.toString(), stderr };
}

describe('the exit status', () => {
  it('is 0 for what fits, and for what is tight, with a warning', () => {
    expect(ask(small)).toMatchObject({ status: 0, stderr: '' });
    const tight = ask(open);
    expect(tight.status).toBe(0);
    expect(tight.stderr).toMatch(
      /open\.bas: warning: may run in 1K: \d+ bytes to spare at best, no bound at worst; a loop was .* pass 301 \(line 30\)\n {2}do: /,
    );
  });

  it('is 1 for what does not fit, with how much it is over', () => {
    const { status, out } = ask(large);
    expect(status).toBe(1);
    expect(out).toMatch(/^runs : does not fit, at least \d+ bytes over/m);
    expect(ask(large, '--ram', '16K').status).toBe(0);
  });

  it('is 1 for a listing with errors, and says them', () => {
    const { status, stderr, out } = ask(wrong);
    expect(status).toBe(1);
    expect(out).toBe('');
    expect(stderr).toMatch(/wrong\.bas:1:4: error:/);
  });

  it.each([
    [['none.bas'], /cannot be read/],
    [[small, '--ram', '64K'], /--ram/],
    [[small, '--by', 'moon'], /--by/],
    [[small, '--svg', 'no/such/folder.svg'], /cannot be written/],
  ])('is 2 for %s', (args, message) => {
    const { status, stderr } = ask(...args);
    expect(status).toBe(2);
    expect(stderr).toMatch(message);
    expect(stderr).not.toMatch(/\n\s+at .+:\d+/);
  });
});

describe('a run that is measured', () => {
  const asks = file(
    'asks.bas',
    '10 LET A$=""\n20 INPUT B$\n30 IF B$="" THEN STOP\n40 LET A$=A$+B$\n50 GOTO 20\n',
  );
  const grows = file(
    'grows.bas',
    '10 LET A$=""\n15 LET N=0\n20 LET A$=A$+"X"\n25 LET N=N+1\n30 IF TAN (N/60)<.9 THEN GOTO 20\n',
  );
  const code = file('code.bas', '10 LET A$=""\n20 LET A$=A$+STR$ USR 4\n30 GOTO 20\n');
  const chance = file('chance.bas', '10 LET A$=""\n20 LET A$=A$+STR$ RND\n30 GOTO 20\n');
  const room = (...args: string[]) => JSON.parse(ask(...args, '--format', 'json').out).verdict;

  it('settles by itself what the bounds leave open, where no person is needed', () => {
    const { status, out, stderr } = ask(grows);
    expect([status, stderr]).toEqual([0, '']);
    expect(out).toMatch(/^runs : tight, /m);
    expect(out).toMatch(
      /^runs in 1K, \d+ bytes to spare, as rehearsed\n {2}the bounds leave it open; by a rehearsal/m,
    );
    expect(room(grows)).toMatchObject({ is: 'runs', basis: 'rehearsal' });
    expect(room(asks)).toMatchObject({ is: 'may run', basis: 'bounds' });
  });

  it.each([
    [[asks], /INPUT waits .* --input VALUE/, 20],
    [[asks, '--input', 'OAK'], /INPUT waits .* only 1 given/, 20],
    [[code], /USR 4 .* --usr VALUE/, 20],
    [[code, '--usr', '1', '--statements', '50'], /limit of 50 statements.*--statements/, 20],
    [[chance, '--statements', '9', '--seed', '5'], /limit of 9 statements/, 30],
    [[open, '--statements', '9'], /limit of 9 statements/, 30],
  ])('is never more than as far as it ran: %j', (args, why, line) => {
    const { status, out, stderr } = ask(...args, '--rehearse');
    expect(status).toBe(0);
    expect(out).toMatch(/^may run in 1K: as far as it ran, up to line \d+, \d+ bytes to spare$/m);
    expect(stderr.replaceAll('\n', ' ')).toMatch(why);
    expect(room(...args, '--rehearse')).toMatchObject({ is: 'may run', upToLine: line });
  });

  it('takes all that rehearse takes, and is meant where any of it is given', () => {
    const { status, out, stderr } = ask(asks, '--input', 'OAK', '--input', '');
    expect([status, stderr]).toEqual([0, '']);
    expect(out).toMatch(/^runs in 1K, \d+ bytes to spare, as rehearsed$/m);
    writeFileSync(join(folder, 'values.txt'), 'OAK\n\n');
    expect(room(asks, '--inputs', 'values.txt')).toEqual(
      room(asks, '--input', 'OAK', '--input', ''),
    );
    const keys = file('keys.bas', '10 IF INKEY$="" THEN GOTO 10\n20 LET A$=INKEY$+STR$ RND\n');
    expect(room(keys, '--frames', '200')).toMatchObject({ is: 'may run', upToLine: 10 });
    expect(room(keys, '--keys', '5:A')).toMatchObject({ is: 'runs', basis: 'rehearsal' });
    const help = (command: string) =>
      runCli(['help', command])
        .stdout.toString()
        .match(/^ +--[a-z-]+/gm)!
        .map((flag) => flag.trim());
    const own = new Set(['--trace', '--ledger', '--profile']);
    expect(help('fit')).toEqual(
      expect.arrayContaining(help('rehearse').filter((flag) => !own.has(flag))),
    );
  });

  it('names what is largest where it ran out of room, as rehearse does', () => {
    const full = ['--inputs', 'long.txt'];
    writeFileSync(join(folder, 'long.txt'), `${'X'.repeat(60)}\n`.repeat(9));
    const words = /no fix is left .*; most is taken by A\$ \(\d+ bytes, line 40\).*; what helps: /;
    const bare = file('bare.bas', '10 LET A$=""\n20 INPUT B$\n40 LET A$=A$+B$\n50 GOTO CODE "="\n');
    const { status, stderr } = ask(bare, '--rehearse', ...full);
    expect(status).toBe(1);
    expect(stderr).toMatch(words);
    const run = runCli(['rehearse', bare, ...full], { cwd: folder });
    expect(run.status).toBe(1);
    expect(run.stderr).toMatch(words);
  });

  it('is told by rehearse with the same number', () => {
    const json = JSON.parse(
      runCli(['rehearse', grows, '--format', 'json'], { cwd: folder }).stdout.toString(),
    );
    expect(json.rehearsed).toMatchObject({ is: 'runs', spare: room(grows).spare });
  });
});

describe('what is shown', () => {
  it('is JSON of the described shape', () => {
    const json = JSON.parse(ask(small, '--format', 'json').out);
    expect(Object.keys(json)).toEqual([
      'file',
      'ram',
      'image',
      'areas',
      'lines',
      'variables',
      'loads',
      'runs',
      'verdict',
      'diagnostics',
    ]);
    expect(json).toMatchObject({ ram: 1024, lines: [{ number: 10, bytes: 11, hidden: 0 }] });
    expect(json.runs.verdict).toBe('fits');
  });

  it('is a picture in a file, or on standard output', () => {
    expect(ask(small, '--svg', 'map.svg').status).toBe(0);
    expect(readFileSync(join(folder, 'map.svg'), 'utf8')).toMatch(/^<svg /);
    expect(ask(small, '--svg', '-').out).toMatch(/^<svg [\s\S]*<\/svg>\n$/);
    expect(existsSync(join(folder, '-'))).toBe(false);
  });

  it('names the lines that make the bounds loose, the loosest first', () => {
    const loose = file(
      'loose.bas',
      '10 INPUT B$\n20 LET A$=A$+B$\n30 IF LEN A$>5 THEN LET C$=A$\n40 PRINT AT 5,RND*9;"*"\n50 GOTO 10\n',
    );
    const { out } = ask(loose);
    const rows = out.slice(out.indexOf('least and most differ')).trimEnd().split('\n').slice(1);
    expect(rows.slice(0, 4)).toEqual([
      expect.stringMatching(/^ {2}variables .* \(line 20\): A\$: nothing in the listing bounds/),
      expect.stringMatching(/^ {4}A\$ .* \(line 20\): /),
      expect.stringMatching(/^ {4}C\$ .* \(line 30\): /),
      expect.stringMatching(/^ {4}B\$ 3 to 35 \(line 10\): INPUT/),
    ]);
    expect(rows.at(-1)).toMatch(/^ {2}machine stack /);
  });

  it('is the same for a listing and for its image', () => {
    runCli(['tokenise', small, '-o', 'small.img'], { cwd: folder });
    const areas = (path: string) => JSON.parse(ask(path, '--format', 'json').out).areas;
    expect(areas('small.img')).toEqual(areas(small));
  });
});

describe('the samples', () => {
  const samples = readdirSync(join(ROOT, 'samples')).filter((name) => name.endsWith('.bas'));
  const json = (name: string, ram: string) =>
    JSON.parse(ask(join(ROOT, 'samples', name), '--ram', ram, '--format', 'json').out);

  it.each(samples)('%s: its verdicts follow from its areas at 1K, 2K and 16K', (name) => {
    for (const ram of ['1K', '2K', '16K']) {
      const { areas, runs, ram: bytes } = json(name, ram);
      const sum = (bound: 'low' | 'high'): number =>
        areas.reduce((all: number, area: Record<string, number>) => all + area[bound], 0);
      const verdict = sum('high') <= bytes ? 'fits' : sum('low') > bytes ? 'does not fit' : 'tight';
      expect(runs.verdict).toBe(verdict);
      expect(runs.spare).toBe(bytes - (verdict === 'does not fit' ? sum('low') : sum('high')));
    }
  });

  it('the programs for 16K do not fit 1K, and it is said how much they are over', () => {
    for (const name of ['loft.bas', 'stock-book.bas']) {
      expect(json(name, '16K').runs.verdict).toBe('fits');
      const { loads, runs } = json(name, '1K');
      expect([loads.verdict, runs.verdict]).toEqual(['does not fit', 'does not fit']);
      expect(runs.spare).toBeLessThan(-3000);
    }
  });
});
