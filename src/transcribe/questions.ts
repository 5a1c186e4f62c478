/** Notes in words, and questions gathered: one for each pair of characters that look alike. */
import type { Note } from './note.js';

export interface Question {
  readonly lines: readonly number[];
  readonly from: string;
  readonly candidates: readonly string[];
  readonly why: string;
  /** Offsets of each place in the source. */
  readonly places: readonly { readonly start: number; readonly end: number }[];
}

/** What is left to ask, in the order of the source; the same doubt at many places is one question. */
export function questionsOf(notes: readonly Note[]): Question[] {
  const questions = new Map<string, { -readonly [Key in keyof Question]: Question[Key] }>();
  notes.forEach((note, index) => {
    if (note.made) return;
    const pair = [...note.candidates].sort().join('/');
    const key = isPair(note) ? `pair ${pair}` : `note ${index}`;
    const place = { start: note.start, end: note.end };
    const lines = note.line === undefined ? [] : [note.line];
    const found = questions.get(key);
    if (found === undefined) {
      const { from, candidates, why } = note;
      questions.set(key, { lines, from, candidates, why, places: [place] });
    } else {
      found.places = [...found.places, place];
      found.lines = [...new Set([...found.lines, ...lines])];
    }
  });
  return [...questions.values()];
}

const isPair = (note: Note): boolean => note.kind === 'look-alike' && note.certainty === 0;

const oneRow = (text: string): string => text.replace(/\s*\n\s*/g, ' ');

/** One note as a person says it. */
export function wordsOf(note: Note): string {
  const certainty = note.certainty.toFixed(2);
  if (note.kind === 'joined' || note.kind === 'split') return `${note.why} (${certainty})`;
  if (note.kind === 'left-out') return `left out: ${oneRow(note.from)} (${note.why}, ${certainty})`;
  if (!note.made) {
    const choice =
      note.candidates.length === 0 ? note.why : note.candidates.map(oneRow).join(' or ');
    return `${oneRow(note.from)}: ${choice}`;
  }
  const to = note.to.trim() === '' ? `${note.to.length} spaces` : oneRow(note.to);
  return `${oneRow(note.from)} read as ${to} (${certainty})`;
}
