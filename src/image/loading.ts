/**
 * What a machine needs to load an image: room for it, for the line being typed, and for its stack.
 * LOAD itself tests nothing against the top of the RAM: an image that is too large runs over the
 * machine stack, and the machine crashes. Source: G. Wearmouth, "An Assembly Listing of the Operating
 * System" (2004), LOAD 0340.
 */
import { count } from '../listing/print.js';
import {
  EDIT_LINE_SIZE,
  hasFullDisplay,
  KEPT_FREE,
  MACHINE_STACK_HIGH,
  MACHINE_STACK_LOW,
  RAM_START,
  REPORT_SIZE,
} from '../machine/memory-map.js';
import { ramText } from '../machine/ram-size.js';

/** Bytes that are needed at least, and those with which nothing can be missing. */
export interface Needs {
  readonly low: number;
  readonly high: number;
}

/**
 * Bytes of RAM that loading an image needs, which ends before the address `end` (its E_LINE). To
 * report that it has loaded, the ROM asks for its margin, and below 3¼K for the report's characters.
 */
export function loadingNeeds(end: number, ram: number): Needs {
  const placed = end - RAM_START + EDIT_LINE_SIZE;
  const report = hasFullDisplay(ram) ? 0 : REPORT_SIZE;
  return {
    low: placed + MACHINE_STACK_LOW,
    high: placed + report + KEPT_FREE + MACHINE_STACK_HIGH,
  };
}

/** Bytes that are missing for an image to be loaded, at the least; 0 or less where there are enough. */
export function loadingShort(end: number, ram: number): number {
  return loadingNeeds(end, ram).low - ram;
}

/** `does not load in 1K: 2 bytes over at least`. */
export function doesNotLoad(over: number, ram: number): string {
  return `does not load in ${ramText(ram)}: ${count(over, 'byte')} over at least`;
}
