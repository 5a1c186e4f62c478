// Builds the page into dist/page: one static folder, which `listwright page` serves.
import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';
import { bundledPackages, licenceText } from './licences.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const folder = join(root, 'dist', 'page');
const from = (name) => `src/page/${name}`;

/** Scripts by their names; the workers' texts stand in a script too, for pages from a file system. */
const SCRIPTS = {
  page: from('page.ts'),
  early: from('workers/early.ts'),
  language: from('workers/language.ts'),
  bench: from('workers/bench.ts'),
  listening: from('workers/listening.ts'),
};
const WORKERS = ['language', 'bench'];

export async function buildPage() {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  const common = {
    absWorkingDir: root,
    bundle: true,
    platform: 'browser',
    format: 'iife',
    target: 'es2022',
    minify: true,
    legalComments: 'none',
    logLevel: 'warning',
    alias: {
      // The little Markdown of our own server needs no package.
      marked: './src/page/editor/markdown.ts',
      // The packages bring the whole protocol, an eighth of what the page loads.
      'vscode-languageserver': './src/page/workers/protocol.ts',
      'vscode-languageserver-types': './src/page/workers/protocol.ts',
    },
  };
  const define = { SAMPLES: JSON.stringify(samples()) };
  const scripts = await build({
    ...common,
    define,
    entryPoints: SCRIPTS,
    outdir: folder,
    metafile: true,
  });
  await build({ ...common, entryPoints: { page: from('style/page.css') }, outdir: folder });
  for (const name of WORKERS) {
    const text = JSON.stringify(readFileSync(join(folder, `${name}.js`), 'utf8'));
    write(`${name}-text.js`, `(globalThis.workerTexts??={}).${name}=${text};`);
  }
  const { fontRule } = await written('font.ts');
  write('page.css', fontRule() + readFileSync(join(folder, 'page.css'), 'utf8'));
  write('index.html', (await written('document.ts')).documentText());
  const { ICON, manifest } = await written('manifest.ts');
  write('icon.svg', ICON);
  write('manifest.webmanifest', manifest());
  write('licences.txt', licenceText(root, bundledPackages([scripts.metafile])));

  // Last: the list of all that stands there is what the page has without a network.
  const names = readdirSync(folder).sort();
  const hash = createHash('sha256');
  for (const name of names) hash.update(name).update(readFileSync(join(folder, name)));
  const version = hash.digest('hex').slice(0, 16);
  const kept = names.filter((name) => !name.endsWith('-text.js'));
  await build({
    ...common,
    entryPoints: { 'service-worker': from('workers/service-worker.ts') },
    outdir: folder,
    define: { KEPT: JSON.stringify(['./', ...kept]), VERSION: JSON.stringify(version) },
  });
}

const write = (name, text) => writeFileSync(join(folder, name), text);

/** The sample listings, which the page opens. */
function samples() {
  const names = readdirSync(join(root, 'samples')).filter((name) => name.endsWith('.bas'));
  return names.sort().map((name) => ({
    name: name.replace('.bas', ''),
    text: readFileSync(join(root, 'samples', name), 'utf8'),
  }));
}

/** What a module of the page exports that is run here, not in a browser. */
async function written(name) {
  const outfile = join(root, 'dist', `page-${name.replace('.ts', '.mjs')}`);
  await build({
    absWorkingDir: root,
    bundle: true,
    format: 'esm',
    platform: 'node',
    entryPoints: [from(name)],
    outfile,
  });
  const module = await import(pathToFileURL(outfile).href);
  rmSync(outfile);
  return module;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await buildPage();
  const sizes = readdirSync(folder).map((name) => [
    name,
    gzipSync(readFileSync(join(folder, name))).length,
  ]);
  for (const [name, size] of sizes)
    console.log(`${name.padEnd(24)}${(size / 1024).toFixed(1).padStart(8)} KB compressed`);
}
