/**
 * The bench programs of samples/: clean, in tidy form, small enough for the RAM they name; and what
 * they show when they are run.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it, test } from 'vitest';
import { buildImage, NO_ROOM } from '../src/image/build.js';
import { listingOfImage } from '../src/image/read.js';
import { lint } from '../src/lint/lint.js';
import type { Finding } from '../src/lint/rule.js';
import { charactersText, statementText } from '../src/listing/print.js';
import { readListing } from '../src/listing/read.js';
import { FIRST_DIGIT, KEYWORDS, QUOTE } from '../src/machine/characters.js';
import { KEYS } from '../src/machine/keyboard.js';
import { MACHINE_STACK_HIGH, RAM_START, ROOM_MARGIN } from '../src/machine/memory-map.js';
import type { InspectOptions, Rehearsal } from '../src/rehearsal/rehearsal.js';
import { rehearse, rehearseInspected } from '../src/rehearsal/run.js';
import { readKeys } from '../src/rehearsal/state/keys.js';

const folder = new URL('../samples/', import.meta.url);
const names = readdirSync(folder).filter((name) => name.endsWith('.bas'));

const read = (name: string) => {
  const text = readFileSync(new URL(name, folder), 'utf8');
  return readListing(text);
};

/** Name on tape, RAM in bytes: what the table of the samples says of each. */
const BENCH: Record<string, [name: string, ram: number]> = {
  'address-lines.bas': ['LINES', 16384],
  'bars.bas': ['BARS', 1024],
  'bench-card.bas': ['CARD', 16384],
  'characters.bas': ['CHARACTERS', 1024],
  'frames.bas': ['FRAMES', 1024],
  'grid-halves.bas': ['HALVES', 1024],
  'grid.bas': ['GRID', 2048],
  'keyboard.bas': ['KEYBOARD', 1024],
  'keywords.bas': ['KEYWORDS', 1024],
  'loft.bas': ['LOFT', 16384],
  'night-watch.bas': ['WATCH', 1024],
  'ram-size.bas': ['RAMSIZE', 1024],
  'ram-test.bas': ['RAMTEST', 1024],
  'rom-sum.bas': ['ROMSUM', 1024],
  'ruler.bas': ['RULER', 1024],
  'sign.bas': ['SIGN', 1024],
  'stock-book.bas': ['STOCKBOOK', 16384],
  'tape-level.bas': ['LEVEL', 1024],
  'towpath.bas': ['TOWPATH', 1024],
};

test('the folder holds the programs of the table and no others', () => {
  expect(names.sort()).toEqual(Object.keys(BENCH));
});

describe.each(names)('%s', (name) => {
  const { text, listing, diagnostics } = read(name);
  const built = buildImage(listing);

  it('reads without an error or a warning', () => {
    expect(diagnostics).toEqual([]);
    expect(listing.lines.length).toBeGreaterThan(0);
    expect(listing.lines.every((line) => line.statement !== undefined)).toBe(true);
  });

  it('is in tidy form', () => {
    for (const line of listing.lines) {
      expect(text.slice(line.start, line.end)).toBe(`${line.number} ${statementText(line.codes)}`);
    }
    const lines = text.split('\n');
    expect(lines.filter((row) => row !== row.trimEnd())).toEqual([]);
    expect(text.endsWith('\n')).toBe(true);
  });

  it('says first what it proves, what it needs and how its result is read', () => {
    expect(listing.items[0].kind).toBe('comment');
    const said = listing.items
      .filter((item) => item.kind === 'comment')
      .map((item) => item.text)
      .join('\n');
    expect(said).toMatch(/^ Proves /m);
    expect(said).toMatch(/^ Needs {5}\d+K/m);
    expect(said).toMatch(/^ (Result|Read|Play) /m);
    const [tapeName, ram] = BENCH[name];
    expect(text).toContain(`.name "${tapeName}"`);
    expect(said).toContain(` Needs     ${ram / 1024}K.`);
  });

  it('has no mistake that the linter knows', () => {
    const { findings, silenced } = lint({ text, listing });
    // What only a rehearsal can tell of the room is told by the tests of rehearsals.
    const isOpen = ({ rule, severity }: Finding) => rule === NO_ROOM && severity === 'warning';
    const wrong = findings.filter((found) => found.severity !== 'note' && !isOpen(found));
    expect(wrong).toEqual([]);
    expect(silenced).toEqual([]);
  });

  it('builds an image that leaves the machine its stack', () => {
    expect(built.diagnostics).toEqual([]);
    expect(built.ram).toBe(BENCH[name][1]);
    const room = RAM_START + built.ram - built.areas.E_LINE;
    expect(room).toBeGreaterThan(ROOM_MARGIN + MACHINE_STACK_HIGH);
  });

  it('reads back from its image and builds the same bytes again', () => {
    const image = built.image!;
    const back = listingOfImage(image);
    expect(back.diagnostics).toEqual([]);
    expect(back.listing.lines.map((line) => [line.number, line.codes])).toEqual(
      listing.lines.map((line) => [line.number, line.codes]),
    );
    expect(buildImage(readListing(back.text).listing).image).toEqual(image);
  });
});

