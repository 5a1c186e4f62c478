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
      /open\.bas: warning: may run in 1K: \d+ bytes to spare at best, no bound at worst\n {2}do: /,
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

describe('what is shown', () => {
  it('is JSON of the described shape', () => {
    const json = JSON.parse(ask(small, '--format', 'json').out);
    expect(Object.keys(json)).toEqual([
      'ram',
      'image',
      'areas',
      'lines',
      'variables',
      'loads',
      'runs',
      'verdict',
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
