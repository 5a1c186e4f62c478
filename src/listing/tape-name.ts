/** The name that a program has on tape. */
import type { Listing } from '../../grammar/tree.js';
import { codesOfText } from '../machine/characters.js';

/**
 * As codes: the listing's own `.name`, else what the name of its file gives.
 * @param file path or address of the file; only what stands behind its last / counts
 */
export function tapeName(listing: Listing, file: string): Uint8Array {
  const own = listing.items.find((item) => item.kind === 'name');
  return own?.kind === 'name' ? own.codes : nameOfFile(file);
}

/** Letters and digits of a file's name, its extension left out, as codes; `PROGRAM` where it has none. */
export function nameOfFile(file: string): Uint8Array {
  const plain = file
    .replace(/^.*[\\/]/s, '')
    .replace(/(?<=.)\.[^.]*$/, '')
    .toUpperCase()
    .replace(/[^A-Z0-9]/g, '');
  return codesOfText(plain || 'PROGRAM');
}
