/** The whole way in one step: the text of a listing to the bytes of its image, and back. */
import type { Listing } from '../../grammar/tree.js';
import { type Diagnostic, hasErrors } from '../listing/diagnostics.js';
import { type ReadOptions, readListing } from '../listing/read.js';
import { type BuildOptions, buildImage } from './build.js';
import { type ImageListing, type ImageReadOptions, listingOfImage } from './read.js';

export interface Tokenised {
  /** Memory from 16393 up to, not including, E_LINE. Undefined where there is an error, if not `anyway`. */
  readonly image?: Uint8Array;
  readonly listing: Listing;
  /** What is wrong with the text, then what is wrong with the image. */
  readonly diagnostics: Diagnostic[];
}

/**
 * The image that a listing is on the machine. Never throws for what a text can hold: an error is
 * among the diagnostics, and there is no image then; with `anyway` there is one of what could be read.
 */
export function tokenise(text: string, options: ReadOptions & BuildOptions = {}): Tokenised {
  const { listing, diagnostics } = readListing(text, options);
  if (hasErrors(diagnostics) && !options.anyway) return { listing, diagnostics };
  const built = buildImage(listing, options);
  return { image: built.image, listing, diagnostics: [...diagnostics, ...built.diagnostics] };
}

/**
 * The listing of an image, in its tidy form: `tokenise` makes the same bytes of its text. Throws
 * NotAnImage for bytes that have no readable header.
 */
export function detokenise(image: Uint8Array, options: ImageReadOptions = {}): ImageListing {
  return listingOfImage(image, options);
}
