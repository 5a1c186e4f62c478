// Builds the command line and the library into dist/.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const dist = join(root, 'dist');
const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));

rmSync(dist, { recursive: true, force: true });
mkdirSync(dist, { recursive: true });

/** Modules that few runs need: each is a bundle of its own, which the command line loads when it must. */
const LATER = { 'language-server-io': 'src/cli/language-server-io.ts' };
const later = {
  name: 'later',
  setup({ onResolve }) {
    onResolve({ filter: /^\.\// }, ({ path }) => {
      const name = path.slice(2).replace(/\.js$/, '');
      return Object.hasOwn(LATER, name) ? { path: `./${name}.cjs`, external: true } : undefined;
    });
  },
};

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
  alias: { 'node:child_process': './bin/child-process-later.cjs' },
  format: 'cjs',
  minify: true,
  plugins: [later],
  // The launcher runs the bundle as a script, which has require and no import().
  supported: { 'dynamic-import': false },
});
await build({
  ...common,
  entryPoints: LATER,
  outdir: 'dist',
  outExtension: { '.js': '.cjs' },
  format: 'cjs',
  minify: true,
});
await build({ ...common, entryPoints: ['src/index.ts'], outfile: 'dist/index.js', format: 'esm' });

// The compiled code beside the bundle spares its compilation at every start; the launcher falls
// back to the text where another version of Node does not take it. It is taken after a run, so
// that it holds what a run needs.
const warm = join(dist, 'warm.img');
const keep = spawnSync(
  process.execPath,
  [
    '--eval',
    `const { main, script } = require('./bin/listwright.js').load();
    main(['tokenise', '-', '-o', ${JSON.stringify(warm)}]).then(() =>
      require('node:fs').writeFileSync('dist/cli.cache', script.createCachedData()));`,
  ],
  {
    cwd: root,
    input: '10 FOR I=1 TO 2*(3+A(1))\n20 IF I=1 THEN PRINT AT I,2;"A";\n30 POKE 1,INT RND\n',
  },
);
if (keep.status !== 0) throw new Error(`the built command line does not run: ${keep.stderr}`);
rmSync(warm);

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
