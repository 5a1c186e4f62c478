/** Doubts in words, for a report and for the comment that marks one in a listing. */
import { hexByte } from '../machine/numbers.js';
import type { Doubt, DoubtReason } from './recovery.js';

const REASONS: Record<DoubtReason, string> = {
  unclear: 'the sound is unclear there',
  structure: 'the sound is unclear there; chosen to suit the rest of the image',
  recounted: 'bits were lost or doubled near here',
  adrift: 'the image contradicts itself before this, and may be out of step here',
  missing: 'not on the recording; zeros stand for what is missing',
  rebuilt: 'not on the recording; as a fresh machine has it',
  takes: 'the takes disagree',
};

/** Minutes, seconds and thousandths: `0:04.812`. */
export function timeText(seconds: number): string {
  const thousandths = Math.round(seconds * 1000);
  const minutes = Math.floor(thousandths / 60000);
  return `${minutes}:${((thousandths % 60000) / 1000).toFixed(3).padStart(6, '0')}`;
}

/** Where the byte stands, for a person. */
export function doubtPlace(doubt: Doubt): string {
  if (doubt.part === 'name') return `character ${doubt.offset + 1} of the name`;
  const { place } = doubt;
  if (place === undefined) return 'image';
  if (place.area !== 'program') return place.area;
  return place.line === undefined ? 'program' : `line ${place.line}`;
}

/** One line for doubts that follow one another and have the same reason. */
export function doubtsText(doubts: readonly Doubt[]): string {
  const [first, last] = [doubts[0], doubts[doubts.length - 1]];
  const places = [...new Set([doubtPlace(first), doubtPlace(last)])].join(' to ');
  const where =
    first.address === undefined ? '' : `addresses ${first.address} to ${last.address}, `;
  return `${timeText(first.seconds)}  ${where}${places}: ${doubts.length} bytes, ${REASONS[first.reason]}`;
}

/** One line that says all of a doubt. */
export function doubtText(doubt: Doubt): string {
  const { byte, other, reason, seconds, address } = doubt;
  const reading =
    reason === 'missing' || reason === 'rebuilt'
      ? 'nothing was read'
      : `read as ${hexByte(byte)}${other === undefined ? '' : `, perhaps ${hexByte(other)}`}`;
  const where = address === undefined ? '' : `address ${address}, `;
  return `${timeText(seconds)}  ${where}${doubtPlace(doubt)}: ${reading}; ${REASONS[reason]}`;
}
