/** The parts of a listing: what is said of the whole, the main program, and each subroutine. */
import { type DocumentSymbol, SymbolKind } from 'vscode-languageserver-types';
import type { Comment, Item, Line } from '../../../grammar/tree.js';
import { remText, shortened } from '../../listing/print.js';
import { firstIndex } from '../../listing/search.js';
import type { Snapshot } from '../snapshot.js';

/** Longest name of a part, in characters. */
const LONGEST_NAME = 40;

/** A part of the program: from where GOSUB leads, or the first line, up to the next part. */
export interface Part {
  readonly name: string;
  readonly first: Line;
  readonly last: Line;
  readonly subroutine: boolean;
  /** The place of its first line in the program, and that behind its last. */
  readonly from: number;
  readonly to: number;
}

/** The listing's parts, named by the REM or the comment at their head. */
export function outline(snapshot: Snapshot): DocumentSymbol[] {
  const { positions } = snapshot;
  return partsOf(snapshot).map((part) => {
    const { name, first, last, subroutine } = part;
    const lines = `${first.number}–${last.number}`;
    return {
      name,
      detail: lines,
      kind: subroutine ? SymbolKind.Function : SymbolKind.Module,
      range: positions.rangeOf({ start: first.start, end: last.end }),
      selectionRange: positions.rangeOf(first),
      children: arraysOf(snapshot, part),
    };
  });
}

export function partsOf(snapshot: Snapshot): Part[] {
  const { listing, program } = snapshot;
  const { lines } = listing;
  if (lines.length === 0) return [];
  const heads = new Set<number>([0]);
  for (const { kind, targets } of program.flow.jumps) {
    if (kind === 'GOSUB') for (const index of targets) if (index < lines.length) heads.add(index);
  }
  const starts = [...heads].sort((a, b) => a - b);
  const called = new Set(program.flow.calls.flat());
  return starts.map((index, at) => {
    const first = lines[index];
    const subroutine = called.has(index);
    const to = starts[at + 1] ?? lines.length;
    return {
      first,
      last: lines[to - 1],
      from: index,
      to,
      subroutine,
      name:
        headingOf(listing.items, lines, index) ??
        (subroutine ? `GOSUB ${first.number}` : 'program'),
    };
  });
}

/** The DIMs of a part: arrays are what a reader looks for. */
function arraysOf({ positions, program, text }: Snapshot, { from, to }: Part): DocumentSymbol[] {
  return program.steps
    .slice(from, to)
    .filter(({ statement }) => statement?.kind === 'DIM')
    .map(({ line, statement }) => {
      const { start, end } = statement!;
      const name = text.slice(start, end).replace(/^DIM\s*/i, '');
      return {
        name,
        kind: SymbolKind.Array,
        range: positions.rangeOf(line),
        selectionRange: positions.rangeOf({ start, end }),
      };
    });
}

function headingOf(
  items: readonly Item[],
  lines: readonly Line[],
  index: number,
): string | undefined {
  const line = lines[index];
  return remOf(line) ?? remBefore(lines, index) ?? commentBefore(items, line);
}

const remOf = (line: Line | undefined): string | undefined =>
  line?.statement?.kind === 'REM' ? short(remText(line.statement.codes)) : undefined;

/** A REM right before a subroutine, which nothing else runs into, speaks of it. */
function remBefore(lines: readonly Line[], index: number): string | undefined {
  const [before, last] = [lines[index - 1], lines[index - 2]?.statement?.kind];
  const ends = last === 'RETURN' || last === 'STOP' || last === 'GOTO';
  return ends ? remOf(before) : undefined;
}

function commentBefore(items: readonly Item[], line: Line): string | undefined {
  const above: Comment[] = [];
  const place = firstIndex(items.length, (index) => items[index].start >= line.start);
  for (let at = place - 1; at >= 0; at--) {
    const item = items[at];
    if (item.kind !== 'comment') break;
    above.unshift(item);
  }
  const spoken = above.find(({ text }) => text.trim() !== '' && !/^\s*lint\s*:/i.test(text));
  return spoken && short(spoken.text);
}

const short = (text: string): string | undefined =>
  shortened(text.trim(), LONGEST_NAME) || undefined;
