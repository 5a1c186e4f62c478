import { copyFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { ROOT, runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
const at = (name: string): string => join(folder, name);
const pictures = join(ROOT, 'tests', 'draw', 'pictures');
for (const name of ['card.svg', 'card.png', 'card.jpg', 'card.gif', 'card.webp', 'turned.jpg']) {
  copyFileSync(join(pictures, name), at(name));
}

const cli = (...args: string[]) => {
  const { status, stdout, stderr } = runCli(args, { cwd: folder });
  return { status, stdout: stdout.toString(), stderr };
};
const run = (...args: string[]) => cli('draw', ...args);
const CARD = ['--size', '8x6', '--place', '0,0', '--as', 'strings'];
const CARD_LISTING = '10 PRINT "▀▀▀▜"\n20 PRINT "▐▝▛"\n30 PRINT "▄▄▄▄"\n';

describe('pictures', () => {
  // PNG, JPEG, GIF and WebP were made of card.svg by a converter; turned.jpg stands on its side,
  // with an Exif block (orientation 8) that says so.
  test.each(['svg', 'png', 'jpg', 'gif', 'webp'])('%s', (kind) => {
    const { status, stdout, stderr } = run(`card.${kind}`, ...CARD);
    expect(stdout).toBe(CARD_LISTING);
    expect(stderr).toContain(`card.${kind}: 8 by 6 blocks`);
    expect(status).toBe(0);
  });

  test('a picture that a camera held on its side', () => {
    expect(run('turned.jpg', ...CARD).stdout).toBe(CARD_LISTING);
  });

  test('a part of it, and light for dark', () => {
    const { stdout } = run(
      'card.png',
      '--crop',
      '40,0,40,60',
      '--size',
      '4x6',
      ...CARD.slice(2),
      '--invert',
    );
    expect(stdout).toBe('10 PRINT "▄▖"\n20 PRINT "▗█"\n30 PRINT "▀▀"\n');
    expect(run('card.png', '--crop', '40,0,41,60').stderr).toContain(
      'is not within 80 by 60 pixels',
    );
  });

  test.each(['png', 'jpg', 'gif', 'webp'])('a damaged %s is told, and nothing written', (kind) => {
    writeFileSync(at(`cut.${kind}`), readFileSync(at(`card.${kind}`)).subarray(0, 60));
    const { status, stdout, stderr } = run(`cut.${kind}`, '-o', `cut-${kind}.bas`);
    expect(stderr).toContain(`cut.${kind}: this picture cannot be read`);
    expect([status, stdout, existsSync(at(`cut-${kind}.bas`))]).toEqual([2, '', false]);
  });

  test('an SVG that is none', () => {
    writeFileSync(at('bad.svg'), '<svg xmlns="http://www.w3.org/2000/svg"><rect</svg>');
    expect(run('bad.svg')).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('not an SVG'),
    });
  });
});

describe('a picture that asks for too much', () => {
  const svg = (inner: string): string =>
    `<svg xmlns="http://www.w3.org/2000/svg" width="900" height="900">${inner}</svg>`;

  test('a drawing of a few words', () => {
    const endless =
      '<filter id="f"><feTurbulence numOctaves="99999" baseFrequency="0.5"/></filter>';
    writeFileSync(
      at('endless.svg'),
      svg(`${endless}<g filter="url(#f)"><path d="M0 0h9v9z"/></g>`),
    );
    const { status, stderr } = run('endless.svg', '-o', 'endless.bas');
    expect(stderr).toBe(
      'listwright: endless.svg: this picture cannot be read: to draw it takes more than 0.5 seconds\n' +
        '  do:  make it simpler, without filters; or save it as PNG in a program that shows it\n',
    );
    expect([status, existsSync(at('endless.bas'))]).toEqual([2, false]);
  });

  test('more pixels than are unpacked', () => {
    const wide = readFileSync(at('card.png'));
    wide.writeUInt32BE(400_000, 16);
    writeFileSync(at('wide.png'), wide);
    const { status, stderr } = run('wide.png');
    expect(stderr).toBe(
      'listwright: wide.png: this picture cannot be read: it has 400000 by 60 pixels\n' +
        '  do:  make it smaller: the screen has 64 by 44 blocks\n',
    );
    expect(status).toBe(2);
  });
});

