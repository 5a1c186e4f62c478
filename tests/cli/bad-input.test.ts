/** Every kind of bad input: a clear message, the right exit status, no stack trace, no half-written file. */
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const file = (name: string, content: string | Uint8Array): string => {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
};
const good = file('good.bas', '10 PRINT "GOOD"\n');
runCli(['tokenise', good]);
const image = readFileSync(join(folder, 'good.img'));
runCli(['record', good, '--lead', '0.2']);
const wave = existsSync(join(folder, 'good.wav'))
  ? readFileSync(join(folder, 'good.wav'))
  : Buffer.alloc(0);

/** Runs, and holds the result to what every failure owes its user. */
function refused(args: string[], status: number, input?: string | Uint8Array) {
  const before = readdirSync(folder).sort();
  const result = runCli(args, { input, cwd: folder });
  expect(result.stderr).not.toMatch(/\n\s+at .+:\d+/);
  expect(result.stderr).not.toContain('a fault of listwright');
  expect(result.status).toBe(status);
  expect(result.stdout.length).toBe(0);
  expect(readdirSync(folder).sort()).toEqual(before);
  return result.stderr;
}

describe('a listing that cannot be read: exit status 2', () => {
  it.each([
    [
      'a missing file',
      ['tokenise', 'none.bas'],
      /none\.bas: cannot be read: there is no such file/,
    ],
    ['a folder', ['tokenise', '.'], /\.: cannot be read: it is a folder/],
    ['an empty file', ['tokenise', file('empty.bas', '')], /the file is empty/],
    [
      'an image where text was meant',
      ['tokenise', file('was.img', image)],
      /this is not text.*\n.*detokenise/,
    ],
    ['UTF-16', ['tokenise', file('wide.bas', Buffer.from('\ufeff10 CLS', 'utf16le'))], /UTF-16/],
    [
      'invalid UTF-8',
      ['tokenise', file('latin.bas', Buffer.from('10 CLS\n20 REM \xe9\n', 'latin1'))],
      /latin\.bas:2:8: error: this is not UTF-8/,
    ],
    [
      'a bad size of RAM',
      ['tokenise', good, '--ram', '99K'],
      /--ram: 99K is not a size that the machine takes/,
    ],
    ['a bad option', ['tokenise', good, '--nonsense'], /unknown option '--nonsense'/],
    ['a bad command', ['tokenize', good], /unknown command 'tokenize'/],
    ['no argument', ['tokenise'], /missing required argument/],
    [
      'a bad form of results',
      ['tokenise', good, '--format', 'xml'],
      /Allowed choices are text, json/,
    ],
  ])('%s', (_, args, message) => {
    expect(refused(args, 2)).toMatch(message);
  });
});

describe('a listing with errors: exit status 1, and its old image stays', () => {
  it.each([
    ['line number 0', '0 CLS\n', /<standard input>:1:1: error: 0 cannot be a line number/],
    ['line number 10000', '10000 CLS\n', /:1:1: error: 10000 cannot be a line number/],
    ['a number twice', '10 CLS\n10 STOP\n', /:2:1: error: there are two lines 10/],
    [
      'a line longer than the RAM',
      `10 REM ${'A'.repeat(2000)}\n`,
      /:1:1: error: the program does not load in 1K: 1\d\d\d bytes over at least/,
    ],
    [
      'a line longer than any',
      `10 REM ${'A'.repeat(70_000)}\n`,
      /:1:4: error: this line has 70001 bytes of text/,
    ],
    ['a number too large', '10 LET A=1E39\n', /:1:10: error: 1E39 is too large.*\n[\s\S]*report 6/],
    [
      'a start that is not there',
      '.start 50\n10 CLS\n',
      /:1:1: error: there is no line 50 to start from/,
    ],
  ])('%s', (_, text, message) => {
    const old = file('kept.img', 'old');
    expect(refused(['tokenise', '-', '-o', old], 1, text)).toMatch(message);
    expect(readFileSync(old, 'utf8')).toBe('old');
  });

  it('gives all of it as JSON', () => {
    const { status, stdout } = runCli(
      ['tokenise', '-', '-o', join(folder, 'x.img'), '--format', 'json'],
      {
        input: '10 CLS\n20 PRNT 5\n',
      },
    );
    expect(status).toBe(1);
    expect(JSON.parse(stdout.toString()).diagnostics).toMatchObject([
      {
        file: '<standard input>',
        line: 2,
        column: 4,
        endColumn: 8,
        severity: 'error',
        rule: 'no-such-command',
        help: 'did you mean PRINT?',
      },
    ]);
  });
});

