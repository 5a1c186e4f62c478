/** Characters and words of each line: the reading that fits the program best. */
import { readListing } from '../../listing/read.js';
import { CERTAINTY } from '../certainties.js';
import { found } from '../note.js';
import { bare, withoutJoints } from '../page/joints.js';
import { textSpans } from '../page/text-spans.js';
import { isMisprint, shapeOf } from '../readings/look-alike.js';
import { odditiesOf } from '../readings/oddities.js';
import { parses } from '../readings/parsing.js';
import type { ProgramNames } from '../readings/program.js';
import { type Edit, type Reading, type Readings, readingsOf } from '../readings/readings.js';
import type { Pass, Work, WorkLine } from '../work.js';
import { isDamaged } from './look-alikes.js';

/** Readings of a line that are weighed against each other, and those that are shown. */
const MOST_WEIGHED = 12;
const MOST_SHOWN = 4;
/** Lines that nothing reads of which everything is tried to say why. */
const MOST_EXPLAINED = 100;
/** Readings whose costs differ by less are as likely as each other. */
const CLOSE = 0.2;

/** What is no statement as it stands comes first: its names tell how to read what is one. */
export const repairBroken: Pass = (work) => {
  work.gatherNames();
  const broken = work.lines.filter(({ body }) => !parses(bare(body.text)));
  broken.forEach((line, at) => {
    work.progress(at / broken.length / 2);
    repair(work, line, { early: true, damaged: false });
  });
};

export const repairStanding: Pass = (work) => {
  work.gatherNames();
  const damaged = isDamaged(work);
  const { lines } = work;
  lines.forEach((line, at) => {
    work.progress(0.5 + at / lines.length / 2);
    if (line.settled) return;
    if (work.effort.left === 0 && !line.tried) work.asPrinted.push(line.number);
    repair(work, line, { early: false, damaged });
  });
  work.gatherNames();
};

/** A reading among all of its line, each once for each line that the machine would store. */
interface Weighed extends Reading {
  readonly codes: string;
  /** From 0 to 1, all of a line together 1. */
  readonly share: number;
}

interface When {
  /** Leave what is not sure for a second look, when more names are known. */
  readonly early: boolean;
  /** Has the page confused characters elsewhere? */
  readonly damaged: boolean;
}

function repair(work: Work, line: WorkLine, { early, damaged }: When): void {
  const printed = line.body.text;
  const standing = bare(printed);
  line.tried ||= work.effort.left > 0;
  const all = readingsOf(printed, work);
  const readings = weighed(all.found);
  const [best] = readings;
  const certainty = best === undefined ? 0 : sureness(best.share, best.edits.length);
  if (early && certainty < work.sure) return;
  line.settled = true;
  if (best === undefined) {
    cannotRead(work, line, all.cut);
    return;
  }
  const stands = parses(standing);
  const own = stands ? codesOf(standing) : undefined;
  if (stands && own === best.codes && certainty >= Math.min(work.sure, CERTAINTY.sure)) {
    line.body = withoutJoints(line.body);
    return;
  }
  const provoked = !stands || damaged || isMisprinted(printed, work.capitals);
  const ownShare = readings.find(({ codes }) => codes === own)?.share ?? 0;
  if (!provoked && ownShare > CERTAINTY.unlikely) {
    line.body = withoutJoints(line.body);
    return;
  }
  const changed = own !== best.codes || !stands;
  // A statement on a page without a misprint is asked about, and never changed.
  const sure = changed && provoked ? certainty : Math.min(certainty, CERTAINTY.unprovoked);
  if (sure >= work.sure) change(work, line, best.edits, sure, oneOf(readings));
  else ask(work, line, readings, { stands, changed, provoked, sure });
}

const oneOf = (readings: readonly Weighed[]): string =>
  readings.length > 1
    ? 'of the readings that are statements, this one fits the program best'
    : 'the one reading that is a statement';

/** Makes some edits, and notes them as one change. */
function change(
  work: Work,
  line: WorkLine,
  edits: readonly Edit[],
  certainty: number,
  why: string,
): void {
  const { body } = line;
  const [start, end] = edits.length > 0 ? [edits[0].start, edits.at(-1)!.end] : [0, body.length];
  const made = body.edited(edits);
  const to = bare(made.text.slice(start, made.length - body.length + end));
  work.add(line, found(body, start, end, to, { kind: kindOf(edits), certainty, why }));
  line.body = withoutJoints(made);
}

function kindOf(edits: readonly Edit[]): 'word' | 'look-alike' {
  const isWord = edits.some(
    ({ from, text }) => /[A-Z]{2}/.test(text) && shapeOf(from) !== shapeOf(text),
  );
  return isWord ? 'word' : 'look-alike';
}

