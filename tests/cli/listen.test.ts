/** `recover --listen`, with a recorder that plays a recording through a pipe. */
import { spawn } from 'node:child_process';
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

import { recoverPrograms } from '../../src/tape/recover.js';
import { recordPrograms } from '../../src/tape/writing/record.js';
import { LAUNCHER, runCli, scratchFolder } from '../support/run-cli.js';
import { drawImage } from '../tape/images.js';

const folder = scratchFolder();
const path = (name: string) => join(folder, name);
const programs = [Uint8Array.of(52, 38, 48), Uint8Array.of(42, 49, 50)].map((name, i) => ({
  name,
  image: drawImage(i + 1, 30),
}));
const tape = (options = {}) =>
  recordPrograms(programs, { rate: 44100, lead: 0.4, gap: 1.5, tail: 0.3, ...options }).subarray(
    44,
  );
writeFileSync(path('tape.raw'), tape());
writeFileSync(path('soft.raw'), tape({ level: 0.02 }));

let made = 0;
/** A search path with one recorder, which does what a script of Node says; `sound` is the tape. */
function withRecorder(name: string, script: string): Record<string, string> {
  const bin = path(`bin-${++made}`);
  mkdirSync(bin);
  const play = `const { readFileSync } = require('node:fs');
    const sound = readFileSync(${JSON.stringify(path('tape.raw'))});
    const silence = (seconds) => Buffer.alloc(2 * 44100 * seconds);
    const say = (bytes) => process.stdout.write(bytes);
    process.stdout.on('error', () => process.exit(0));`;
  writeFileSync(join(bin, name), `#!${process.execPath}\n${play}\n${script}`);
  chmodSync(join(bin, name), 0o755);
  return { PATH: bin };
}

/** Runs in a folder of its own, and says what it left there. */
function listen(args: readonly string[], env: Record<string, string>) {
  const cwd = path(`run-${++made}`);
  mkdirSync(cwd);
  const result = runCli(['recover', '--listen', ...args], { cwd, env });
  expect(result.stderr).not.toMatch(/\n\s+at /);
  const image = (name: string, i: number) =>
    Buffer.from(programs[i].image).equals(readFileSync(join(cwd, name)));
  return { ...result, cwd, image, left: readdirSync(cwd).sort() };
}

const ENDLESS =
  'say(sound); const go = () => setTimeout(() => { say(silence(1)); go(); }, 5); go();';

