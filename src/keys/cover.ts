/** Which keys of the machine a listing exercises: for proving a mended keyboard. */
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
  const counts = new Map<string, number>();
  const add = (key: string): void => void counts.set(key, (counts.get(key) ?? 0) + 1);
  for (const line of keys.lines) {
    for (const press of line.presses) {
      add(press.key);
      if (press.shift) add('SHIFT');
    }
  }
  const uses = KEYS.map(({ name, row }) => ({ key: name, row, presses: counts.get(name) ?? 0 }));
  const missing = uses.filter(({ presses }) => presses === 0).map(({ key }) => key);
  return { keys: uses, exercised: uses.length - missing.length, missing };
}
