/** The areas of the machine's memory as the ledger counts them, and what the machine keeps back. */
import { KEPT_FREE, MACHINE_STACK_HIGH, MACHINE_STACK_LOW } from '../machine/memory-map.js';
import type { SavedVariable } from '../machine/variables.js';

/**
 * What the machine stack is taken to need, of the 18 to 29 bytes that are known: the most, so that
 * what passes here passes there.
 */
export const STACK_SHARE = MACHINE_STACK_HIGH;
/** Bytes that the machine may have beyond what the rehearsal grants. */
export const STACK_DOUBT = MACHINE_STACK_HIGH - MACHINE_STACK_LOW;
/** Bytes that are never granted: the stack's share, and what the ROM keeps free. */
export const KEPT = STACK_SHARE + KEPT_FREE;

/** Bytes of each area at one moment; together, the RAM less what is spare. */
export interface AreaSizes {
  readonly system: number;
  readonly program: number;
  readonly display: number;
  readonly variables: number;
  /** Strings being worked on, and what is typed at INPUT. */
  readonly workspace: number;
  readonly calculator: number;
  readonly gosub: number;
  /** The machine stack's own share, and the bytes that the ROM keeps free. */
  readonly kept: number;
}

/** The areas from the bottom of the RAM, with the words that reports and charts use. */
export const AREA_WORDS: Readonly<Record<keyof AreaSizes, string>> = {
  system: 'system variables',
  program: 'program',
  display: 'display',
  variables: 'variables',
  workspace: 'workspace',
  calculator: 'calculator stack',
  gosub: 'GOSUB stack',
  kept: 'kept by the ROM',
};

export const AREA_NAMES = Object.keys(AREA_WORDS) as (keyof AreaSizes)[];

/** A variable and the bytes that it takes, name and lengths included. */
export interface VariableSize {
  /** `A`, `SCORE`, `N$`; arrays are `A()` and `C$()`. */
  readonly name: string;
  readonly kind: SavedVariable['kind'];
  readonly bytes: number;
}
