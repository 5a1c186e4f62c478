/**
 * How the time of each command grows with its input: rows of each kind, and one line of each kind
 * of token. A ratio of 1 is linear. `ONLY='lint|keys'` takes the rows whose names match. What is read
 * from sound is in tape-time.ts.
 *
 * Commands run within this process, so that no start of Node counts, after runs that let their code
 * be compiled. Counted is the processor time, all threads, of the shortest of several runs, less
 * that of a run on a few rows or tokens. A step that would take too long is left out.
 */
import fs, { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { MOST_LINES } from '../../src/machine/program-limits.js';

const launcher = pathToFileURL(join(process.cwd(), 'bin', 'listwright.js')).href;
const { main } = (await import(launcher)).default.load();

const folder = mkdtempSync(join(tmpdir(), 'listwright-'));
const listing = join(folder, 'size.bas');
const result = join(folder, 'result');
const only = new RegExp(process.env.ONLY ?? '');

const image = join(folder, 'size.img');

/** Words of each command, which reads the listing; what it changes in place goes elsewhere. */
const COMMANDS: [string, string[]][] = [
  ['tokenise', ['tokenise', listing, '-o', result]],
  // Of what has errors there is no image.
  ['detokenise', ['detokenise', image, '-o', result]],
  ['compare images', ['compare', image, image]],
  ['lint', ['lint', listing]],
  ['lint json', ['lint', listing, '--format', 'json']],
  ['lint fix', ['lint', listing, '--fix', '--dry-run']],
  ['fit', ['fit', listing]],
  ['rehearse', ['rehearse', listing, '--statements', '1000']],
  ['record', ['record', listing, '-o', result]],
  ['compare', ['compare', listing, listing]],
  ['format', ['format', listing, '--check']],
  ['renumber', ['renumber', listing, '--step', '1', '-o', result]],
  ['transcribe', ['transcribe', listing, '-o', result]],
  ['keys', ['keys', listing]],
];

const rowsOf =
  (row: (at: number) => string) =>
  (count: number): string =>
    Array.from({ length: count }, (_, at) => `${row(at)}\n`).join('');

const STATEMENTS = ['LET A=5', 'PRINT A', 'CLS', 'IF A=1 THEN GOTO 9', 'FOR I=1 TO 3', 'NEXT I'];
const BAD = ['PRNT A', 'LET A=', 'IF A=1 THN CLS', 'PRINT "A', 'GOT0 9', 'LET (A)=5'];

const ROWS = [1000, 4000, 16_000];
/** Of short lines as many as 48K hold; of lines that store nothing as many as have a number. */
const LINES = [1000, 3500];
const BAD_LINES = [1000, 4000, MOST_LINES - 1];
const KINDS: [string, (size: number) => string, number[]][] = [
  ['plain lines', rowsOf((at) => `${at + 1} ${STATEMENTS[at % 6]}`), LINES],
  ['bad lines', rowsOf((at) => `${at + 1} ${BAD[at % 6]}`), BAD_LINES],
  ['lines without a number', rowsOf((at) => BAD[at % 6]), ROWS],
  ['.raw', (size) => `10 CLS\n${'.raw program 40\n'.repeat(size)}`, ROWS],
  ['.var', rowsOf((at) => `.var V${at}=${at}`), ROWS],
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
  (before: string, token: string, after: string) =>
  (size: number): string =>
    `10 ${before}${token.repeat(Math.floor(size / token.length))}${after}\n`;
const TOKENS: [string, (size: number) => string][] = [
  ['operators', repeated('LET A=A', '+A', '')],
  ['numbers', repeated('PRINT 1', ';1', '')],
  ['digits', repeated('PRINT ', '1', '')],
  ['commas', repeated('PRINT ', ',', '')],
  ['brackets', (size) => `10 PRINT ${'('.repeat(size / 2)}A${')'.repeat(size / 2)}\n`],
  ['open brackets', repeated('PRINT ', '(', '')],
  ['minus signs', repeated('PRINT ', '-', 'A')],
  ['NOT', repeated('PRINT ', 'NOT ', 'A')],
  ['keywords', repeated('PRINT ', 'PRINT ', '')],
  ['a name', repeated('LET ', 'A', '=1')],
  ['a string', repeated('PRINT "', 'LAMP ', '"')],
  ['a string without end', repeated('PRINT "', 'LAMP ', '')],
  ['a REM', repeated('REM ', 'LAMP ', '')],
  ['bytes', repeated('REM [', '40 ', ']')],
  ['escapes', repeated('PRINT "', '[ul]', '"')],
  ['inverse', repeated('REM ', '[~A]', '')],
  ['strange signs', repeated('PRINT ', '§', '')],
  ['words', repeated('PRINT ', 'LAMP ', '')],
  ['points', repeated('PRINT ', '.', '')],
];

/** Seconds of processor time that a command takes; nothing that it says is shown. */
async function timeOf(words: string[], text: string): Promise<number> {
  writeFileSync(listing, text);
  rmSync(image, { force: true });
  const { writeSync } = fs;
  fs.writeSync = ((descriptor: number, bytes: Uint8Array, ...more: number[]) =>
    descriptor > 2
      ? writeSync(descriptor, bytes, ...more)
      : (more[1] ?? bytes.length - (more[0] ?? 0))) as typeof writeSync;
  syncBuiltinESMExports();
  if (words.includes(image)) await main(['tokenise', listing, '-o', image, '--anyway']);
  let least = Number.POSITIVE_INFINITY;
  let all = 0;
  for (let run = 0; run < 2 || (run < 4 && all < 3 * TICK); run++) {
    globalThis.gc?.();
    const start = process.cpuUsage();
    await main(words);
    const { user, system } = process.cpuUsage(start);
    const time = (user + system) / 1e6;
    least = Math.min(least, time);
    all += time;
  }
  fs.writeSync = writeSync;
  syncBuiltinESMExports();
  return least;
}

/** A step that would take longer than this, by the ones before it, is left out. */
const LONGEST = 20;
/** The size whose time is taken off the others: a few rows or tokens. */
const LEAST = 16;
/**
 * Seconds of processor time that compiling and collecting garbage take, now and then: what takes less
 * counts as so much.
 */
const TICK = 0.02;

async function measure(
  name: string,
  words: string[],
  make: (size: number) => string,
  sizes: number[],
) {
  if (!only.test(name)) return;
  await timeOf(words, make(sizes[0]));
  const least = await timeOf(words, make(LEAST));
  const times: number[] = [];
  for (const [index, size] of sizes.entries()) {
    const growth = index === 0 ? 1 : size / sizes[index - 1];
    if (index > 0 && times[index - 1] * growth ** 2 > LONGEST) break;
    times.push(Math.max((await timeOf(words, make(size))) - least, TICK));
  }
  const ratios = times
    .slice(1)
    .map((time, index) => time / times[index] / (sizes[index + 1] / sizes[index]));
  const worst = Math.max(...ratios);
  const shown = times
    .map((time) => (time > TICK ? `${(time * 1e3).toFixed(0)} ms` : 'little'))
    .join(', ');
  const cut = times.length < sizes.length ? ', longer ones left out' : '';
  console.log(
    `${name.padEnd(44)} ${worst.toFixed(2).padStart(6)} ${worst > 1.3 ? '  above 1.3' : '           '}  ${shown}${cut}`,
  );
}

console.log(`${'command, input'.padEnd(44)}  ratio               times`);
for (const [command, words] of COMMANDS) {
  for (const [kind, make, sizes] of KINDS) await measure(`${command}, ${kind}`, words, make, sizes);
  for (const [kind, make] of TOKENS) await measure(`${command}, ${kind}`, words, make, ONE);
}
process.exitCode = 0;
rmSync(folder, { recursive: true, force: true });
