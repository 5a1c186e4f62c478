/**
 * A printed or scanned listing to a clean one. Every change carries a certainty: at or above `sure`
 * it is made and noted, below it is left and asked. A listing that is already clean stays as it is.
 */

import type { Expression, Statement, Variable } from '../../grammar/tree.js';
import { insteadOf } from '../listing/explain.js';
import { readListing } from '../listing/read.js';
import { ramText, SMALLEST_RAM } from '../machine/ram-size.js';
import { type DataPlan, dataString, numberStep, planData, rewriteDialect } from './dialect.js';
import { digitLike, shapeOf } from './look-alike.js';
import type { Mapped } from './mapped.js';
import type { Note } from './note.js';
import {
  BEGINNINGS,
  bare,
  JOINT_CLOSED,
  JOINT_OPEN,
  type PageItem,
  type PageLine,
  readPage,
} from './page.js';
import { BASE, parses, parseText } from './parsing.js';
import { disagreement, ProgramNames } from './program.js';
import { wordsOf } from './questions.js';
import { ATTEMPTS_OF_A_PAGE, type LineContext, type Reading, readingsOf } from './readings.js';
import { readSigns, textSpans, wordsOfTexts } from './signs.js';

export interface TranscribeOptions {
  /** The certainty at which a change is made; 0.9 unless given. */
  readonly sure?: number;
  /** Write an editor comment before each line that was changed? Yes unless given. */
  readonly comments?: boolean;
  /** The RAM in bytes that it is for: written as `.ram`, unless that is the usual or stands there. */
  readonly ram?: number;
}

export interface Transcription {
  /** The listing. */
  readonly text: string;
  /** For every character of it, the offset in the source that it came from; -1 for what is new. */
  readonly from: readonly number[];
  /** Changes that were made, and questions, in the order of the source. */
  readonly notes: readonly Note[];
  /** What was seen on the page as a whole: gaps in the numbering, the width. */
  readonly remarks: readonly string[];
  /** Was the text a listing already, so that nothing was changed? */
  readonly clean: boolean;
}

const SURE = 0.9;
/** What every change may be wrong by though nothing speaks against it. */
const DOUBT = 0.015;
/** A reading that disagrees by so much more than another is not asked about. */
const STRANGE = 2;
/** A statement of which so little is likely is asked about though nothing else is wrong. */
const UNLIKELY = 0.2;
const UNPROVOKED = 0.6;

export function transcribe(source: string, options: TranscribeOptions = {}): Transcription {
  return withRam(transcribed(source, options), options.ram ?? SMALLEST_RAM);
}

function withRam(result: Transcription, ram: number): Transcription {
  const { text, from } = result;
  if (ram === SMALLEST_RAM || /^[ \t]*\.ram\b/im.test(text)) return result;
  const row = `.ram ${ramText(ram)}\n`;
  return {
    ...result,
    text: row + text,
    from: [...Array(row.length).fill(-1), ...from],
    clean: false,
  };
}

function transcribed(source: string, options: TranscribeOptions): Transcription {
  const sure = options.sure ?? SURE;
  const clean = isClean(source);
  // Nothing is changed in a clean listing: what looks odd in it is asked.
  const work = new Transcriber(source, clean ? 2 : sure);
  const result = work.run(options.comments ?? true);
  if (!clean) return { ...result, clean };
  const from = Array.from({ length: source.length }, (_, at) => at);
  return {
    text: source,
    from,
    notes: result.notes.filter(({ made }) => !made),
    remarks: result.remarks,
    clean,
  };
}

function isClean(source: string): boolean {
  return readListing(source).diagnostics.every(
    ({ severity, rule }) => severity !== 'error' && rule !== 'run-together',
  );
}

interface WorkLine {
  readonly page: PageLine;
  number: number;
  body: Mapped;
  readonly notes: Note[];
  settled?: boolean;
}

type WorkItem = WorkLine | Exclude<PageItem, PageLine>;
const isLine = (item: WorkItem): item is WorkLine => 'page' in item;

class Transcriber {
  private readonly notes: Note[] = [];
  private readonly remarks: string[] = [];
  private items: WorkItem[] = [];
  private readonly capitals: boolean;
  private names = new ProgramNames([]);
  private damaged = false;
  private readonly attempts = { left: ATTEMPTS_OF_A_PAGE };

