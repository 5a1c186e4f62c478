/** `record` on the command line: what it writes, says and refuses. */
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { play } from '../../src/cli/sound/player.js';
import { recoverPrograms } from '../../src/tape/recover.js';
import { runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const listing = join(folder, 'hello.bas');
writeFileSync(listing, '10 PRINT "HELLO"\n20 GOTO 10\n');
const image = join(folder, 'hello.img');
runCli(['tokenise', listing, '-o', image]);
const quick = ['--lead', '0.3', '--tail', '0.2', '--rate', '11025'];

describe('record', () => {
  it('writes a recording beside the listing, named after it, and says what it is', () => {
    const { status, stderr } = runCli(['record', listing, ...quick]);
    expect(status).toBe(0);
    expect(stderr).toMatch(
      /hello\.wav: 1 program, \d+ s, 11025 samples a second of 16 bits, \d+ bytes/,
    );
    const [program] = recoverPrograms(readFileSync(join(folder, 'hello.wav'))).programs;
    expect(program.image).toEqual(new Uint8Array(readFileSync(image)));
    expect([...program.name]).toEqual([45, 42, 49, 49, 52]);
  });

  it('notes that a listing has no program line, and records it all the same', () => {
    const empty = join(folder, 'empty-program.bas');
    writeFileSync(empty, "' later\n");
    const { status, stderr } = runCli(['record', empty, ...quick]);
    expect(status).toBe(0);
    expect(stderr).toMatch(
      /empty-program\.bas:1:1: note: there is no program line in this listing\n/,
    );
    expect(recoverPrograms(readFileSync(join(folder, 'empty-program.wav'))).programs.length).toBe(
      1,
    );
    // An image is what it is.
    runCli(['tokenise', empty]);
    const again = runCli(['record', join(folder, 'empty-program.img'), ...quick]);
    expect(again.stderr).not.toMatch(/no program line/);
  });

  it('takes an image, or a recording, and gives the same sound', () => {
    const fromListing = runCli(['record', listing, '-o', '-', ...quick]).stdout;
    const fromImage = runCli(['record', image, '-o', '-', ...quick]).stdout;
    const wav = join(folder, 'again.wav');
    writeFileSync(wav, fromListing);
    const fromRecording = runCli(['record', wav, '-o', '-', ...quick]).stdout;
    expect(fromListing.length).toBeGreaterThan(10000);
    expect(fromImage.equals(fromListing)).toBe(true);
    expect(fromRecording.equals(fromListing)).toBe(true);
  });

  it('takes several programs, and a name', () => {
    const two = runCli(['record', listing, image, '-o', '-', '--gap', '1.2', ...quick]).stdout;
    expect(recoverPrograms(two).programs.length).toBe(2);
    const named = runCli(['record', listing, '--name', 'oak 3', '-o', '-', ...quick]).stdout;
    expect([...recoverPrograms(named).programs[0].name]).toEqual([52, 38, 48, 0, 31]);
  });

  it('says the name of each program before it, and the programs are the same', () => {
    const two = ['record', listing, image, '-o', '-', '--gap', '1.2', ...quick];
    const plain = runCli(two);
    const said = runCli([...two, '--say-name']);
    expect(said.status).toBe(0);
    // Two names of five letters, and the machine's own five seconds of silence after each.
    const seconds = (said.stdout.length - plain.stdout.length) / 2 / 11025;
    expect(seconds).toBeGreaterThan(10 + 2 * 5 * 0.3);
    expect(seconds).toBeLessThan(10 + 2 * 5 * 0.8);
    const { programs, fragments } = recoverPrograms(said.stdout);
    expect(programs.map((program) => program.image)).toEqual(
      recoverPrograms(plain.stdout).programs.map((program) => program.image),
    );
    expect(programs.length).toBe(2);
    expect(fragments).toEqual([]);
  });

  it('says the name that --name gives', () => {
    const bytesFor = (name: string) =>
      runCli(['record', listing, '--name', name, '--say-name', '-o', '-', ...quick]).stdout.length;
    // On tape they differ by one bit; spoken, W is longer than E.
    expect(bytesFor('W')).toBeGreaterThan(bytesFor('E') + 2 * 0.2 * 11025);
  });

  it('records nothing of a listing with errors: exit status 1', () => {
    const wrong = join(folder, 'wrong.bas');
    writeFileSync(wrong, '10 PRNT\n');
    const { status, stderr } = runCli(['record', wrong]);
    expect(status).toBe(1);
    expect(stderr).toMatch(/wrong\.bas:1:4: error[\s\S]*nothing was recorded/);
    expect(existsSync(join(folder, 'wrong.wav'))).toBe(false);
  });

  it.each([
    ['a rate out of range', ['--rate', '5'], /rate is 5; it can be 8000 to 192000/],
    ['no number', ['--lead', 'long'], /long is not a number/],
    ['an empty number', ['--level', ''], /is not a number/],
    ['a depth that is none', ['--bits', '12'], /Allowed choices are 8, 16, 24/],
    ['a name that the machine cannot write', ['--name', 'A_B'], /the machine has no _/],
    ['an empty name', ['--name', ''], /at least one character/],
    ['a folder to write to', ['-o', folder], /cannot be written: it is a folder/],
  ])('refuses %s: exit status 2', (_, options, message) => {
    const { status, stderr, stdout } = runCli(['record', listing, ...options]);
    expect(stderr).toMatch(message);
    expect(stderr).not.toMatch(/\n\s+at /);
    expect(status).toBe(2);
    expect(stdout.length).toBe(0);
  });

  it('refuses one name for two programs', () => {
    const { status, stderr } = runCli(['record', listing, image, '--name', 'A']);
    expect(status).toBe(2);
    expect(stderr).toMatch(/--name can be given for a single program only/);
  });
});

describe.skipIf(process.platform === 'win32')('record --play', () => {
  /** A folder with one player that does what the script says. */
  function withPlayer(name: string, script: string): Record<string, string> {
    const path = join(folder, `players-${name}-${script.length}`);
    mkdirSync(path, { recursive: true });
    writeFileSync(join(path, name), `#!/bin/sh\n${script}\n`);
    chmodSync(join(path, name), 0o755);
    return { PATH: path };
  }

  it('hands the whole recording to a player, with the caution, and writes no file', () => {
    const heard = join(folder, 'heard.wav');
    const tiny = join(folder, 'tiny.bas');
    writeFileSync(tiny, '1 CLS\n');
    const env = withPlayer('aplay', `/bin/cp "$2" '${heard}'; /bin/sleep 3`);
    const options = ['record', tiny, '--lead', '0', '--tail', '0', '--speed', '2'];
    const { status, stderr } = runCli([...options, '--play'], { env });
    expect([status, stderr]).toEqual([0, expect.stringMatching(/with the volume low, never with/)]);
    expect(stderr).toMatch(/never feed a speaker-level or mains amplifier output/);
    expect(existsSync(join(folder, 'tiny.wav'))).toBe(false);
    runCli([...options, '-o', join(folder, 'written.wav')]);
    expect(readFileSync(heard).equals(readFileSync(join(folder, 'written.wav')))).toBe(true);
  });

  it.each([
    [
      'ends at once, though it says that all is well',
      'exit 0',
      /aplay: it ended after 0 s, and the sound lasts \d+ s/,
    ],
    ['says what is wrong', 'echo "no sound card" >&2; exit 1', /aplay: no sound card/],
    ['fails without a word', 'exit 3', /aplay: it ended with status 3/],
  ])('is no success with a player that %s: exit status 2', (_, script, words) => {
    const { status, stderr } = runCli(['record', image, '--play', ...quick], {
      env: withPlayer('aplay', script),
    });
    expect(status).toBe(2);
    expect(stderr).toMatch(/^listwright: the sound was not played: /m);
    expect(stderr).toMatch(words);
    expect(stderr).toMatch(/^ {2}do: {2}look whether .* or write the recording with -o/m);
  });

  it('gives a player up that does not end', async () => {
    const { PATH } = withPlayer('aplay', 'while :; do /bin/sleep 0.05; done');
    vi.stubEnv('PATH', PATH);
    await expect(play('none.wav', 0.1, () => {}, 0.2)).rejects.toThrow(/it had not ended after/);
    vi.unstubAllEnvs();
  });

  it('says so when there is no player: exit status 2', () => {
    const { status, stderr } = runCli(['record', image, '--play', ...quick], {
      env: { PATH: join(folder, 'none') },
    });
    expect(status).toBe(2);
    expect(stderr).toMatch(/no player was found on this system \(looked for pw-play, aplay/);
  });
});

it('tells the mistakes that the linter knows, of a listing and of its image, and records all the same', () => {
  writeFileSync(join(folder, 'mistaken.bas'), '10 PRINT SCOR\n');
  runCli(['tokenise', 'mistaken.bas'], { cwd: folder });
  for (const name of ['mistaken.bas', 'mistaken.img']) {
    const { status, stderr } = runCli(['record', name, '-o', 'mistaken.wav'], { cwd: folder });
    expect(status).toBe(0);
    expect(stderr).toContain(`${name}:1:10: warning: `);
    expect(stderr).toContain(`${name}: 1 mistake that the machine would stop at; `);
  }
});
