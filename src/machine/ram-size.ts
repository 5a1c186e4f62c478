/** Sizes of RAM: what `--ram` and `.ram` take, how people write them, and which are usual. */

const K = 1024;
/** Smallest and largest RAM that can be fitted, in bytes. */
export const SMALLEST_RAM = K;
export const LARGEST_RAM = 48 * K;

/** Bytes of a size such as `1K`, `2K`, `16K`, `1024`; a string says what is wrong. */
export function readRamSize(text: string): number | string {
  const match = /^(\d{1,6})(K?)$/i.exec(text.trim());
  const size = match === null ? Number.NaN : Number(match[1]) * (match[2] === '' ? 1 : K);
  if (Number.isNaN(size)) return `${text || 'nothing'} is not a size of RAM: write 1K, 2K, 16K …`;
  if (size < SMALLEST_RAM || size > LARGEST_RAM) {
    return `${text} is not a size that the machine takes: ${SMALLEST_RAM / K}K to ${LARGEST_RAM / K}K`;
  }
  return size;
}

/** Bytes of a size that somebody may have chosen; undefined where nobody did, or it is none. */
export function chosenRam(text?: string): number | undefined {
  const size = text === undefined ? undefined : readRamSize(text);
  return typeof size === 'number' ? size : undefined;
}

/** A size of RAM as people write it: `1K`, else bytes. */
export function ramText(size: number): string {
  return size % K === 0 ? `${size / K}K` : String(size);
}

/** Sizes that machines and packs come in, smallest first. */
export const USUAL_SIZES: readonly number[] = [1, 2, 3, 4, 8, 16, 32, 48].map((k) => k * K);

/** The same as people write them. */
export const USUAL_RAM_SIZES: readonly string[] = USUAL_SIZES.map(ramText);

/** The smallest usual size for which this holds; undefined where no machine has so much. */
export function smallestRam(holds: (size: number) => boolean): number | undefined {
  return USUAL_SIZES.find(holds);
}
