/**
 * A recording made here, through general audio tools and back, still gives the program whole.
 * The tools are sox and ffmpeg as Debian packages them; where they are absent this test says so.
 * Set NO_SOUND_TOOLS to leave it out although they are there.
 */
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { recoverPrograms } from '../../src/tape/recover.js';
import { recordProgram } from '../../src/tape/writing/record.js';
import { scratchFolder } from '../support/run-cli.js';
import { drawImage, drawName } from '../tape/images.js';
import { verdictOn } from '../tape/verdict.js';

function has(tool: string, flag: string): boolean {
  return !process.env.NO_SOUND_TOOLS && spawnSync(tool, [flag]).status === 0;
}

const tools = { sox: has('sox', '--version'), ffmpeg: has('ffmpeg', '-version') };
for (const [tool, there] of Object.entries(tools)) {
  if (!there)
    console.warn(`${tool} is absent: its conversions were not tried (apt install ${tool})`);
}

const folder = scratchFolder();
const program = { name: drawName(11), image: drawImage(11, process.env.FUZZ ? 600 : 200) };
const clean = join(folder, 'clean.wav');
writeFileSync(clean, recordProgram(program, { lead: 1 }));

function run(tool: string, args: string[]): void {
  const { status, stderr } = spawnSync(tool, args);
  expect(status, stderr?.toString()).toBe(0);
}

function expectWhole(path: string): void {
  expect(verdictOn(recoverPrograms(readFileSync(path)), program)).toBe('whole');
}

describe.skipIf(!tools.sox)('through sox', () => {
  it.each<[string, string[], string[]]>([
    ['to 8 bits', ['-b', '8', '-e', 'unsigned-integer'], []],
    ['to 24 bits', ['-b', '24'], []],
    ['to 32 bits', ['-b', '32'], []],
    ['to floating point', ['-b', '32', '-e', 'floating-point'], []],
    ['to double precision', ['-b', '64', '-e', 'floating-point'], []],
    ['to stereo', ['-c', '2'], []],
    ['to 8000 Hz', ['-r', '8000'], []],
    ['to 11025 Hz', ['-r', '11025'], []],
    ['to 48000 Hz', ['-r', '48000'], []],
    ['to 96000 Hz', ['-r', '96000'], []],
    ['a tenth faster', [], ['speed', '1.1']],
    ['a seventh slower', [], ['speed', '0.87']],
    ['very soft', [], ['vol', '0.01']],
    ['clipped', [], ['vol', '4']],
    ['through a telephone’s band', [], ['sinc', '300-4000']],
  ])('%s', (_, form, effects) => {
    const out = join(folder, 'sox.wav');
    run('sox', [clean, ...form, out, ...effects]);
    expectWhole(out);
  });

  it.each(['left', 'right'])('in the %s channel only, hiss in the other', (side) => {
    const hiss = join(folder, 'hiss.wav');
    run('sox', ['-n', '-r', '44100', '-b', '16', hiss, 'synth', '20', 'whitenoise', 'vol', '0.3']);
    const out = join(folder, 'sides.wav');
    run('sox', ['-M', ...(side === 'left' ? [clean, hiss] : [hiss, clean]), out]);
    expectWhole(out);
  });
});

describe.skipIf(!tools.ffmpeg)('through ffmpeg', () => {
  const quiet = ['-y', '-loglevel', 'error'];
  it.each<[string, string, string[]]>([
    ['MP3 at 128 kbit/s', 'coded.mp3', ['-c:a', 'libmp3lame', '-b:a', '128k']],
    ['Opus at 96 kbit/s', 'coded.opus', ['-c:a', 'libopus', '-b:a', '96k']],
  ])('%s and back', (_, name, coding) => {
    const coded = join(folder, name);
    const out = join(folder, `${name}.wav`);
    run('ffmpeg', [...quiet, '-i', clean, ...coding, coded]);
    run('ffmpeg', [...quiet, '-i', coded, out]);
    expectWhole(out);
  });

  it('a file streamed through a pipe, whose header does not know its length', () => {
    const { status, stdout } = spawnSync('ffmpeg', [...quiet, '-i', clean, '-f', 'wav', '-'], {
      maxBuffer: 1 << 28,
    });
    expect(status).toBe(0);
    expect(verdictOn(recoverPrograms(stdout), program)).toBe('whole');
  });
});
