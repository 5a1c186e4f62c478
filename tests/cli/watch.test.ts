/** `--watch` follows a file, also one that an editor puts in its place. */
import { spawn } from 'node:child_process';
import { renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { LAUNCHER, runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const path = join(folder, 'lamp.bas');

/** A command that runs on; `said` waits for words in what it has shown since they were last awaited. */
function running(args: readonly string[]) {
  const child = spawn(process.execPath, [LAUNCHER, ...args], { cwd: folder });
  let shown = '';
  const take = (piece: Buffer): void => {
    shown += piece;
  };
  child.stdout.on('data', take);
  child.stderr.on('data', take);
  return {
    async said(words: string): Promise<void> {
      for (let waited = 0; !shown.includes(words); waited += 20) {
        if (waited > 20_000) throw new Error(`never said ${words}:\n${shown}`);
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
      shown = '';
    },
    stop(): Promise<NodeJS.Signals | null> {
      const ended = new Promise<NodeJS.Signals | null>((resolve) =>
        child.once('exit', (_, signal) => resolve(signal)),
      );
      child.kill('SIGINT');
      return ended;
    },
  };
}

it('lint --watch shows mistakes as they come and go, with the verdict', async () => {
  writeFileSync(path, '10 PRNT 1\n');
  const lint = running(['lint', path, '--watch']);
  await lint.said('following');
  writeFileSync(path, '10 PRINT 1\n');
  await lint.said('to spare');
  // As many editors save: a new file takes the name.
  writeFileSync(`${path}.new`, '10 GOTO 99\n');
  renameSync(`${path}.new`, path);
  await lint.said('missing-line');
  rmSync(path);
  await lint.said('there is no such file');
  writeFileSync(path, '10 PRINT 1\n');
  await lint.said('to spare');
  expect(await lint.stop()).toBe('SIGINT');
});

it('fit --watch shows the table anew', async () => {
  writeFileSync(path, '10 PRINT 1\n');
  const fit = running(['fit', path, '--watch']);
  await fit.said('Ctrl-C ends');
  writeFileSync(path, '10 DIM A(300)\n');
  await fit.said('does not run');
  expect(await fit.stop()).toBe('SIGINT');
});

it.each([
  [['lint', '-', '--watch'], 'standard input does not change'],
  [['lint', 'none.bas', '--watch'], 'none.bas: there is no such file'],
  [['lint', 'none.bas', '--watch', '--fix'], '--watch shows, and --fix changes the file'],
])('refuses %j', (args, words) => {
  const { status, stderr } = runCli(args, { cwd: folder });
  expect(status).toBe(2);
  expect(stderr).toContain(words);
});
