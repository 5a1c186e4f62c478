/** Listwright as a library: every step of the way, as functions that return data. */
export type * from '../grammar/tree.js';
export { type Drawn, isDrawn, type Tried, tryWay, tryWays } from './draw/drawing.js';
export { type PutIn, putInto } from './draw/into.js';
export { blocksOfText } from './draw/letters.js';
export { type PictureOptions, screenOfPicture } from './draw/picture.js';
export { type Pixels, pixelsOfRgba } from './draw/pixels.js';
export { type Blocks, type Screen, screenOfBlocks } from './draw/screen.js';
export type { Way, WayOptions } from './draw/ways.js';
export { areasOf, NotAnImage } from './image/areas.js';
export { type BuildOptions, type BuiltImage, buildImage } from './image/build.js';
export { type Comparison, compareImages } from './image/compare.js';
export { type PlainListing, plainListing } from './image/plain.js';
export { type ImageListing, listingOfImage } from './image/read.js';
export { detokenise, type Tokenised, tokenise } from './image/tokenise.js';
export { type Cover, coverOf } from './keys/cover.js';
export {
  keysOfLine,
  keysOfListing,
  type LineKeys,
  type ListingKeys,
  type Press,
} from './keys/keys.js';
export { sayLine } from './keys/say.js';
export { keySheet } from './keys/sheet.js';
export { fixListing } from './lint/fix.js';
export { lint } from './lint/lint.js';
export * from './listing/diagnostics.js';
export { formatListing } from './listing/format.js';
export type { ReadListing } from './listing/join-pieces.js';
export { charactersText, statementText } from './listing/print.js';
export { type ReadOptions, readListing } from './listing/read.js';
export { type Renumbered, type RenumberOptions, renumber } from './listing/renumber.js';
export { TooLarge } from './listing/too-large.js';
export { codeOfUnicode, codesOfText, unicodeOfCode } from './machine/characters.js';
export { decodeNumber, encodeNumber } from './machine/numbers.js';
export { decodeVariable, encodeVariable, type SavedVariable } from './machine/variables.js';
export { type Budget, budgetJson, budgetOf } from './memory/budget.js';
export { type Basis, type Room, type Verdict, verdictJson, verdictText } from './memory/verdict.js';
export type { Rehearsal, RehearseOptions } from './rehearsal/rehearsal.js';
export { rehearse } from './rehearsal/run.js';
export { type Measured, measure } from './rehearsal/telling/measured.js';
export { settledVerdict } from './rehearsal/telling/settle.js';
export { framedScreen, rehearsalJson } from './rehearsal/telling/show.js';
export type { Doubt, RecoveredProgram, Recovery } from './tape/reading/recovery.js';
export {
  Recoverer,
  type RecoverOptions,
  recoverPrograms,
  recoverSound,
} from './tape/recover.js';
export { type SoundKind, soundKindOf } from './tape/samples/sound-kind.js';
export { SoundError } from './tape/sound-error.js';
export {
  planRecording,
  type Recording,
  type RecordOptions,
  recordProgram,
  recordPrograms,
  secondsOnTape,
} from './tape/writing/record.js';
export type { TapeProgram } from './tape/writing/tape-bytes.js';
export type { SourceSpan } from './transcribe/listing.js';
export type { Note } from './transcribe/note.js';
export { type Question, questionsOf } from './transcribe/questions.js';
export { reportPage } from './transcribe/report.js';
export { type TranscribeOptions, type Transcription, transcribe } from './transcribe/transcribe.js';