test('the tape level program looks for the sums that its own pattern has', () => {
  const { text, listing } = read('tape-level.bas');
  const { lineAddresses } = buildImage(listing);
  const pattern = listing.lines[0].codes.slice(1);
  const first = lineAddresses[0] + 5;
  expect(pattern.length).toBe(5 * 32);
  expect(text).toContain(`PEEK (VAL "${first}"+VAL "32"*R+C)`);
  let sum = 0;
  let steps = 0;
  for (const byte of pattern) {
    sum += byte;
    steps += sum;
  }
  expect(text).toContain(`IF S=VAL "${sum}" AND T=VAL "${steps}" THEN PRINT`);
});

test('the keyboard check asks for every key, and for what the machine gives for it', () => {
  const { listing } = read('keyboard.bas');
  /** The codes of the nth string of a line. */
  const stringIn = (number: number, nth: number): number[] => {
    const { codes } = listing.lines.find((line) => line.number === number)!;
    const quotes = [...codes.keys()].filter((at) => codes[at] === QUOTE);
    return [...codes.slice(quotes[2 * nth] + 1, quotes[2 * nth + 1])];
  };
  const textKeys = KEYS.filter(({ name }) => !['SHIFT', 'NEWLINE', 'SPACE'].includes(name));
  expect(stringIn(20, 0)).toEqual(textKeys.map((key) => key.plain));

  const shifted = new Map(textKeys.map((key) => [key.plain!, key.shifted!]));
  const editing = stringIn(70, 1);
  // Line 80 adds these digits to 112.
  const added = stringIn(80, 1).map((digit) => digit - FIRST_DIGIT);
  expect(editing.map((code) => shifted.get(code))).toEqual(added.map((digit) => 112 + digit));
  const typed = stringIn(120, 1);
  expect(typed.map((code) => shifted.get(code))).toEqual(stringIn(130, 0));
  // The quote cannot stand in a string, so SHIFT P is asked for by itself.
  const rest = [...shifted].filter(([code]) => ![...editing, ...typed].includes(code));
  expect(rest.map(([, code]) => code)).toEqual([QUOTE]);
});

// ────────── what they show, beyond the final screens of tests/rehearsal/samples.test.ts ──────────

const run = (name: string, options: InspectOptions = {}): Rehearsal =>
  rehearseInspected(read(name).listing, { statements: 100_000, ...options });

/** The screen as text, the rows below the last one that is not clear left out. */
const screenOf = ({ screen }: Rehearsal): string[] => {
  const rows = screen.map((row) => charactersText(row, false).trimEnd());
  return rows.slice(0, rows.findLastIndex((row) => row !== '') + 1);
};

const reportOf = ({ end, line }: Rehearsal): string =>
  end.kind === 'report' ? `${end.code}/${line}` : `${end.kind} in ${line}`;

/** 24 rows: those given, clear ones, and the report in the last. */
const screen = (rows: string[], report: string): string[] => [
  ...rows,
  ...new Array<string>(23 - rows.length).fill(''),
  report,
];

