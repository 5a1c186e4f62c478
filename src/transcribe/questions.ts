/** Notes in words, and questions gathered: one for each pair of characters that look alike. */
import { grouped } from '../listing/search.js';
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
  const asked = grouped(
    notes.filter(({ made }) => !made),
    (note) => (isPair(note) ? [...note.candidates].sort().join('/') : note),
  );
  return [...asked.values()].map((all) => {
    const [{ from, candidates, why }] = all;
    // The print has the one here, the other there.
    const isMixed = all.some((note) => note.candidates[0] !== candidates[0]);
    return {
      ...{ from, candidates, why },
      prefers: isMixed ? 'each is preferred as it is printed' : preferenceOf(all[0]),
      lines: [...new Set(all.flatMap(({ line = [] }) => line))],
      places: all.map(({ start, end }) => ({ start, end })),
    };
  });
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
