/** Machine code kept in REM lines: where the program itself points into them. */
import { KEYWORD_CODES, NUMBER_MARKER, QUOTE, unicodeOfCode } from '../machine/characters.js';
import { IMAGE_START } from '../machine/memory-map.js';
import { decodeNumber, NUMBER_SIZE, numberOfDecimal } from '../machine/numbers.js';
import { LINE_HEAD, lineCodes, type StoredLine } from './areas.js';

const REM = KEYWORD_CODES.get('REM')!;
const USR = KEYWORD_CODES.get('USR')!;
const POKE = KEYWORD_CODES.get('POKE')!;
const VAL = KEYWORD_CODES.get('VAL')!;
/** Longest literal that is an address: `16514.000`. */
const LONGEST_ADDRESS = 12;

/**
 * For each line that is a REM into which a constant USR or POKE of the program points: the address
 * of the first byte after REM.
 */
export function codeAddresses(
  image: Uint8Array,
  lines: readonly StoredLine[],
): Map<StoredLine, number> {
  const targets = new Set<number>();
  for (const line of lines) collectTargets(lineCodes(image, line), targets);
  const found = new Map<StoredLine, number>();
  if (targets.size === 0) return found;
  const sorted = [...targets].sort((a, b) => a - b);
  for (const line of lines) {
    const rem = remIn(lineCodes(image, line));
    if (rem < 0) continue;
    const first = line.start + LINE_HEAD + rem + 1 + IMAGE_START;
    const target = firstFrom(sorted, first);
    if (target !== undefined && target < line.end - 1 + IMAGE_START) found.set(line, first);
  }
  return found;
}

/** The first of sorted numbers that is not below `least`. */
function firstFrom(sorted: readonly number[], least: number): number | undefined {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] < least) low = middle + 1;
    else high = middle;
  }
  return sorted[low];
}

/** Offset of a line's REM, or -1. */
function remIn(codes: Uint8Array): number {
  if (codes[0] === REM) return 0;
  for (const at of placesOutside(codes)) if (codes[at] === REM) return at;
  return -1;
}

/** Adds the constant addresses that a line's USR and POKE have. */
function collectTargets(codes: Uint8Array, targets: Set<number>): void {
  if (codes.indexOf(USR) < 0 && codes.indexOf(POKE) < 0) return;
  for (const at of placesOutside(codes)) {
    if (codes[at] !== USR && codes[at] !== POKE) continue;
    const target = constantAt(codes, at + 1);
    if (target !== undefined) targets.add(target);
  }
}

/** Offsets of the codes outside strings and the five bytes of numbers, up to and with REM. */
function placesOutside(codes: Uint8Array): number[] {
  const places: number[] = [];
  for (let at = 0; at < codes.length; at++) {
    places.push(at);
    if (codes[at] === REM) break;
    if (codes[at] === NUMBER_MARKER) at += NUMBER_SIZE;
    else if (codes[at] === QUOTE) {
      const end = codes.indexOf(QUOTE, at + 1);
      if (end < 0) break;
      at = end;
    }
  }
  return places;
}

/** The value of the literal, or of VAL of a literal, at `at`. */
function constantAt(codes: Uint8Array, at: number): number | undefined {
  if (codes[at] === VAL && codes[at + 1] === QUOTE) {
    const end = codes.indexOf(QUOTE, at + 2);
    if (end < 0 || end - at > LONGEST_ADDRESS) return undefined;
    const text = Array.from(codes.subarray(at + 2, end), (code) => unicodeOfCode(code) ?? '?');
    return /^\d+$/.test(text.join('')) ? numberOfDecimal(text.join('')) : undefined;
  }
  for (let end = at; end < at + LONGEST_ADDRESS && end < codes.length; end++) {
    if (codes[end] === NUMBER_MARKER && end > at) return decodeNumber(codes, end + 1);
    if (!/^[\d.E+]$/.test(unicodeOfCode(codes[end]) ?? '')) return undefined;
  }
  return undefined;
}
