/** What ends a rehearsal: thrown from wherever the program is, caught in one place. */
import { REPORTS, type ReportCode } from '../machine/reports.js';

/**
 * - `report`: the machine's own report.
 * - `limit`: the statements or the frames that were allowed are used up.
 * - `key`: a PAUSE waits for a key, and none is to come.
 * - `input`: INPUT waits, and there is no value for it, or one that the machine would not take.
 * - `usr`: machine code. `tape`: SAVE or LOAD. `new`: NEW.
 * - `unchecked`: a line of given bytes. `memory`: a POKE after which the model is lost.
 */
export type EndKind =
  | 'report'
  | 'limit'
  | 'key'
  | 'input'
  | 'usr'
  | 'tape'
  | 'new'
  | 'unchecked'
  | 'memory';

export interface End {
  readonly kind: EndKind;
  /** Only where the machine itself would show a report. */
  readonly code?: ReportCode;
  /** Why, in words for a person. */
  readonly why: string;
  /** What to do about it. */
  readonly help?: string;
}

export class Halt extends Error {
  constructor(readonly end: End) {
    super(end.why);
  }
}

/**
 * Thrown where a statement must wait for a person: `resume` does what is left of it with what they
 * typed, and may throw in its turn.
 */
export class Wait {
  constructor(
    readonly what: 'number' | 'string' | 'key',
    readonly resume: (text: string) => void,
    /** The time, in T-states, at which it ends by itself. */
    readonly until = Number.POSITIVE_INFINITY,
    /** Why what was typed before was not taken. */
    readonly refused?: string,
  ) {}
}

/** Ends with one of the machine's reports. */
export function report(code: ReportCode, why: string, help?: string): Halt {
  return new Halt({ kind: 'report', code, why, help });
}

/** Ends for a reason that the machine has no report for. */
export function halt(kind: EndKind, why: string, help?: string): Halt {
  return new Halt({ kind, why, help });
}

/** A report's own words. */
export function wordsOf(code: ReportCode): string {
  return REPORTS[code];
}
