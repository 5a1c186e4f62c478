/** `recover` on the command line: images, report, JSON, picture, takes, and what is refused. */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { recordPrograms } from '../../src/tape/writing/record.js';
import { runCli, scratchFolder } from '../support/run-cli.js';
import { dropouts, soundOf, wavOf } from '../tape/damage.js';
import { drawImage } from '../tape/images.js';

const folder = scratchFolder();
const names = [Uint8Array.of(52, 38, 48), Uint8Array.of(42, 49, 50)]; // OAK, ELM
const programs = names.map((name, i) => ({ name, image: drawImage(i + 1) }));
const clean = recordPrograms(programs, { rate: 11025, lead: 0.4, gap: 1.2, tail: 0.3 });
const path = (name: string) => join(folder, name);
writeFileSync(path('tape.wav'), clean);
const take = (name: string, seed: number) =>
  writeFileSync(path(name), wavOf(dropouts(8, 2)(soundOf(clean), seed)));
take('worn-1.wav', 8);
take('worn-2.wav', 6);

const same = (name: string, i: number) =>
  Buffer.from(programs[i].image).equals(readFileSync(path(name)));

describe('recover', () => {
  it('writes one image a program, the later ones with -2, and says what each is', () => {
    const { status, stdout } = runCli(['recover', path('tape.wav')]);
    expect(status).toBe(0);
    expect(same('tape.img', 0)).toBe(true);
    expect(same('tape-2.img', 1)).toBe(true);
    expect(stdout.toString()).toMatch(
      /^\S*tape\.img: "OAK", \d+ bytes, 0:00\.400 to 0:\d\d\.\d{3} of .*tape\.wav: no byte in doubt\n\S*tape-2\.img: "ELM".*: no byte in doubt\n$/,
    );
    expect(stdout.toString()).toMatch(/tape-2\.img: "ELM"/);
  });

  it('reads standard input and writes standard output, the report aside', () => {
    const one = recordPrograms([programs[0]], { rate: 11025, lead: 0.4 });
    const { status, stdout, stderr } = runCli(['recover', '-', '-o', '-'], { input: one });
    expect(status).toBe(0);
    expect(stdout.equals(Buffer.from(programs[0].image))).toBe(true);
    expect(stderr).toMatch(/"OAK"/);
  });

  it('marks what is in doubt, with exit status 1', () => {
    const { status, stdout } = runCli(['recover', path('worn-1.wav'), '-o', path('worn.img')]);
    expect(status).toBe(1);
    expect(stdout.toString()).toMatch(/\d+ of \d+ bytes in doubt, in .*\n {4}0:\d\d\.\d{3} {2}/);
  });

  it('gives all of it as JSON', () => {
    const { status, stdout } = runCli([
      'recover',
      path('worn-1.wav'),
      '-o',
      path('worn.img'),
      '--format',
      'json',
    ]);
    expect(status).toBe(1);
    const result = JSON.parse(stdout.toString());
    expect(result.recordings).toMatchObject([{ rate: 11025, channels: 1 }]);
    expect(result.programs.map((one: { name: string }) => one.name)).toEqual(['OAK', 'ELM']);
    const doubts = result.programs.flatMap((one: { doubts: unknown[] }) => one.doubts);
    expect(doubts.length).toBeGreaterThan(0);
    for (const doubt of doubts) {
      expect(doubt).toMatchObject({ seconds: expect.any(Number), reason: expect.any(String) });
    }
  });

  it('votes between takes', () => {
    const args = ['recover', path('worn-1.wav'), path('worn-2.wav'), '-o', path('voted.img')];
    const { stdout } = runCli(args);
    expect(stdout.toString()).toMatch(/2 takes have it; \d+ bytes? settled by voting/);
    expect(same('voted.img', 0)).toBe(true);
    expect(same('voted-2.img', 1)).toBe(true);
  });

  it('draws the recording', () => {
    const args = ['recover', path('worn-1.wav'), '-o', path('x.img'), '--svg', path('x.svg')];
    runCli(args);
    const svg = readFileSync(path('x.svg'), 'utf8');
    expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
    expect(svg).toMatch(/>OAK[,<][\s\S]*>ELM[,<]/);
    expect(svg).toMatch(/[49] pulses/);
    expect(svg.trimEnd().endsWith('</svg>')).toBe(true);
    expect(svg).toMatch(/worn-1\.wav: 0:\d\d\.\d{3}, 2 programs; level over time/);
    expect(svg).toMatch(/a byte in doubt<[\s\S]*an unclear bit</);
  });

  it('draws what is in doubt after a vote, in each recording that a program was read from', () => {
    const takes = [path('worn-1.wav'), path('worn-2.wav')];
    const args = ['recover', ...takes, '-o', path('x.img'), '--svg', path('x.svg')];
    const json = JSON.parse(runCli([...args, '--format', 'json']).stdout.toString());
    const svg = readFileSync(path('x.svg'), 'utf8');
    const left = json.programs.flatMap((one: { doubts: unknown[] }) => one.doubts).length;
    expect(svg.match(/<title>0:\d\d\.\d{3}<\/title>/g)?.length ?? 0).toBe(left);
    for (const { file } of json.programs) expect(svg).toContain(`${file}: 0:`);
    expect(svg).toMatch(/a byte in doubt after the vote/);
  });

  it('shows ten rows of doubts at most, and all with --all', () => {
    const noisy = wavOf(dropouts(60, 3)(soundOf(clean), 3));
    writeFileSync(path('noisy.wav'), noisy);
    const rows = (...more: string[]) => {
      const args = ['recover', path('noisy.wav'), '-o', path('n.img'), ...more];
      return runCli(args).stdout.toString().split(/^\S/m)[1].split('\n    ');
    };
    const some = rows();
    expect(some[0]).toMatch(
      /\n {2}\d+ of \d+ bytes( and \d+ characters? of the name)? in doubt, in lines? \d+/,
    );
    expect(some.length).toBe(12);
    expect(some[11]).toMatch(/^and \d+ more; --all shows them/);
    expect(rows('--all').join()).not.toMatch(/--all shows them/);
  });
});

