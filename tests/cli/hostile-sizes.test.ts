/**
 * Inputs of any size, to every command: each is read, or refused at once, with words; nothing is
 * left, and memory stays small. Counted is processor time; the limits stand ten times above what it
 * takes.
 */
import { readdirSync, readFileSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { MOST_ROWS } from '../../src/machine/program-limits.js';
import { drawerOf, hostileInput } from '../support/hostile.js';
import { type ManyResult, runMany, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const FUZZ = Boolean(process.env.FUZZ);

/** `in` is the input that is drawn. */
const COMMANDS = `
  tokenise in -o out
  tokenise in --anyway --format json -o out
  tokenise includes.bas -o out
  detokenise in -o out
  detokenise in --salvage -o out
  lint in
  lint in --format json
  lint in --format sarif
  lint in --fix --dry-run
  lint in --fix --until-fits --dry-run
  fit in --svg out
  fit in --format json
  fit in --rehearse --statements 1000
  rehearse in --statements 1000
  rehearse in --statements 1000 --trace --format json --ledger out
  rehearse asks.bas --inputs in --statements 1000
  record in -o out
  record in in --say-name -o out
  recover in -o out
  recover in in --svg out -o out.img
  compare in in
  compare in lamp.bas --bytes --format json
  format in -o out
  format in --check
  renumber in --step 1 -o out
  renumber in --force --format json -o out
  transcribe in -o out
  transcribe in --sure 0 --report out
  keys in
  keys in --cover
  keys in --format html -o out
  draw in -o out
  draw in --as plot --dither jarvis-judice-ninke --svg out
  draw in --as least --format json
  draw --text LAMP --into in --at 9000 -o out
  completion in`
  .trim()
  .split('\n')
  .map((words) => words.trim().split(' '));
/** What stands beside the input. */
const BESIDE: Readonly<Record<string, string>> = {
  'includes.bas': '10 REM [file "in"]\n',
  'asks.bas': '10 INPUT A$\n20 GOTO 10\n',
  'lamp.bas': '10 PRINT "LAMP"\n',
};

const MOST_SECONDS = 2;
const MOST_BYTES = 300_000_000;

/** What a run owes its user, and did not give. */
function faultsOf({ status, stderr }: ManyResult): string[] {
  const faults: string[] = [];
  if (![0, 1, 2].includes(status)) faults.push(`status ${status}`);
  if (status === 2 && stderr.length === 0) faults.push('refused without a word');
  if (/a fault of listwright|\n\s+at .+:\d+/.test(stderr)) faults.push('a fault');
  // Controls and marks of direction are shown as codes.
  if (/[^\P{Cc}\n\t]|[\u202a-\u202e\u2066-\u2069\u200e\u200f]/u.test(stderr)) {
    faults.push('a control character');
  }
  return faults.length === 0 ? [] : [...faults, stderr.slice(0, 300)];
}

describe('drawn inputs of up to 10 MB', () => {
  const FIRST = Number(process.env.SEED ?? 1);
  const DRAWN = FUZZ ? Number(process.env.INPUTS ?? 300) : 3;
  /** In `npm test` a part of the commands reads each; what takes long to read is for the fuzz. */
  const EACH = FUZZ ? COMMANDS.length : 3;

  it('are read, or refused within two seconds, in 300 MB', () => {
    const faults: unknown[] = [];
    const runs: { what: string; seconds: number; memory: number }[] = [];
    let refusals = 0;
    for (const [name, text] of Object.entries(BESIDE)) writeFileSync(join(folder, name), text);
    for (let seed = FIRST; seed < FIRST + DRAWN; seed++) {
      const draw = drawerOf(-seed);
      const commands = [...COMMANDS].sort(() => draw() - 0.5).slice(0, EACH);
      writeFileSync(join(folder, 'in'), hostileInput(seed));
      for (const [index, result] of runMany(commands, folder).entries()) {
        const what = `seed ${seed}: ${commands[index].join(' ')}`;
        const { status, seconds } = result;
        const found = faultsOf(result);
        if (status === 2) refusals++;
        if (status === 2 && seconds > MOST_SECONDS) found.push(`refused after ${seconds} s`);
        let { memory } = result;
        // What others left in the memory of this process does not count.
        if (memory > MOST_BYTES) [{ memory }] = runMany([commands[index]], folder);
        if (memory > MOST_BYTES) found.push(`${memory} bytes of memory`);
        if (found.length > 0) faults.push([what, found]);
        runs.push({ what: `${what}: status ${status}`, seconds, memory });
      }
      for (const name of ['out', 'out.img']) rmSync(join(folder, name), { force: true });
      const left = readdirSync(folder).filter((name) => name !== 'in' && !(name in BESIDE));
      if (left.length > 0) faults.push([seed, left]);
      if (FUZZ && seed % 5 === 0) writeSync(2, `${seed} ${JSON.stringify(faults)}\n`);
    }
    for (const most of FUZZ ? (['seconds', 'memory'] as const) : []) {
      const worst = runs.sort((a, b) => b[most] - a[most]).slice(0, 20);
      writeSync(2, `${JSON.stringify(worst, null, 1)}\n`);
    }
    expect(faults).toEqual([]);
    expect(refusals).toBeGreaterThan(DRAWN / 2);
  }, 36_000_000);
});

describe('one line of 1 MB', () => {
  const MEGABYTE = 1 << 20;
  /** In `npm test` a part of what 48K holds: `npm run bench:size` shows how the rest grows. */
  const MOST = FUZZ ? 49_000 : 6000;
  const LONG: Record<string, string> = {
    operators: 'A+',
    commas: ',',
    brackets: '(',
    'minus signs': '-',
    keywords: 'PRINT ',
    'a string without an end': '"LAMP ',
    'a name': 'A',
  };

  it('is refused, and of as much as 48K is read, whatever it is of', () => {
    const asked: string[][] = [];
    for (const [name, token] of Object.entries(LONG)) {
      const whole = token[0] === '"' ? `"${'LAMP '.repeat(MEGABYTE / 5)}` : token.repeat(MEGABYTE);
      writeFileSync(join(folder, `long ${name}`), `10 PRINT ${whole.slice(0, MEGABYTE)}\n`);
      writeFileSync(join(folder, `some ${name}`), `10 PRINT ${whole.slice(0, MOST)}\n`);
      for (const file of [`long ${name}`, `some ${name}`]) {
        asked.push(['transcribe', file, '-o', 'clean.bas'], ['lint', file, '--format', 'json']);
      }
    }
    for (const [index, result] of runMany(asked, folder).entries()) {
      const [command, name] = asked[index];
      const isLong = name.startsWith('long');
      expect([command, name, faultsOf(result)]).toEqual([command, name, []]);
      if (isLong) {
        expect(result.stderr).toMatch(/:1:983041: error: this row has more than 983040 characters/);
      }
      expect([command, name, result.status === 2]).toEqual([command, name, isLong]);
      expect(result.seconds).toBeLessThan(isLong ? MOST_SECONDS : 10);
      expect(result.memory).toBeLessThan(MOST_BYTES);
    }
    for (const name of readdirSync(folder)) rmSync(join(folder, name));
  });
});

describe('more rows than any program has', () => {
  // What is typed at INPUT may be as much as one likes.
  const EVERY = COMMANDS.filter(
    (words) => words.includes('in') && words[0] !== 'completion' && !words.includes('--inputs'),
  );
  const FEW = EVERY.filter(([command], at) => {
    const isFirst = EVERY.findIndex((words) => words[0] === command) === at;
    return isFirst && ['detokenise', 'lint', 'keys'].includes(command);
  });
  const MANY = FUZZ ? 200_000 : MOST_ROWS + 1;
  const ROWS: [name: string, row: string, count: number, commands: string[][]][] = [
    ['.raw', '.raw program 40\n', MANY, EVERY],
    ['allowances', "' lint: allow number-form — as printed\n", MANY, FEW],
    ['bad lines', 'PRNT A\n', MANY, FEW],
    ['10 MB', '10 PRINT "LAMP"\n', 625_000, FUZZ ? FEW : FEW.slice(0, 1)],
  ];

  it('are refused by every command', () => {
    for (const [name, row, count] of ROWS) writeFileSync(join(folder, name), row.repeat(count));
    for (const [name, text] of Object.entries(BESIDE)) writeFileSync(join(folder, name), text);
    const asked = ROWS.flatMap(([name, , , commands]) =>
      commands.map((words) => words.map((word) => (word === 'in' ? name : word))),
    );
    for (const [index, result] of runMany(asked, folder).entries()) {
      const words = asked[index];
      expect([words, faultsOf(result)]).toEqual([words, []]);
      // To draw, they are a picture of rows that is too large, where no option is for others; to
      // salvage, bytes like any others.
      const isPicture = words[0] === 'draw' && words[1] !== '--text' && !words.includes('--dither');
      const status = isPicture ? 1 : words[2] === '--salvage' ? result.status : 2;
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
    const head = whole.subarray(0, HEAD);
    const sound = whole.subarray(HEAD, FUZZ ? undefined : HEAD + 10 * RATE);
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
      expect([names[index], faultsOf(result)]).toEqual([names[index], []]);
      // Ten times the fifth of what they play.
      expect(result.seconds).toBeLessThan((2 * sound.length) / RATE);
      expect(result.memory).toBeLessThan(MOST_BYTES);
    }
    for (const name of readdirSync(folder)) rmSync(join(folder, name));
  });
});