describe('rows and words', () => {
  test('rows of blocks, of characters, and of a screen', () => {
    writeFileSync(at('rows.txt'), '####\n#..#\n####\n####\n');
    expect(run('rows.txt', '--place', '0,0', '--as', 'strings').stdout).toBe(
      '10 PRINT "▛▜"\n20 PRINT "██"\n',
    );
    writeFileSync(at('plate.txt'), 'OPEN\n[~NOW]\n');
    expect(run('plate.txt', '--place', '0,0', '--as', 'strings').stdout).toBe(
      '10 PRINT "OPEN"\n20 PRINT "[~NOW]"\n',
    );
    writeFileSync(at('plate.bas'), '10 PRINT AT 1,2;"OPEN"\n');
    const shown = cli('rehearse', 'plate.bas', '--format', 'json');
    writeFileSync(at('plate.json'), shown.stdout);
    const again = run('plate.json', '--as', 'strings', '-o', 'again.bas');
    expect(again.status).toBe(0);
    const screen = cli('rehearse', 'again.bas', '--format', 'json');
    expect(JSON.parse(screen.stdout).screen[1]).toBe('  OPEN');
  });

  test('what a row cannot hold has its place', () => {
    writeFileSync(at('bad.txt'), 'OPEN\nNOW!\n');
    expect(run('bad.txt')).toMatchObject({
      status: 1,
      stdout: '',
      stderr: expect.stringContaining('bad.txt:2:4: error: the machine has no character "!"'),
    });
    writeFileSync(at('none.bin'), Uint8Array.of(1, 2, 255, 0));
    expect(run('none.bin').stderr).toContain('this is no picture that can be read');
  });

  test('words in large letters', () => {
    const { stdout, stderr } = run('--text', 'LOFT', '--as', 'strings', '--place', '0,0');
    expect(stderr).toContain('letters of 8 by 8 blocks');
    expect(stdout.split('\n')).toHaveLength(5);
    expect(run('--text', 'LOFT?!').stderr).toContain('the machine has no character !');
  });
});

describe('the answer', () => {
  test('the way of fewest bytes, and what each needs', () => {
    const { stdout, stderr } = run('card.png');
    expect(stdout).toContain('.display\n');
    for (const way of ['display', 'strings', 'plot', 'packed'])
      expect(stderr).toContain(`  ${way} `);
    expect(stderr).toMatch(/display +\d+ {2}\d+ to spare, shown at once, chosen/);
    const json = JSON.parse(run('card.png', '--format', 'json').stdout);
    expect(json.ways.map(({ way }: { way: string }) => way)).toContain('plot');
    expect(json).toMatchObject({ way: 'display', ram: 1024, written: null });
  });

  test('what does not fit is not written, and what would fit is said', () => {
    writeFileSync(at('dense.svg'), denseSvg());
    const { status, stdout, stderr } = run('dense.svg', '--as', 'strings', '-o', 'dense.bas');
    expect(stderr).toMatch(
      /it needs \d+ bytes more than 1K\n {2}do: {2}--ram 2K, or --size (\d+x\d+);/,
    );
    expect([status, stdout, existsSync(at('dense.bas'))]).toEqual([1, '', false]);
    const [, size] = /--size (\d+x\d+)/.exec(stderr)!;
    expect(run('dense.svg', '--as', 'strings', '--size', size, '-o', 'dense.bas').status).toBe(0);
    expect(run('dense.svg', '--as', 'strings', '--ram', '2K', '-o', 'dense.bas').status).toBe(0);
    expect(readFileSync(at('dense.bas'), 'utf8')).toMatch(/^\.ram 2K\n/);
    expect(run('dense.svg', '--as', 'strings', '--anyway').stdout).toContain('10 PRINT');
  });

  test('the screen as a picture, which draws the same again', () => {
    expect(
      run('card.png', '--png', 'shown.png', '--svg', 'shown.svg', '-o', 'card.bas').status,
    ).toBe(0);
    expect(readFileSync(at('shown.svg'), 'utf8')).toContain('<svg');
    const glass = ['--crop', '72,72,768,528', '--as', 'strings'];
    const [whole, again] = [run('card.png', '--as', 'strings'), run('shown.png', ...glass)];
    expect(again.stdout).toBe(whole.stdout);
  });

  test('into a listing, whose lines move on', () => {
    writeFileSync(at('mine.bas'), '10 LET I=1\n20 PRINT I\n30 GOTO 20\n');
    const { status, stdout, stderr } = run(
      '--text',
      'OK',
      '--as',
      'plot',
      '--into',
      'mine.bas',
      '--at',
      '20',
    );
    expect(stderr).toContain('the picture is in lines 20 to');
    expect(stdout).toContain('FOR J=');
    expect(stdout).not.toContain('FOR I=');
    expect(status).toBe(0);
    expect(run('card.png', '--as', 'display', '--into', 'mine.bas', '--at', '20').stderr).toContain(
      'it cannot be put in at a line',
    );
  });
});

describe('questions that cannot be asked', () => {
  test.each([
    [['--size', '65x3'], '--size: 65x3 is not from 1x1 to 64x48 blocks'],
    [['--size', 'wide'], '--size: wide is not in the form of 40x30'],
    [['--place', '22,0'], 'do not go onto'],
    [['--letters', '5'], '--letters: 5 is neither 4x4 nor 8x8'],
    [['--threshold', '0'], '--threshold: 0 is not a number from 1 to 99'],
    [['--at', '10'], '--into and --at belong together'],
    [['--text', 'A'], 'give a picture or --text, not both'],
    [['--into', 'none.bas', '--at', '10'], 'none.bas: cannot be read'],
  ])('%j', (options, message) => {
    const { status, stdout, stderr } = run('card.png', ...options);
    expect(stderr).toContain(message);
    expect([status, stdout]).toEqual([2, '']);
  });
});

/** A board of single blocks, the worst picture there is. */
function denseSvg(): string {
  let squares = '';
  for (let y = 0; y < 44; y++) {
    for (let x = y % 2; x < 64; x += 2) squares += `M${x} ${y}h1v1h-1z`;
  }
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 64 44" width="128" height="88"><path d="${squares}"/></svg>`;
}
