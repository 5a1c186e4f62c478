/**
 * A listing that is edited: after a change only the pieces that it touches are read anew, and the
 * others are kept, moved to where they now stand. What comes out is what reading the whole text
 * would give.
 */
import { skipBlank } from '../../grammar/lexer.js';
import type { Item, Problem, Span } from '../../grammar/tree.js';
import { visit } from '../../grammar/visit.js';
import type { NumberMaking } from '../machine/arithmetic/decimal.js';
import type { Diagnostic } from './diagnostics.js';
import { makingOf } from './directives.js';
import { joinPieces, type ReadListing } from './join-pieces.js';
import { unifyLineEnds } from './line-ends.js';
import { ListingReader, type ReadOptions } from './read.js';
import { firstIndex } from './search.js';
import { tooLarge } from './too-large.js';

/** A line of the program, a comment or a directive, with what is wrong in it. */
interface Piece {
  start: number;
  end: number;
  readonly items: Item[];
  readonly diagnostics: Diagnostic[];
}

/** Rows of a `.display` that has no `.end`, as far as the lexer looks for one. */
const DISPLAY_REACH = 27;

export class LiveListing {
  private pieces: Piece[] = [];
  /** What is said of a text that is too large to be read. */
  private refused: Problem | undefined;
  /** How the listing says that its numbers were made. */
  private making: NumberMaking = 'typed';
  /** How many pieces were read since the listing was opened: for tests of what is kept. */
  piecesRead = 0;

  constructor(
    private text: string,
    private readonly options: ReadOptions = {},
  ) {
    this.readAll();
  }

  private readAll(): void {
    this.refused = tooLarge(unifyLineEnds(this.text));
    this.pieces = this.refused ? [] : this.readFrom(this.text, 0, () => false);
    this.takeMaking();
  }

  /**
   * The listing as it stands. Its nodes are moved by later changes: it holds only until the next.
   */
  read(): ReadListing {
    const { pieces, refused } = this;
    if (refused) return joinPieces(this.text, [], [{ severity: 'error', ...refused }]);
    return joinPieces(
      this.text,
      pieces.flatMap(({ items }) => items),
      pieces.flatMap(({ diagnostics }) => diagnostics),
    );
  }

  /** Takes a change: the text from `start` to `end` is replaced. Gives the new text. */
  change(start: number, end: number, replacement: string): string {
    const before = this.text;
    const text = before.slice(0, start) + replacement + before.slice(end);
    this.text = text;
    const isWhole = this.refused !== undefined || tooLarge(text) !== undefined;
    if (isWhole || unifyLineEnds(before) !== before || unifyLineEnds(text) !== text) {
      this.readAll();
      return text;
    }
    const first = this.firstTouched(before, start);
    const moved = replacement.length - (end - start);
    const kept = new Map<number, number>();
    for (let index = first; index < this.pieces.length; index++) {
      if (this.pieces[index].start >= end) kept.set(this.pieces[index].start + moved, index);
    }
    let from = this.pieces.length;
    const anew = this.readFrom(text, this.pieces[first - 1]?.end ?? 0, (at) => {
      const index = at >= start + replacement.length ? kept.get(at) : undefined;
      if (index !== undefined) from = index;
      return index !== undefined;
    });
    const rest = this.pieces.slice(from);
    if (moved !== 0) for (const piece of rest) move(piece, moved);
    this.pieces = [...this.pieces.slice(0, first), ...anew, ...rest];
    this.takeMaking();
    return text;
  }

  /** Every number depends on a directive that says how they were made: reads all of it again. */
  private takeMaking(): void {
    const making = makingOf(this.pieces.flatMap(({ items }) => items));
    if (making === this.making) return;
    this.making = making;
    this.pieces = this.readFrom(this.text, 0, () => false);
  }

  /** Reads pieces from an offset on, until `stop` says that the one which begins here is known. */
  private readFrom(text: string, from: number, stop: (at: number) => boolean): Piece[] {
    const unified = unifyLineEnds(text);
    const reader = new ListingReader(unified, this.options, this.making);
    const pieces: Piece[] = [];
    for (let at = skipBlank(unified, from); at < unified.length && !stop(at); ) {
      const end = reader.readPiece(at);
      pieces.push({ start: at, end, ...reader.take() });
      this.piecesRead++;
      at = skipBlank(unified, end);
    }
    return pieces;
  }

  /** The first piece whose reading can depend on what stands at an offset. */
  private firstTouched(text: string, start: number): number {
    // Bytes of a REM may go on over several lines: what looks like them leads back to their bracket.
    let at = start;
    while (at > 0 && /[0-9A-F\s]/i.test(text[at - 1])) at--;
    let index = this.firstEndingFrom(at);
    for (let above = index - 1; above >= 0 && above >= index - DISPLAY_REACH; above--) {
      if (
        text.slice(this.pieces[above].start, this.pieces[above].start + 8).toLowerCase() ===
        '.display'
      ) {
        index = above;
      }
    }
    return index;
  }

  /** The first piece that ends at an offset or behind it. */
  private firstEndingFrom(offset: number): number {
    const { pieces } = this;
    return firstIndex(pieces.length, (index) => pieces[index].end >= offset);
  }
}

function move(piece: Piece, by: number): void {
  piece.start += by;
  piece.end += by;
  for (const item of piece.items) {
    moveSpan(item, by);
    if (item.kind === 'line' && item.statement !== undefined) {
      visit(item.statement, (node) => moveSpan(node, by));
    }
  }
  for (const diagnostic of piece.diagnostics) moveSpan(diagnostic, by);
}

/** The nodes that are kept are written to here alone: to everybody else they are read only. */
function moveSpan(span: { -readonly [Key in keyof Span]: Span[Key] }, by: number): void {
  span.start += by;
  span.end += by;
}
