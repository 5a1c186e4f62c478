/** Doubts in words, for a report and for the comment that marks one in a listing. */
import { hexByte } from '../../machine/numbers.js';
import type { Doubt, DoubtReason } from '../reading/recovery.js';

const REASONS: Record<DoubtReason, string> = {
  unclear: 'the sound is unclear there',
  structure: 'the sound is unclear there; chosen to suit the rest of the image',
  recounted: 'bits were lost or doubled near here, so all of them may be out of place',
  adrift: 'the image contradicts itself before this, and may be out of step here',
  missing: 'not on the recording; zeros stand for what is missing',
  rebuilt: 'not on the recording; as a fresh machine has it',
  unfinished: 'the recording ends within this piece, so nothing after it confirms it',
  completed: 'the recording ends early; as a plain build has it',
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

/** Lines that are named one by one; more would hide the rest. */
const MOST_LINES = 8;

const count = (number: number, what: string): string =>
  `${number} ${what}${number === 1 ? '' : 's'}`;

/** How many bytes of the image, and characters of the name, are in doubt. */
export interface DoubtNumbers {
  readonly bytes: number;
  readonly name: number;
}

export function doubtNumbers(doubts: readonly Doubt[]): DoubtNumbers {
  const name = doubts.filter(({ part }) => part === 'name').length;
  return { bytes: doubts.length - name, name };
}

/** How many doubts there are: bytes of the image, of so many where that is said, and of the name. */
export function doubtCount(doubts: readonly Doubt[], of?: number): string {
  const { bytes, name } = doubtNumbers(doubts);
  if (doubts.length === 0) return 'no byte in doubt';
  const inImage = of === undefined ? count(bytes, 'byte') : `${bytes} of ${count(of, 'byte')}`;
  const parts = [
    ...(bytes > 0 ? [inImage] : []),
    ...(name > 0 ? [`${count(name, 'character')} of the name`] : []),
  ];
  return `${parts.join(' and ')} in doubt`;
}

/** One line for all doubts of a program: how many bytes of how many, and where. */
export function judgement(doubts: readonly Doubt[], bytes: number): string {
  const lines = new Set<number>();
  const others = new Set<string>();
  for (const { part, place } of doubts) {
    if (part === 'name') continue;
    if (place?.area === 'program' && place.line !== undefined) lines.add(place.line);
    else others.add(place?.area === undefined ? 'the image' : `the ${place.area}`);
  }
  const numbers = [...lines];
  const more = numbers.length - MOST_LINES;
  const named = numbers.slice(0, MOST_LINES).join(', ');
  const rest = more > 0 ? ` and ${more} more` : '';
  const inLines = `${numbers.length === 1 ? 'line' : 'lines'} ${named}${rest}`;
  const where = [...(numbers.length > 0 ? [inLines] : []), ...others];
  return doubtCount(doubts, bytes) + (where.length > 0 ? `, in ${where.join('; ')}` : '');
}

/** So many doubts in a row that are alike are one line. */
const FEWEST_TOGETHER = 5;

/** Doubts in words, a line each; of those that follow one another and are alike, one for all. */
export function doubtTexts(
  doubts: readonly Doubt[],
  alike: (a: Doubt, b: Doubt) => boolean,
): { readonly first: Doubt; readonly text: string }[] {
  const runs: Doubt[][] = [];
  for (const doubt of doubts) {
    const run = runs[runs.length - 1];
    const last = run?.[run.length - 1];
    if (last && doubt.offset === last.offset + 1 && alike(doubt, last)) run.push(doubt);
    else runs.push([doubt]);
  }
  return runs.flatMap((run) =>
    run.length < FEWEST_TOGETHER
      ? run.map((first) => ({ first, text: doubtText(first) }))
      : [{ first: run[0], text: runText(run) }],
  );
}

/** Have they the same reason, and are both in the name or both in the image? */
export function isAlike(a: Doubt, b: Doubt): boolean {
  return a.part === b.part && a.reason === b.reason;
}

function runText(doubts: readonly Doubt[]): string {
  const [first, last] = [doubts[0], doubts[doubts.length - 1]];
  const places = [...new Set([doubtPlace(first), doubtPlace(last)])].join(' to ');
  const where =
    first.address === undefined ? '' : `addresses ${first.address} to ${last.address}, `;
  return `${timeText(first.seconds)}  ${where}${places}: ${doubts.length} bytes, ${REASONS[first.reason]}`;
}

/** One line that says all of a doubt. */
function doubtText(doubt: Doubt): string {
  const { byte, other, reason, seconds, address } = doubt;
  const reading =
    reason === 'missing' || reason === 'rebuilt'
      ? 'nothing was read'
      : `${reason === 'completed' ? 'put' : 'read'} as ${hexByte(byte)}${other === undefined ? '' : `, perhaps ${hexByte(other)}`}`;
  const where = address === undefined ? '' : `address ${address}, `;
  return `${timeText(seconds)}  ${where}${doubtPlace(doubt)}: ${reading}; ${REASONS[reason]}`;
}

/** A note on a byte for each doubt that is told, to stand in the program's listing. */
export function doubtNotes(doubts: readonly Doubt[]): { offset: number; text: string }[] {
  const toldAsOne = (a: Doubt, b: Doubt): boolean =>
    isAlike(a, b) && doubtPlace(a) === doubtPlace(b);
  return doubtTexts(doubts, toldAsOne).map(({ first, text }) => ({
    // What is said of the name stands at the top, as what is said of the first byte does.
    offset: first.part === 'name' ? 0 : first.offset,
    text: `doubtful: ${text}`,
  }));
}
