/**
 * A printed or scanned listing to a clean one. Every change carries a certainty: at or above `sure`
 * it is made and noted, below it is left and asked. A listing that is already clean stays as it is.
 */
import { unifyLineEnds } from '../listing/line-ends.js';
import { readsWithout } from '../listing/read.js';
import { TooLarge, tooLarge } from '../listing/too-large.js';
import { ramText, SMALLEST_RAM } from '../machine/ram-size.js';
import { CERTAINTY } from './certainties.js';
import { type Assembled, assemble, type SourceSpan } from './listing.js';
import type { Note } from './note.js';
import { LONGEST_LINE } from './page/rows.js';
import { rewriteDialects } from './passes/dialects.js';
import { noteLayout } from './passes/layout.js';
import { askLookAlikes } from './passes/look-alikes.js';
import { remarkNumbers } from './passes/numbering.js';
import { repairBroken, repairStanding } from './passes/repair.js';
import { splitRunTogether } from './passes/run-together.js';
import { readAllSigns } from './passes/signs.js';
import { forgetParsed } from './readings/parsing.js';
import { type Pass, Work } from './work.js';

export interface TranscribeOptions {
  /** The certainty at which a change is made; 0.9 unless given. */
  readonly sure?: number;
  /** Write an editor comment before each line that was changed? Yes unless given. */
  readonly comments?: boolean;
  /** The RAM in bytes that it is for: written as `.ram`, unless that is the usual or stands there. */
  readonly ram?: number;
  /** Is called now and then with the part of the work that is done, 0 to 1. */
  readonly progress?: (part: number) => void;
}

export interface Transcription {
  /** The listing. */
  readonly text: string;
  /** Stretches of it that came from the source, in order; what lies between them is new. */
  readonly spans: readonly SourceSpan[];
  /** Changes that were made, and questions, in the order of the source. */
  readonly notes: readonly Note[];
  /** What was seen on the page as a whole: gaps in the numbering, the width. */
  readonly remarks: readonly string[];
  /** Was the text a listing already, so that nothing was changed? */
  readonly clean: boolean;
}

/** The way from a page to a listing, step by step. */
const PASSES: readonly Pass[] = [
  noteLayout,
  readAllSigns,
  splitRunTogether,
  rewriteDialects,
  repairBroken,
  repairStanding,
  askLookAlikes,
  remarkNumbers,
];

/** Above any certainty: nothing is changed in a clean listing, and what looks odd in it is asked. */
const NEVER = 2;

/**
 * @param given a page; carriage returns alone, as some editors end lines, become line feeds
 * Throws TooLarge for a text that is too large to be a listing.
 */
export function transcribe(given: string, options: TranscribeOptions = {}): Transcription {
  const { sure = CERTAINTY.sure, comments = true, ram = SMALLEST_RAM, progress } = options;
  const source = unifyLineEnds(given);
  const refused = tooLarge(source);
  if (refused !== undefined) throw new TooLarge(refused);
  const clean = isClean(source);
  const work = new Work(source, clean ? NEVER : sure, progress ?? (() => {}));
  try {
    for (const pass of PASSES) pass(work);
  } finally {
    forgetParsed();
  }
  if (work.effort.refused) work.remarks.push(undone(work));
  const { remarks } = work;
  const result = clean ? asItStands(source, work) : assemble(work, comments);
  return withRam({ ...result, remarks, clean }, ram);
}

function undone({ asPrinted: lines }: Work): string {
  const left =
    lines.length === 0
      ? 'what is odd in it was not all looked into'
      : lines.length === 1
        ? `line ${lines[0]} was read only as it stands`
        : `${lines.length} lines, ${lines[0]} to ${lines.at(-1)}, were read only as they stand`;
  return `the page has more to try than can be tried: ${left}`;
}

function isClean(source: string): boolean {
  if (source.split('\n').some(({ length }) => length > LONGEST_LINE)) return false;
  return readsWithout(
    source,
    ({ severity, rule }) => severity === 'error' || rule === 'run-together',
  );
}

function asItStands(source: string, work: Work): Assembled {
  const { length } = source;
  return {
    text: source,
    spans: length === 0 ? [] : [{ start: 0, end: length, from: 0, to: length }],
    notes: assemble(work, false).notes.filter(({ made }) => !made),
  };
}

function withRam(result: Transcription, ram: number): Transcription {
  if (ram === SMALLEST_RAM || /^[ \t]*\.ram\b/im.test(result.text)) return result;
  const row = `.ram ${ramText(ram)}\n`;
  const spans = result.spans.map((span) => ({
    ...span,
    start: span.start + row.length,
    end: span.end + row.length,
  }));
  return { ...result, text: row + result.text, spans, clean: false };
}
