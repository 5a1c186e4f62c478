/** `--ram`, which every command takes: what it says of the RAM that is fitted. */
import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const file = (name: string, content: string): string => {
  writeFileSync(join(folder, name), content);
  return name;
};
const content = (name: string): string => readFileSync(join(folder, name), 'utf8');
const cli = (args: string[], input: string | Uint8Array = '') => {
  const { status, stdout, stderr } = runCli(args, { cwd: folder, input });
  return { status, stdout: stdout.toString(), stderr };
};

/** A REM of so many bytes: the program is 31 bytes of frame and display, 116 of system variables. */
const rem = (bytes: number): string => `10 REM ${'X'.repeat(bytes)}\n`;
const SMALL = '10 PRINT "LAMP"\n';
/** Loads in 1K to the byte: 125 + 6 + 847 + 25 + 1, 2 for the machine's line, 18 for its stack. */
const FULL = rem(847);

const COMMANDS =
  'tokenise detokenise lint fit rehearse record recover compare format renumber transcribe keys';

describe.each(COMMANDS.split(' '))('%s', (command) => {
  it('offers --ram', () => {
    expect(cli(['help', command]).stdout).toMatch(/^ {2}--ram <size>/m);
  });
  it.each(['2M', '0.5K', '64K', ''])('refuses a RAM of "%s"', (size) => {
    const { status, stdout, stderr } = cli([command, `--ram=${size}`, 'a', 'b']);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(/^listwright: --ram: .* is not a size /);
  });
});

it('knows what fits to the byte', () => {
  expect(cli(['tokenise', file('full.bas', FULL)]).status).toBe(0);
  const { status, stderr } = cli(['tokenise', file('over.bas', rem(848))]);
  expect([status, stderr.split('\n')[0]]).toEqual([
    1,
    'over.bas:1:1: error: the program does not load in 1K: 1 byte over at least',
  ]);
});

describe('detokenise --ram', () => {
  const image = (name: string, text: string, ram: string): string => {
    cli(['tokenise', file(`${name}.bas`, text), '--ram', ram]);
    return `${name}.img`;
  };
  /** What it says builds the same bytes as the image. */
  const same = (text: string, name: string): void => {
    cli(['tokenise', file('again.bas', text)]);
    expect(readFileSync(join(folder, 'again.img'))).toEqual(readFileSync(join(folder, name)));
  };

  it.each([
    ['1K', '1K', SMALL],
    ['1K', '2K', `.ram 2K\n${SMALL}`],
    ['16K', '16K', `.ram 16K\n${SMALL}`],
    ['16K', '48K', `.ram 48K\n${SMALL}`],
  ])('of an image for %s names %s', (built, asked, wanted) => {
    const name = image('lamp', SMALL, built);
    const { status, stdout, stderr } = cli(['detokenise', name, '--ram', asked]);
    expect([status, stdout, stderr]).toEqual([0, wanted, '']);
    same(stdout, name);
  });
  it('stands after the name of a recording', () => {
    cli(['record', file('lamp.bas', SMALL), '--lead', '0', '--ram', '16K']);
    expect(cli(['detokenise', 'lamp.wav', '--ram', '16K']).stdout).toBe(
      `.name "LAMP"\n.ram 16K\n${SMALL}`,
    );
  });
  it('says so where the display is of another machine, and keeps the bytes', () => {
    const name = image('wide', SMALL, '16K');
    const { status, stdout, stderr } = cli(['detokenise', name, '--ram', '1K']);
    expect([status, stdout]).toEqual([0, `.ram 16K\n${SMALL}`]);
    expect(stderr).toBe(
      [
        'wide.img: warning: its display is not one that a machine with 1K makes; the listing is for another RAM',
        '  do:  `listwright tokenise --ram 1K` builds it as such a machine has it\n',
      ].join('\n'),
    );
    same(stdout, name);
  });
  it.each([
    ['', `.ram 16K\n${rem(3000)}`],
    ['--plain', `  ${rem(3000)}`],
  ])('says no where the program is larger %s', (option, wanted) => {
    const name = image('large', rem(3000), '16K');
    const { status, stdout, stderr } = cli(
      ['detokenise', name, '--ram=2K', option].filter(Boolean),
    );
    expect([status, stdout]).toEqual([1, wanted]);
    expect(stderr).toMatch(
      /^large\.img:2:1: error: the program does not load in 2K: 1129 bytes over at least$/m,
    );
  });
});

describe('format --ram', () => {
  it('puts what is too large in its tidy form too, and says no', () => {
    const name = file('untidy.bas', rem(848).toLowerCase());
    const { status, stderr } = cli(['format', name, '--ram', '1K']);
    expect(status).toBe(1);
    expect(content(name)).toBe(rem(848));
    expect(stderr).toMatch(/^untidy\.bas:1:1: error: the program does not load/);
    expect(stderr).toMatch(/^untidy\.bas: put in its tidy form, 1 line$/m);
    expect(cli(['format', name, '--ram', '1K', '--check']).status).toBe(1);
    expect(cli(['format', name, '--ram', '2K', '--check'])).toEqual({
      status: 0,
      stdout: '',
      stderr: '',
    });
  });
});

