import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, it } from 'vitest';
import { listingOfImage, recoverPrograms } from '../src/index.js';
import { ROOT, scratchFolder } from './support/run-cli.js';

const folder = scratchFolder();

it('runs the lines that README shows, on the built library', () => {
  const readme = readFileSync(join(ROOT, 'README.md'), 'utf8');
  const example = /```ts\n([^`]+)```/.exec(readme)![1];
  const library = pathToFileURL(join(ROOT, 'dist', 'index.js')).href;
  writeFileSync(join(folder, 'example.mjs'), example.replace("'listwright'", `'${library}'`));
  const { status, stderr } = spawnSync(process.execPath, ['example.mjs'], {
    cwd: folder,
    encoding: 'utf8',
  });
  expect(stderr).toBe('');
  expect(status).toBe(0);
  const [program] = recoverPrograms(readFileSync(join(folder, 'hello.wav'))).programs;
  expect(listingOfImage(program.image).text).toBe('10 PRINT "HELLO"\n20 GOTO 10\n');
});
