/**
 * Inputs of any size, to every command: each is read, or refused at once, with words; nothing is
 * left, and memory stays small. Counted is processor time; the limits stand ten times above what it
 * takes.
 */
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { drawerOf, hostileInput } from '../support/hostile.js';
import { type ManyResult, runMany, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const FUZZ = Boolean(process.env.FUZZ);

const COMMANDS = [
  ['tokenise', 'in', '-o', 'out'],
  ['detokenise', 'in', '-o', 'out'],
  ['detokenise', 'in', '--salvage', '-o', 'out'],
  ['lint', 'in'],
  ['lint', 'in', '--format', 'json'],
  ['lint', 'in', '--format', 'sarif'],
  ['lint', 'in', '--fix', '--dry-run'],
  ['fit', 'in', '--svg', 'out'],
  ['rehearse', 'in', '--statements', '1000'],
  ['record', 'in', '-o', 'out'],
  ['recover', 'in', '-o', 'out'],
  ['compare', 'in', 'in'],
  ['format', 'in', '-o', 'out'],
  ['renumber', 'in', '--step', '1', '-o', 'out'],
  ['transcribe', 'in', '-o', 'out'],
  ['keys', 'in'],
  ['draw', 'in', '-o', 'out'],
] as const;

const MOST_SECONDS = 2;
const MOST_BYTES = 300_000_000;

/** Holds a run to what every run owes its user. */
function judge(what: string, { status, stderr }: ManyResult): void {
  const isWell =
    [0, 1, 2].includes(status) &&
    !/a fault of listwright|\n\s+at .+:\d+/.test(stderr) &&
    (status !== 2 || stderr.length > 0);
  // Controls and marks of direction are shown as codes.
  const isShown = !/[^\P{Cc}\n\t]|[\u202a-\u202e\u2066-\u2069\u200e\u200f]/u.test(stderr);
  expect([what, isWell, isShown, stderr.slice(0, 300)]).toEqual([
    what,
    true,
    true,
    stderr.slice(0, 300),
  ]);
}

describe('drawn inputs of up to 10 MB', () => {
  const FIRST = Number(process.env.SEED ?? 1);
  const DRAWN = FUZZ ? 300 : 6;
  /** In `npm test` a part of the commands reads each; what takes long to read is for the fuzz. */
  const EACH = FUZZ ? COMMANDS.length : 3;

  it('are read, or refused within two seconds, in 300 MB', () => {
    let refusals = 0;
    for (let seed = FIRST; seed < FIRST + DRAWN; seed++) {
      const draw = drawerOf(-seed);
      const commands = [...COMMANDS].sort(() => draw() - 0.5).slice(0, EACH);
      writeFileSync(join(folder, 'in'), hostileInput(seed));
      const results = runMany(commands, folder);
      for (const [index, result] of results.entries()) {
        const what = `seed ${seed}: ${commands[index].join(' ')}`;
        judge(what, result);
        if (result.status === 2) {
          refusals++;
          expect([what, result.seconds < MOST_SECONDS, result.seconds]).toEqual([
            what,
            true,
            result.seconds,
          ]);
        }
        // What others left in the memory of this process does not count.
        if (result.memory > MOST_BYTES) {
          const [{ memory }] = runMany([commands[index]], folder);
          expect([what, memory < MOST_BYTES, memory]).toEqual([what, true, memory]);
        }
      }
      rmSync(join(folder, 'out'), { force: true });
      expect([seed, readdirSync(folder)]).toEqual([seed, ['in']]);
    }
    expect(refusals).toBeGreaterThan(DRAWN / 2);
  }, 3_600_000);
});

describe('one line of 1 MB', () => {
  const MEGABYTE = 1 << 20;
  const LONG: [string, string][] = [
    ['operators', 'A+'],
    ['commas', ','],
    ['brackets', '('],
    ['minus signs', '-'],
    ['keywords', 'PRINT '],
    ['a string without an end', '"LAMP '],
    ['a name', 'A'],
  ];

  it.each(LONG)('of %s is refused, and of as much as 48K is read', (_, token) => {
    const whole = token[0] === '"' ? `"${'LAMP '.repeat(MEGABYTE / 5)}` : token.repeat(MEGABYTE);
    writeFileSync(join(folder, 'long.bas'), `10 PRINT ${whole.slice(0, MEGABYTE)}\n`);
    writeFileSync(join(folder, 'most.bas'), `10 PRINT ${whole.slice(0, 49_000)}\n`);
    const results = runMany(
      ['long.bas', 'most.bas'].flatMap((name) => [
        ['transcribe', name, '-o', 'clean.bas'],
        ['lint', name, '--format', 'json'],
      ]),
      folder,
    );
    for (const { status, stderr } of results.slice(0, 2)) {
      expect(status).toBe(2);
      expect(stderr).toMatch(
        /^long\.bas:1:983041: error: this row has more than 983040 characters/,
      );
    }
    for (const result of results) {
      judge('long', result);
      expect(result.memory).toBeLessThan(MOST_BYTES);
    }
    const [transcribed, linted, ...read] = results.map(({ seconds }) => seconds);
    expect(Math.max(transcribed, linted)).toBeLessThan(MOST_SECONDS);
    expect(Math.max(...read)).toBeLessThan(10);
    for (const name of readdirSync(folder)) rmSync(join(folder, name));
  });
});

describe('more rows than any program has', () => {
  const FEW = COMMANDS.filter((words) => ['detokenise', 'lint', 'keys'].includes(words[0]));
  it.each([
    ['.raw', '.raw program 40\n', 200_000, COMMANDS],
    ['allowances', "' lint: allow number-form — as printed\n", 200_000, FEW],
    ['bad lines', 'PRNT A\n', 200_000, FEW],
    ['10 MB', '10 PRINT "LAMP"\n', 625_000, FEW],
  ])('%s are refused by commands', (_, row, count, commands) => {
    writeFileSync(join(folder, 'in'), row.repeat(count));
    for (const [index, result] of runMany(commands, folder).entries()) {
      const words = commands[index];
      judge(words.join(' '), result);
      // To draw, they are a picture that is too large; to salvage, bytes like any others.
      const status = words[0] === 'draw' ? 1 : words[2] === '--salvage' ? result.status : 2;
      expect([words, result.status]).toEqual([words, status]);
      expect(result.seconds).toBeLessThan(MOST_SECONDS);
      expect(result.memory).toBeLessThan(MOST_BYTES);
    }
    for (const name of readdirSync(folder)) rmSync(join(folder, name));
  });
});

describe('recordings of much that is no program', () => {
  const RATE = 22_050;
  const HEAD = 44;
  const draw = drawerOf(5);
  /** Stretches of so many seconds, again and again, each made anew from what was there. */
  const inStretches = (bytes: Uint8Array, seconds: number, of: (at: number) => boolean) =>
    bytes.map((byte, at) => (of(Math.floor(at / (seconds * RATE))) ? byte : 128));
  const pulses = (size: number): Uint8Array => {
    const bytes = new Uint8Array(size);
    for (let at = 0; at < size; ) {
      const end = at + 2 + Math.floor(draw() * 12);
      bytes.fill(draw() < 0.5 ? 40 : 215, at, end);
      at = end;
    }
    return bytes;
  };

  it('are read in a part of the time that they play', () => {
    writeFileSync(join(folder, 'oak.bas'), `10 REM ${'LAMP '.repeat(60)}\n`);
    runMany([['record', 'oak.bas', '--rate', String(RATE), '--bits', '8']], folder);
    const whole = readFileSync(join(folder, 'oak.wav'));
    const [head, sound] = [whole.subarray(0, HEAD), whole.subarray(HEAD)];
    const begin = sound.subarray(0, 9 * RATE);
    const sounds: Record<string, Uint8Array> = {
      'random pulses': pulses(sound.length),
      'long holes': inStretches(sound, 0.3, (at) => at % 3 > 0),
      bursts: inStretches(pulses(sound.length), 0.2, (at) => at % 4 === 0),
      'short bursts': inStretches(pulses(sound.length), 0.02, (at) => at % 4 === 0),
      'false heads': sound.map((_, at) => begin[at % begin.length]),
    };
    for (const [name, bytes] of Object.entries(sounds)) {
      writeFileSync(join(folder, name), Buffer.concat([head, bytes]));
    }
    const names = Object.keys(sounds);
    const results = runMany(
      names.map((name) => ['recover', name, '-o', 'oak.img']),
      folder,
    );
    for (const [index, result] of results.entries()) {
      judge(names[index], result);
      // Ten times the fifth of what they play.
      expect(result.seconds).toBeLessThan((2 * sound.length) / RATE);
      expect(result.memory).toBeLessThan(MOST_BYTES);
      console.log(
        names[index],
        sound.length / RATE,
        result.status,
        result.seconds,
        result.memory / 1e6,
        result.stderr.slice(0, 100),
      );
    }
    for (const name of readdirSync(folder)) rmSync(join(folder, name));
  });
});