  constructor(
    private readonly source: string,
    private readonly sure: number,
  ) {
    const page = readPage(source);
    this.capitals = page.capitals;
    if (page.width !== undefined)
      this.remarks.push(`the page wraps its lines at ${page.width} columns`);
    this.items = page.items.map((item) =>
      item.kind === 'line' ? { page: item, number: item.number, body: item.body, notes: [] } : item,
    );
  }

  run(comments: boolean): Omit<Transcription, 'clean'> {
    for (const line of this.lines()) this.noteLayout(line);
    this.readSigns();
    this.splitRunTogether();
    this.rewriteDialects();
    this.gatherNames();
    // First what is no statement as it stands: its names tell how to read what is one.
    const broken = this.lines().filter(({ body }) => !parses(bare(body.text)));
    for (const line of broken) this.repair(line, true);
    this.gatherNames();
    this.damaged = this.isDamaged();
    for (const line of this.lines()) if (!line.settled) this.repair(line, false);
    this.gatherNames();
    if (this.isDamaged()) for (const line of this.lines()) this.askLookAlikes(line);
    this.remarkNumbers();
    return this.assemble(comments);
  }

  private lines(): WorkLine[] {
    return this.items.filter(isLine);
  }

  private add(line: WorkLine, note: Omit<Note, 'line' | 'made'>): Note {
    const whole = { ...note, line: line.number, made: note.certainty >= this.sure };
    line.notes.push(whole);
    return whole;
  }

  private noteLayout(line: WorkLine): void {
    const { page } = line;
    if (page.rows > 1) {
      const from = this.source.slice(page.start, page.end);
      this.add(line, {
        kind: 'joined',
        from,
        start: page.start,
        end: page.end,
        to: 'one line',
        candidates: ['one line'],
        certainty: 0.97,
        why: `the page wrapped it over ${page.rows} rows`,
      });
    }
    if (page.padded > 1) {
      this.add(line, {
        kind: 'text',
        from: this.source.slice(page.start, page.end),
        start: page.start,
        end: page.end,
        to: `${page.padded} spaces where two rows meet`,
        candidates: [`${page.padded} spaces where two rows meet`, 'one space there'],
        certainty: 0.6,
        why: 'a row ends short of the edge of the page, inside a string or REM',
      });
    }
    if (page.printedNumber !== String(page.number) && !/^0*\d+$/.test(page.printedNumber)) {
      this.add(line, {
        kind: 'number',
        from: page.printedNumber,
        start: page.start,
        end: page.start + page.printedNumber.length,
        to: String(page.number),
        candidates: [String(page.number)],
        certainty: 0.95,
        why: 'a line number, in the order of the others',
      });
    }
  }

  private readSigns(): void {
    const words = wordsOfTexts(this.lines().map(({ body }) => body.text));
    for (const line of this.lines()) {
      const { body, notes } = readSigns(line.body, words, this.sure);
      for (const note of notes) this.add(line, note);
      line.body = body;
    }
  }

  // ───────────────────────────────── two lines in one row ─────────────────────────────────

  private splitRunTogether(): void {
    const items: WorkItem[] = [];
    const lines = this.lines();
    for (const item of this.items) {
      items.push(item);
      if (!isLine(item)) continue;
      let line = item;
      const next = lines[lines.indexOf(item) + 1]?.number ?? Number.POSITIVE_INFINITY;
      for (
        let more = this.splitLine(line, next);
        more !== undefined;
        more = this.splitLine(line, next)
      ) {
        items.push(more);
        line = more;
      }
    }
    this.items = items;
  }

  /** Cuts a second line off this one where a number within it begins one; gives that line. */
  private splitLine(line: WorkLine, next: number): WorkLine | undefined {
    const { text } = line.body;
    if (parses(bare(text))) return undefined;
    for (const match of text.matchAll(/(?<=\s)(\d{1,4})\s+(?=[A-Z?])/gi)) {
      const number = Number(match[1]);
      const start = match.index + match[0].length;
      if (number <= line.number || number >= next) continue;
      const right = text.slice(start);
      if (!parses(bare(text.slice(0, match.index))) || !BEGINNINGS.test(shapeOf(right))) continue;
      const note = {
        kind: 'split' as const,
        from: text,
        start: line.body.sourceOf(match.index),
        end: line.body.sourceOf(text.length),
        to: `a line ${number} of its own`,
        candidates: [`a line ${number} of its own`],
        certainty: 0.95,
        why: 'two lines stand in one row',
      };
      if (!this.add(line, note).made) return undefined;
      const body = line.body.slice(start);
      line.body = line.body.slice(0, match.index).trimEnd();
      return { page: line.page, number, body, notes: [] };
    }
    return undefined;
  }

