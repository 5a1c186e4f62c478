/**
 * A recording made here, through general audio tools and back, still gives the program whole, and so
 * does every kind of file that people have sound in, as a usual encoder makes it.
 * The tools are those that Debian packages; where one is absent this test says so.
 * Set NO_SOUND_TOOLS to leave it out although they are there.
 */
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { listenTo } from '../../src/cli/sound/sound-file.js';
import { ProgramListener, recoverPrograms } from '../../src/tape/recover.js';
import { recordProgram } from '../../src/tape/writing/record.js';
import { scratchFolder } from '../support/run-cli.js';
import { drawImage, drawName } from '../tape/images.js';
import { verdictOn } from '../tape/verdict.js';

function has(tool: string, flag: string): boolean {
  return !process.env.NO_SOUND_TOOLS && spawnSync(tool, [flag]).status === 0;
}

const tools = {
  sox: has('sox', '--version'),
  ffmpeg: has('ffmpeg', '-version'),
  lame: has('lame', '--version'),
  flac: has('flac', '--version'),
  oggenc: has('oggenc', '--version'),
  opusenc: has('opusenc', '--version'),
};
for (const [tool, there] of Object.entries(tools)) {
  if (!there) console.warn(`${tool} is absent: what it makes was not tried (apt install ${tool})`);
}

const folder = scratchFolder();
const program = { name: drawName(11), image: drawImage(11, process.env.FUZZ ? 600 : 30) };
const clean = join(folder, 'clean.wav');
writeFileSync(clean, recordProgram(program, { lead: 0.5 }));

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
    run('sox', ['-n', '-r', '44100', '-b', '16', hiss, 'synth', '8', 'whitenoise', 'vol', '0.3']);
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

describe('read as they are', () => {
  const small = { name: drawName(3), image: drawImage(3, 30) };
  const source = join(folder, 'small.wav');
  const low = join(folder, 'low.wav');
  writeFileSync(source, recordProgram(small, { lead: 0.3, tail: 0.3 }));
  writeFileSync(low, recordProgram(small, { lead: 0.3, tail: 0.3, rate: 11025 }));
  const ffmpeg = (...coding: string[]) => ['-y', '-loglevel', 'error', '-i', source, ...coding];
  const sox = (coding: string, bits = '8') => ['-D', source, '-e', coding, '-b', bits];

  // What recordings in the repository do not stand for already; FUZZ=1 has them all.
  const always = /law|u-law.aifc|64.mp3|small|m4a|webm/;
  it.each(
    (
      [
        ['signed.wav', 'sox', sox('signed-integer', '24')],
        ['long.wav', 'sox', sox('signed-integer', '32')],
        ['float.wav', 'sox', sox('floating-point', '32')],
        ['u-law.wav', 'sox', sox('u-law')],
        ['a-law.wav', 'sox', sox('a-law')],
        ['plain.aiff', 'sox', [source]],
        ['plain.aifc', 'sox', [source]],
        ['u-law.aifc', 'ffmpeg', ffmpeg('-c:a', 'pcm_mulaw', '-f', 'aiff')],
        ['u-law.au', 'sox', sox('u-law')],
        ['plain.caf', 'ffmpeg', ffmpeg('-c:a', 'pcm_s16le')],
        ['best.flac', 'flac', ['-s', '-f', '-8', source, '-o']],
        ['flac.oga', 'flac', ['-s', '-f', '--ogg', source, '-o']],
        ['64.mp3', 'lame', ['--quiet', '-b', '64', source]],
        ['128.mp3', 'lame', ['--quiet', '-b', '128', source]],
        ['320.mp3', 'lame', ['--quiet', '-b', '320', source]],
        ['variable.mp3', 'lame', ['--quiet', '-V', '5', source]],
        ['low.mp3', 'lame', ['--quiet', '-b', '32', low]],
        ['usual.ogg', 'oggenc', ['-Q', source, '-o']],
        ['small.ogg', 'oggenc', ['-Q', '-q', '1', source, '-o']],
        ['usual.opus', 'opusenc', ['--quiet', source]],
        ['small.opus', 'opusenc', ['--quiet', '--bitrate', '48', source]],
        ['128.m4a', 'ffmpeg', ffmpeg('-b:a', '128k')],
        ['low.m4a', 'ffmpeg', ['-y', '-loglevel', 'error', '-i', low]],
        ['192.aac', 'ffmpeg', ffmpeg('-b:a', '192k')],
        ['usual.webm', 'ffmpeg', ffmpeg('-b:a', '96k')],
        ['usual.wma', 'ffmpeg', ffmpeg('-b:a', '128k')],
      ] satisfies [string, keyof typeof tools, string[]][]
    ).filter(([name]) => process.env.FUZZ || always.test(name)),
  )('%s of %s', async (name, tool, args) => {
    // What our own decoders do not read is converted by ffmpeg.
    if (!tools[tool] || (!/wav|ai|flac|oga|mp3|ogg|opus/.test(name) && !tools.ffmpeg)) return;
    const file = join(folder, name);
    run(tool, [...args, file]);
    const listener = new ProgramListener();
    const found = await listenTo(file, 'reading', listener);
    expect(verdictOn(found, small)).toBe('whole');
  });

  it.skipIf(!tools.ffmpeg)('an m4a of the few bits that ffmpeg gives a rate of 44100', async () => {
    const file = join(folder, 'few.m4a');
    run('ffmpeg', ffmpeg('-b:a', '64k', file));
    const { programs } = await listenTo(file, 'reading', new ProgramListener());
    expect(programs.map(({ image }) => image)).toEqual([small.image]);
    // Its coding spoils more than can be heard; what is left of that is told.
    expect(programs[0].doubts.length).toBeLessThan(0.1 * small.image.length);
  });
});
