/**
 * `npm run bench:lint`: budget and lint of a listing of 1,000 lines against its parse, and of one
 * ten times as long, to see that time grows with the lines and not faster.
 */
import { lint } from '../../src/lint/lint.js';
import { readListing } from '../../src/listing/read.js';
import { budgetOf } from '../../src/memory/budget.js';
import { best, row } from './measure.js';

/** Lines of all kinds: arithmetic, strings, loops, subroutines, printing. */
const BLOCK = [
  'LET A=A+1',
  'IF A>20 THEN LET A=0',
  'PRINT AT A,5;"DISTANCE ";A*(B+2)',
  'FOR I=1 TO 8',
  'LET B=B+C(I)*SIN (A/10)',
  'NEXT I',
  'IF INKEY$="7" AND B<100 THEN GOTO @10',
  'LET A$="OAK"+STR$ A',
  'GOSUB @9',
  'RETURN',
];

function listingOf(lines: number): string {
  const step = Math.max(1, Math.floor(9990 / lines));
  const text = ['1 DIM C(8)', '2 LET A=0', '3 LET B=0', '4 GOTO 5'];
  for (let at = 0; at < lines - 4; at++) {
    const number = 5 + at * step;
    const words = BLOCK[at % 10].replace(/@(\d+)/, (_, ahead) =>
      String(number + Number(ahead) * step),
    );
    text.push(`${number} ${words}`);
  }
  return `${text.join('\n')}\n`;
}

function measure(lines: number) {
  const text = listingOf(lines);
  const { listing } = readListing(text);
  const parse = best(() => readListing(text), TIMES);
  const both = best(() => lint({ text, listing }, { ram: 1024 }), TIMES);
  const budget = best(() => budgetOf(listing, { ram: 1024 }), TIMES);
  return { parse, both, budget };
}

/** Enough for the engine to have compiled what is measured. */
const TIMES = 80;

const ms = (seconds: number): string => `${(seconds * 1000).toFixed(1)} ms`;
measure(1000);
const thousand = measure(1000);
const many = measure(5000);
row(
  'lint and budget of 1,000 lines ÷ their parse',
  thousand.both / thousand.parse,
  '<= 3',
  `${ms(thousand.both)} ÷ ${ms(thousand.parse)}; the budget alone ${ms(thousand.budget)}`,
);
row(
  'lint and budget of 5,000 lines ÷ of 1,000 lines',
  many.both / thousand.both,
  '<= 6',
  `${ms(many.both)} ÷ ${ms(thousand.both)}`,
);