describe('run on a machine that is in order', () => {
  it('counts the RAM', () => {
    const counted = (bytes: number, free: string): string[] =>
      screen(
        [
          'LANTERN LOFT: RAM SIZE',
          '',
          `RAMTOP          ${16384 + bytes}`,
          `BYTES           ${bytes}`,
          `K               ${bytes / 1024}`,
          free,
          '',
          'A USUAL SIZE',
        ],
        '0/110',
      );
    for (const ram of [1024, 2048, 16384]) {
      const shown = screenOf(run('ram-size.bas', { ram }));
      expect(shown[5]).toMatch(/^FREE {12}\d{3,5}$/);
      expect(shown).toEqual(counted(ram, shown[5]));
    }
    expect(screenOf(run('ram-size.bas', { ram: 3072 }))[7]).toBe('CUT SHORT AT 19456');
  });

  it('finds all of the RAM good, and stays within what is free', () => {
    const seen = run('ram-test.bas');
    expect(reportOf(seen)).toBe('0/150');
    const shown = screenOf(seen);
    expect(shown[7]).toBe('ALL GOOD');
    const [, first, last] = /^(\d+) TO (\d+)$/.exec(shown[2])!.map(Number);
    expect(last).toBe(16384 + 1024 - 4 - 64);
    expect(last - first).toBeGreaterThan(200);
  });

  it('finds every address and data line good, or asks for the pack', () => {
    const good = screenOf(run('address-lines.bas'));
    expect(good.filter((row) => row.includes('GOOD'))).toHaveLength(15);
    expect(good.filter((row) => /D[0-7] {3}GOOD$/.test(row))).toHaveLength(8);
    expect(good[18]).toBe('BAD COUNT: 0');
    expect(screenOf(run('address-lines.bas', { ram: 2048 }))).toEqual(
      screen(['THIS NEEDS A 16K PACK'], '9/30'),
    );
  });

  it('asks for every key and ends with BREAK', () => {
    const alone = [...'1234567890QWERTYUIOPASDFGHJKLZXCVBNM.'];
    const shifted = [...'1567890234QWERTYUIOASDFGHJKLZXCVBNM.P'].map((key) => `SHIFT+${key}`);
    const keys = [...alone, ...shifted, 'NEWLINE', 'SHIFT+NEWLINE', 'SPACE'].join(' ');
    const seen = run('keyboard.bas', { keys: readKeys(`A ${keys}`) });
    expect(screenOf(seen)).toEqual(screen(['PRESS SPACE'], 'D/270'));
    expect(seen.unrun).toEqual([]);
    const waits = run('keyboard.bas', { keys: readKeys('1 SHIFT+W'), statements: 1000 });
    expect(waits.end.kind).toBe('limit');
    expect(screenOf(waits)).toEqual(['PRESS 2', '', 'SEEN  OR']);
  });

  it('shows every character beside its inverse', () => {
    const rows = run('characters.bas').screen;
    const pairs = [0, 2, 4, 6, 8, 10, 12, 14].flatMap((row) =>
      Array.from({ length: 24 }, (_, column) => rows[row][column + 4] ?? 0),
    );
    const all = Array.from({ length: 64 }, (_, code) => [code, code + 128, 0]).flat();
    expect(pairs).toEqual(all);
  });

  it('shows every keyword', () => {
    const seen = run('keywords.bas');
    expect(reportOf(seen)).toBe('0/80');
    const words = screenOf(seen).slice(0, 17).join(' ').split(/\s+/);
    expect(words).toEqual([...KEYWORDS.values()].map((word) => (word === '""' ? '"' : word)));
  });

  it('draws the grid to every edge, and rubs out its middle', () => {
    const full = screenOf(run('grid.bas')).slice(0, 22);
    const [top, open, low] = ['▛▀▀▜▀▀▀', '▌  ▐   ', '▙▄▄▟▄▄▄'].map((part) =>
      part.repeat(5).slice(0, 32),
    );
    const upper = [top, open, open, low, open, open, open, top, open, open, low];
    const lower = [top, open, open, low, open, open, open, top, open, open, low];
    expect(full).toEqual([...upper, ...lower]);
    const rubbed = run('grid.bas', { keys: readKeys('2500:A') });
    expect(screenOf(rubbed)[10]).toBe('▘  ▝   '.repeat(5).slice(0, 32));
    expect(screenOf(rubbed)[11]).toBe('▖  ▗   '.repeat(5).slice(0, 32));
    expect(reportOf(rubbed)).toBe('0/140');

    expect(screenOf(run('grid-halves.bas'))).toEqual(upper);
    const second = screenOf(run('grid-halves.bas', { keys: readKeys('5000:A') }));
    expect(second).toEqual([...new Array(11).fill(''), ...lower]);
    const both = run('grid-halves.bas', { keys: readKeys('5000:A 9000:A') });
    expect(screenOf(both)).toEqual(screen([], '0/120'));
  });

  it('numbers the rows and the columns', () => {
    const tens = '00000000001111111111222222222233';
    const ones = '01234567890123456789012345678901';
    const rows = Array.from({ length: 18 }, (_, row) => String(row + 2));
    expect(screenOf(run('ruler.bas'))).toEqual(screen([tens, ones, ...rows, ones, tens], '0/80'));
  });

  it('knows its own pattern, and notices a byte of it that is wrong', () => {
    const seen = run('tape-level.bas');
    expect(screenOf(seen)).toEqual(
      screen(
        [
          `[~${'E'.repeat(32)}]`,
          'N'.repeat(32),
          '?'.repeat(32),
          `${'█'.repeat(16)}[~${'Z'.repeat(16)}]`,
          '0123456789ABCDEFGHIJKLMNOPQRSTUV',
          '',
          'SUMS 14048 1268040',
          '',
          'GOOD LOAD',
        ],
        '0/130',
      ),
    );
    const { text } = read('tape-level.bas');
    const damaged = readListing(text.replace('NNNN', 'NNMN')).listing;
    expect(screenOf(rehearse(damaged))[8]).toBe('BAD BYTES');
  });
});