describe('renumber --ram', () => {
  /** Each byte of 1K is taken while line numbers have one digit. */
  const TIGHT = `1 REM ${'X'.repeat(834)}\n2 GOTO 1\n`;

  it('changes nothing where longer numbers would not fit', () => {
    const name = file('tight.bas', TIGHT);
    const { status, stderr } = cli(['renumber', name, '--ram', '1K']);
    expect(status).toBe(1);
    expect(content(name)).toBe(TIGHT);
    expect(stderr).toMatch(/error: the program does not load in 1K: 1 byte over at least/);
    expect(stderr).toMatch(/tight\.bas: nothing was renumbered\n$/);
    expect(cli(['renumber', name, '--ram', '1K', '--step', '1', '--start', '2']).status).toBe(0);
    expect(content(name)).toBe(TIGHT.replace('2 GOTO 1', '3 GOTO 2').replace('1 REM', '2 REM'));
    expect(cli(['renumber', name, '--ram', '2K']).status).toBe(0);
  });
  it('warns where the listing outgrows its own RAM by it, and not where it had before', () => {
    const name = file('outgrown.bas', TIGHT);
    const first = cli(['renumber', name]);
    expect(first.status).toBe(0);
    expect(first.stderr).toMatch(/^outgrown\.bas:\d:1: warning: the program does not load/);
    expect(content(name)).toContain('20 GOTO 10');
    const again = cli(['renumber', name]);
    expect([again.status, again.stderr]).toEqual([0, 'outgrown.bas: 2 lines from 10 by 10\n']);
  });
});

describe('transcribe --ram', () => {
  const PAGE = '10 PR1NT “OAK”\n';

  it('writes the directive, unless that RAM is the usual or the page names one', () => {
    const run = (size: string, page = PAGE) =>
      cli(['transcribe', '-', '--no-comments', '--ram', size], page);
    expect(run('16K')).toMatchObject({ status: 0, stdout: '.ram 16K\n10 PRINT "OAK"\n' });
    expect(run('1K')).toMatchObject({ status: 0, stdout: '10 PRINT "OAK"\n' });
    expect(run('16K', `.ram 2K\n${PAGE}`).stdout).toBe('.ram 2K\n10 PRINT "OAK"\n');
    expect(run('16K', SMALL)).toMatchObject({ status: 0, stdout: `.ram 16K\n${SMALL}` });
    const json = JSON.parse(
      cli(['transcribe', '-', '--ram', '16K', '--format', 'json'], PAGE).stdout,
    );
    expect(json.text.slice(0, 9)).toBe('.ram 16K\n');
    expect(json.spans[0].start).toBe(json.text.indexOf('10 PRINT'));
    expect(json.spans.at(-1).end).toBe(json.text.length - 1);
  });
  it('says no where the listing is larger', () => {
    const { status, stdout, stderr } = cli(['transcribe', '-', '--ram', '1K'], rem(848));
    expect([status, stdout]).toEqual([1, rem(848)]);
    expect(stderr).toMatch(/^<standard output>:1:1: error: the program does not load/m);
    expect(cli(['transcribe', '-', '--ram', '2K', '-o', 'out.bas'], rem(848)).status).toBe(0);
    expect(content('out.bas')).toBe(`.ram 2K\n${rem(848)}`);
  });
  it('cannot say it of a listing that has errors yet', () => {
    const { status, stderr } = cli(
      ['transcribe', '-', '--ram', '1K'],
      '10 PRINT "{wobble}"\n20 LET A$=5\n',
    );
    expect(status).toBe(1);
    expect(stderr).toMatch(/whether it fits 1K is known once it has no errors$/m);
  });
});

describe('recover --ram', () => {
  it('says of each image whether it fits', () => {
    cli(['record', file('full.bas', FULL), '--lead', '0']);
    const fits = cli(['recover', 'full.wav', '--ram', '1K']);
    expect(fits.status).toBe(0);
    expect(fits.stdout).toMatch(/^ {2}warning: does not run in 1K: \d+ bytes over at least$/m);
    cli(['record', file('over.bas', rem(848)), '--lead', '0', '--ram', '2K']);
    const { status, stdout } = cli(['recover', 'over.wav', '--ram', '1K']);
    expect(status).toBe(1);
    expect(stdout).toMatch(/^ {2}error: does not load in 1K: 1 byte over at least: not written$/m);
    expect(stdout).toMatch(
      /^ {4}do: {2}--anyway writes it .*; `listwright detokenise over\.img` /m,
    );
    const json = JSON.parse(cli(['recover', 'over.wav', '--ram', '1K', '--format', 'json']).stdout);
    expect(json.programs[0]).toMatchObject({
      written: null,
      verdict: { is: 'does not load', spare: { best: -1 } },
    });
    expect(cli(['recover', 'over.wav']).status).toBe(0);
  });
});

describe('an image that is larger than the RAM that is fitted', () => {
  cli(['tokenise', file('heavy.bas', rem(848)), '--ram', '2K']);
  const WORDS =
    /^heavy\.img: error: does not load in 1K: 1 byte over at least\n {2}do: {2}`listwright detokenise heavy\.img` gives the listing, on which `listwright lint --fix --until-fits` /m;

  it.each([
    ['record', ['--lead', '0', '-o', 'heavy.wav'], /nothing was recorded\n$/],
    ['rehearse', [], WORDS],
    ['keys', ['--cover'], WORDS],
  ])('gets no from %s', (command, more, words) => {
    const { status, stderr } = cli([command, 'heavy.img', '--ram', '1K', ...more]);
    expect(status).toBe(1);
    expect(stderr).toMatch(WORDS);
    expect(stderr).toMatch(words);
    expect(existsSync(join(folder, 'heavy.wav'))).toBe(false);
    expect(cli([command, 'heavy.img', '--ram', '2K']).stderr).not.toContain('does not load');
    rmSync(join(folder, 'heavy.wav'), { force: true });
  });
});
