/** Sound files of every kind on the command line, and the converter that some of them need. */
import { chmodSync, copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT, runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const sounds = join(ROOT, 'tests', 'tape', 'samples', 'sounds');
const image = readFileSync(join(sounds, 'oak.img'));
const path = (name: string) => join(folder, name);
for (const name of ['lame.mp3', 'flac.flac', 'opusenc.opus', 'ffmpeg.m4a', 'sox.aiff']) {
  // A name that says nothing: content tells.
  copyFileSync(join(sounds, name), path(name.replace('.', '-')));
}

/** A folder with one command in it, which runs a script of Node. */
function withCommand(name: string, script: string): Record<string, string> {
  const bin = path(`bin-${name}-${Math.abs(script.length)}`);
  mkdirSync(bin, { recursive: true });
  writeFileSync(join(bin, name), `#!${process.execPath}\n${script}`);
  chmodSync(join(bin, name), 0o755);
  return { PATH: bin };
}

it.each(['lame-mp3', 'flac-flac', 'opusenc-opus', 'sox-aiff'])('recover %s', (name) => {
  const { status, stderr } = runCli(['recover', path(name), '-o', path('back.img')]);
  expect(stderr).toBe('');
  expect(status).toBe(0);
  expect(readFileSync(path('back.img')).equals(image)).toBe(true);
});

it('what takes an INPUT reads them, also from standard input', () => {
  const { stdout } = runCli(['detokenise', path('lame-mp3')]);
  expect(stdout.toString()).toBe('.name "OAK"\n10 PRINT "LANTERN LOFT"\n');
  const input = readFileSync(path('opusenc-opus'));
  expect(runCli(['detokenise', '-'], { input }).stdout.toString()).toBe(stdout.toString());
  expect(runCli(['compare', path('flac-flac'), path('sox-aiff')]).status).toBe(0);
  expect(runCli(['fit', path('lame-mp3')]).status).toBe(0);
});

it('a picture is drawn of one', () => {
  const args = ['recover', path('lame-mp3'), '-o', path('x.img'), '--svg', path('x.svg')];
  expect(runCli(args).status).toBe(0);
  expect(readFileSync(path('x.svg'), 'utf8')).toMatch(/9 pulses/);
});

describe('a kind that needs a converter', () => {
  it('is refused with the command to run where there is none', () => {
    const { status, stderr } = runCli(['recover', path('ffmpeg-m4a')], { env: { PATH: folder } });
    expect(status).toBe(2);
    expect(stderr).toMatch(/it is MPEG-4 sound, and no converter for that is installed/);
    expect(stderr).toMatch(/do: {2}install ffmpeg .* `ffmpeg -i \S*ffmpeg-m4a \S*\.wav`/);
  });

  it('goes through the converter where there is one, standard input as well', () => {
    const env = withCommand(
      'ffmpeg',
      `const at = process.argv.indexOf('-i');
       const { readFileSync } = require('node:fs');
       if (readFileSync(process.argv[at + 1].slice(5), 'latin1').slice(4, 8) !== 'ftyp') process.exit(9);
       process.stdout.write(readFileSync(${JSON.stringify(path('sox-aiff'))}));`,
    );
    const args = ['-o', path('m4a.img')];
    expect(runCli(['recover', path('ffmpeg-m4a'), ...args], { env }).status).toBe(0);
    expect(readFileSync(path('m4a.img')).equals(image)).toBe(true);
    const input = readFileSync(path('ffmpeg-m4a'));
    expect(runCli(['recover', '-', ...args], { env, input }).status).toBe(0);
  });

  it('is refused in the converter’s words where that fails', () => {
    const env = withCommand(
      'ffmpeg',
      `process.stderr.write('[mov @ 0x1] moov atom not found'); process.exitCode = 1;`,
    );
    const { status, stderr } = runCli(['detokenise', path('ffmpeg-m4a')], { env });
    expect(status).toBe(2);
    expect(stderr).toMatch(/could not convert this MPEG-4 sound: moov atom not found\n/);
  });

  it('is ended with what asked for it', () => {
    const env = withCommand('ffmpeg', `process.stdout.write(Buffer.alloc(1 << 20));`);
    const { status, stderr } = runCli(['recover', path('ffmpeg-m4a')], { env: { ...env } });
    expect(status).toBe(2);
    expect(stderr).toMatch(/this is not a sound file/);
  });
});

it('the decoders are loaded by no other run', () => {
  const cli = readFileSync(join(ROOT, 'dist', 'cli.cjs'), 'utf8');
  expect(cli).toMatch(/require\("\.\/decoders\.cjs"\)/);
  expect(cli).not.toMatch(/WebAssembly/);
});
