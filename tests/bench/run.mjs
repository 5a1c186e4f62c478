// Bundles a benchmark of this folder and runs it: node tests/bench/run.mjs NAME…
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');

for (const name of process.argv.slice(2)) {
  const entry = join(here, `${name}.ts`);
  if (!existsSync(entry)) throw new Error(`there is no benchmark ${entry}`);
  const outfile = join(root, 'dist', 'bench', `${name}.mjs`);
  await build({
    entryPoints: [entry],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    external: ['esbuild', 'fast-check', 'playwright-core', '@sparticuz/chromium'],
    logLevel: 'warning',
    banner: {
      js: "import { createRequire as makeRequire } from 'node:module'; const require = makeRequire(import.meta.url);",
    },
  });
  const { status } = spawnSync(process.execPath, ['--expose-gc', outfile], {
    stdio: 'inherit',
    cwd: root,
  });
  if (status !== 0) process.exitCode = 1;
}
