// Builds the command line and the library into dist/.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Script } from 'node:vm';
import { build } from 'esbuild';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const dist = join(root, 'dist');
const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));

rmSync(dist, { recursive: true, force: true });
mkdirSync(dist, { recursive: true });

const common = {
  absWorkingDir: root,
  bundle: true,
  platform: 'node',
  target: 'node20',
  define: { LISTWRIGHT_VERSION: JSON.stringify(version) },
  logLevel: 'warning',
  legalComments: 'linked',
};
await build({
  ...common,
  entryPoints: ['src/cli/main.ts'],
  outfile: 'dist/cli.cjs',
  format: 'cjs',
  minify: true,
});
await build({ ...common, entryPoints: ['src/index.ts'], outfile: 'dist/index.js', format: 'esm' });

// The compiled code beside the bundle spares its compilation at every start; the launcher falls
// back to the text where another version of Node does not take it.
const { wrapper } = await import('./wrapper.js');
const script = new Script(wrapper(readFileSync(join(dist, 'cli.cjs'), 'utf8')), {
  filename: join(dist, 'cli.cjs'),
});
writeFileSync(join(dist, 'cli.cache'), script.createCachedData());

if (!process.argv.includes('--no-types')) {
  const tsc = join(root, 'node_modules', 'typescript', 'bin', 'tsc');
  const types = spawnSync(
    process.execPath,
    [
      tsc,
      '--declaration',
      '--emitDeclarationOnly',
      '--noEmit',
      'false',
      '--outDir',
      'dist/types',
      '--project',
      'tsconfig.build.json',
    ],
    { cwd: root, stdio: 'inherit' },
  );
  process.exitCode = types.status ?? 1;
}