describe('run on a machine that is out of order', () => {
  it('names the bad address and what it holds', () => {
    const address = 17200;
    const seen = run('ram-test.bas', {
      inspect: ({ memory }) => {
        memory.bytes[address] &= 0b11111011;
      },
    });
    expect(reportOf(seen)).toBe('9/120');
    // Of 0 nothing is missing; of 85, the first pattern with that bit, 4 is.
    expect(screenOf(seen)[3]).toBe('PATTERN 85');
    expect(screenOf(seen)[5]).toBe(`BAD ${address} HAS 81 NOT 85`);
  });

  /** Two addresses that are one place: what is written to either is in both. */
  const joined = (a: number, b: number): InspectOptions => {
    let held = 0;
    return {
      inspect: ({ memory: { bytes } }) => {
        if (bytes[a] !== held) held = bytes[a];
        else held = bytes[b];
        bytes.fill(held, a, a + 1);
        bytes.fill(held, b, b + 1);
      },
    };
  };
  const badOf = (seen: Rehearsal): string[] =>
    screenOf(seen).flatMap((row) => /^(\w+) +BAD\b(?! COUNT)/.exec(row)?.[1] ?? []);

  it('names the two places that an address line tells apart no more', () => {
    const fifth = run('address-lines.bas', joined(24576, 24576 + 32));
    expect(badOf(fifth)).toEqual(['BASE', 'A5']);
    expect(screenOf(fifth)[18]).toBe('BAD COUNT: 2');
    expect(screenOf(fifth)[20]).toBe('24608 READS 253, NOT 247');
    const last = run('address-lines.bas', joined(20480, 28672));
    expect(badOf(last)).toEqual(['A13', 'A12']);
    const touching = run('address-lines.bas', joined(24576 + 8, 24576 + 128));
    expect(badOf(touching)).toEqual(['A3', 'A7']);
  });

  it('names a data line that does not carry', () => {
    const seen = run('address-lines.bas', {
      inspect: ({ memory }) => {
        memory.bytes[24576] &= 0b11101111;
      },
    });
    expect(screenOf(seen).filter((row) => /D\d +BAD/.test(row))).toHaveLength(1);
    expect(screenOf(seen)[6]).toMatch(/D4 {3}BAD 0$/);
  });
});

