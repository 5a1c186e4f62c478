/** The areas of the machine's memory as the ledger counts them, and what the machine keeps back. */
import {
  type AreaName,
  KEPT_FREE,
  MACHINE_STACK_HIGH,
  MACHINE_STACK_LOW,
} from '../../machine/memory-map.js';
import type { SavedVariable } from '../../machine/variables.js';

/**
 * What the machine stack is taken to need, of the 18 to 29 bytes that are known: the most, so that
 * what passes here passes there.
 */
export const STACK_SHARE = MACHINE_STACK_HIGH;
/** Bytes that the machine may have beyond what the rehearsal grants. */
export const STACK_DOUBT = MACHINE_STACK_HIGH - MACHINE_STACK_LOW;
/** Bytes that are never granted: the stack's share, and what the ROM keeps free. */
export const KEPT = STACK_SHARE + KEPT_FREE;

/** The machine stack's own share, and the bytes that the ROM keeps free. */
export const KEPT_AREA = 'kept by the ROM';

/**
 * The areas that the ledger tells apart, from the bottom of the RAM: `variables` with the byte that
 * ends them; `workspace` is strings being worked on, and what is typed at INPUT.
 */
export const LEDGER_AREAS = [
  'system variables',
  'program',
  'display',
  'variables',
  'workspace',
  'calculator stack',
  'GOSUB stack',
  KEPT_AREA,
] as const satisfies readonly (AreaName | typeof KEPT_AREA)[];

export type LedgerArea = (typeof LEDGER_AREAS)[number];

/** Bytes of each area at one moment; together, the RAM less what is spare. */
export type AreaSizes = Readonly<Record<LedgerArea, number>>;

/** A variable and the bytes that it takes, name and lengths included. */
export interface VariableSize {
  /** `A`, `SCORE`, `N$`; arrays are `A()` and `C$()`. */
  readonly name: string;
  readonly kind: SavedVariable['kind'];
  readonly bytes: number;
}
