/**
 * The table of DEVELOPERS.md, what is left by a command that ends in the middle, for every command
 * that writes files: kill, Ctrl-C, a full disk, a folder that can only be read, a closed pipe.
 */
import { spawnSync } from 'node:child_process';
import { chmodSync, cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LAUNCHER, ROOT, runCli, runMany, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const inputs = join(folder, 'inputs');
const PRELOAD = join(ROOT, 'tests', 'support', 'end-in-middle.cjs');

/** A command line, and the files that it writes, the first of them first. */
interface Writer {
  readonly args: readonly string[];
  readonly writes: readonly string[];
}

/** The first of each kind of writing; the others write by the same functions. */
const FEW: Writer[] = [
  { args: ['tokenise', 'lamp.bas'], writes: ['lamp.img'] },
  { args: ['lint', '--fix', 'lamp.bas'], writes: ['lamp.bas'] },
  { args: ['record', 'lamp.bas'], writes: ['lamp.wav'] },
];
const MORE: Writer[] = [
  { args: ['detokenise', 'oak.img', '-o', 'oak.bas'], writes: ['oak.bas'] },
  { args: ['fit', 'lamp.bas', '--svg', 'fit.svg'], writes: ['fit.svg'] },
  { args: ['rehearse', 'lamp.bas', '--svg', 'end.svg'], writes: ['end.svg'] },
  { args: ['rehearse', 'lamp.bas', '--ledger', 'ledger.svg'], writes: ['ledger.svg'] },
  { args: ['recover', 'oak.wav', '-o', 'oak-2.img'], writes: ['oak-2.img'] },
  {
    args: ['recover', 'oak.wav', '-o', 'oak-2.img', '--svg', 'heard.svg'],
    writes: ['oak-2.img', 'heard.svg'],
  },
  { args: ['format', 'lamp.bas'], writes: ['lamp.bas'] },
  { args: ['renumber', 'lamp.bas', '--step', '5'], writes: ['lamp.bas'] },
  { args: ['transcribe', 'lamp.bas', '-o', 'clean.bas'], writes: ['clean.bas'] },
  {
    args: ['transcribe', 'lamp.bas', '-o', 'clean.bas', '--report', 'report.html'],
    writes: ['report.html', 'clean.bas'],
  },
  { args: ['keys', 'lamp.bas', '-o', 'keys.txt'], writes: ['keys.txt'] },
  { args: ['draw', 'lamp.txt', '--ram', '16K', '-o', 'drawn.bas'], writes: ['drawn.bas'] },
];
const WRITERS = process.env.FUZZ ? [...FEW, ...MORE] : FEW;
const SIGNALS = ['SIGKILL', 'SIGINT', 'SIGTERM'] as const;

beforeAll(() => {
  mkdirSync(inputs);
  writeFileSync(join(inputs, 'lamp.bas'), '10 LET A=0\n20  PRINT A+1\n30 GOTO 40\n40 STOP\n');
  writeFileSync(join(inputs, 'oak.bas'), '10 PRINT "OAK"\n');
  writeFileSync(join(inputs, 'lamp.txt'), '.##.\n####\n.##.\n'.replaceAll('.', ' '));
  runCli(['tokenise', 'oak.bas'], { cwd: inputs });
  runCli(['record', 'oak.img'], { cwd: inputs });
});

let count = 0;
/** A fresh folder with the inputs in it. */
function place(): string {
  const path = join(folder, `place-${++count}`);
  cpSync(inputs, path, { recursive: true });
  return path;
}

/** Every file of a folder, by its name. */
const filesOf = (path: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(path).map((name) => [name, readFileSync(join(path, name), 'latin1')]),
  );

const wholes = new Map<Writer, Record<string, string>>();
/** What a folder holds when a writer was let end. */
function wholeOf(writer: Writer): Record<string, string> {
  const known = wholes.get(writer);
  if (known !== undefined) return known;
  const path = place();
  const { stderr } = runCli(writer.args, { cwd: path });
  const whole = filesOf(path);
  for (const name of writer.writes) expect([name in whole, stderr]).toEqual([true, stderr]);
  wholes.set(writer, whole);
  return whole;
}

const PART = /^\.(.+)\.\d+-\d+\.part$/;

describe.skipIf(process.platform === 'win32')('in the middle of writing', () => {
  it.each(
    WRITERS.flatMap((writer, index) =>
      SIGNALS.filter((_, at) => process.env.FUZZ || at === 0 || at === index).map(
        (signal): [string, string, Writer] => [signal, writer.args.join(' '), writer],
      ),
    ),
  )('%s leaves each file as it was, or whole: %s', (signal, _, writer) => {
    const whole = wholeOf(writer);
    const path = place();
    const before = filesOf(path);
    const result = spawnSync(process.execPath, ['--require', PRELOAD, LAUNCHER, ...writer.args], {
      cwd: path,
      env: { ...process.env, ENDED_BY: signal },
    });
    expect(result.signal).toBe(signal);
    expect(result.stderr.toString()).not.toMatch(/\n\s+at .+:\d+/);
    const after = filesOf(path);
    const parts = Object.keys(after).filter((name) => PART.test(name));
    for (const part of parts) delete after[part];
    for (const [name, text] of Object.entries(after)) {
      expect([name, [before[name], whole[name]].includes(text)]).toEqual([name, true]);
    }
    for (const name of Object.keys(before)) expect(name in after).toBe(true);
    // Nobody is left to take away what a kill leaves; the next run does, and gives all.
    expect(parts.map((name) => PART.exec(name)![1])).toEqual(
      signal === 'SIGKILL' ? [writer.writes[0]] : [],
    );
    if (signal !== 'SIGKILL') return;
    runCli(writer.args, { cwd: path });
    expect(filesOf(path)).toEqual(whole);
  });
});

/** Why a disk of a given size cannot be had here; undefined where it can. */
const mount = join(folder, 'disk');
function mountSmall(): string | undefined {
  if (process.platform !== 'linux') return 'only Linux has tmpfs';
  mkdirSync(mount);
  const { status, stderr, error } = spawnSync('mount', [
    '-t',
    'tmpfs',
    '-o',
    'size=64k',
    'tmpfs',
    mount,
  ]);
  return status === 0 ? undefined : (error?.message ?? stderr.toString().trim());
}

describe('a full disk', () => {
  const refused = mountSmall();
  afterAll(() => {
    if (refused === undefined) spawnSync('umount', [mount]);
  });

  it('leaves every file as it was, exit status 2', ({ skip }) => {
    skip(refused !== undefined, `no small disk can be mounted: ${refused}`);
    const writers = [...FEW, ...MORE];
    for (const name of ['lamp.bas', 'lamp.txt', 'oak.img']) {
      cpSync(join(inputs, name), join(mount, name));
    }
    // The recording would not fit on it.
    const found = writers.map(({ args }) =>
      args.map((word) => (word === 'oak.wav' ? join(inputs, word) : word)),
    );
    const filler = join(mount, 'filler');
    for (let size = 1 << 16; size >= 1; size >>= 1) {
      try {
        writeFileSync(filler, Buffer.alloc(size), { flag: 'a' });
      } catch {
        // Less has room, perhaps.
      }
    }
    const before = filesOf(mount);
    const results = found.map((args) => runCli(args, { cwd: mount }));
    for (const [index, { status, stderr }] of results.entries()) {
      expect([found[index], status, stderr]).toEqual([
        found[index],
        2,
        expect.stringMatching(
          /: cannot be written: the disk is full\n {2}do: {2}nothing was changed/,
        ),
      ]);
    }
    expect(filesOf(mount)).toEqual(before);
  });
});

describe.skipIf(process.platform === 'win32')('a folder that can only be read', () => {
  it('stays as it is, exit status 2', ({ skip }) => {
    const path = place();
    const before = filesOf(path);
    chmodSync(path, 0o555);
    // Who may do everything may write here too: so it is asked by somebody else.
    const asRoot = process.getuid?.() === 0;
    const user = asRoot ? { uid: 65_534, gid: 65_534 } : {};
    chmodSync(folder, 0o755);
    const trial = spawnSync(process.execPath, [LAUNCHER, '--version'], user);
    skip(trial.status !== 0, 'nobody but the owner can run the command line here');
    const words = [...FEW, ...MORE].map(({ args }) => args);
    const results = runMany(words, path, user);
    for (const [index, { status, stderr }] of results.entries()) {
      expect([words[index], status, stderr]).toEqual([
        words[index],
        2,
        expect.stringMatching(
          /: cannot be written: permission is denied\n {2}do: {2}nothing was changed/,
        ),
      ]);
    }
    chmodSync(path, 0o755);
    expect(filesOf(path)).toEqual(before);
  });
});
