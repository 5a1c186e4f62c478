/** Listwright as a library: every step of the way, as functions that return data. */
export type * from '../grammar/tree.js';
export { type BuildOptions, type BuiltImage, buildImage } from './image/build.js';
export { areasOf, type ImageListing, listingOfImage, NotAnImage } from './image/read.js';
export * from './listing/diagnostics.js';
export { charactersText, statementText } from './listing/print.js';
export { type ReadListing, type ReadOptions, readListing } from './listing/read.js';
