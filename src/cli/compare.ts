/** `compare A B`: what differs between any two of listing, image and recording. */
import type { Command } from 'commander';
import { areasOf } from '../image/areas.js';
import {
  type ByteDifference,
  type Comparison,
  compareImages,
  type Difference,
  MOST_STEPS,
  type Part,
  type Word,
} from '../image/compare.js';
import { hasErrors, type Paint } from '../listing/diagnostics.js';
import { hexBytes } from '../listing/print.js';
import { doubtCount } from '../tape/telling/doubt-text.js';
import { type CommandOptions, loadProgram, type Program } from './common/input.js';
import { CannotAsk, DONE, NO, print, tell } from './common/io.js';
import { allOption, formatOption, includeAnywhereOption, ramOption } from './common/options.js';
import { count, jsonOf, paintFor, shortList, tellDiagnostics } from './common/show.js';

interface Options extends CommandOptions {
  bytes?: boolean;
}

export function register(program: Command): void {
  program
    .command('compare')
    .description('show what differs between any two of listing, image and recording')
    .argument('<a>', 'a listing, an image or a recording, or - for standard input')
    .argument('<b>', 'another')
    .option('--bytes', 'show the bytes that differ too, with their offsets and addresses')
    .addOption(ramOption('listings are built for it'))
    .addOption(includeAnywhereOption())
    .addOption(formatOption())
    .addOption(allOption())
    .action(compare);
}

async function compare(pathA: string, pathB: string, options: Options): Promise<void> {
  if (pathA === '-' && pathB === '-') {
    throw new CannotAsk('standard input can be only one of the two', 'give a file for the other');
  }
  const a = await load(pathA, options);
  const b = await load(pathB, options);
  const comparison = compareImages(a.image, b.image);
  if (options.format === 'json') print(jsonOf(asJson(a, b, comparison, options)));
  else print(asText(a, b, comparison, options).join('\n'));
  process.exitCode = comparison.equal ? DONE : NO;
}

type Built = Program & { readonly image: Uint8Array };

async function load(path: string, options: Options): Promise<Built> {
  // Whether it fits the RAM is no question here.
  const program = await loadProgram(path, { ...options, anyway: true });
  const { image, source, diagnostics, recovered } = program;
  const doubts = recovered?.doubts ?? [];
  if (doubts.length > 0) tell(`${source.name}: note: ${doubtCount(doubts)}`);
  if (image === undefined || hasErrors(diagnostics)) {
    tellDiagnostics(source, diagnostics, options.all);
    throw new CannotAsk(
      `${source.name}: it has errors, so there is no image to compare`,
      'mend the errors first',
    );
  }
  return { ...program, image };
}

// ───────────────────────────────── JSON ─────────────────────────────────

function asJson(a: Built, b: Built, comparison: Comparison, options: Options) {
  const { bytes, ...parts } = comparison;
  return {
    a: inputJson(a),
    b: inputJson(b),
    ...parts,
    ...(options.bytes ? { bytes } : {}),
  };
}

const inputJson = ({ source, kind, listing, image }: Built) => ({
  file: source.name,
  kind,
  lines: listing.lines.length,
  bytes: image.length,
});

// ───────────────────────────────── text ─────────────────────────────────

const TITLES: [Part, string][] = [
  ['lines', ''],
  ['variables', 'variables'],
  ['system', 'system variables'],
  ['display', 'display'],
  ['after', 'bytes after the end'],
];

function asText(a: Built, b: Built, comparison: Comparison, options: Options): string[] {
  const paint = paintFor(process.stdout);
  const rows = [describe('A', a), describe('B', b)];
  if (comparison.equal) return [...rows, `the same ${count(a.image.length, 'byte')}`];
  for (const [part, title] of TITLES) {
    if (comparison[part].length === 0) continue;
    rows.push('', ...(title === '' ? [] : [paint(title, 'place')]));
    const rowMark = part === 'display';
    const differences = comparison[part].map((difference) =>
      differenceRows(difference, paint, rowMark ? `${difference.key}: ` : '').join('\n'),
    );
    rows.push(...shortList(differences, options.all));
  }
  if (options.bytes) {
    rows.push(
      '',
      paint('bytes', 'place'),
      ...shortList(comparison.bytes.map(byteRow), options.all),
    );
  }
  return [...rows, '', sumOf(comparison)];
}