interface Standing {
  readonly stands: boolean;
  readonly changed: boolean;
  readonly provoked: boolean;
  readonly sure: number;
}

/** Asks for the whole statement; what nearly all of its readings agree in is changed all the same. */
function ask(
  work: Work,
  line: WorkLine,
  readings: readonly Weighed[],
  { stands, changed, provoked, sure }: Standing,
): void {
  const [best] = readings;
  const { body } = line;
  const agreed = provoked ? agreedEdits(readings, work.sure) : [];
  if (agreed.length > 0) {
    const certainty = Math.min(...agreed.map(({ certainty }) => certainty));
    change(
      work,
      line,
      agreed.map(({ edit }) => edit),
      certainty,
      'all likely readings have it',
    );
  } else line.body = withoutJoints(body);
  const note = found(body, 0, body.length, bare(best.text), {
    kind: stands || changed ? kindOf(best.edits) : 'text',
    from: line.body.text,
    candidates: readings.slice(0, MOST_SHOWN).map(({ text }) => bare(text)),
    certainty: Math.min(sure, best.share),
    why: oneOf(readings),
    prefers: preference(readings, work.names, bare(body.text)),
  });
  work.add(line, note);
}

/** Edits that the readings which have them make sure together, though no reading is sure alone. */
function agreedEdits(
  readings: readonly Weighed[],
  sure: number,
): { edit: Edit; certainty: number }[] {
  return readings[0].edits.flatMap((edit) => {
    const together = readings
      .filter(({ edits }) =>
        edits.some(({ start, text }) => start === edit.start && text === edit.text),
      )
      .reduce((sum, { share }) => sum + share, 0);
    const certainty = sureness(together, 1);
    return certainty >= sure ? [{ edit, certainty }] : [];
  });
}

/** Why the first of several readings is preferred. */
function preference(readings: readonly Weighed[], names: ProgramNames, standing: string): string {
  const [best, second] = readings;
  if (second === undefined) return 'no other reading is a statement';
  const own = new Set(odditiesOf(best.statement, names).map(({ what }) => what));
  const against = odditiesOf(second.statement, names).find(({ what }) => !own.has(what));
  if (against !== undefined) return `with ${bare(second.text)}, ${against.what}`;
  if (bare(best.text) === standing) return 'so it is printed';
  if (second.cost - best.cost < CLOSE) return 'but nothing in the program tells the two apart';
  return best.edits.length <= second.edits.length
    ? 'it changes least of the print'
    : 'its names are those of other lines';
}

function cannotRead(work: Work, line: WorkLine, cut: boolean): void {
  const standing = bare(line.body.text);
  line.body = withoutJoints(line.body);
  // What was asked about as another dialect already is no second question.
  if (line.notes.some(({ kind, made }) => kind === 'dialect' && !made)) return;
  const thorough = ++work.unread <= MOST_EXPLAINED;
  const { diagnostics } = readListing(`${line.number} ${standing}\n`, { thorough });
  const problem = diagnostics.find(({ severity }) => severity === 'error');
  const why = [
    problem?.message ?? 'no reading of it is a statement',
    problem?.help,
    cut ? 'not all of its readings were tried: they are too many' : undefined,
  ]
    .filter(Boolean)
    .join('; ');
  const more = { kind: 'unreadable', certainty: CERTAINTY.open, why } as const;
  work.add(line, found(line.body, 0, line.body.length, '', more));
}

/** What the machine stores for a statement, to tell whether two texts are the same line. */
function codesOf(text: string): string {
  const { listing } = readListing(`1 ${text}\n`);
  return listing.lines.length === 1 ? listing.lines[0].codes.join(',') : `text ${text}`;
}

/** One reading for each line that the machine would store; the least costly stands for it. */
function weighed(readings: Readings['found']): Weighed[] {
  const different = new Map<string, Reading>();
  for (const reading of readings.slice(0, MOST_WEIGHED)) {
    const codes = codesOf(reading.text);
    if (!different.has(codes)) different.set(codes, reading);
  }
  const least = readings[0]?.cost ?? 0;
  const odds = (cost: number): number => Math.exp(least - cost);
  const sum = [...different.values()].reduce((total, { cost }) => total + odds(cost), 0);
  return [...different].map(([codes, reading]) => ({
    ...reading,
    codes,
    share: odds(reading.cost) / sum,
  }));
}

const sureness = (share: number, changes: number): number =>
  share * (1 - CERTAINTY.doubtOfChange * changes);

/** Is there a character outside strings and REM that is a misprint in itself? */
function isMisprinted(text: string, capitals: boolean): boolean {
  return textSpans(text).some(
    ({ start, end, isText }) =>
      !isText && [...text.slice(start, end)].some((character) => isMisprint(character, capitals)),
  );
}
