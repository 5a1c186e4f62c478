/** The main job's speed, as ratios measured in one run. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildImage } from '../../src/image/build.js';
import { readListing } from '../../src/listing/read.js';
import { planRecording } from '../../src/tape/writing/record.js';
import { jsonTree, jsonValues } from './json-grammar.js';
import { best, middle, row } from './measure.js';

const RAM = 48 * 1024;
const folder = mkdtempSync(join(tmpdir(), 'listwright-bench-'));

/** The lines of the samples, over and over, numbered anew. */
function listingOf(lines: number): string {
  const statements = ['towpath', 'ruler', 'grid', 'keyboard']
    .flatMap((name) => readFileSync(`samples/${name}.bas`, 'utf8').split('\n'))
    .filter((line) => /^\d/.test(line))
    .map((line) => line.replace(/^\d+ /, ''));
  const step = lines < 5000 ? 2 : 1;
  return Array.from(
    { length: lines },
    (_, at) => `${(at + 1) * step} ${statements[at % statements.length]}\n`,
  ).join('');
}

function start(): void {
  const run = (...args: string[]) => spawnSync(process.execPath, args);
  const listing = join(folder, 'sample.bas');
  writeFileSync(listing, readFileSync('samples/ruler.bas'));
  const bare = middle(() => run('-e', '0'));
  const version = middle(() => run('bin/listwright.js', '--version'));
  const tokenise = middle(() => run('bin/listwright.js', 'tokenise', listing));
  const shown = (seconds: number) =>
    `${(seconds * 1000).toFixed(0)} ms against ${(bare * 1000).toFixed(0)} ms`;
  row('start of `listwright --version` / `node -e 0`', version / bare, '≤ 1.5', shown(version));
  const spawning = middle(() => run('-e', "require('node:child_process')"));
  row('`node -e` that loads child_process / `node -e 0`', spawning / bare, '–', shown(spawning));
  row('a whole `listwright tokenise` / `node -e 0`', tokenise / bare, '≤ 1.5', shown(tokenise));
}

function parseAgainstJson(): void {
  const text = listingOf(1000);
  const records: unknown[] = [];
  const rest = ['bench', 'loft', 'shed'];
  let json = '[]';
  for (let at = 0; json.length < text.length; at++) {
    records.push({
      part: `PT-${at * 7}`,
      count: at % 13,
      price: at * 0.25,
      fits: at % 3 === 0,
      at: [rest[at % 3], at],
    });
    if (at % 50 === 0) json = JSON.stringify(records);
  }
  const ours = best(() => buildOf(text), 300);
  const speed = (length: number, seconds: number) => `${(length / seconds / 1e6).toFixed(1)} MB/s`;
  for (const [what, parse] of [
    ['Chevrotain JSON, tree', jsonTree],
    ['Chevrotain JSON, bare values', jsonValues],
  ] as const) {
    const theirs = best(() => parse(json), 300);
    row(
      `bytes a second, parse and tokenise / ${what}`,
      text.length / ours / (json.length / theirs),
      '≥ 1',
      `${speed(text.length, ours)} against ${speed(json.length, theirs)}`,
    );
  }
}

/** Parse and tokenise. */
function buildOf(text: string): void {
  const { listing, diagnostics } = readListing(text);
  const wrong = diagnostics.find(({ severity }) => severity === 'error');
  if (wrong) throw new Error(wrong.message);
  buildImage(listing, { ram: RAM });
}

function timeALine(): void {
  const perLine = new Map<number, number>();
  for (const lines of [100, 1000, 2000]) {
    const text = listingOf(lines);
    // So many lines each time, in few long listings or many short ones: what the collector of
    // garbage takes belongs to every length alike.
    const repeats = Math.round(20_000 / lines);
    const run = () => {
      for (let at = 0; at < repeats; at++) buildOf(text);
    };
    run();
    perLine.set(lines, middle(run, 9) / (repeats * lines));
  }
  const times = [...perLine.values()];
  const detail = [...perLine]
    .map(([lines, time]) => `${lines}: ${(time * 1e6).toFixed(2)} µs`)
    .join(', ');
  row(
    'time a line, slowest / fastest of three lengths',
    Math.max(...times) / Math.min(...times),
    '≤ 1.2',
    detail,
  );
}

function recording(): void {
  // The largest image that 16K holds: from 16393 up to the end of the RAM.
  const image = new Uint8Array(16384 + 16384 - 16393).map((_, at) => (at * 73) & 255);
  image[16404 - 16393] = (16393 + image.length) & 255;
  image[16405 - 16393] = (16393 + image.length) >> 8;
  const plan = planRecording([{ name: Uint8Array.of(38), image }]);
  const samples = (plan.size - 44) / 2;
  const write = best(() => {
    let bytes = 0;
    for (const piece of plan.pieces()) bytes += piece.length;
    if (bytes !== plan.size) throw new Error('the recording is not as long as it said');
  });
  const fill = best(() => {
    const buffer = new Int16Array(samples);
    for (let at = 0; at < samples; at++) buffer[at] = at;
    return buffer;
  });
  const faster = plan.seconds / write;
  row(
    'recording a full 16K image / filling as many samples',
    write / fill,
    '≤ 4',
    `${faster.toFixed(0)} times faster than it plays`,
  );
}

function memory(): void {
  const listing = join(folder, 'long.bas');
  writeFileSync(listing, listingOf(9999));
  const script = `const {main}=require('./bin/listwright.js').load();process.argv.push();main(['tokenise',${JSON.stringify(listing)},'--ram','48K']).then(()=>console.log(process.resourceUsage().maxRSS/1024))`;
  const { stdout } = spawnSync(process.execPath, ['-e', script], { encoding: 'utf8' });
  const megabytes = Number(stdout);
  row('megabytes for a listing of 9,999 lines', megabytes, '< 200');
}

start();
parseAgainstJson();
timeALine();
recording();
memory();
rmSync(folder, { recursive: true });
