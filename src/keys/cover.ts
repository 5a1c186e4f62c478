/** Which keys of the machine a listing exercises: for proving a mended keyboard. */
import { grouped } from '../listing/search.js';
import { KEYS } from '../machine/keyboard.js';
import type { ListingKeys } from './keys.js';

export interface KeyUse {
  readonly key: string;
  readonly row: number;
  /** Presses of the key, with and without SHIFT. */
  readonly presses: number;
}

export interface Cover {
  /** Every key of the keyboard, row by row. */
  readonly keys: readonly KeyUse[];
  readonly exercised: number;
  /** Names of the keys that the listing never presses. */
  readonly missing: readonly string[];
}

/** Counts the presses of every key; SHIFT counts once for each press that holds it. */
export function coverOf(keys: ListingKeys): Cover {
  const presses = keys.lines.flatMap((line) => line.presses);
  const pressed = presses.flatMap(({ key, shift }) => (shift ? [key, 'SHIFT'] : [key]));
  const counts = grouped(pressed, (key) => key);
  const uses = KEYS.map(({ name: key, row }) => ({
    ...{ key, row, presses: counts.get(key)?.length ?? 0 },
  }));
  const missing = uses.filter(({ presses }) => presses === 0).map(({ key }) => key);
  return { keys: uses, exercised: uses.length - missing.length, missing };
}