  // ───────────────────────────────── other dialects ─────────────────────────────────

  private rewriteDialects(): void {
    const lines = this.lines();
    const bodies = lines.map(({ body }) => bare(body.text));
    const plan = planData(bodies);
    const items: WorkItem[] = [];
    for (const item of this.items) {
      if (!isLine(item)) {
        items.push(item);
        continue;
      }
      const index = lines.indexOf(item);
      items.push(
        ...this.rewriteLine(
          item,
          index,
          lines[index + 1]?.number ?? Number.POSITIVE_INFINITY,
          bodies,
          plan,
        ),
      );
    }
    this.items = items;
  }

  private rewriteLine(
    line: WorkLine,
    index: number,
    next: number,
    bodies: readonly string[],
    plan: DataPlan,
  ): WorkItem[] {
    const body = withoutJoints(line.body);
    const note = (to: string, certainty: number, why: string): Note =>
      this.add(line, {
        kind: 'dialect',
        from: body.text,
        start: body.sourceOf(0),
        end: body.sourceOf(body.length),
        to,
        candidates: [to],
        certainty,
        why,
      });
    if (/^DATA\b/i.test(body.text) && plan.assignments.size > 0) {
      note('nothing: its values stand in the assignments', plan.certainty, insteadOf('DATA')!);
      if (plan.certainty >= this.sure)
        return [{ kind: 'noise', body: line.body, why: 'a DATA line', certainty: plan.certainty }];
    }
    if (/^READ\b/i.test(body.text) && plan.assignments.size === 0) {
      const offer = dataString(bodies);
      if (offer !== undefined) note(offer.join(' / '), 0.6, insteadOf('READ')!);
      return [line];
    }
    const rewrite = rewriteDialect(
      body,
      line.number,
      next,
      plan.assignments.get(index),
      plan.certainty,
    );
    if (rewrite === undefined) return [line];
    const { statements } = rewrite;
    const step = numberStep(line.number, next, statements.length);
    const good = statements.every(({ text }) => parses(text));
    const fits = step > 0 || statements.length === 1;
    const certainty = good && fits ? rewrite.certainty : Math.min(rewrite.certainty, 0.5);
    const why = fits
      ? rewrite.why.join('; ')
      : `${rewrite.why.join('; ')}; there is no room for the line numbers before ${next}`;
    const made = note(statements.map(({ text }) => text).join(' / '), certainty, why).made;
    if (!made) return [line];
    return statements.map((statement, at) => ({
      page: line.page,
      number: line.number + at * step,
      body: statement,
      notes: at === 0 ? line.notes : [],
    }));
  }

  // ───────────────────────────────── characters and words ─────────────────────────────────

  private gatherNames(): void {
    this.names = new ProgramNames(
      this.lines().map(({ number, body }) => ({ number, text: bare(body.text) })),
    );
  }

  /** Reads one line; `early` leaves what is not sure for a second look, when more names are known. */
  private repair(line: WorkLine, early: boolean): void {
    const printed = line.body.text;
    const standing = bare(printed);
    const { names, capitals, attempts } = this;
    const context: LineContext = { names, capitals, attempts };
    const readings = distinct(readingsOf(printed, context));
    const [best] = readings;
    const certainty = best === undefined ? 0 : certaintyOf(readings, best);
    if (early && certainty < this.sure) return;
    line.settled = true;
    if (best === undefined) {
      this.cannotRead(line, standing);
      return;
    }
    const stands = parses(standing);
    if (
      stands &&
      codesOf(standing) === codesOf(best.text) &&
      certainty >= Math.min(this.sure, SURE)
    ) {
      this.settle(line, standing);
      return;
    }
    const provoked = !stands || this.damaged || isMisprinted(printed, this.capitals);
    if (!provoked && shareOf(readings, codesOf(standing)) > UNLIKELY) {
      this.settle(line, standing);
      return;
    }
    const kind = best.edits.some(
      ({ from, to }) => /[A-Z]{2}/.test(to) && shapeOf(from) !== shapeOf(to),
    )
      ? 'word'
      : 'look-alike';
    const candidates = readings.slice(0, 4).map(({ text }) => text);
    const changed = codesOf(standing) !== codesOf(best.text) || !stands;
    // A statement on a page without a misprint is asked about, and never changed.
    const sureness = changed && provoked ? certainty : Math.min(certainty, UNPROVOKED);
    // A change is shown as what it changed, a question as the whole statement.
    const shown = sureness >= this.sure ? extentOf(printed, best) : wholeOf(printed, best);
    const note = this.add(line, {
      kind: stands || changed ? kind : 'text',
      from: bare(shown.from),
      start: line.body.sourceOf(shown.start),
      end: line.body.sourceOf(shown.end - 1) + 1,
      to: bare(shown.to),
      candidates,
      certainty: sureness,
      why:
        readings.length > 1
          ? 'of the readings that are statements, this one fits the program best'
          : 'the one reading that is a statement',
    });
    if (note.made) this.apply(line, best);
    else line.body = line.body.replace(0, line.body.length, standing);
  }

