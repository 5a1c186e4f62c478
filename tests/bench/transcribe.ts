/**
 * `npm run bench:transcribe`: samples and drawn listings damaged by a seed, read back, and held
 * against what they were. The table is of lines. SHOW=silent (or
 * questions, silentText …) also prints such lines.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { transcribe } from '../../src/transcribe/transcribe.js';
import { drawListing } from '../support/draw-listing.js';
import { damage } from '../transcribe/damage.js';
import { addScore, emptyScore, type Score, type Wrong } from '../transcribe/score.js';

const RATES = [0.002, 0.005, 0.01, 0.02];
const WIDTHS = [24, 32, 40];
const DRAWN = Number(process.env.DRAWN ?? 200);

const samples = readdirSync('samples')
  .filter((name) => name.endsWith('.bas'))
  .map((name) => readFileSync(join('samples', name), 'utf8'))
  // Bytes and machine code are never printed as text to be read again.
  .filter((text) => !/\[\s*(?:[0-9A-F]{2}[\s\]]|=|file|\n)/i.test(text));

const drawn = fc.sample(
  drawListing({ lines: [20, 60], layout: 'even', directives: false, bytes: false, assigned: true }),
  { numRuns: DRAWN, seed: 7 },
);

function run(listings: readonly string[], rate: number): { score: Score; wrong: Wrong[] } {
  const score = emptyScore();
  const wrong: Wrong[] = [];
  listings.forEach((listing, index) => {
    for (const wrap of WIDTHS) {
      const seed = index * 1000 + wrap + Math.round(rate * 1e6);
      const printed = damage(listing, seed, {
        confuse: rate,
        loseSpaces: rate * 2,
        wrap,
        pages: true,
      });
      wrong.push(...addScore(score, listing, transcribe(printed)));
    }
  });
  return { score, wrong };
}

const share = (part: number, whole: number): string =>
  `${((100 * part) / whole).toFixed(2)} %`.padStart(9);

console.log(
  'rate     lines  exact     (asked though right)  questions  text, marked  text, silent  WRONG IN SILENCE  a thousand',
);
for (const [name, listings] of [
  ['samples', samples],
  ['drawn', drawn],
] as const) {
  console.log(
    `${name}: ${listings.length} listings, each wrapped at ${WIDTHS.join(', ')}, with captions and page breaks`,
  );
  for (const rate of RATES) {
    const started = performance.now();
    const { score, wrong } = run(listings, rate);
    const seconds = ((performance.now() - started) / 1000).toFixed(1);
    console.log(
      `${(rate * 100).toFixed(1)} %  ${String(score.lines).padStart(7)}${share(score.exact, score.lines)} ${share(score.askedThoughRight, score.lines)}            ${share(score.questions, score.lines)} ${share(score.markedText, score.lines)}     ${share(score.silentText, score.lines)} ${String(score.silent).padStart(12)}   ${((1000 * score.silent) / score.lines).toFixed(2).padStart(12)}   (${seconds} s)`,
    );
    for (const one of wrong.filter(({ kind }) => kind === process.env.SHOW).slice(0, 12)) {
      console.log(`   ${one.number}: ${one.meant}  |  ${one.got}`);
    }
  }
}