describe('refused: exit status 2, and nothing is written', () => {
  const silence = Uint8Array.from(clean);
  silence.fill(0, 44);
  writeFileSync(path('silence.wav'), silence);
  writeFileSync(path('cut.wav'), clean.subarray(0, 60000));
  writeFileSync(path('text.wav'), '10 PRINT');
  it.each([
    ['no such file', ['none.wav'], /none\.wav: cannot be read: there is no such file/],
    ['a folder', ['.'], /cannot be read: it is a folder/],
    ['text', ['text.wav'], /text\.wav: this recording cannot be read: this is not a sound file/],
    ['silence', ['silence.wav'], /silence\.wav: there is no program in this recording/],
    ['a file cut short', ['cut.wav'], /promises \d+ more bytes of sound than the file has/],
    ['a channel that is not there', ['tape.wav', '--channel', 'right'], /one channel only/],
    ['two images for standard output', ['tape.wav', '-o', '-'], /holds 2 programs/],
    ['a picture of standard input', ['-', '--svg', 'x.svg'], /standard input comes only once/],
    ['image and JSON in one', ['tape.wav', '-o', '-', '--format', 'json'], /cannot both go/],
  ])('%s', (_, args, message) => {
    const before = readdirSync(folder).sort();
    const { status, stderr, stdout } = runCli(['recover', ...args], { cwd: folder });
    expect(stderr).toMatch(message);
    expect(stderr).not.toMatch(/\n\s+at /);
    expect(status).toBe(2);
    expect(stdout.length).toBe(0);
    expect(readdirSync(folder).sort()).toEqual(before);
  });

  it('but a file cut short is read with --partial', () => {
    const args = ['recover', path('cut.wav'), '--partial', '-o', path('part.img')];
    const { status, stdout } = runCli(args);
    expect(status).toBe(1);
    expect(stdout.toString()).toMatch(/not on the recording|the recording ends/);
    expect(existsSync(path('part.img'))).toBe(true);
  });
});