  private cannotRead(line: WorkLine, standing: string): void {
    const text = `${line.number} ${standing}\n`;
    const problem = readListing(text).diagnostics.find(({ severity }) => severity === 'error');
    line.body = line.body.replace(0, line.body.length, standing);
    // A READ that was asked about already is no second question.
    if (line.notes.some(({ kind, made }) => kind === 'dialect' && !made)) return;
    this.add(line, {
      kind: 'unreadable',
      from: standing,
      start: line.body.sourceOf(0),
      end: line.body.sourceOf(line.body.length),
      to: '',
      candidates: [],
      certainty: 0,
      why: [problem?.message ?? 'no reading of it is a statement', problem?.help]
        .filter(Boolean)
        .join('; '),
    });
  }

  /** Puts a reading's edits into the line, from the last to the first. */
  private apply(line: WorkLine, reading: Reading): void {
    for (const { start, end, to } of [...reading.edits].reverse()) {
      line.body = line.body.replace(start, end, to);
    }
    this.settle(line, line.body.text);
  }

  /** Takes the marks of joints out, as the settled text has it. */
  private settle(line: WorkLine, settled: string): void {
    if (line.body.text !== settled) line.body = withoutJoints(line.body);
  }

  // ───────────────────────────────── what cannot be told apart ─────────────────────────────────

  /** Did the page confuse characters anywhere? Then it may have done so where both make sense. */
  private isDamaged(): boolean {
    return this.lines().some(({ notes }) =>
      notes.some(({ kind, from, to, candidates, certainty, made }) => {
        if (kind === 'number') return true;
        if (!made && certainty === UNPROVOKED) return false;
        const [seen, meant] = [from, to || (candidates[0] ?? '')].map(withoutSpaces);
        if (kind === 'look-alike' || kind === 'word') return seen !== meant;
        return kind === 'text' && seen !== meant && shapeOf(seen) === shapeOf(meant);
      }),
    );
  }

  /** Asks about single letters and digits that look alike where either would be a statement. */
  private askLookAlikes(line: WorkLine): void {
    if (line.notes.some(({ made, kind }) => !made && kind !== 'text')) return;
    const { statement } = parseText(line.body.text);
    if (statement === undefined) return;
    for (const { text, other, start, end } of [
      ...this.lookAlikes(statement),
      ...commas(line.body.text),
    ]) {
      const { text: whole } = line.body;
      const otherwise = parseText(whole.slice(0, start) + other + whole.slice(end)).statement;
      // `FOR I=I TO 9` is no doubt worth asking about.
      if (otherwise === undefined) continue;
      const stranger = disagreement(otherwise, this.names) - disagreement(statement, this.names);
      if (stranger >= STRANGE) continue;
      this.add(line, {
        kind: 'look-alike',
        from: text,
        start: line.body.sourceOf(start),
        end: line.body.sourceOf(end - 1) + 1,
        to: text,
        candidates: [text, other],
        certainty: 0,
        why: `${text} and ${other} look alike, and this page has confused such characters: compare it with the print`,
      });
    }
  }

