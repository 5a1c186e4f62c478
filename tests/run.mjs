// npm test: format, lint and types beside the build; then, if all is well, the tests of what was built.
// Words after `--` go to vitest.

import { spawn } from 'node:child_process';

const onWindows = process.platform === 'win32';

/** Runs a command with this one's streams; gives its exit status. */
function run(command, ...args) {
  return new Promise((resolve) => {
    const child = spawn(command, args, { stdio: 'inherit', shell: onWindows });
    child.on('error', ({ message }) => {
      process.stderr.write(`${command}: ${message}\n`);
      resolve(1);
    });
    child.on('exit', (status) => resolve(status ?? 1));
  });
}

const before = await Promise.all([
  run('npm', 'run', '--silent', 'check'),
  run('npm', 'run', '--silent', 'build'),
]);
process.exitCode =
  before.find((status) => status !== 0) ??
  (await run('npx', 'vitest', 'run', ...process.argv.slice(2)));
