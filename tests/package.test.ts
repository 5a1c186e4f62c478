/** The package as it is published: packed, installed in an empty folder, compiled and run. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build, transformSync } from 'esbuild';
import { beforeAll, describe, expect, it } from 'vitest';
import { bundledPackages } from '../bin/licences.mjs';
import { listingOfImage, recoverPrograms } from '../src/index.js';
import { LAUNCHER, ROOT, scratchFolder } from './support/run-cli.js';

const folder = scratchFolder();
const installed = join(folder, 'node_modules', 'listwright');
const TSC = join(ROOT, 'node_modules/typescript/bin/tsc');
/** One of an older major version, which a tool of the build brings. */
const OLDER_TSC = join(ROOT, 'node_modules/dts-bundle-generator/node_modules/typescript/bin/tsc');

function run(command: string, args: readonly string[]): string {
  const { status, stdout, stderr } = spawnSync(command, args, { cwd: folder, encoding: 'utf8' });
  expect(`${stderr}${status === 0 ? '' : stdout}`).toBe('');
  expect(status).toBe(0);
  return stdout;
}

const readme = readFileSync(join(ROOT, 'README.md'), 'utf8');
const example = /```ts\n([\s\S]+?)```/.exec(readme)![1];
const asCommonJs = transformSync(example, { loader: 'ts', format: 'cjs' }).code;

beforeAll(() => {
  const quiet = ['--silent', '--offline', '--no-audit', '--no-fund', '--ignore-scripts'];
  const packed = spawnSync('npm', ['pack', ...quiet, '--pack-destination', folder], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  const archive = packed.stdout.trim();
  writeFileSync(join(folder, 'package.json'), '{"private":true}');
  run('npm', ['install', ...quiet, `./${archive}`]);
}, 240_000);

describe('the package', () => {
  it('needs no other package', () => {
    expect(readdirSync(join(folder, 'node_modules')).sort()).toEqual(
      expect.arrayContaining(['listwright']),
    );
    const others = readdirSync(join(folder, 'node_modules')).filter(
      (name) => !name.startsWith('.'),
    );
    expect(others).toEqual(['listwright']);
  });

  it('has types that name no other package, and a name for each that a signature takes', () => {
    const types = readFileSync(join(installed, 'dist', 'index.d.ts'), 'utf8');
    expect(types).not.toMatch(/^import |from ["'](?!\.)|chevrotain|["']node:|NodeJS/m);
    expect(
      types.match(/^(?!export|declare const|import)(interface|type|declare) .*/gm) ?? [],
    ).toEqual([]);
    expect(types.match(/\w+\$\d+/g) ?? []).toEqual([]);
  });

  it.each([
    ['both kinds of modules', ['example.mts', 'example.cts'], ['nodenext', 'nodenext'], TSC],
    ['an older compiler has them', ['example.mts', 'example.cts'], ['node16', 'node16'], OLDER_TSC],
    ['a bundler takes it', ['example.ts'], ['esnext', 'bundler'], TSC],
  ])(
    'compiles the example of README as %s, strictly, with the types of the package',
    (_, files, [module, resolution], compiler) => {
      for (const file of files) writeFileSync(join(folder, file), example);
      // All that the example wants of where it runs; the types need nothing of a browser or of Node.
      writeFileSync(
        join(folder, 'console.d.ts'),
        'declare const console: { log(text: string): void };',
      );
      const kind = ['--module', module, '--moduleResolution', resolution];
      const asked = ['--strict', '--noEmit', '--target', 'es2022', '--lib', 'es2022', ...kind];
      run(process.execPath, [compiler, ...asked, 'console.d.ts', ...files]);
    },
    60_000,
  );

  it.each([
    ['a module', 'run.mjs', example, 'import'],
    ['CommonJS', 'run.cjs', asCommonJs, 'require'],
  ])('runs it as %s', (_, file, text, kind) => {
    const write =
      kind === 'import'
        ? "import { writeFileSync } from 'node:fs';\n"
        : "const { writeFileSync } = require('node:fs');\n";
    writeFileSync(join(folder, file), `${write}${text}\nwriteFileSync('${file}.wav', sound);\n`);
    run(process.execPath, [file]);
    const [program] = recoverPrograms(readFileSync(join(folder, `${file}.wav`))).programs;
    expect(listingOfImage(program.image).text).toBe('10 PRINT "HELLO"\n20 GOTO 10\n');
  });

  it('has a command line that runs', () => {
    mkdirSync(join(folder, 'bench'));
    writeFileSync(join(folder, 'bench', 'lamp.bas'), '10 CLS\n');
    const bin = join(folder, 'node_modules', '.bin', 'listwright');
    const { status } = spawnSync(bin, ['tokenise', 'bench/lamp.bas'], { cwd: folder });
    expect(status).toBe(0);
    expect(readdirSync(join(folder, 'bench'))).toContain('lamp.img');
    expect(LAUNCHER).not.toBe(bin);
  });
});

describe('the licences of what is bundled', () => {
  /** What goes into the bundles, found anew from their sources. */
  async function packages(): Promise<string[]> {
    const { metafile } = await build({
      absWorkingDir: ROOT,
      entryPoints: ['src/cli/main.ts', 'src/cli/language-server-io.ts', 'src/index.ts'],
      bundle: true,
      loader: { '.wasm': 'empty' },
      platform: 'node',
      outdir: 'unwritten',
      write: false,
      metafile: true,
      logLevel: 'silent',
    });
    return bundledPackages([metafile]);
  }

  it('stand in the package, each whole', async () => {
    const text = readFileSync(join(installed, 'dist', 'licences.txt'), 'utf8');
    const found = await packages();
    expect(found).toEqual(
      expect.arrayContaining(['node_modules/chevrotain', 'node_modules/commander']),
    );
    for (const path of found) {
      const about = JSON.parse(readFileSync(join(ROOT, path, 'package.json'), 'utf8'));
      expect(text).toContain(`${about.name} ${about.version} (${about.license})`);
      const [licence] = readdirSync(join(ROOT, path)).filter((name) => /^licen[cs]e/i.test(name));
      // One that is only named by its package stands beside the build.
      const known = about.license === 'MIT' ? 'licences/mit' : about.license;
      const whole = licence === undefined ? `bin/${known}.txt` : join(path, licence);
      expect(text).toContain(readFileSync(join(ROOT, whole), 'utf8').trim());
    }
  });

  it('say what is asked of a library under the LGPL, which stands in a file that can be made anew', () => {
    const text = readFileSync(join(installed, 'dist', 'licences.txt'), 'utf8');
    const [, notice] = text.split('With it: mpg123, compiled to WebAssembly');
    const before = notice.slice(0, notice.indexOf('GNU LESSER GENERAL PUBLIC LICENSE'));
    for (const said of [/Copyright \(c\) /, /source.*https:/, /three years/, /may change/]) {
      expect(before).toMatch(said);
    }
    expect(notice).toContain(readFileSync(join(ROOT, 'bin/licences/lgpl-2.1.txt'), 'utf8').trim());
    // Its code is in one bundle only.
    const isOurs = (name: string) => /\.c?js$/.test(name);
    const codeOf = (name: string) => readFileSync(join(installed, 'dist', name), 'latin1');
    const holding = readdirSync(join(installed, 'dist'))
      .filter(isOurs)
      .filter((name) => codeOf(name).includes('mpeg_frame_decoder_create'));
    expect(holding).toEqual(['decoders.cjs']);
  });

  it('and this one’s own does', () => {
    expect(readFileSync(join(installed, 'LICENSE'), 'utf8')).toMatch(/^MIT License/);
  });
});
