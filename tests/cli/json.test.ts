/** `--format json` of every command: one value on standard output, with all that the text says. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const GOOD = '10 PRINT "OAK"\n20 GOTO 10\n';
const place = (name: string, text: string | Uint8Array): string => {
  writeFileSync(join(folder, name), text);
  return name;
};
place('lamp.bas', GOOD);
place('bad.bas', '10 PRNT "OAK"\n');
place('untidy.bas', '10   print "OAK"\n');
runCli(['tokenise', 'lamp.bas'], { cwd: folder });
runCli(['record', 'lamp.bas', '--lead', '0.2'], { cwd: folder });

function json(...args: string[]) {
  const { status, stdout } = runCli([...args, '--format', 'json'], { cwd: folder });
  return { status, value: JSON.parse(stdout.toString()) };
}

describe('record', () => {
  it('says what was written, of what and how', () => {
    const { status, value } = json('record', 'lamp.bas', '-o', 'two.wav', '--name', 'ELM');
    expect(status).toBe(0);
    expect(value).toMatchObject({ written: 'two.wav', rate: 44100, bits: 16, notes: [] });
    expect(value.bytes).toBe(readFileSync(join(folder, 'two.wav')).length);
    expect(value.programs).toEqual([
      expect.objectContaining({ file: 'lamp.bas', kind: 'listing', name: 'ELM', diagnostics: [] }),
    ]);
    expect(value.programs[0].verdict).toMatchObject({ is: 'runs', ram: 1024 });
  });
  it('says why nothing was', () => {
    const { status, value } = json('record', 'bad.bas');
    expect(status).toBe(1);
    expect(value).toMatchObject({ written: null, programs: [{ name: null, verdict: null }] });
    expect(value.programs[0].diagnostics[0]).toMatchObject({ severity: 'error', line: 1 });
  });
  it.each([['record'], ['tokenise']])('%s cannot share standard output with bytes', (command) => {
    const { status, stderr, stdout } = runCli(
      [command, 'lamp.bas', '-o', '-', '--format', 'json'],
      { cwd: folder },
    );
    expect([status, stdout.length]).toEqual([2, 0]);
    expect(stderr).toMatch(
      /and the JSON cannot both go to standard output\n {2}do: {2}give -o a file/,
    );
  });
});

describe('detokenise', () => {
  it('holds the listing, where no file takes it', () => {
    const { status, value } = json('detokenise', 'lamp.wav');
    expect(status).toBe(0);
    expect(value).toMatchObject({ kind: 'recording', name: 'LAMP', written: null, doubts: [] });
    expect(value.text).toContain('10 PRINT "OAK"\n20 GOTO 10\n');
    const filed = json('detokenise', 'lamp.img', '-o', 'back.bas').value;
    expect(filed).toMatchObject({ kind: 'image', written: 'back.bas', lines: 2 });
    expect(filed).not.toHaveProperty('text');
    expect(readFileSync(join(folder, 'back.bas'), 'utf8')).toContain('10 PRINT "OAK"');
  });
});

describe('renumber', () => {
  it('says old and new numbers, and where the listing went', () => {
    const { status, value } = json('renumber', 'lamp.bas', '--start', '100', '-o', '-');
    expect(status).toBe(0);
    expect(value.numbers).toEqual([
      { from: 10, to: 100 },
      { from: 20, to: 110 },
    ]);
    expect(value).toMatchObject({ written: null, text: '100 PRINT "OAK"\n110 GOTO 100\n' });
    expect(json('renumber', 'bad.bas')).toMatchObject({ status: 1, value: { written: null } });
  });
});

describe('format', () => {
  it('says of each listing whether it is in its tidy form', () => {
    const checked = json('format', 'lamp.bas', 'untidy.bas', 'bad.bas', '--check');
    expect(checked.status).toBe(1);
    expect(checked.value).toMatchObject([
      { file: 'lamp.bas', tidy: true, firstDifference: null },
      { file: 'untidy.bas', tidy: false, firstDifference: 1, written: null },
      { file: 'bad.bas', tidy: null, diagnostics: [{ severity: 'error' }] },
    ]);
    expect(json('format', 'untidy.bas').value).toMatchObject([{ written: 'untidy.bas' }]);
    expect(readFileSync(join(folder, 'untidy.bas'), 'utf8')).toBe('10 PRINT "OAK"\n');
  });
});

it('gives what transcribe did, and leaves the listing to the file', () => {
  const filed = json('transcribe', 'lamp.bas', '-o', 'clean.bas').value;
  expect(filed).toMatchObject({ written: 'clean.bas', clean: true });
  expect(filed.text).toBeUndefined();
  expect(readFileSync(join(folder, 'clean.bas'), 'utf8')).toBe(
    json('transcribe', 'lamp.bas').value.text,
  );
});

it.each([
  [['tokenise', 'lamp.bas', '-o', 'x.img']],
  [['detokenise', 'lamp.img']],
  [['lint', 'lamp.bas']],
  [['fit', 'lamp.bas']],
  [['rehearse', 'lamp.bas', '--statements', '9']],
  [['record', 'lamp.bas', '-o', 'x.wav']],
  [['recover', 'lamp.wav', '-o', 'x.img']],
  [['compare', 'lamp.bas', 'lamp.img']],
  [['format', '--check', 'lamp.bas']],
  [['renumber', 'lamp.bas', '-o', 'x.bas']],
  [['transcribe', 'lamp.bas']],
  [['keys', 'lamp.bas']],
])('%j gives JSON', (args) => {
  expect(json(...args).value).toBeTypeOf('object');
});

describe('a long list', () => {
  const many = Array.from({ length: 30 }, (_, at) => `${10 * (at + 1)} PRNT ${at}\n`).join('');
  const lines = Array.from({ length: 30 }, (_, at) => `${10 * (at + 1)} LET A=${at + 1e3}\n`);
  mkdirSync(join(folder, 'long'));
  place('long/bad.bas', many);
  place('long/one.bas', lines.join(''));
  place('long/two.bas', lines.join('').replaceAll('A=', 'B='));
  place('long/page.txt', many.replaceAll('PRNT', 'PR?%T'));
  const shown = (args: string[], row: RegExp) => {
    const { stdout, stderr } = runCli(args, { cwd: folder });
    const text = `${stdout}${stderr}`;
    return {
      rows: text.match(row)?.length,
      more: /and (\d+) more.*--all shows them/.exec(text)?.[1],
    };
  };
  it.each([
    ['messages', ['tokenise', 'long/bad.bas'], /: error: /g],
    ['differences', ['compare', 'long/one.bas', 'long/two.bas'], /^- /gm],
    ['changes', ['lint', '--fix', '--dry-run', 'long/one.bas'], /^line \d+: /gm],
    ['lines of a budget', ['fit', 'long/one.bas', '--by', 'line'], /^ *\d+ +\d+ +\d+ /gm],
  ])('of %s is cut at 20, and whole with --all', (_, args, row) => {
    expect(shown(args, row)).toEqual({ rows: 20, more: '10' });
    expect(shown([...args, '--all'], row)).toEqual({ rows: 30, more: undefined });
  });
  it('of questions about a page is cut too', () => {
    const whole = shown(['transcribe', 'long/page.txt', '--all'], /: question: /g);
    expect(whole.rows).toBeGreaterThan(20);
    expect(shown(['transcribe', 'long/page.txt'], /: question: /g).rows).toBe(20);
  });
});