describe.skipIf(process.platform === 'win32')('recover --listen', () => {
  it('tells each program as it ends, and stops by itself after the last', () => {
    const { status, stdout, stderr, left, image } = listen([], withRecorder('arecord', ENDLESS));
    expect(status).toBe(0);
    expect(left).toEqual(['heard-2.img', 'heard.img']);
    expect(image('heard.img', 0) && image('heard-2.img', 1)).toBe(true);
    expect(stderr).toMatch(/level: good[\s\S]*heard "OAK", \d+ bytes, no byte in doubt\n/);
    expect(stderr).toMatch(/heard "ELM", \d+ bytes/);
    expect(stdout.toString()).toMatch(/heard\.img: "OAK", \d+ bytes, .* of the line in/);
  });

  it('keeps the sound with --save, and the picture is drawn of that', () => {
    const args = ['--save', 'tape.wav', '--svg', 'tape.svg'];
    const { status, left, cwd, stderr } = listen(args, withRecorder('rec', ENDLESS));
    expect(status).toBe(0);
    expect(left).toEqual(['tape-2.img', 'tape.img', 'tape.svg', 'tape.wav']);
    expect(stderr).toMatch(/tape\.wav: \d+ s of sound kept/);
    const { notes, programs: again } = recoverPrograms(readFileSync(join(cwd, 'tape.wav')));
    expect(notes).toEqual([]);
    expect(again.map((one) => one.image)).toEqual(programs.map((one) => one.image));
  });

  it('says that it is too quiet, and reads it all the same', () => {
    const soft = ENDLESS.replace('sound', `readFileSync(${JSON.stringify(path('soft.raw'))})`);
    const { status, stderr } = listen([], withRecorder('arecord', soft));
    expect(stderr).toMatch(/level: too quiet: turn it up/);
    expect(status).toBe(0);
  });

  it('keeps what was heard where the recorder fails on its way: exit status 1', () => {
    const script = `process.stdout.write(sound, () => process.stdout.write(silence(1), () => {
      process.stderr.write('device unplugged'); process.exitCode = 3; }));`;
    const { status, stderr, image } = listen([], withRecorder('parec', script));
    expect(stderr).toMatch(/warning: the recorder ended by itself: parec: device unplugged/);
    expect(image('heard.img', 0) && image('heard-2.img', 1)).toBe(true);
    expect(status).toBe(1);
  });

  it.each([
    ['no recorder', undefined, /no recorder was found .*looked for parec, arecord, rec/],
    [
      'a device that is busy',
      `process.stderr.write('arecord: audio open error: Device or resource busy'); process.exitCode = 1;`,
      /nothing was heard: arecord: arecord: audio open error: Device or resource busy/,
    ],
    [
      'a recorder without a word',
      'process.exitCode = 4;',
      /nothing was heard: arecord: it ended with 4/,
    ],
    ['silence that ends', 'say(silence(3));', /there is no program in this recording/],
  ])('%s: exit status 2, and nothing is left', (_, script, message) => {
    const env = script === undefined ? { PATH: folder } : withRecorder('arecord', script);
    const { status, stderr, left } = listen(['-o', 'x.img'], env);
    expect(stderr).toMatch(message);
    expect(stderr).toMatch(/ {2}do: {2}/);
    expect(status).toBe(2);
    expect(left).toEqual([]);
  });

  it.each([
    [['recover'], /there is no recording to read/],
    [['recover', 'x.wav', '--save', 'y.wav'], /--save keeps what --listen hears/],
    [['recover', '--listen', '--save', '-'], /--save cannot write to standard output/],
    [['recover', '--listen', '--svg', 'x.svg'], /the tape plays only once/],
  ])('%s is refused', (args, message) => {
    const { status, stderr } = runCli(args, { cwd: folder });
    expect(stderr).toMatch(message);
    expect(status).toBe(2);
  });

  it('Ctrl-C ends it, and what was heard is written', async () => {
    // Sound as it comes from a tape, without end, and the recorder’s end is seen.
    const ends = path('recorder-ended');
    const script = `process.on('exit', () => require('node:fs').writeFileSync(${JSON.stringify(ends)}, ''));
      process.on('SIGTERM', () => process.exit(0));
      say(sound); const go = () => setTimeout(() => { say(Buffer.alloc(8820, 32)); go(); }, 20); go();`;
    const cwd = path(`run-${++made}`);
    mkdirSync(cwd);
    const child = spawn(process.execPath, [LAUNCHER, 'recover', '--listen', '--save', 'a.wav'], {
      cwd,
      env: { ...process.env, ...withRecorder('arecord', script) },
    });
    let said = '';
    child.stderr.on('data', (piece: Buffer) => {
      said += piece;
    });
    const status = new Promise((resolve) => {
      child.on('close', (code, signal) => resolve(code ?? signal));
    });
    await expect.poll(() => said, { timeout: 20_000 }).toMatch(/heard "ELM"/);
    child.kill('SIGINT');
    expect(await status).toBe(0);
    expect(readdirSync(cwd).sort()).toEqual(['a-2.img', 'a.img', 'a.wav']);
    await expect.poll(() => existsSync(ends), { timeout: 10_000 }).toBe(true);
  }, 40_000);

  it('Ctrl-C ends it at once, also while the recorder gives nothing and does not end', async () => {
    const begins = path('recorder-begun');
    // It goes on long after its time, unless somebody takes it away.
    const script = `process.on('SIGTERM', () => setTimeout(() => process.exit(0), 3000));
      require('node:fs').writeFileSync(${JSON.stringify(begins)}, ''); setTimeout(() => {}, 9000);`;
    const cwd = path(`run-${++made}`);
    mkdirSync(cwd);
    const child = spawn(process.execPath, [LAUNCHER, 'recover', '--listen', '--save', 'a.wav'], {
      cwd,
      env: { ...process.env, ...withRecorder('arecord', script) },
    });
    const status = new Promise((resolve) => {
      child.on('exit', (code, signal) => resolve(code ?? signal));
    });
    await expect.poll(() => existsSync(begins), { timeout: 20_000 }).toBe(true);
    const asked = Date.now();
    child.kill('SIGINT');
    expect(await status).toBe(2);
    // Ten times what it may take.
    expect(Date.now() - asked).toBeLessThan(1000);
    expect(readdirSync(cwd)).toEqual([]);
  }, 40_000);
});
