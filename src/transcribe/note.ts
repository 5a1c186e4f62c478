/** What was changed, or is asked: the same thing, parted by how sure it is. */

export type NoteKind =
  | 'joined'
  | 'split'
  | 'left-out'
  | 'number'
  | 'sign'
  | 'word'
  | 'graphic'
  | 'text'
  | 'dialect'
  | 'order'
  | 'look-alike'
  | 'unreadable';

export interface Note {
  readonly kind: NoteKind;
  /** What stands in the source, and where: offsets, first and one past the last. */
  readonly from: string;
  readonly start: number;
  readonly end: number;
  /** What it became, or would become: the likeliest candidate. */
  readonly to: string;
  /** All candidates for a question, likeliest first. */
  readonly candidates: readonly string[];
  /** From 0 to 1. */
  readonly certainty: number;
  readonly why: string;
  /** Of a question with several candidates: why the first is preferred. */
  readonly prefers?: string;
  /** The number of the program line, where it belongs to one. */
  readonly line?: number;
  /** Was it made? What was not is a question. */
  readonly made: boolean;
}
