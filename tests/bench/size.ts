/**
 * How the time of each command grows with its input: rows of each kind, and one line of each kind
 * of token. A ratio of 1 is linear. `ONLY='lint|keys, plain'` takes the rows whose names match. What
 * is read from sound is in tape-time.ts.
 *
 * Each command has a process of its own, two of them side by side. There it runs again and again, so
 * that no start of Node counts, and first until its code is compiled: what is compiled on the way
 * would hide how the rest grows. Each size is run as often as all its rows or tokens make those of
 * the largest, so that collecting garbage falls on all sizes alike. Counted is the processor time of
 * all threads, at least twice where it is short, less that of a single line; the RAM is the largest,
 * so that nothing ends early for want of room.
 */
import { spawn } from 'node:child_process';
import fs, { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { pathToFileURL } from 'node:url';
import { budget } from '../../src/editing/questions/budget.js';
import { findings } from '../../src/editing/questions/findings.js';
import { folding } from '../../src/editing/questions/folding.js';
import { format } from '../../src/editing/questions/format.js';
import { hints } from '../../src/editing/questions/hints.js';
import { outline } from '../../src/editing/questions/outline.js';
import { tokens } from '../../src/editing/questions/tokens.js';
import { OpenListing } from '../../src/language-server/open-listing.js';
import { MOST_LINES } from '../../src/machine/program-limits.js';
import { LARGEST_RAM } from '../../src/machine/ram-size.js';

// ───────────────────────────── what is read ─────────────────────────────

/** Inputs of one kind: the text of a size, and the sizes. */
type Kind = readonly [name: string, make: Make, sizes: readonly number[]];
type Make = (size: number) => string;

const rowsOf =
  (row: (at: number) => string): Make =>
  (count) =>
    Array.from({ length: count }, (_, at) => `${row(at)}\n`).join('');

const STATEMENTS = ['LET A=5', 'PRINT A', 'CLS', 'IF A=1 THEN GOTO 9', 'FOR I=1 TO 3', 'NEXT I'];
const BAD = ['PRNT A', 'LET A=', 'IF A=1 THN CLS', 'PRINT "A', 'GOT0 9', 'LET (A)=5'];

const ROWS = [1000, 4000, 16_000];
/** Of lines as many as 48K hold; of those that store nothing as many as have a number. */
const LINES = [1000, 3500];
const LONG_LINES = [500, 2000];
const BAD_LINES = [1000, 4000, MOST_LINES - 1];
const ROWS_OF: readonly Kind[] = [
  ['plain lines', rowsOf((at) => `${at + 1} ${STATEMENTS[at % 6]}`), LINES],
  ['lines with names', rowsOf((at) => `${at + 1} LET V${at}=V${at >> 1}+A`), LONG_LINES],
  ['lines that jump', rowsOf((at) => `${at + 1} IF A THEN GOSUB ${at ^ 7}`), LONG_LINES],
  ['bad lines', rowsOf((at) => `${at + 1} ${BAD[at % 6]}`), BAD_LINES],
  ['lines without a number', rowsOf((at) => BAD[at % 6]), ROWS],
  ['.raw', (size) => `10 CLS\n${'.raw program 40\n'.repeat(size)}`, ROWS],
  ['.var', rowsOf((at) => `.var V${at}=${at}`), ROWS],
  ['.system', (size) => `10 CLS\n${'.system DF_SZ = 0\n'.repeat(size)}`, ROWS],
  ['bad directives', rowsOf((at) => `.vat V${at}=${at}`), ROWS],
  ['comments', rowsOf((at) => `' comment ${at}`), ROWS],
  [
    'allowances',
    (size) =>
      `${"' lint: allow number-form — as printed\n".repeat(size)}10 LET A=12345\n20 PRINT A\n`,
    ROWS,
  ],
];

const ONE = [1024, 4096, 16_384, 49_000];
const repeated =
  (before: string, token: string, after: string): Make =>
  (size) =>
    `${before}${token.repeat(Math.floor(size / token.length))}${after}\n`;
const TOKENS: readonly (readonly [name: string, make: Make])[] = [
  ['operators', repeated('10 LET A=A', '+A', '')],
  ['numbers', repeated('10 PRINT 1', ';1', '')],
  ['digits', repeated('10 PRINT ', '1', '')],
  ['commas', repeated('10 PRINT ', ',', '')],
  ['brackets', (size) => `10 PRINT ${'('.repeat(size / 2)}A${')'.repeat(size / 2)}\n`],
  ['open brackets', repeated('10 PRINT ', '(', '')],
  ['minus signs', repeated('10 PRINT ', '-', 'A')],
  ['NOT', repeated('10 PRINT ', 'NOT ', 'A')],
  ['functions', repeated('10 PRINT ', 'SIN ', 'A')],
  ['comparisons', repeated('10 PRINT A', '=B AND A', '')],
  ['keywords', repeated('10 PRINT ', 'PRINT ', '')],
  ['a name', repeated('10 LET ', 'A', '=1')],
  ['strings', repeated('10 PRINT "A"', '+"A"', '')],
  ['a string', repeated('10 PRINT "', 'LAMP ', '"')],
  ['a string without end', repeated('10 PRINT "', 'LAMP ', '')],
  ['slices', repeated('10 PRINT A$', '+A$(1 TO 2)', '')],
  ['a REM', repeated('10 REM ', 'LAMP ', '')],
  ['bytes', repeated('10 REM [', '40 ', ']')],
  ['escapes', repeated('10 PRINT "', '[ul]', '"')],
  ['inverse', repeated('10 REM ', '[~A]', '')],
  ['strange signs', repeated('10 PRINT ', '§', '')],
  ['words', repeated('10 PRINT ', 'LAMP ', '')],
  ['points', repeated('10 PRINT ', '.', '')],
  ['a comment', repeated("' ", 'lamp ', '\n10 CLS')],
  ['.raw of bytes', repeated('10 CLS\n.raw program ', '40 ', '')],
  ['.var of elements', (size) => `.var A(${size / 4})=${'1,'.repeat(size / 4 - 1)}1\n10 CLS\n`],
  ['a long directive', repeated('.name "', 'LAMP', '"\n10 CLS')],
];
const KINDS: readonly Kind[] = [
  ...ROWS_OF,
  ...TOKENS.map(([name, make]): Kind => [name, make, ONE]),
];

// ───────────────────────────── what reads it ─────────────────────────────

const folder = mkdtempSync(join(tmpdir(), 'listwright-'));
const listing = join(folder, 'size.bas');
/** The listing with some rows or tokens missing. */
const other = join(folder, 'other.bas');
const image = join(folder, 'size.img');
const otherImage = join(folder, 'other.img');
const result = join(folder, 'result');

const MOST_RAM = ['--ram', '48K'];
/** What reads the files; what would be changed in place goes elsewhere. */
const COMMANDS: Readonly<Record<string, readonly string[] | (() => unknown)>> = {
  // The longest work comes first: the other process does the rest meanwhile.
  transcribe: ['transcribe', listing, '--report', `${result}.html`, '-o', result],
  tokenise: ['tokenise', listing, '-o', result],
  detokenise: ['detokenise', image, '-o', result],
  salvage: ['detokenise', image, '--salvage', '-o', result],
  'compare images': ['compare', image, otherImage, '--bytes'],
  lint: ['lint', listing],
  'lint json': ['lint', listing, '--format', 'json'],
  'lint fix': ['lint', listing, '--fix', '--dry-run'],
  'lint until fits': ['lint', listing, '--fix', '--until-fits', '--dry-run'],
  fit: ['fit', listing, '--svg', result],
  rehearse: ['rehearse', listing, '--statements', '1000'],
  record: ['record', listing, '-o', result],
  compare: ['compare', listing, other],
  format: ['format', listing, '--check'],
  renumber: ['renumber', listing, '--step', '1', '-o', result],
  keys: ['keys', listing],
  'keys html': ['keys', listing, '--format', 'html', '-o', result],
  draw: ['draw', listing, '-o', result],
  'draw into': ['draw', '--text', 'OAK', '--into', listing, '--at', '9000', '-o', result],
  editor: () => {
    const text = fs.readFileSync(listing, 'utf8');
    const open = new OpenListing(text, 1, { ram: LARGEST_RAM });
    const start = { line: 0, character: 0 };
    const all = { start, end: { line: 1e9, character: 0 } };
    const ask = () => {
      const { snapshot } = open;
      for (const question of [findings, tokens, outline, folding]) question(snapshot);
      hints(snapshot, all);
      budget(snapshot, 'file:///size.bas');
    };
    ask();
    format(open.snapshot);
    open.change([{ range: { start, end: start }, text: '1 CLS\n' }], 2);
    ask();
  },
};

/** Descriptors up to this are streams of the process. */
const STREAMS = 2;
const { writeSync } = fs;

/** Has streams swallow what is written to them, or not. */
function hush(isQuiet: boolean): void {
  const swallow = (descriptor: number, bytes: Uint8Array, ...more: number[]) =>
    descriptor > STREAMS
      ? writeSync(descriptor, bytes, ...more)
      : (more[1] ?? bytes.length - (more[0] ?? 0));
  fs.writeSync = isQuiet ? (swallow as typeof writeSync) : writeSync;
  syncBuiltinESMExports();
}

/** Every third row missing, or of a single row a tenth of what it is made of. */
function lessOf(make: Make, size: number): string {
  const rows = make(size).split('\n');
  return rows.length > 4
    ? rows.filter((_, at) => at % 3 !== 1).join('\n')
    : make(Math.ceil(size * 0.9));
}

// ───────────────────────────── measuring ─────────────────────────────

/** What is read to know the time that a command takes for anything: it is taken off. */
const SINGLE = (): string => '10 CLS\n';
/** Seconds: what takes less counts as this. */
const TICK = 0.001;
/** Seconds that code is run for before it is measured. */
const WARM = 0.15;
/** Seconds that a size is measured for, once or more times; no more than MOST_TIMES. */
const LONG = 0.08;
const MOST_TIMES = 5;
/** Ratios above this are too high; they are measured AGAIN times more, and the least times count. */
const GOAL = 1.3;
const AGAIN = 2;
/** Seconds from which chance has little part in a time, and it is measured once. */
const LASTING = 1;

const nameOf = (command: string, kind: string): string => `${command}, ${kind}`;

async function measureAll(command: string, only: RegExp): Promise<void> {
  const launcher = pathToFileURL(join(process.cwd(), 'bin', 'listwright.js')).href;
  const { main } = (await import(launcher)).default.load();
  const words = COMMANDS[command];
  const run = typeof words === 'function' ? words : () => main([...words, ...MOST_RAM]);
  const reads = (file: string) => typeof words !== 'function' && words.includes(file);

  const prepare = async (make: Make, size: number): Promise<void> => {
    writeFileSync(listing, make(size));
    if (reads(other) || reads(otherImage)) writeFileSync(other, lessOf(make, size));
    for (const [text, built] of [
      [listing, image],
      [other, otherImage],
    ]) {
      rmSync(built, { force: true });
      if (reads(built)) await main(['tokenise', text, '-o', built, '--anyway']);
    }
  };
  const once = async (): Promise<number> => {
    const start = process.cpuUsage();
    await run();
    const { user, system } = process.cpuUsage(start);
    return (user + system) / 1e6;
  };
  const warm = async (make: Make, size: number): Promise<void> => {
    await prepare(make, size);
    for (let all = 0, runs = 0; all < WARM && runs < 20; runs++) all += await once();
  };
  /** The least mean of so many runs. */
  const meanOf = async (make: Make, size: number, runs: number): Promise<number> => {
    await prepare(make, size);
    let least = Number.POSITIVE_INFINITY;
    for (let all = 0, times = 0; all < LONG && times < MOST_TIMES; times++) {
      globalThis.gc?.();
      let sum = 0;
      for (let run = 0; run < runs; run++) sum += await once();
      least = Math.min(least, sum / runs);
      all += sum;
    }
    return least;
  };

  hush(true);
  await warm(SINGLE, 1);
  const own = await meanOf(SINGLE, 1, 16);
  for (const [kind, make, sizes] of KINDS) {
    const name = nameOf(command, kind);
    if (!only.test(name)) continue;
    hush(true);
    await prepare(make, sizes[0]);
    // Of what has errors there is no image to read.
    if (reads(image) && !existsSync(image)) continue;
    await warm(make, sizes[1]);
    const all = sizes.map(() => Number.POSITIVE_INFINITY);
    const times = () => all.map((time) => Math.max(time - own, TICK));
    const isDoubtful = () => worstOf(times(), sizes) > GOAL && all.at(-1)! < LASTING;
    for (let round = 0; round === 0 || (round <= AGAIN && isDoubtful()); round++) {
      for (const [at, size] of sizes.entries()) {
        const runs = Math.round(sizes.at(-1)! / size);
        all[at] = Math.min(all[at], await meanOf(make, size, runs));
      }
    }
    hush(false);
    show(name, times(), sizes);
  }
}

/** The worst step: how many times the time grows, by how many times the size does. */
const worstOf = (times: readonly number[], sizes: readonly number[]): number =>
  Math.max(...times.slice(1).map((time, at) => time / times[at] / (sizes[at + 1] / sizes[at])));

const MARK = `  above ${GOAL}`;

function show(name: string, times: readonly number[], sizes: readonly number[]): void {
  const worst = worstOf(times, sizes);
  const shown = times.map((time) =>
    time <= TICK ? 'under 1 ms' : `${(time * 1e3).toFixed(time < 0.01 ? 1 : 0)} ms`,
  );
  const mark = worst > GOAL ? MARK : ' '.repeat(MARK.length);
  console.log(`${name.padEnd(40)} ${worst.toFixed(2).padStart(6)}${mark}  ${shown.join(', ')}`);
}

// ───────────────────────────── the table ─────────────────────────────

/** Measures a command in a process of its own; its rows are shown as they come. */
const rowsOfCommand = (command: string): Promise<string[]> =>
  new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ['--expose-gc', process.argv[1]], {
      env: { ...process.env, COMMAND: command },
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    const rows: string[] = [];
    createInterface(child.stdout).on('line', (row) => {
      console.log(row);
      rows.push(row);
    });
    child.on('close', (status) => {
      if (status === 0) resolve(rows);
      else reject(new Error(`${command}: exit status ${status}`));
    });
  });

async function table(only: RegExp): Promise<void> {
  console.log(`${'command, input'.padEnd(40)}  ratio             times`);
  const begun = performance.now();
  const waiting = Object.keys(COMMANDS).filter((command) =>
    KINDS.some(([kind]) => only.test(nameOf(command, kind))),
  );
  const rows: string[] = [];
  const measureWaiting = async (): Promise<void> => {
    for (let command = waiting.shift(); command !== undefined; command = waiting.shift()) {
      rows.push(...(await rowsOfCommand(command)));
    }
  };
  await Promise.all([measureWaiting(), measureWaiting()]);
  const above = rows.filter((row) => row.includes(MARK));
  const minutes = (performance.now() - begun) / 60_000;
  console.log(
    `${rows.length} rows, ${above.length} above ${GOAL}, in ${minutes.toFixed(1)} minutes`,
  );
  console.log(above.join('\n'));
}

try {
  const { COMMAND, ONLY = '' } = process.env;
  const only = new RegExp(ONLY);
  if (COMMAND === undefined) await table(only);
  else await measureAll(COMMAND, only);
} finally {
  process.exitCode = 0;
  rmSync(folder, { recursive: true, force: true });
}