  private lookAlikes(
    statement: Statement,
  ): { text: string; other: string; start: number; end: number }[] {
    const found: { text: string; other: string; start: number; end: number }[] = [];
    const targets = new Set<unknown>();
    const visit = (node: unknown): void => {
      if (typeof node !== 'object' || node === null || ArrayBuffer.isView(node)) return;
      const { kind } = node as { kind?: string };
      if (kind === 'LET' || kind === 'INPUT' || kind === 'DIM')
        targets.add(baseOf((node as { target: Expression }).target));
      if (kind === 'FOR' || kind === 'NEXT') targets.add((node as { variable: Variable }).variable);
      if (kind === 'subscripted') targets.add((node as { base: Expression }).base);
      const other = this.otherReading(node, targets.has(node));
      if (other !== undefined) {
        const { start, end } = node as { start: number; end: number };
        found.push({ ...other, start: start - BASE, end: end - BASE });
      }
      for (const part of Object.values(node)) {
        if (Array.isArray(part)) for (const item of part) visit(item);
        else visit(part);
      }
    };
    visit(statement);
    return found;
  }

  /** What else a number or a name may be by its shape, where the program knows that too. */
  private otherReading(
    node: unknown,
    isTarget: boolean,
  ): { text: string; other: string } | undefined {
    const { kind } = node as { kind?: string };
    if (kind === 'number') {
      const { text } = node as { text: string };
      const other = [...this.names.alike(text)].find(
        (name) => /^[A-Z][A-Z0-9]*$/.test(name) && this.names.isGiven(name),
      );
      return other === undefined ? undefined : { text, other };
    }
    if (kind !== 'variable' || (node as Variable).type !== 'number') return undefined;
    const { name } = node as Variable;
    const other = [...this.names.alike(name)].find((one) => one !== name);
    if (other !== undefined) return { text: name, other };
    const digits = [...name].map((character) => digitLike(character));
    return isTarget || digits.includes(undefined)
      ? undefined
      : { text: name, other: digits.join('') };
  }

  // ───────────────────────────────── the listing ─────────────────────────────────

  private remarkNumbers(): void {
    const lines = this.lines();
    const steps = new Map<number, number>();
    lines.forEach((line, at) => {
      if (at === 0) return;
      const step = line.number - lines[at - 1].number;
      steps.set(step, (steps.get(step) ?? 0) + 1);
      if (step === 0) this.remarks.push(`there are two lines ${line.number}`);
      if (step < 0)
        this.remarks.push(`line ${line.number} stands after line ${lines[at - 1].number}`);
    });
    const [usual, count] = [...steps].sort((a, b) => b[1] - a[1])[0] ?? [0, 0];
    if (usual <= 0 || count < 4 || count < lines.length * 0.6) return;
    lines.forEach((line, at) => {
      const before = lines[at - 1]?.number;
      if (
        before === undefined ||
        line.number - before <= usual ||
        line.number - before > usual * 10
      )
        return;
      this.remarks.push(
        `the lines go up in steps of ${usual}, but from ${before} to ${line.number}: a line may be missing`,
      );
    });
  }

  private assemble(comments: boolean): Omit<Transcription, 'clean'> {
    const from: number[] = [];
    const pieces: string[] = [];
    const put = (text: string, places?: readonly number[]): void => {
      pieces.push(text);
      for (let at = 0; at < text.length; at++) from.push(places?.[at] ?? -1);
    };
    for (const item of this.items) {
      if (isLine(item)) this.putLine(item, comments, put);
      else if (item.kind === 'other') {
        put(item.body.text, item.body.from);
        put('\n');
      } else this.putNoise(item, comments, put);
    }
    this.notes.push(...this.lines().flatMap(({ notes }) => notes));
    this.notes.sort((a, b) => a.start - b.start || a.end - b.end);
    return { text: pieces.join(''), from, notes: this.notes, remarks: this.remarks };
  }

  private putLine(
    line: WorkLine,
    comments: boolean,
    put: (text: string, places?: readonly number[]) => void,
  ): void {
    const made = line.notes.filter((note) => note.made);
    if (comments && made.length > 0) put(`' ${line.number}: ${made.map(wordsOf).join('; ')}\n`);
    const asked = line.notes.filter((note) => !note.made && note.kind !== 'look-alike');
    if (comments && asked.length > 0) put(`' ${line.number}? ${asked.map(wordsOf).join('; ')}\n`);
    const { page, body } = line;
    const isFirst = line.number === page.number;
    const places = Array.from({ length: String(line.number).length }, (_, at) =>
      isFirst ? page.start + Math.min(at, page.printedNumber.length - 1) : page.start,
    );
    put(String(line.number), places);
    put(' ');
    put(body.text, body.from);
    put('\n');
  }

