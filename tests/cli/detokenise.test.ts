import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const file = (name: string, content: string | Uint8Array): string => {
  writeFileSync(join(folder, name), content);
  return name;
};
const cli = (args: string[], input: string | Uint8Array = '') => {
  const { status, stdout, stderr } = runCli(args, { cwd: folder, input });
  return { status, stdout: stdout.toString(), stderr };
};
const bytes = (name: string): Buffer => readFileSync(join(folder, name));

const TEXT = [
  '.start 20',
  '.system DF_SZ = 0',
  '1 REM [43 44]',
  '10 [sp]PRINT "OAK";3[=82 00 00 00 00]+5[=]',
  '20 GOTO 10',
  '.var A = 1',
  '',
].join('\n');
file('oak.bas', TEXT);
cli(['tokenise', 'oak.bas']);

it('writes the listing that builds the same bytes', () => {
  const { status, stdout, stderr } = cli(['detokenise', 'oak.img']);
  expect([status, stderr]).toEqual([0, '']);
  file('again.bas', stdout);
  cli(['tokenise', 'again.bas']);
  expect(bytes('again.img').equals(bytes('oak.img'))).toBe(true);
  expect(cli(['detokenise', '-', '-o', 'out.bas'], bytes('oak.img')).status).toBe(0);
  expect(bytes('out.bas').toString()).toBe(stdout);
});

it('--plain writes the lines alone, and says what is left out', () => {
  const { status, stdout, stderr } = cli(['detokenise', '--plain', 'oak.img']);
  expect(status).toBe(0);
  expect(stdout).toBe('   1 REM (2 BYTES)\n  10 PRINT "OAK";3+5\n  20 GOTO 10\n');
  expect(stderr).toBe(
    [
      'oak.img: note: left out: 1 stored value that its digits do not show; 1 number that has no stored value; 1 stored space; 2 bytes of machine code in line 1; that it starts at line 20 once loaded; 1 system variable; 1 saved variable',
      '  do:  detokenise without --plain writes a listing that builds the same bytes',
      '',
    ].join('\n'),
  );
});

it('--plain of a program that is only its lines has nothing to say', () => {
  const { stdout, stderr } = cli(['detokenise', '--plain', '-'], bytes(plainImage()));
  expect([stdout, stderr]).toEqual(['  10 PRINT "A B"\n', '']);
});

function plainImage(): string {
  cli(['tokenise', file('plain.bas', '10 print "a b"\n')]);
  return 'plain.img';
}

describe('odd images', () => {
  it('are remarked on', () => {
    const { stderr } = cli(['detokenise', '-'], Buffer.concat([bytes('oak.img'), Buffer.of(1, 2)]));
    expect(stderr).toBe(
      '<standard input>: note: 2 bytes follow the end that the image gives itself\n',
    );
  });
  it('are refused, or read as far as can be', () => {
    const cut = file('cut.img', bytes('oak.img').subarray(0, 160));
    const refused = cli(['detokenise', cut]);
    expect([refused.status, refused.stdout]).toEqual([2, '']);
    expect(refused.stderr).toMatch(/this is not a program image: it is cut short/);
    const salvaged = cli(['detokenise', '--salvage', cut]);
    expect(salvaged.status).toBe(0);
    expect(salvaged.stdout).toMatch(/^10 \[sp\] PRINT "OAK"/m);
    expect(salvaged.stderr).toMatch(/note: E_LINE is \d+, which makes no sense here/);
  });
  it('a listing is refused, and made plain', () => {
    file('tidy.bas', '10 run\n');
    expect(cli(['detokenise', 'oak.bas']).status).toBe(2);
    expect(cli(['detokenise', '--plain', 'tidy.bas']).stdout).toBe('  10 RUN\n');
  });
});

describe('a recording', () => {
  const letters = 'OAKASHELM'.repeat(20);
  file('plain.bas', `10 PRINT "A"\n20 REM ${letters}\n`);
  cli(['record', 'plain.bas', '--lead', '0.2', '-o', 'good.wav']);
  const good = bytes('good.wav');
  // Where the letters of the REM sound: they are more than half of the bytes.
  let end = good.length - 2;
  while (Math.abs(good.readInt16LE(end)) < 8000) end -= 2;
  const inRem = Math.floor((end * 0.7) / 2) * 2;

  it('gives its name with its listing', () => {
    const { status, stdout } = cli(['detokenise', 'good.wav']);
    expect([status, stdout]).toEqual([0, `.name "PLAIN"\n10 PRINT "A"\n20 REM ${letters}\n`]);
  });

  it('with bytes in doubt has them marked, at their place, and the answer is no', () => {
    const damaged = Buffer.from(good);
    damaged.fill(0, inRem, inRem + 1500);
    file('damaged.wav', damaged);
    const { status, stdout, stderr } = cli(['detokenise', 'damaged.wav']);
    expect(status).toBe(1);
    expect(stderr).toMatch(
      /^damaged\.wav: \d+ bytes? in doubt; comments in the listing say where$/m,
    );
    const rows = stdout.split('\n');
    const marks = rows.filter((row) => row.startsWith("' doubtful: "));
    expect(marks.length).toBeGreaterThan(0);
    // They stand right above the line that they are about.
    expect(rows[rows.indexOf(marks.at(-1)!) + 1]).toMatch(/^20 REM /);
    expect(marks[0]).toMatch(/^' doubtful: 0:0\d\.\d{3} {2}address \d+, /);
    const { diagnostics } = readListing(stdout);
    expect(diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
    const plain = cli(['detokenise', '--plain', 'damaged.wav']);
    expect([plain.status, plain.stdout.includes("'")]).toEqual([1, false]);
  });
});

describe('a file that a REM puts in', () => {
  mkdirSync(join(folder, 'inner'));
  file('code.bin', Uint8Array.of(0x43, 0x44));
  file('inner/code.bin', Uint8Array.of(0x43, 0x44));
  file('inner/near.bas', '1 REM [file "code.bin"]\n');
  file('inner/far.bas', '1 REM [file "../code.bin"]\n');

  it('beside the listing is there for the asking', () => {
    expect(cli(['tokenise', 'inner/near.bas']).status).toBe(0);
    expect(cli(['detokenise', 'inner/near.img']).stdout).toBe('1 REM [43 44]\n');
  });
  it('outside the folder of the listing needs --include-anywhere', () => {
    const { status, stderr } = cli(['tokenise', 'inner/far.bas']);
    expect(status).toBe(1);
    expect(stderr).toMatch(
      /^inner\/far\.bas:1:7: error: \.\.\/code\.bin cannot be put in: it is outside/m,
    );
    expect(cli(['tokenise', 'inner/far.bas', '--include-anywhere']).status).toBe(0);
    expect(cli(['detokenise', 'inner/far.img']).stdout).toBe('1 REM [43 44]\n');
  });
});
