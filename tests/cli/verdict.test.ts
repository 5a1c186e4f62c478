/**
 * One verdict: of a program of any size about the limit, each command that speaks of the RAM says
 * the same, and the same number of bytes, whether it is given a listing, an image or a recording.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const path = (name: string): string => join(folder, name);

/** A listing whose image has so many bytes in 1K or 2K: the frame of a REM line is 148. */
const listing = (bytes: number): string => `10 REM ${'X'.repeat(bytes - 148)}\n`;

/** The sentence of a verdict, wherever a command says it. */
const SENTENCE =
  /(?:runs in \d+K, \d+ bytes? to spare|may run in \d+K: \d+ bytes? to spare at best, (?:\d+ over|no bound) at worst|does not (?:run|load) in \d+K: \d+ bytes? over at least)(?:, as rehearsed)?/;
const sentence = ({ stdout, stderr }: { stdout: string; stderr: string }): string | undefined =>
  SENTENCE.exec(stderr)?.[0] ?? SENTENCE.exec(stdout)?.[0];

const quick = ['--rate', '8000', '--bits', '8', '--lead', '0', '--tail', '0.1'];

interface Said {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** What each command says of one program, by the words that asked it. */
function ask(asked: Record<string, string[]>): Map<string, Said> {
  const entries = Object.entries(asked).map(([name, args]): [string, Said] => {
    const { status, stdout, stderr } = runCli(args, { cwd: folder });
    return [name, { status, stdout: stdout.toString(), stderr }];
  });
  return new Map(entries);
}

describe.each([
  ['1K', 920, 1000],
  ['2K', 2010, 2040],
  ['16K', 16_350, 16_380],
])('%s, images of %i to %i bytes', (ram, from, to) => {
  // With 16K the display of an image takes 768 bytes more.
  const more = ram === '16K' ? 768 : 0;
  const sizes = Array.from({ length: to - from + 1 }, (_, at) => from + at);
  const asked: Record<string, string[]> = {};
  for (const bytes of sizes) {
    writeFileSync(path(`${ram}-${bytes}.bas`), listing(bytes - more));
    asked[`fit ${bytes}`] = ['fit', `${ram}-${bytes}.bas`, '--ram', ram];
  }
  const fits = ask(asked);
  const kinds = sizes.map((bytes) => sentence(fits.get(`fit ${bytes}`)!)?.split(/ in /)[0]);
  // Every command about the sizes where the verdict changes, and now and then.
  const changes = sizes.filter((_, at) => at > 0 && kinds[at] !== kinds[at - 1]);
  const isAsked = (bytes: number) =>
    process.env.FUZZ || bytes % 20 === 0 || changes.some((at) => Math.abs(at - bytes) <= 2);
  const everyCommand = sizes.filter(isAsked);
  const others: Record<string, string[]> = {};
  for (const bytes of everyCommand) {
    const file = `${ram}-${bytes}.bas`;
    const image = `${ram}-${bytes}.img`;
    const size = ['--ram', ram];
    others[`tokenise ${bytes}`] = ['tokenise', file, ...size, '-o', `${ram}-${bytes}.out`];
    others[`image ${bytes}`] = ['tokenise', file, ...size, '-o', image, '--anyway'];
    for (const command of ['lint', 'rehearse']) {
      others[`${command} ${bytes}`] = [command, file, ...size];
    }
    others[`fit image ${bytes}`] = ['fit', image, ...size];
    others[`rehearse image ${bytes}`] = ['rehearse', image, ...size];
    // Making sound takes its time: about the limits, and now and then.
    if (bytes % 20 > 0 && !changes.includes(bytes) && !changes.includes(bytes + 1)) continue;
    others[`record ${bytes}`] = ['record', file, ...size, ...quick, '-o', `${ram}-${bytes}.wav`];
    others[`record image ${bytes}`] = ['record', image, ...size, ...quick, '-o', 'image.wav'];
  }
  const said = new Map([...fits, ...ask(others)]);
  const COMMANDS = 'tokenise,record,lint,fit,rehearse,record image,fit image,rehearse image'.split(
    ',',
  );
  const commandsOf = (bytes: number) => COMMANDS.filter((name) => said.has(`${name} ${bytes}`));

  it('get one verdict from every command', () => {
    for (const bytes of everyCommand) {
      const wanted = sentence(said.get(`fit ${bytes}`)!);
      expect(wanted, `${bytes}`).toBeDefined();
      for (const command of commandsOf(bytes)) {
        expect(sentence(said.get(`${command} ${bytes}`)!), `${command} ${bytes}`).toBe(wanted);
      }
    }
  });

  it('change from one byte to the next by a byte, from fitting to not loading', () => {
    expect([...new Set(kinds)]).toEqual(
      ram === '1K'
        ? ['runs', 'may run', 'does not run', 'does not load']
        : ['does not run', 'does not load'],
    );
    const last = sizes.map((bytes) => sentence(said.get(`fit ${bytes}`)!)!);
    const over = last.flatMap((text) => /load in .*: (\d+)/.exec(text)?.slice(1).map(Number) ?? []);
    expect(over).toEqual(over.map((_, index) => index + 1));
  });

  it('are refused, and nothing is written, from the same byte on', () => {
    for (const bytes of everyCommand) {
      const refused = sentence(said.get(`fit ${bytes}`)!)!.startsWith('does not load');
      for (const command of commandsOf(bytes)) {
        const { status } = said.get(`${command} ${bytes}`)!;
        if (refused) expect(status, `${command} ${bytes}`).toBe(1);
        else if (/^(tokenise|record)/.test(command)) expect(status).toBe(0);
      }
      expect(existsSync(path(`${ram}-${bytes}.out`)), `${bytes}`).toBe(!refused);
      if (said.has(`record ${bytes}`)) {
        expect(existsSync(path(`${ram}-${bytes}.wav`)), `${bytes}`).toBe(!refused);
      }
      expect(readFileSync(path(`${ram}-${bytes}.img`))).toHaveLength(bytes);
    }
  });
});

describe('JSON', () => {
  const verdictIn = (command: string, ...args: string[]) => {
    const words = [command, ...args, '--ram', '1K', '--format', 'json'];
    const { status, stdout } = runCli(words, { cwd: folder });
    const value = JSON.parse(stdout.toString());
    // Of several programs there is a list, in `record` and `recover` beside what was made of them.
    const one = value.programs?.[0] ?? (Array.isArray(value) ? value[0] : value);
    return { status, verdict: one.verdict };
  };
  const kinds = { 900: 'runs', 950: 'may run', 960: 'does not run', 997: 'does not load' };
  it.each(Object.entries(kinds))('of %s bytes has one verdict: %s', (bytes, kind) => {
    writeFileSync(path('json.bas'), listing(Number(bytes)));
    runCli(['record', 'json.bas', '--anyway', ...quick], { cwd: folder });
    const { verdict } = verdictIn('fit', 'json.bas');
    expect(verdict).toMatchObject({ is: kind, ram: 1024 });
    const others = [
      verdictIn('tokenise', 'json.bas'),
      verdictIn('record', 'json.bas', ...quick, '-o', 'json-2.wav'),
      verdictIn('recover', 'json.wav', '-o', 'json.img'),
      verdictIn('lint', 'json.bas'),
      verdictIn('rehearse', 'json.bas'),
    ];
    for (const other of others) expect(other.verdict).toEqual(verdict);
    const no = others.map(({ status }) => status === 1);
    if (kind === 'does not load') expect(no).toEqual([true, true, true, true, true]);
  });
  it.each([['fit'], ['lint'], ['rehearse'], ['tokenise'], ['record']])(
    'of %s has none for a listing with errors, and says which',
    (command) => {
      writeFileSync(path('wrong.bas'), '10 PRNT\n');
      expect(verdictIn(command, 'wrong.bas')).toEqual({ status: 1, verdict: null });
    },
  );
});

describe('recordings', () => {
  const sizes = process.env.FUZZ ? [900, 940, 960, 980, 995, 996, 997, 1010] : [900, 960, 995, 996];
  const asked: Record<string, string[]> = {};
  for (const bytes of sizes) {
    const [file, sound] = [`tape-${bytes}.bas`, `tape-${bytes}.wav`];
    writeFileSync(path(file), listing(bytes));
    asked[`record ${bytes}`] = ['record', file, '--anyway', ...quick, '-o', sound];
    asked[`fit ${bytes}`] = ['fit', file];
    for (const command of ['fit', 'rehearse']) {
      asked[`${command} sound ${bytes}`] = [command, sound, '--ram', '1K'];
    }
    asked[`recover ${bytes}`] = ['recover', sound, '--ram', '1K', '-o', `tape-${bytes}.img`];
    const anyway = ['--anyway', '-o', `anyway-${bytes}.img`];
    asked[`anyway ${bytes}`] = ['recover', sound, '--ram', '1K', ...anyway];
    asked[`again ${bytes}`] = [
      'record',
      sound,
      '--ram',
      '1K',
      ...quick,
      '-o',
      `again-${bytes}.wav`,
    ];
  }
  const said = ask(asked);

  it.each(sizes)('of %i bytes get the verdict of their listing', (bytes) => {
    const wanted = sentence(said.get(`fit ${bytes}`)!);
    expect(wanted).toBeDefined();
    for (const command of ['fit sound', 'rehearse sound', 'recover', 'anyway', 'again']) {
      expect(sentence(said.get(`${command} ${bytes}`)!), command).toBe(wanted);
    }
    const refused = bytes > 995;
    expect(wanted!.startsWith('does not load')).toBe(refused);
    expect(said.get(`recover ${bytes}`)!.status).toBe(refused ? 1 : 0);
    expect(said.get(`anyway ${bytes}`)!.status).toBe(0);
    expect(existsSync(path(`tape-${bytes}.img`))).toBe(!refused);
    expect(existsSync(path(`again-${bytes}.wav`))).toBe(!refused);
    expect(readFileSync(path(`anyway-${bytes}.img`))).toHaveLength(bytes);
  });
});
