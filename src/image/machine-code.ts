/** Machine code kept in REM lines: where the program itself points into them. */
import { addressesIn, POKE, remOffset, USR } from '../listing/addresses.js';
import { firstIndex } from '../listing/search.js';
import { LINE_HEAD } from '../machine/image-layout.js';
import { IMAGE_START } from '../machine/memory-map.js';
import { lineCodes, type StoredLine } from './areas.js';

const WORDS = [USR, POKE];

/**
 * For each line that is a REM into which a constant USR or POKE of the program points: the address
 * of the first byte after REM.
 */
export function codeAddresses(
  image: Uint8Array,
  lines: readonly StoredLine[],
): Map<StoredLine, number> {
  const targets = new Set(lines.flatMap((line) => addressesIn(lineCodes(image, line), WORDS)));
  const found = new Map<StoredLine, number>();
  if (targets.size === 0) return found;
  const sorted = [...targets].sort((a, b) => a - b);
  for (const line of lines) {
    const rem = remOffset(lineCodes(image, line));
    if (rem < 0) continue;
    const first = line.start + LINE_HEAD + rem + 1 + IMAGE_START;
    const target = sorted[firstIndex(sorted.length, (index) => sorted[index] >= first)];
    if (target !== undefined && target < line.end - 1 + IMAGE_START) found.set(line, first);
  }
  return found;
}
