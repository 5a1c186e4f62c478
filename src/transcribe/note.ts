/** What was changed, or is asked: the same thing, parted by how sure it is. */
import { bare } from './page/joints.js';
import type { Mapped } from './page/mapped.js';

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

/** What becomes a note of a line; there is one candidate, what it became, unless others are given. */
export type Found = Omit<Note, 'line' | 'made' | 'candidates'> & Partial<Pick<Note, 'candidates'>>;

export const candidatesOf = ({ to, candidates }: Found): readonly string[] =>
  candidates ?? (to === '' ? [] : [to]);

/** What a stretch of a body became, or would become. */
export function found(
  body: Mapped,
  start: number,
  end: number,
  to: string,
  more: Pick<Found, 'kind' | 'certainty' | 'why'> & Partial<Found>,
): Found {
  return { from: bare(body.text.slice(start, end)), ...body.spanOf(start, end), to, ...more };
}
