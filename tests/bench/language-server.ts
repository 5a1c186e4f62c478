/**
 * What an editor waits for, on a listing of 1,000 lines: from the client's message to the server's
 * answer, over standard input and output. Goals: findings within 50 ms of the last key (median;
 * 100 ms at most), completion within 10 ms; memory after 10,000 edits as after 100.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { findings } from '../../src/editing/questions/findings.js';
import { OpenListing } from '../../src/language-server/open-listing.js';
import { Client } from '../language-server/client.js';

const LINES = 1000;
const KEYS = 60;
const EDITS = 10_000;
const URI = 'file:///bench/long.bas';

const sample = readFileSync(join(import.meta.dirname, '../../samples/stock-book.bas'), 'utf8')
  .split('\n')
  .filter((line) => /^\d/.test(line))
  .map((line) => line.replace(/^\d+ /, ''));
const lines = Array.from({ length: LINES }, (_, at) => `${at + 1} ${sample[at % sample.length]}`);

const insert = (line: number, character: number, text: string) => ({
  range: { start: { line, character }, end: { line, character } },
  text,
});

function row(what: string, times: number[], goal: string): void {
  const sorted = [...times].sort((a, b) => a - b);
  const [middle, most] = [sorted[sorted.length >> 1], sorted.at(-1)!];
  console.log(
    `${what.padEnd(42)} median ${middle.toFixed(1)} ms, most ${most.toFixed(1)} ms   goal ${goal}`,
  );
}

const client = new Client(['--ram', '16K']);
await client.start();
await client.openText(URI, lines.join('\n'));
let version = 1;

async function key(line: number, character: number, text: string): Promise<number> {
  version++;
  const begun = performance.now();
  const found = client.findings(URI, version);
  await client.change(URI, version, [insert(line, character, text)]);
  await found;
  return performance.now() - begun;
}

// A statement that is typed, letter by letter: most of the time the listing has an error.
const typed = '\n5000 PRINT AT 5,5;"LAMP";A+VAL "3"';
const half: number[] = [];
const last = lines.length - 1;
await key(last, lines[last].length, '\n');
for (let at = 1; at < typed.length; at++) half.push(await key(last + 1, at - 1, typed[at]));
row('findings after a key, statement half typed', half, '50, 100');

const clean: number[] = [];
for (let at = 0; at < KEYS; at++) clean.push(await key(500, lines[500].length, at % 2 ? '' : ' '));
row('findings after a key, listing without error', clean, '50, 100');

const completions: number[] = [];
for (let at = 0; at < KEYS; at++) {
  await client.change(URI, ++version, [insert(500, 0, '')]);
  const begun = performance.now();
  await client.ask('textDocument/completion', {
    textDocument: { uri: URI },
    position: { line: last + 1, character: typed.length - 1 },
  });
  completions.push(performance.now() - begun);
}
row('completion right after a key', completions, '10');
if ((await client.stop()) !== 0) throw new Error('the server did not end well');

// Memory, in this process: what one open listing holds after so many edits.
const open = new OpenListing(lines.join('\n'), 1, { ram: 16 * 1024 });
const heap = (): number => {
  findings(open.snapshot);
  global.gc!();
  return process.memoryUsage().heapUsed / 2 ** 20;
};
let after100 = 0;
for (let at = 1; at <= EDITS; at++) {
  open.change([insert(at % LINES, 0, at % 2 ? '1' : '')], at);
  open.snapshot;
  if (at % 500 === 0) findings(open.snapshot);
  if (at === 100) after100 = heap();
}
const after = heap();
console.log(
  `memory after ${EDITS} edits / after 100: ${(after / after100).toFixed(2)} (${after.toFixed(0)} and ${after100.toFixed(0)} MB)`,
);
