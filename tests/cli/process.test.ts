/**
 * The built command line in a process of its own gives what the warm thread gives, in which the other
 * tests run it: status, streams to the byte, and files.
 */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { runCli, scratchFolder, spawnCli } from '../support/run-cli.js';

const folder = scratchFolder();
const quick = ['--rate', '8000', '--lead', '0', '--tail', '0.1'];
const LAMP = '10 LET A=1\n20 PRINT A\n30 PRINT B\n';
const given = {
  'lamp.bas': LAMP,
  'asks.bas': '10 INPUT A\n20 PRINT A\n',
  'bad.bas': '10 PRNT "A"\n20 REM OAK\n',
  'page.txt': '1O PR1NT "OAK"\n20 GOT0 10\n',
};

/** What is left of a run in a folder of its own. */
function left(name: string, run: typeof runCli, args: readonly string[], input?: string) {
  const cwd = join(folder, name);
  mkdirSync(cwd);
  for (const [file, text] of Object.entries(given)) writeFileSync(join(cwd, file), text);
  runCli(['tokenise', 'lamp.bas'], { cwd });
  runCli(['record', 'lamp.bas', ...quick], { cwd });
  const { status, stdout, stderr } = run(args, { cwd, input, env: { NO_COLOR: '1' } });
  const files = readdirSync(cwd).map((file): [string, string] => [
    file,
    readFileSync(join(cwd, file)).toString('latin1'),
  ]);
  return { status, stdout: stdout.toString('latin1'), stderr, files: new Map(files) };
}

it.each<[status: number, args: string[], input?: string]>([
  [0, ['tokenise', '-', '-o', '-'], LAMP],
  [1, ['tokenise', 'bad.bas']],
  [2, ['tokenise', 'none.bas']],
  [0, ['detokenise', 'lamp.img']],
  [1, ['lint', 'lamp.bas', '--format', 'json']],
  [0, ['rehearse', 'asks.bas', '--inputs', '-'], '7\n'],
  [0, ['record', 'lamp.bas', '-o', '-', ...quick]],
  [0, ['recover', 'lamp.wav', '-o', 'again.img']],
  [1, ['compare', 'lamp.bas', 'asks.bas']],
  [0, ['format', '-'], LAMP],
  [0, ['transcribe', 'page.txt', '-o', 'page.bas']],
  [0, ['--version']],
])('exit status %i: %j', (status, args, input) => {
  const name = `${args.join(' ').replaceAll('/', '')} ${input?.length}`;
  const alone = left(`${name} alone`, spawnCli, args, input);
  expect(alone.status).toBe(status);
  expect(left(`${name} warm`, runCli, args, input)).toEqual(alone);
});
