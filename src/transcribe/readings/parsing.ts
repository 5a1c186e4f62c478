/** One statement's text to its tree: quickly, and without words for what is wrong. */
import { tokensOf } from '../../../grammar/lexer.js';
import { parseStatement } from '../../../grammar/parser.js';
import { Escape, Foreign, LineNumber, OpenString } from '../../../grammar/tokens.js';
import type { Statement } from '../../../grammar/tree.js';

export interface Parsed {
  /** Present where the text is a statement, types and names included. */
  readonly statement?: Statement;
  /** Offset in the text where it stops being one; past its end where all of it was read. */
  readonly failedAt: number;
}

const PREFIX = '1 ';

/** What was parsed of the page at work: each pass over it asks of the same texts again. */
const parsed = new Map<string, Parsed>();
/** A tree has some hundreds of bytes. */
const MOST_KEPT = 30_000;

/** Parses a statement's text. Offsets in the tree count from the text's own start plus `BASE`. */
export function parseText(text: string): Parsed {
  const known = parsed.get(text);
  if (known !== undefined) return known;
  const found = parseAnew(text);
  if (parsed.size === MOST_KEPT) forgetParsed();
  parsed.set(text, found);
  return found;
}

/** Gives back the memory of a page that is done. */
export function forgetParsed(): void {
  parsed.clear();
}

function parseAnew(text: string): Parsed {
  if (text.includes('\n')) return { failedAt: 0 };
  const tokens = tokensOf(`${PREFIX}${text}\n`).filter(
    ({ tokenType, image }) => tokenType !== LineNumber && !isSpace(image),
  );
  const odd = tokens.find(
    ({ tokenType }) => tokenType === Foreign || tokenType === OpenString || tokenType === Escape,
  );
  if (tokens.length === 0) return { failedAt: 0 };
  const { statement, problems, failure } = parseStatement(tokens);
  const place = (offset: number | undefined): number =>
    offset === undefined ? text.length : offset - PREFIX.length;
  if (failure !== undefined) {
    const at = place(failure.token?.startOffset);
    return { failedAt: odd === undefined ? at : Math.min(at, place(odd.startOffset)) };
  }
  if (odd !== undefined) return { failedAt: place(odd.startOffset) };
  if (statement === undefined || problems.length > 0) {
    return { failedAt: text.length };
  }
  return { statement, failedAt: text.length + 1 };
}

/** How far offsets in a parsed statement lie behind those in its text. */
export const BASE = PREFIX.length;

export function parses(text: string): boolean {
  return parseText(text).statement !== undefined;
}

/** A stored space: it means nothing to the machine outside strings and REM. */
function isSpace(image: string): boolean {
  return image.startsWith('[') && /^\[\s*sp\s*\]$/i.test(image);
}
