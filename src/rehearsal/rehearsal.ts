/** What a rehearsal is asked, and what it gives. */
import type { End } from './halt.js';
import type { AreaSizes, VariableSize } from './state/areas.js';
import type { KeyPress, Keys } from './state/keys.js';
import type { Entry, Peak } from './state/ledger.js';
import type { Ask, Model, Remark } from './state/model.js';

export interface RehearseOptions {
  /** RAM fitted, in bytes. Default: the listing's own `.ram`, else 1K. */
  readonly ram?: number;
  /** The bytes to load; default: those that the listing builds. */
  readonly image?: Uint8Array;
  /** Values for INPUT in order, as they would be typed. */
  readonly inputs?: readonly string[];
  /** Asked when the values are used up; without it the rehearsal ends there. */
  readonly ask?: Ask;
  readonly keys?: readonly KeyPress[];
  /** Most statements to run; default ten million. */
  readonly statements?: number;
  /** Most frames to let pass; default DEFAULT_FRAMES, and no limit where `statements` is given. */
  readonly frames?: number;
  readonly seed?: number;
  /** What USR gives; without it USR ends the rehearsal. */
  readonly usr?: number;
  /**
   * Goes on where only what the machine stack takes, which is not known to the byte, decides whether
   * there is room: report 4 is then certain.
   */
  readonly inDoubt?: boolean;
  /** How often CONT is typed after a report; default never. */
  readonly conts?: number;
  /** Told of every statement that was run, with the value that it left. */
  readonly trace?: (line: number, value: string) => void;
  /** Told now and then how far it is towards its limit, from 0 to 1. */
  readonly progress?: (part: number) => void;
}

/** For tests of the model itself. */
export interface InspectOptions extends RehearseOptions {
  /** Called after every statement. */
  readonly inspect?: (model: Model) => void;
}

export interface RunOptions extends InspectOptions {
  /** The keys of a person who is there: INPUT and PAUSE wait for them, and `step` comes back. */
  readonly person?: Keys;
}

/** How far one step of a run may go. */
export interface StepLimits {
  /** Statements; no limit unless given. */
  readonly statements?: number;
  /** Frames of the machine, and parts of one; no limit unless given. */
  readonly frames?: number;
}

export const DEFAULT_STATEMENTS = 10_000_000;
/**
 * Without any limit given: half a day of the machine's own time, as long as so many plain statements
 * take. One LLIST of a long program is work as much as hundreds of those.
 */
export const DEFAULT_FRAMES = 2_500_000;

/** Where the time went. */
export interface LineTime {
  readonly line: number;
  readonly runs: number;
  readonly seconds: number;
}

export interface Rehearsal {
  readonly end: End;
  /** The line that ran last. */
  readonly line: number;
  readonly statements: number;
  readonly frames: number;
  /** The machine's own time, at 3.25 MHz. */
  readonly seconds: number;
  /** The lines that ran, in the order of the program. */
  readonly profile: readonly LineTime[];
  readonly ram: number;
  /** Always there once the rehearsal is over. */
  readonly peak: Peak;
  readonly ledger: readonly Entry[];
  /** The most bytes that each variable had at any time. */
  readonly variables: readonly VariableSize[];
  readonly deepestGosub: number;
  /** The most bytes that these areas had at any time. */
  readonly most: Pick<AreaSizes, 'display' | 'variables' | 'workspace' | 'calculator stack'>;
  /** 24 rows of at most 32 codes, with the report in the last, as the machine shows it. */
  readonly screen: readonly Uint8Array[];
  /** Rows of 32 codes. */
  readonly printer: readonly Uint8Array[];
  /** Numbers of the lines that were never run, REM left out. */
  readonly unrun: readonly number[];
  /** Numbers of the lines that ran, with an IF whose condition was never met. */
  readonly untaken: readonly number[];
  readonly remarks: readonly Remark[];
}