describe('what is only unusual is read', () => {
  it.each([
    ['a byte-order mark', '\ufeff10 PRINT "GOOD"\n'],
    ['CRLF', '10 PRINT "GOOD"\r\n'],
    ['CR', '10 PRINT "GOOD"\r'],
    ['no end of line', '10 PRINT "GOOD"'],
    ['blank lines', '\n\n10 PRINT "GOOD"\n\n'],
  ])('%s', (_, text) => {
    const { status, stdout } = runCli(['tokenise', '-', '-o', '-'], { input: text });
    expect(status).toBe(0);
    expect(stdout.equals(image)).toBe(true);
  });
});

describe('lines that end in carriage returns alone', () => {
  const listing = file('returns.bas', '10 CLS\r20 PRNT A\r30 LET A=12345\r');
  it('have their places, and are lines to each command', () => {
    expect(runCli(['lint', listing]).stderr.toString()).toBe('');
    expect(runCli(['lint', listing]).stdout.toString()).toContain('returns.bas:2:4: error: ');
    expect(runCli(['transcribe', listing, '-o', '-']).stdout.toString()).toMatch(
      /^10 CLS\n' 20: .*\n20 PRINT A\n30 LET A=12345\n$/,
    );
  });

  it('are line feeds in what is written', () => {
    const good = file('good-returns.bas', '10 LET A=12345\r20 PRINT A\r30 PRINT A+A\r');
    expect(runCli(['lint', good, '--fix']).status).toBe(0);
    expect(readFileSync(good, 'utf8')).toBe('10 LET A=VAL "12345"\n20 PRINT A\n30 PRINT A+A\n');
  });

  it('too many are refused at their row', () => {
    const many = file('many.bas', '* *\r'.repeat(70_000));
    const { status, stderr } = runCli(['tokenise', many]);
    expect(status).toBe(2);
    expect(stderr.toString()).toContain(
      'many.bas:65537:1: error: the text has more than 65536 rows',
    );
  });
});

describe('an image that cannot be read: exit status 2', () => {
  const cut = image.subarray(0, image.length - 10);
  const crossed = Buffer.from(image);
  crossed.writeUInt16LE(20_000, 16396 - 16393);
  it.each([
    ['an empty file', ['detokenise', file('empty.img', '')], /the file is empty/],
    [
      'cut short in the system variables',
      ['detokenise', file('short.img', image.subarray(0, 50))],
      /it has 50 bytes, and the system variables alone take 116/,
    ],
    [
      'cut short',
      ['detokenise', file('cut.img', cut)],
      /it is cut short: 1\d\d bytes are there, and its own E_LINE says 1\d\d/,
    ],
    [
      'pointers out of order',
      ['detokenise', file('crossed.img', crossed)],
      /its pointers make no sense: D_FILE 20000/,
    ],
  ])('%s', (_, args, message) => {
    expect(refused(args, 2)).toMatch(message);
  });
});

describe('a recording that cannot be read: exit status 2', () => {
  const lies = Buffer.from(wave);
  if (lies.length > 44) lies.writeUInt32LE(lies.length * 3, 40);
  const silence = Buffer.from(wave);
  silence.fill(0, 44);
  it.each([
    ['a WAV header that lies', 'lies.wav', lies, /lies\.wav/],
    ['sound with no program in it', 'silence.wav', silence, /no program/],
    ['a WAV with nothing behind its header', 'bare.wav', wave.subarray(0, 20), /bare\.wav/],
  ])('%s', (_, name, bytes, message) => {
    const path = file(name, bytes);
    expect(refused(['recover', path], 2)).toMatch(message);
    expect(refused(['detokenise', path], 2)).toMatch(message);
  });
});

describe('a place that cannot be written: exit status 2', () => {
  it('a full disk', () => {
    // The device that is always full; where there is none, nothing can be shown.
    if (!existsSync('/dev/full')) return;
    expect(refused(['tokenise', good, '-o', '/dev/full'], 2)).toMatch(
      /\/dev\/full: cannot be written: the disk is full/,
    );
  });

  it('a folder that is not there', () => {
    expect(refused(['tokenise', good, '-o', join(folder, 'no', 'such.img')], 2)).toMatch(
      /cannot be written: there is no such folder/,
    );
  });

  it('a folder', () => {
    expect(refused(['tokenise', good, '-o', folder], 2)).toMatch(
      /cannot be written: it is a folder/,
    );
  });

  it.skipIf(process.getuid?.() === 0)('a folder without permission', () => {
    const locked = join(folder, 'locked');
    mkdirSync(locked);
    chmodSync(locked, 0o500);
    expect(refused(['tokenise', good, '-o', join(locked, 'a.img')], 2)).toMatch(
      /permission is denied/,
    );
  });
});