function describe(letter: string, { source, kind, listing, image }: Built): string {
  const { E_LINE } = areasOf(image);
  return `${letter}  ${source.name}: ${kind}, ${count(listing.lines.length, 'line')}, ${count(image.length, 'byte')}, up to address ${E_LINE}`;
}

/** Longest text that is shown whole; of a longer one, both ends of long parts are. */
const LONGEST = 160;
const KEPT = 20;
const KEPT_CHANGED = 60;

function differenceRows(
  { a, b, words, coarse }: Difference,
  paint: Paint,
  before: string,
): string[] {
  if (words === undefined) {
    const [sign, text] = a === undefined ? ['+', b!] : ['-', a];
    return text.split('\n').map((row) => paint(`${sign} ${before}${row}`, roleOf(sign)));
  }
  const long = Math.max(a!.length, b!.length) > LONGEST || /\n/.test(`${a}${b}`);
  return [
    ...markedRows('-', before, wordsIn(words, 'a', long), paint),
    ...markedRows('+', before, wordsIn(words, 'b', long), paint),
    ...(coarse ? [`  more than ${MOST_STEPS} words differ, so all are marked`] : []),
  ];
}

const roleOf = (sign: string) => (sign === '-' ? 'error' : 'note');

/** The words of one of the texts, shortened where it is long. */
function wordsIn(words: readonly Word[], side: 'a' | 'b', long: boolean): Word[] {
  return words
    .filter((word) => word.in === 'both' || word.in === side)
    .map((word) => {
      const text = word.text.replace(/\s*\n\s*/g, ' ');
      const kept = word.in === 'both' ? KEPT : KEPT_CHANGED;
      if (!long || text.length <= 3 * kept) return { ...word, text };
      return { ...word, text: `${text.slice(0, kept)} … ${text.slice(-kept)}` };
    });
}

/** A text, and under it marks where it differs from the other. */
function markedRows(sign: string, before: string, words: readonly Word[], paint: Paint): string[] {
  const text = words.map((word) =>
    word.in === 'both' ? word.text : paint(word.text, roleOf(sign)),
  );
  const marks = words.map((word) => {
    const width = [...word.text].length;
    return word.in === 'both' ? ' '.repeat(width) : '^'.repeat(width);
  });
  const rows = [`${paint(sign, roleOf(sign))} ${before}${text.join('')}`];
  const shown = marks.join('').trimEnd();
  if (shown !== '') rows.push(`  ${' '.repeat(before.length)}${shown}`);
  return rows;
}

/** Most bytes of a run that are shown. */
const MOST_BYTES = 16;

function byteRow({ area, offset, address, a, b }: ByteDifference): string {
  const place = (side: 'a' | 'b') => `offset ${offset[side]}, address ${address[side]}`;
  const where = offset.a === offset.b ? place('a') : `${place('a')} (B: ${place('b')})`;
  return `${where}, ${area}: A ${bytesText(a)}, B ${bytesText(b)}`;
}

function bytesText(bytes: Uint8Array): string {
  if (bytes.length === 0) return 'nothing';
  const more = bytes.length > MOST_BYTES ? ` … (${bytes.length} bytes)` : '';
  return hexBytes(bytes.subarray(0, MOST_BYTES)) + more;
}

function sumOf(comparison: Comparison): string {
  const sums: string[] = [];
  const sum = (number: number, text: string): void => {
    if (number > 0) sums.push(text);
  };
  const { lines } = comparison;
  const changed = lines.filter(({ a, b }) => a !== undefined && b !== undefined).length;
  const onlyA = lines.filter(({ b }) => b === undefined).length;
  const onlyB = lines.filter(({ a }) => a === undefined).length;
  sum(changed, `${count(changed, 'line')} changed`);
  sum(onlyA, `${count(onlyA, 'line')} only in A`);
  sum(onlyB, `${count(onlyB, 'line')} only in B`);
  const { variables, system, display, after } = comparison;
  const differ = (number: number, thing: string): void =>
    sum(number, `${count(number, thing)} ${number === 1 ? 'differs' : 'differ'}`);
  differ(variables.length, 'variable');
  differ(system.length, 'system variable');
  sum(display.length, 'the display differs');
  sum(after.length, 'bytes after the end differ');
  return sums.join('; ');
}
