/**
 * README stays true: every command that it shows is run, in the order of the text, and gives what
 * is shown. With UPDATE set (`npm run readme`) what they give is written into it.
 */
import { spawnSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, it } from 'vitest';
import { LAUNCHER, ROOT, runCli, scratchFolder } from './support/run-cli.js';

const FILE = join(ROOT, 'README.md');
const folder = scratchFolder();
const LONGEST = 150;

/** Every block of code: its language, the name of its file if it has one, and its text. */
const BLOCK = /^```(\w*) ?([\w.]*)\n([\s\S]*?)^```$/gm;

/** A folder that is a fresh clone as far as the commands see it, with `npx` the built one. */
function clone(): Record<string, string> {
  cpSync(join(ROOT, 'samples'), join(folder, 'samples'), { recursive: true });
  const bin = join(folder, 'bin');
  mkdirSync(bin);
  const npx = join(bin, 'npx');
  writeFileSync(npx, `#!/bin/sh\nshift\nexec "${process.execPath}" "${LAUNCHER}" "$@"\n`);
  chmodSync(npx, 0o755);
  return { PATH: `${bin}:${process.env.PATH}` };
}

/** What a shell shows for each of these commands, messages and all. */
function shown(commands: readonly string[], env: Record<string, string>): string {
  return commands
    .map((command) => {
      const { stdout } = spawnSync('bash', ['-c', `{ ${command}\n} 2>&1`], {
        cwd: folder,
        encoding: 'utf8',
        env: { ...process.env, ...env, NO_COLOR: '1' },
      });
      return `$ ${command}\n${stdout.replace(/\n?$/, stdout === '' ? '' : '\n')}`;
    })
    .join('');
}

it.skipIf(process.platform === 'win32')(
  'README shows what its commands give',
  () => {
    const readme = readFileSync(FILE, 'utf8');
    const env = clone();
    const made = readme.replace(BLOCK, (block, language: string, name: string, text: string) => {
      if (name !== '') writeFileSync(join(folder, name), text);
      if (language !== 'console') return block;
      const commands = [...text.matchAll(/^\$ (.*)$/gm)].map(([, command]) => command);
      return `\`\`\`console\n${shown(commands, env)}\`\`\``;
    });
    if (process.env.UPDATE) writeFileSync(FILE, made);
    else expect(made).toBe(readme);
  },
  120_000,
);

it('README can be read in five minutes, and what it leads to is there', () => {
  const readme = readFileSync(FILE, 'utf8');
  expect(readme.trimEnd().split('\n').length).toBeLessThanOrEqual(LONGEST);
  const links = [...readme.matchAll(/\]\(([^)#]+)\)/g)].map(([, path]) => path);
  expect(links.filter((path) => !existsSync(join(dirname(FILE), path)))).toEqual([]);
});

it('README names every command, and says of each what its help knows', () => {
  const readme = readFileSync(FILE, 'utf8');
  const stdout = runCli(['help']).stdout.toString();
  const commands = [...stdout.matchAll(/^ {2}([a-z-]+) \[/gm)]
    .map(([, name]) => name)
    .filter((name) => name !== 'help');
  expect(commands.length).toBeGreaterThan(12);
  for (const name of commands) {
    const help = runCli([name, '--help']).stdout.toString();
    const row = readme.split('\n').find((line) => line.startsWith(`| \`${name}`));
    expect(row, name).toBeDefined();
    for (const [option] of row!.matchAll(/--[a-z-]+/g)) expect(help).toContain(option);
  }
}, 300_000);
