/**
 * How the time of each command grows with its input: rows of each kind, and one line of each kind
 * of token. A ratio of 1 is linear. `ONLY='lint|keys, plain'` takes the rows whose names match. What
 * is read from sound is in tape-time.ts.
 *
 * Each command has a process of its own, two of them side by side. There it runs again and again, so
 * that no start of Node counts (growth.ts says how often). Counted is the processor time of all
 * threads, less that of a single line, half of which is the least that counts; the RAM is the largest,
 * so that nothing ends early for want of room. A size that the command refuses to read is left out.
 * Sizes are compared that come to the same end, with the same exit status and on one side of the
 * limits: what is read and what is refused is other work. A row without two such sizes is left out.
 *
 * Of a row whose time grows too much the work is counted too (work.ts), which no other work on the
 * machine and no memory further away can change: the ratio beside it says whether there is more to do,
 * or only each step takes longer. `COUNT=1` counts all rows and takes no time.
 */
import { spawn } from 'node:child_process';
import fs, { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { pathToFileURL } from 'node:url';
import { MOST_OPERATORS } from '../../grammar/parsing/fold.js';
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
import { FLOOR, GOAL, growth, timesOf } from './growth.js';
import { countWork } from './work.js';

// ───────────────────────────── what is read ─────────────────────────────

/** Inputs of one kind: the text of a size, the sizes, and the largest that is read, or fits. */
type Kind = readonly [name: string, make: Make, sizes: readonly number[], limit?: number];
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
const COUNTING_LINES = [650, 2600];
/** As many as 48K hold with the variables that they set. */
const SETTING_LINES = [375, 1500];
/** From here on line numbers are as long as each other: what short ones may stand for is less. */
const FROM = 1000;
/** Names as long as each other, of all digits from the first on: some look like letters. */
const nameAt = (at: number): string => `V${FROM + ((at * 1237) % 8000)}`;
/** About as many as 48K hold: what does not fit is looked at twice. */
const MOST_VARIABLES = 4500;
const BAD_LINES = [1000, 4000, MOST_LINES - 1];
const ROWS_OF: readonly Kind[] = [
  ['plain lines', rowsOf((at) => `${at + 1} ${STATEMENTS[at % 6]}`), LINES],
  [
    'lines with names',
    rowsOf((at) => `${at + FROM} LET ${nameAt(at)}=${nameAt(at >> 1)}+A`),
    SETTING_LINES,
  ],
  [
    'lines that jump',
    rowsOf((at) => `${at + FROM} IF A THEN GOSUB ${(at + FROM) ^ 7}`),
    LONG_LINES,
  ],
  ['lines that count', rowsOf((at) => `${at + 1} LET A=A+1`), COUNTING_LINES],
  ['bad lines', rowsOf((at) => `${at + 1} ${BAD[at % 6]}`), BAD_LINES],
  ['lines without a number', rowsOf((at) => BAD[at % 6]), ROWS],
  ['.raw', (size) => `10 CLS\n${'.raw program 40\n'.repeat(size)}`, ROWS],
  ['.var', rowsOf((at) => `.var V${at}=${at}`), [1000, 4000, 6000, 16_000], MOST_VARIABLES],
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

/** The most that is loaded where it lies, of tokens that take a byte. */
const ONE = [1024, 4096, 16_384, 47_000];
const repeated =
  (before: string, token: string, after: string): Make =>
  (size) =>
    `${before}${token.repeat(Math.floor(size / token.length))}${after}\n`;
/** With the characters of each operator, of which a statement may have so many. */
const TOKENS: readonly (readonly [name: string, make: Make, characters?: number])[] = [
  ['operators', repeated('10 LET A=A', '+A', ''), 2],
  ['numbers', repeated('10 PRINT 1', ';1', '')],
  ['digits', repeated('10 PRINT ', '1', '')],
  ['commas', repeated('10 PRINT ', ',', '')],
  ['brackets', (size) => `10 PRINT ${'('.repeat(size / 2)}A${')'.repeat(size / 2)}\n`],
  ['open brackets', repeated('10 PRINT ', '(', '')],
  ['minus signs', repeated('10 PRINT ', '-', 'A'), 1],
  ['NOT', repeated('10 PRINT ', 'NOT ', 'A'), 4],
  ['functions', repeated('10 PRINT ', 'SIN ', 'A'), 4],
  ['comparisons', repeated('10 PRINT A', '=B AND A', ''), 4],
  ['keywords', repeated('10 PRINT ', 'PRINT ', '')],
  ['a name', repeated('10 LET ', 'A', '=1')],
  ['strings', repeated('10 PRINT "A"', '+"A"', ''), 4],
  ['a string', repeated('10 PRINT "', 'LAMP ', '"')],
  ['a string without end', repeated('10 PRINT "', 'LAMP ', '')],
  ['slices', repeated('10 PRINT A$', '+A$(1 TO 2)', ''), 12],
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
  ...TOKENS.map(
    ([name, make, characters = 0]): Kind => [name, make, ONE, characters * MOST_OPERATORS],
  ),
];

// ───────────────────────────── what reads it ─────────────────────────────

const folder = mkdtempSync(join(tmpdir(), 'listwright-'));
// Each size has a folder of its own, in which these lie.
const listing = 'size.bas';
/** The listing with some rows or tokens missing. */
const other = 'other.bas';
const image = 'size.img';
const otherImage = 'other.img';
const result = 'result';

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
  // Nothing would be done for what fits.
  'lint until fits': ['lint', listing, '--fix', '--until-fits', '--dry-run', '--ram', '1K'],
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

/** What is read to know the time that a command takes for anything that comes to an end: it is taken off. */
const SINGLES: readonly Kind[] = [
  ['a line', () => '10 CLS\n', [1]],
  ['a bad line', () => '10 C_\n', [1]],
];
/** The exit status of what cannot be asked, as what is too large. */
const REFUSED = 2;

/**
 * Code runs unoptimised, so that none is measured half compiled, as short runs of a command line are.
 * Garbage of new things is collected between samples, and they have room (MB) until the next: what
 * collecting costs depends on what lives when it comes.
 */
const ROOM = 256;
const NODE = [
  ...['--no-opt', '--always-sparkplug', '--expose-gc'],
  ...[`--min-semi-space-size=${ROOM}`, `--max-semi-space-size=${ROOM}`],
];

const nameOf = (command: string, kind: string): string => `${command}, ${kind}`;

async function measureAll(command: string, only: RegExp, counts: boolean): Promise<void> {
  const done = counts ? await countWork() : undefined;
  const launcher = pathToFileURL(join(process.cwd(), 'bin', 'listwright.js')).href;
  const { main } = (await import(launcher)).default.load();
  const words = COMMANDS[command];
  const run =
    typeof words === 'function'
      ? words
      : () => main(words.includes('--ram') ? words : [...words, ...MOST_RAM]);
  const reads = (file: string) => typeof words !== 'function' && words.includes(file);
  const placeOf = (size: number): string => join(folder, String(size));

  /** Writes what is read of one size; gives the exit status that the command ends with. */
  const prepare = async (make: Make, size: number): Promise<number> => {
    rmSync(placeOf(size), { recursive: true, force: true });
    mkdirSync(placeOf(size));
    process.chdir(placeOf(size));
    writeFileSync(listing, make(size));
    if (reads(other) || reads(otherImage)) writeFileSync(other, lessOf(make, size));
    for (const [text, built] of [
      [listing, image],
      [other, otherImage],
    ]) {
      // Of what has errors there is no image to read.
      if (reads(built)) await main(['tokenise', text, '-o', built, '--anyway', ...MOST_RAM]);
    }
    process.exitCode = 0;
    await run();
    return Number(process.exitCode ?? 0);
  };
  const once = async (size: number): Promise<number> => {
    process.chdir(placeOf(size));
    const start = process.cpuUsage();
    await run();
    const { user, system } = process.cpuUsage(start);
    return (user + system) / 1e6;
  };
  const measure = async ([, make, sizes, limit = 0]: Kind): Promise<Measured> => {
    hush(true);
    const read: number[] = [];
    const ends: string[] = [];
    for (const size of sizes) {
      const status = await prepare(make, size);
      if (status === REFUSED) continue;
      read.push(size);
      ends.push(`${status} ${size > limit}`);
    }
    const taken: number[] = [];
    if (done === undefined) {
      const clear = () => globalThis.gc?.({ type: 'minor' } as never);
      taken.push(...(await timesOf(read, once, clear)));
    } else {
      for (const size of read) {
        await done();
        await once(size);
        taken.push(await done());
      }
    }
    hush(false);
    return { sizes: read, taken, ends };
  };

  const single: Measured[] = [];
  for (const kind of SINGLES) single.push(await measure(kind));
  /** What is taken for anything that comes to an end: of a kind that no single line comes to, the least. */
  const ownOf = (end: string): number => {
    const [status] = end.split(' ');
    const same = single.filter(({ ends }) => ends[0]?.split(' ')[0] === status);
    return Math.min(...(same.length > 0 ? same : single).flatMap(({ taken }) => taken));
  };
  for (const kind of KINDS) {
    const name = nameOf(command, kind[0]);
    if (!only.test(name)) continue;
    const { sizes, taken, ends } = await measure(kind);
    const own = ends.map(ownOf);
    const beyond = taken.map((one, at) => Math.max(one - own[at], 0));
    // What little is added to much is not told from chance.
    const least = counts ? LITTLE : Math.max(FLOOR, ...own.map((one) => one / 2));
    const worst = worstOf(sizes, beyond, ends, least);
    if (worst === undefined) continue;
    const shown = beyond.map((one, at) => {
      const short = counts ? String(one) : `${(Math.max(one, least) * 1e3).toFixed(0)} ms`;
      return `${sizes[at]}: ${one < least ? 'under ' : ''}${short}`;
    });
    show(counts ? `${name}${WORK}` : name, worst, shown);
  }
}

/** What was measured: of each size the seconds or the work, and the end that it came to. */
interface Measured {
  readonly sizes: readonly number[];
  readonly taken: readonly number[];
  readonly ends: readonly string[];
}

/** The worst step between sizes that come to the same end; undefined where there is none. */
function worstOf(
  sizes: readonly number[],
  taken: readonly number[],
  ends: readonly string[],
  least: number,
): number | undefined {
  const steps: number[] = [];
  for (let at = 1; at < sizes.length; at++) {
    if (ends[at] !== ends[at - 1]) continue;
    steps.push(growth(sizes.slice(at - 1, at + 1), taken.slice(at - 1, at + 1), least));
  }
  return steps.length === 0 ? undefined : Math.max(...steps);
}

const MARK = `  above ${GOAL}`;
/** What a row of work counted is called, after the name of that of time. */
const WORK = ': work';
/** Pieces of work that count as little, in about the time of FLOOR. */
const LITTLE = 150_000;

function show(name: string, worst: number, shown: readonly string[]): void {
  const mark = worst > GOAL ? MARK : ' '.repeat(MARK.length);
  console.log(`${name.padEnd(40)} ${worst.toFixed(2).padStart(6)}${mark}  ${shown.join(', ')}`);
}

// ───────────────────────────── the table ─────────────────────────────

/** Measures a command in a process of its own; its rows are shown as they come. */
const rowsOfCommand = (command: string, more: Record<string, string> = {}): Promise<string[]> =>
  new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [...NODE, process.argv[1]], {
      env: { ...process.env, COMMAND: command, ...more },
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

const rowsAbove = (rows: readonly string[]): string[] => rows.filter((row) => row.includes(MARK));
const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

async function table(only: RegExp, counts: boolean): Promise<void> {
  console.log(`${'command, input'.padEnd(40)}  ratio             times`);
  const begun = performance.now();
  const waiting = Object.keys(COMMANDS).filter((command) =>
    KINDS.some(([kind]) => only.test(nameOf(command, kind))),
  );
  const rows: string[] = [];
  const counted: string[] = [];
  const measureWaiting = async (): Promise<void> => {
    for (let command = waiting.shift(); command !== undefined; command = waiting.shift()) {
      const found = await rowsOfCommand(command);
      rows.push(...found);
      const names = rowsAbove(found).map((row) => escaped(row.split(/ {2,}/)[0]));
      if (names.length === 0 || counts) continue;
      const again = { COUNT: '1', ONLY: `^(${names.join('|')})$` };
      counted.push(...(await rowsOfCommand(command, again)));
    }
  };
  await Promise.all([measureWaiting(), measureWaiting()]);
  const above = rowsAbove(rows);
  const minutes = (performance.now() - begun) / 60_000;
  console.log(
    `${rows.length} rows, ${above.length} above ${GOAL}, in ${minutes.toFixed(1)} minutes`,
  );
  if (!counts) console.log(`by their work ${rowsAbove(counted).length} are above it`);
  console.log([...above, ...counted].sort().join('\n'));
}

try {
  const { COMMAND, COUNT, ONLY = '' } = process.env;
  const only = new RegExp(ONLY);
  if (COMMAND === undefined) await table(only, COUNT !== undefined);
  else await measureAll(COMMAND, only, COUNT !== undefined);
} finally {
  process.exitCode = 0;
  rmSync(folder, { recursive: true, force: true });
}
