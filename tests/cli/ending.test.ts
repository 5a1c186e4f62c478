/** An end in the middle: quiet, at once, and nothing half-written is left. */
import { spawn, spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { LAUNCHER, runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();

/** A folder of its own with a listing in it. */
function place(name: string, listing: string): string {
  const path = join(folder, name);
  mkdirSync(path);
  writeFileSync(join(path, 'lamp.bas'), listing);
  return path;
}

interface End {
  readonly signal: NodeJS.Signals | null;
  /** Milliseconds from the signal to the end. */
  readonly took: number;
  readonly stderr: string;
}

/** Runs, sends a signal as soon as `ready`, which sees what was said, and waits for the end. */
function ended(
  args: readonly string[],
  cwd: string,
  signal: NodeJS.Signals,
  ready: (stderr: string) => boolean,
  env: Record<string, string> = {},
): Promise<End> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [LAUNCHER, ...args], {
      cwd,
      env: { ...process.env, ...env },
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    let stderr = '';
    let sent = 0;
    child.stderr.on('data', (piece: Buffer) => {
      stderr += piece;
    });
    const timer = setInterval(() => {
      if (sent > 0 || !ready(stderr)) return;
      sent = Date.now();
      child.kill(signal);
    }, 5);
    child.on('exit', (_, by) => {
      clearInterval(timer);
      if (sent === 0) reject(new Error(`it ended before it was ready: ${stderr}`));
      else resolve({ signal: by, took: Date.now() - sent, stderr });
    });
  });
}

/** Ten times what it may take: the machine that tests has other work. */
const SOON = 1000;
const LARGE = ['record', 'lamp.bas', '--lead', '900', '--rate', '192000', '--bits', '24'];
const isWriting = (path: string) => () => readdirSync(path).some((name) => /\.part$/.test(name));

describe.skipIf(process.platform === 'win32')('a signal', () => {
  it.each(['SIGINT', 'SIGTERM', 'SIGHUP'] as const)(
    '%s while a file is written leaves nothing of it',
    async (name) => {
      const path = place(`written-${name}`, '10 CLS\n');
      writeFileSync(join(path, 'lamp.wav'), 'before');
      const { signal, took, stderr } = await ended(LARGE, path, name, isWriting(path));
      expect([signal, stderr]).toEqual([name, '']);
      expect(took).toBeLessThan(SOON);
      expect(readdirSync(path).sort()).toEqual(['lamp.bas', 'lamp.wav']);
      expect(readFileSync(join(path, 'lamp.wav'), 'utf8')).toBe('before');
    },
    20_000,
  );

  it.each(['SIGINT', 'SIGTERM'] as const)(
    '%s in a long computation ends it at once',
    async (name) => {
      const path = place(`computed-${name}`, '10 PRINT "A"\n20 COPY\n30 CLS\n40 GOTO 10\n');
      const args = ['rehearse', 'lamp.bas', '--trace', '--statements', '1000000000'];
      // The trace has begun.
      const ready = (stderr: string) => /^ +10$/m.test(stderr);
      const { signal, took } = await ended(args, path, name, ready);
      expect(signal).toBe(name);
      expect(took).toBeLessThan(SOON);
      expect(readdirSync(path)).toEqual(['lamp.bas']);
    },
    20_000,
  );

  it.each(['SIGINT', 'SIGTERM'] as const)('%s ends the page that is served', async (name) => {
    const path = place(`served-${name}`, '10 CLS\n');
    const serves = (stderr: string) => stderr.includes('Control and C end it');
    const { signal, took } = await ended(['page', '--port', '0'], path, name, serves);
    expect(signal).toBe(name);
    expect(took).toBeLessThan(SOON);
  });

  it('SIGTERM while it plays ends the player too, and leaves no sound behind', async () => {
    const path = place('played', '10 CLS\n');
    const players = join(path, 'players');
    const sounds = join(path, 'sounds');
    mkdirSync(players);
    mkdirSync(sounds);
    const player = join(players, 'aplay');
    writeFileSync(
      player,
      `#!/bin/sh\ntrap 'echo > "${path}/player-ended"; exit' TERM\necho > "${path}/plays"\nwhile :; do /bin/sleep 0.05; done\n`,
    );
    chmodSync(player, 0o755);
    const { signal, took } = await ended(
      ['record', 'lamp.bas', '--play'],
      path,
      'SIGTERM',
      () => existsSync(join(path, 'plays')),
      { PATH: players, TMPDIR: sounds },
    );
    expect(signal).toBe('SIGTERM');
    expect(took).toBeLessThan(SOON);
    expect(readdirSync(sounds)).toEqual([]);
    await expect.poll(() => existsSync(join(path, 'player-ended')), { timeout: SOON }).toBe(true);
  }, 20_000);

  it('that kills outright leaves a part, which the next run takes away', async () => {
    const path = place('killed', '10 CLS\n');
    await ended(LARGE, path, 'SIGKILL', isWriting(path));
    const left = readdirSync(path).filter((name) => name.endsWith('.part'));
    expect(left).toHaveLength(1);
    // Of a run that goes on, and of a file that only looks alike, nothing is taken.
    const others = [`.lamp.wav.${process.pid}-1.part`, '.lamp.wav.mine.part'];
    for (const name of others) writeFileSync(join(path, name), '');
    expect(runCli(['record', 'lamp.bas'], { cwd: path }).status).toBe(0);
    expect(readdirSync(path).sort()).toEqual([...others, 'lamp.bas', 'lamp.wav'].sort());
  }, 20_000);
});

describe.skipIf(process.platform === 'win32')('a pipe whose reader goes away', () => {
  it.each([
    ['keys lamp.bas', 'a long text'],
    ['fit lamp.bas --format json', 'JSON'],
    ['lint lamp.bas', 'findings'],
    ['record lamp.bas -o -', 'sound'],
  ])('ends `%s` quietly', (command) => {
    const path = join(folder, `piped-${command.split(' ')[0]}`);
    mkdirSync(path);
    const lines = Array.from({ length: 900 }, (_, at) => `${at + 1} PRINT AT 0,0;${at}.50\n`);
    writeFileSync(join(path, 'lamp.bas'), `.ram 48K\n${lines.join('')}`);
    const script = `set -o pipefail; "${process.execPath}" "${LAUNCHER}" ${command} | head -c 10 >/dev/null; echo $?`;
    const { stdout, stderr } = spawnSync('bash', ['-c', script], { cwd: path, encoding: 'utf8' });
    expect(stderr).toBe('');
    expect(Number(stdout)).toBeLessThan(2);
    expect(readdirSync(path)).toEqual(['lamp.bas']);
  });
});

describe.skipIf(!existsSync('/dev/full'))('a full disk', () => {
  it.each([
    ['tokenise', ['tokenise', 'lamp.bas', '-o', '/dev/full']],
    ['record', ['record', 'lamp.bas', '-o', '/dev/full']],
    ['fit --svg', ['fit', 'lamp.bas', '--svg', '/dev/full']],
  ])('is said by %s: exit status 2', (name, args) => {
    const path = place(`full-${name}`, '10 CLS\n');
    const { status, stderr } = runCli(args, { cwd: path });
    expect(stderr).toMatch(
      /\/dev\/full: cannot be written: the disk is full\n {2}do: {2}nothing was changed/,
    );
    expect(status).toBe(2);
    expect(readdirSync(path)).toEqual(['lamp.bas']);
  });
});