  private putNoise(
    item: Extract<PageItem, { kind: 'noise' }>,
    comments: boolean,
    put: (text: string, places?: readonly number[]) => void,
  ): void {
    const { body, why, certainty } = item;
    const made = certainty >= this.sure;
    const text = body.text.trim();
    if (why !== 'a DATA line') {
      this.notes.push({
        kind: 'left-out',
        from: text,
        start: body.sourceOf(0),
        end: body.sourceOf(body.length),
        to: '',
        candidates: [],
        certainty,
        why,
        made,
      });
    }
    // What may be a part of the program is kept, as a comment of the editor, and asked about.
    if (comments || !made)
      put(
        `' ${made ? `left out: ${text} (${why}, ${certainty.toFixed(2)})` : `? not read: ${text}`}\n`,
      );
  }
}

function withoutJoints(body: Mapped): Mapped {
  let read = body;
  for (let at = body.length - 1; at >= 0; at--) {
    if (body.text[at] === JOINT_CLOSED) read = read.replace(at, at + 1, '');
    else if (body.text[at] === JOINT_OPEN) read = read.replace(at, at + 1, ' ');
  }
  return read;
}

/** What the machine stores for a statement, to tell whether two texts are the same line. */
function codesOf(text: string): string {
  const { listing } = readListing(`1 ${text}\n`);
  return listing.lines.length === 1 ? listing.lines[0].codes.join(',') : `text ${text}`;
}

/** One reading for each line that the machine would store; the least costly stands for it. */
function distinct(readings: readonly Reading[]): Reading[] {
  const seen = new Set<string>();
  return readings.slice(0, 12).filter(({ text }) => {
    const codes = codesOf(text);
    if (seen.has(codes)) return false;
    seen.add(codes);
    return true;
  });
}

interface Extent {
  readonly start: number;
  readonly end: number;
  readonly from: string;
  readonly to: string;
}

/** What a reading changes: from its first edit to its last. */
function extentOf(printed: string, { edits, text }: Reading): Extent {
  if (edits.length === 0) return wholeOf(printed, { edits, text, cost: 0 });
  const { start } = edits[0];
  const { end } = edits[edits.length - 1];
  let to = '';
  let at = start;
  for (const edit of edits) {
    to += printed.slice(at, edit.start) + edit.to;
    at = edit.end;
  }
  return { start, end, from: printed.slice(start, end), to };
}

function wholeOf(printed: string, { text }: Reading): Extent {
  return { start: 0, end: printed.length, from: printed, to: text };
}

/** How likely it is that a statement stands as it was meant. */
function shareOf(readings: readonly Reading[], codes: string): number {
  const weight = ({ cost }: Reading): number => Math.exp(readings[0].cost - cost);
  const own = readings.find(({ text }) => codesOf(text) === codes);
  const sum = readings.reduce((total, reading) => total + weight(reading), 0);
  return own === undefined ? 0 : weight(own) / sum;
}

/** Is there a character outside strings and REM that is a misprint in itself? */
function isMisprinted(text: string, capitals: boolean): boolean {
  const misprints = capitals ? /[lo|!]/ : /[|!]/;
  return textSpans(text).some(
    ({ start, end, isText }) => !isText && misprints.test(text.slice(start, end)),
  );
}

function certaintyOf(readings: readonly Reading[], best: Reading): number {
  const sum = readings.reduce((total, { cost }) => total + Math.exp(best.cost - cost), 0);
  return (1 / sum) * (1 - DOUBT * best.edits.length);
}

/** Full stops that may be commas: what stands around them is a statement either way. */
function commas(text: string): { text: string; other: string; start: number; end: number }[] {
  const found: { text: string; other: string; start: number; end: number }[] = [];
  for (const span of textSpans(text)) {
    if (span.isText) continue;
    for (const { 0: number, index } of text.slice(span.start, span.end).matchAll(/\d*\.\d*/g)) {
      const start = span.start + index;
      const end = start + number.length;
      const other = number.replace('.', ',');
      if (parses(text.slice(0, start) + other + text.slice(end))) {
        found.push({ text: number, other, start, end });
      }
    }
  }
  return found;
}

const withoutSpaces = (text: string): string => text.replace(/\s/g, '').toUpperCase();

function baseOf(target: Expression): Expression {
  let base = target;
  while (base.kind === 'subscripted') base = base.base;
  return base;
}
