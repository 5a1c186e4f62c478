/** Notes about single bytes of an image, as the editor's comments in the listing that it reads as. */
import type { Item } from '../../grammar/tree.js';
import { isOfProgram, kindOf } from '../listing/directive-text.js';
import { grouped } from '../listing/search.js';
import { HEADER_SIZE } from '../machine/image-layout.js';
import { IMAGE_START } from '../machine/memory-map.js';
import { areasOf, isStoredLine, programPieces } from './areas.js';
import type { ImageListing } from './read.js';

/** Something to say of a byte. */
export interface ByteNote {
  /** Offset in the image. */
  readonly offset: number;
  readonly text: string;
}

/** Most notes at one place; of more, only how many there are is said. */
const MOST_NOTES = 20;

/**
 * The text of a listing with a comment for each note: above the line that holds the byte, above the
 * first directive of the display or the variables, at the top for all else. The text builds the
 * same image.
 */
export function withNotes(read: ImageListing, notes: readonly ByteNote[]): string {
  const places = placesOf(read);
  const ordered = [...notes].sort((a, b) => a.offset - b.offset);
  const notesAt = grouped(ordered, ({ offset }) => places(offset));
  let out = '';
  let done = 0;
  for (const [at, comments] of [...notesAt].sort(([a], [b]) => a - b)) {
    const more = comments.length - MOST_NOTES;
    out += read.text.slice(done, at);
    for (const { text } of comments.slice(0, MOST_NOTES)) out += `' ${text}\n`;
    if (more > 0) out += `' and ${more} more\n`;
    done = at;
  }
  return out + read.text.slice(done);
}

/** Gives for an offset in the image the offset in the text above which its notes stand. */
function placesOf(read: ImageListing): (offset: number) => number {
  const { items } = read.listing;
  const { D_FILE, VARS, E_LINE } = areasOf(read.image);
  const first = (...kinds: string[]): number =>
    items.find((item) => kinds.includes(kindOf(item)))?.start ?? 0;
  const display = first('display', 'raw display');
  const variables = first('var', 'raw variables');
  const after = first('raw after');
  const program = programPlaces(read, D_FILE - IMAGE_START);
  return (offset) => {
    if (offset < HEADER_SIZE) return 0;
    if (offset >= E_LINE - IMAGE_START) return after;
    if (offset >= VARS - IMAGE_START) return variables;
    if (offset >= D_FILE - IMAGE_START) return display;
    return program(offset);
  };
}

/** The same for the program area alone. */
function programPlaces({ image, listing }: ImageListing, end: number) {
  const items = listing.items.filter(isOfProgram);
  const ends: number[] = [];
  const places: number[] = [];
  let next = 0;
  for (const piece of programPieces(image, end)) {
    ends.push(piece.end);
    places.push(items[next].start);
    if (isStoredLine(piece)) next++;
    // Bytes that are more than a row go on in the next directive: the notes stand above the first.
    else for (let size = piece.end - piece.start; size > 0; next++) size -= sizeOf(items[next]);
  }
  return (offset: number): number => places[ends.findIndex((pieceEnd) => offset < pieceEnd)];
}

const sizeOf = (item: Item): number => (item.kind === 'raw' ? item.bytes.length : 0);
