/** Notes in words, and questions gathered: one for each pair of characters that look alike. */
import type { Note } from './note.js';

export interface Question {
  readonly lines: readonly number[];
  readonly from: string;
  /** The readings, the one that is preferred first. */
  readonly candidates: readonly string[];
  readonly why: string;
  /** Which of several candidates is preferred, and why. */
  readonly prefers?: string;
  /** Offsets of each place in the source. */
  readonly places: readonly { readonly start: number; readonly end: number }[];
}

/** What is left to ask, in the order of the source; the same doubt at many places is one question. */
export function questionsOf(notes: readonly Note[]): Question[] {
  const questions = new Map<
    string,
    Omit<Question, 'lines' | 'places' | 'prefers'> & {
      prefers?: string;

      lines: Set<number>;
      places: Question['places'][number][];
    }
  >();
  notes.forEach((note, index) => {
    if (note.made) return;
    const pair = [...note.candidates].sort().join('/');
    const key = isPair(note) ? `pair ${pair}` : `note ${index}`;
    const { from, candidates, why } = note;
    const prefers = preferenceOf(note);
    const found = questions.get(key) ?? {
      from,
      candidates,
      why,
      prefers,
      lines: new Set<number>(),
      places: [],
    };
    // The print has the one here, the other there.
    if (found.candidates[0] !== candidates[0]) found.prefers = 'each is preferred as it is printed';
    questions.set(key, found);
    found.places.push({ start: note.start, end: note.end });
    if (note.line !== undefined) found.lines.add(note.line);
  });
  return [...questions.values()].map((question) => ({ ...question, lines: [...question.lines] }));
}

function preferenceOf({ candidates, prefers }: Note): string | undefined {
  if (candidates.length < 2 || prefers === undefined) return undefined;
  return `${shortened(candidates[0])} is preferred: ${prefers}`;
}

const isPair = (note: Note): boolean => note.kind === 'look-alike' && note.certainty === 0;

/** What is longer than this is shown by its beginning and its end. */
const LONGEST_SHOWN = 400;

/** A text in one row, and of a length that a person reads. */
export function shortened(text: string): string {
  const row = (text.length > 2 * LONGEST_SHOWN ? cut(text) : text).replace(/\s*\n\s*/g, ' ');
  return row.length > LONGEST_SHOWN ? cut(row) : row;
}

const cut = (text: string): string =>
  `${text.slice(0, LONGEST_SHOWN * 0.75)} … ${text.slice(-LONGEST_SHOWN / 8)}`;

/** One note as a person says it. */
export function wordsOf(note: Note): string {
  const { kind, from, to, why, made } = note;
  const certainty = note.certainty.toFixed(2);
  if (made && (kind === 'joined' || kind === 'split')) return `${why} (${certainty})`;
  if (kind === 'left-out') return `left out: ${shortened(from)} (${why}, ${certainty})`;
  if (!made) return `${shortened(from)}: ${choiceOf(note)}`;
  const shown = to.trim() === '' ? `${to.length} spaces` : shortened(to);
  return `${shortened(from)} read as ${shown} (${certainty})`;
}

/** The candidates of a question, which of them is preferred, and why. */
export function choiceOf({
  candidates,
  why,
  prefers,
}: Pick<Note, 'candidates' | 'why' | 'prefers'>): string {
  const [first, ...others] = candidates.map(shortened);
  if (first === undefined) return why;
  const rather = others.length === 0 ? '' : ` rather than ${others.join(' or ')}`;
  return `${first}${rather}: ${prefers ?? why}`;
}

/** Why it is asked, and why the first of its candidates is preferred. */
export function reasonOf({ why, prefers }: Question): string {
  return prefers === undefined ? why : `${why}; ${prefers}`;
}
