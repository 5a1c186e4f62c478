// Builds the command line and the library into dist/.
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { bundledPackages, licenceText } from './licences.mjs';
import { buildPage } from './page.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const dist = join(root, 'dist');
const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));

rmSync(dist, { recursive: true, force: true });
mkdirSync(dist, { recursive: true });

/** Modules that few runs need: each is a bundle of its own, which the command line loads when it must. */
const LATER = {
  'language-server-io': 'src/cli/language-server-io.ts',
  'picture-file': 'src/cli/picture-file.ts',
  decoders: 'src/tape/samples/compressed/decoders.ts',
};
const later = {
  name: 'later',
  setup({ onResolve }) {
    onResolve({ filter: /^\.\// }, ({ path }) => {
      const name = path.slice(2).replace(/\.js$/, '');
      return Object.hasOwn(LATER, name) ? { path: `./${name}.cjs`, external: true } : undefined;
    });
  },
};

/**
 * Modules of the command line that most runs do without. They export functions alone, and are made
 * ready when one of these is first called: what stands ready at every start is loaded at every start.
 */
const WHEN_NEEDED = [
  'src/image/read.ts',
  'src/listing/as-typed.ts',
  'src/listing/explain.ts',
  'src/listing/other-dialects.ts',
  'src/listing/run-together.ts',
  'src/rehearsal/telling/settle.ts',
  'src/tape/voice/spoken-name.ts',
];
const whenNeeded = {
  name: 'when-needed',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /^\.\.?\// }, ({ path, resolveDir }) => {
      const file = join(resolveDir, path).replace(/\.js$/, '.ts');
      const found = WHEN_NEEDED.some((one) => join(root, one) === file);
      return found ? { path: file, namespace: 'when-needed' } : undefined;
    });
    onLoad({ filter: /./, namespace: 'when-needed' }, ({ path }) => {
      const text = readFileSync(path, 'utf8');
      const other = /^export (?!function|interface|type).*$/m.exec(text);
      if (other !== null) throw new Error(`${path} exports more than functions: ${other[0]}`);
      const contents = [...text.matchAll(/^export function\*? (\w+)/gm)]
        .map(([, name]) => `export const ${name} = (...args) => loaded().${name}(...args);`)
        .join('\n');
      // A bundled module's exports are gathered anew each time that they are required.
      const loaded = `let kept; const loaded = () => (kept ??= require('${path}'));\n`;
      return { contents: loaded + contents, resolveDir: dirname(path) };
    });
  },
};

/**
 * The same code in ASCII, which is read in less time and takes half the memory. The bundler leaves
 * other characters in regular expressions alone, where an escape means the same.
 */
const inAscii = (code) =>
  code.replace(/[^\0-\x7f]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);

const common = {
  absWorkingDir: root,
  bundle: true,
  platform: 'node',
  target: 'node20',
  define: { LISTWRIGHT_VERSION: JSON.stringify(version) },
  logLevel: 'warning',
  // What the packages ask for stands in one text, which is made below.
  legalComments: 'none',
  metafile: true,
};
const commandLine = await build({
  ...common,
  entryPoints: ['src/cli/main.ts'],
  outfile: 'dist/cli.cjs',
  alias: { 'node:child_process': './bin/child-process-later.cjs' },
  format: 'cjs',
  minify: true,
  plugins: [later, whenNeeded],
  // The launcher runs the bundle as a script, which has require and no import(): a function of what
  // a CommonJS module is given.
  supported: { 'dynamic-import': false },
  banner: { js: '(function (exports, require, module, __filename, __dirname) {' },
  footer: { js: '})' },
  write: false,
});
const [bundle] = commandLine.outputFiles;
writeFileSync(bundle.path, inAscii(bundle.text));
const laterOnes = await Promise.all(
  Object.entries(LATER).map(([name, path]) =>
    build({
      ...common,
      entryPoints: [path],
      outfile: `dist/${name}.cjs`,
      format: 'cjs',
      minify: true,
      loader: { '.wasm': 'binary' },
      // Decoders write on the console too what they give back as errors.
      drop: name === 'decoders' ? ['console'] : [],
      // They hold their code as text with many characters beyond ASCII.
      charset: 'utf8',
    }),
  ),
);
const library = { ...common, entryPoints: ['src/index.ts'], plugins: [later] };
const modules = [
  await build({ ...library, outfile: 'dist/index.js', format: 'esm' }),
  await build({ ...library, outfile: 'dist/index.cjs', format: 'cjs' }),
];
const packages = bundledPackages(
  [commandLine, ...laterOnes, ...modules].map(({ metafile }) => metafile),
);
writeFileSync(join(dist, 'licences.txt'), licenceText(root, packages));

await buildPage();

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
    input: `10 FOR I=1 TO 2*(3+A(1))
20 IF I=1 THEN PRINT AT I,2;"A";
30 POKE 1,INT RND
40 NEXT I
50 GOSUB 80
60 LET B$="A"+"B"(1)
70 GOTO VAL "10"
80 RETURN
`,
  },
);
if (keep.status !== 0) throw new Error(`the built command line does not run: ${keep.stderr}`);
rmSync(warm);

if (!process.argv.includes('--no-types')) {
  // The compiler writes the types of each file, and the bundler brings them together: it looks
  // through all that is declared again and again, so it is given no types but these. `npm run check`
  // checks them.
  const each = join(dist, 'declarations');
  const node = (script, ...args) => {
    const { status } = spawnSync(process.execPath, [join(root, 'node_modules', script), ...args], {
      cwd: root,
      stdio: ['ignore', 'inherit', 'inherit'],
    });
    if (status !== 0) throw new Error(`the types of the library are not written: ${script} failed`);
  };
  node('typescript/bin/tsc', '--project', 'tsconfig.build.json', '--outDir', each);
  writeFileSync(
    join(each, 'tsconfig.json'),
    '{ "extends": "../../tsconfig.json", "compilerOptions": { "types": [] }, "include": ["src"] }',
  );
  node(
    'dts-bundle-generator/dist/bin/dts-bundle-generator.js',
    '--no-check',
    '--no-banner',
    '--silent',
    `--project=${join(each, 'tsconfig.json')}`,
    '--out-file=dist/index.d.ts',
    join(each, 'src', 'index.d.ts'),
  );
  rmSync(each, { recursive: true, force: true });
  copyFileSync(join(dist, 'index.d.ts'), join(dist, 'index.d.cts'));
}