describe('play and work', () => {
  it('drifts down the canal without running out of room, whatever its course', () => {
    for (let seed = 1; seed <= 12; seed++) {
      const seen = run('towpath.bas', { seed, statements: 3000, keys: readKeys('2000:0') });
      expect(seen.end.kind).toBe('limit');
      expect(seen.peak!.spare).toBeGreaterThan(0);
      expect(seen.unrun).toEqual([]);
      const shown = screenOf(seen);
      expect(shown[10]).toContain('*');
      expect(shown[0]).toMatch(/^DISTANCE \d+/);
      expect(shown[1]).toMatch(/^BEST \d+/);
    }
  });

  it('counts the lights that were answered in time', () => {
    const shown = (keys: string): string[] =>
      screenOf(run('night-watch.bas', { seed: 1, statements: 600, keys: readKeys(keys) })).slice(3);
    expect(shown('15-30:1')).toEqual(['    1█3456789', '', '', 'LIGHTS 1', 'BEST 1']);
    expect(shown('15-30:1 50-60:2')).toEqual(['    1234567█9', '', '', 'LIGHTS 2', 'BEST 2']);
    expect(shown('15-30:2')).toEqual(['    █23456789', '', '', 'LIGHTS 0', 'BEST 0']);
  });

  it('keeps the stock book', () => {
    const keys = readKeys(new Array(1000).fill('NEWLINE').join(' '));
    const book = (...inputs: string[]): Rehearsal => run('stock-book.bas', { inputs, keys });
    const closed = book('0');
    expect(screenOf(closed)).toEqual(screen(['GOTO 500 OPENS THE BOOK AGAIN'], '9/910'));
    const all = ['1', '7', '8', '2', '3', '-2', '2', '3', '-99', '3', '4', '5', 'CAP', '5', 'ZZ'];
    const saved = book(...all, '6', 'LAMP', '4', '9', '250', '9', '');
    expect([saved.end.kind, saved.line]).toEqual(['tape', 830]);
    const list = run('stock-book.bas', { inputs: ['1'] });
    expect(screenOf(list).slice(0, 5)).toEqual([
      'NO PART             HAVE LEAST',
      '',
      '1  FUSE 1 AMP         42    20',
      '2  KEYBOARD TAIL       3     5*',
      '3  MIC LEAD           12     6',
    ]);
    expect(screenOf(list)[19]).toBe('WORTH £82.22');
    const sorted = screenOf(run('stock-book.bas', { inputs: ['7'] })).slice(2, 14);
    const names = sorted.map((row) => row.slice(3, 17));
    expect(names).toEqual([...names].sort());
    expect(sorted[0]).toBe('1  CAPACITOR 22N      36    25');
    const order = screenOf(run('stock-book.bas', { inputs: ['4'] }));
    expect(order[2]).toBe('7   KEYBOARD TAIL  3.45   24.15');
    expect(order[19]).toBe('IN ALL £87.42');
    const chart = screenOf(run('stock-book.bas', { inputs: ['3'] }));
    expect(chart[2]).toBe('FUSE 1 AM ▛▛▛▛▛▛▛▛▛▀▀▀▀▀▀▀▀▀▘42');
    expect(chart[3]).toBe('KEYBOARD  ▛▌▖                3');
  });

  it('brings light to the loft, or not in time', () => {
    const way =
      'N|GET MATCHES|S|E|GET OIL|W|N|U|GET LANTERN|FILL LANTERN|LIGHT LANTERN|U|N|GET KEY|S|D|OPEN DOOR|E|GET FUSE|W|D|D|FIT FUSE';
    const light = run('loft.bas', { inputs: way.split('|') });
    expect(reportOf(light)).toBe('9/2300');
    expect(screenOf(light)[21]).toBe('  WITH 37 MINUTES TO SPARE');
    const late = run('loft.bas', { inputs: new Array(60).fill('HELP') });
    expect(reportOf(late)).toBe('9/1920');
    const dark = run('loft.bas', { inputs: ['N', 'D', 'N'] });
    expect(dark.end.kind).toBe('input');
    expect(screenOf(dark)[13]).toBe('YOU KNOCK YOUR HEAD ON A BEAM');
  });
});

describe('bench-card.bas', () => {
  const press = (keys: string) =>
    screenOf(run('bench-card.bas', { keys: readKeys(keys), statements: 5000 }));
  it('sends a machine home that passes every check, and counts the faults of another', () => {
    const [y, n] = ['Y', 'N'];
    const keys = (answers: string[]) =>
      answers.map((key, at) => `${60 + 60 * at}-${70 + 60 * at}:${key}`).join(' ');
    expect(press(keys([y, y, y, y, y]))[8]).toBe('ALL WELL, IT MAY GO HOME');
    expect(press(keys([y, n, y, y, y]))[8]).toBe('ONE THING TO MEND');
    expect(press(keys([n, n, y, y, n]))[8]).toBe('TO MEND: 3');
  });
});
