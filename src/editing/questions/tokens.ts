/** Semantic tokens: what each word of a listing is. */
import { type Range, type SemanticTokens, SemanticTokenTypes } from 'vscode-languageserver-types';
import { tokensOf } from '../../../grammar/lexer.js';
import {
  Escape,
  Foreign,
  FunctionToken,
  LineNumber,
  type ListingToken,
  NumberName,
  NumberToken,
  OpenString,
  Rem,
  StringName,
  StringToken,
} from '../../../grammar/tokens.js';
import type { Item, Span } from '../../../grammar/tree.js';
import { lineTargetsOf } from '../line-targets.js';
import type { Snapshot } from '../snapshot.js';

/** The types that tokens are numbered by. */
export const TOKEN_TYPES = [
  SemanticTokenTypes.keyword,
  SemanticTokenTypes.function,
  SemanticTokenTypes.variable,
  SemanticTokenTypes.string,
  SemanticTokenTypes.number,
  SemanticTokenTypes.operator,
  SemanticTokenTypes.comment,
  SemanticTokenTypes.macro,
  SemanticTokenTypes.label,
] as const;

type TokenType = (typeof TOKEN_TYPES)[number];

interface Painted extends Span {
  readonly type: TokenType;
}

/** The tokens of a listing, or of a range of it, in the protocol's relative numbers. */
export function tokens(snapshot: Snapshot, range?: Range): SemanticTokens {
  const { positions, listing, text } = snapshot;
  const wanted = range === undefined ? { start: 0, end: text.length } : positions.spanOf(range);
  const targets = new Set(lineTargetsOf(snapshot).map(({ start }) => start));
  const data: number[] = [];
  let [lastLine, lastCharacter] = [0, 0];
  for (const item of listing.items) {
    if (item.end < wanted.start || item.start > wanted.end) continue;
    for (const painted of paintedOf(item, text, targets)) {
      for (const piece of withoutLineEnds(painted, snapshot)) {
        const { line, character } = positions.positionAt(piece.start);
        const end = positions.positionAt(piece.end);
        if (end.character <= character) continue;
        const deltaLine = line - lastLine;
        const deltaCharacter = deltaLine === 0 ? character - lastCharacter : character;
        data.push(
          deltaLine,
          deltaCharacter,
          end.character - character,
          TOKEN_TYPES.indexOf(piece.type),
          0,
        );
        [lastLine, lastCharacter] = [line, character];
      }
    }
  }
  return { data };
}

function paintedOf(item: Item, text: string, targets: ReadonlySet<number>): Painted[] {
  const { start, end, kind } = item;
  if (kind === 'comment') return [{ start, end, type: SemanticTokenTypes.comment }];
  if (kind !== 'line') {
    const word = /^\.\w*/.exec(text.slice(start, end))![0];
    return [{ start, end: start + word.length, type: SemanticTokenTypes.macro }];
  }
  return tokensOf(text.slice(start, end)).flatMap((token) => painted(token, start, targets));
}

function painted(token: ListingToken, base: number, targets: ReadonlySet<number>): Painted[] {
  const start = base + token.startOffset;
  const end = base + token.end;
  if (token.tokenType === Rem) {
    const word = start + 'REM'.length;
    return [
      { start, end: word, type: SemanticTokenTypes.keyword },
      { start: word, end, type: SemanticTokenTypes.comment },
    ];
  }
  const type = targets.has(start) ? SemanticTokenTypes.label : typeOf(token);
  return type === undefined ? [] : [{ start, end, type }];
}

const TYPES = new Map<unknown, TokenType>([
  [LineNumber, SemanticTokenTypes.label],
  [NumberToken, SemanticTokenTypes.number],
  [StringToken, SemanticTokenTypes.string],
  [OpenString, SemanticTokenTypes.string],
  [NumberName, SemanticTokenTypes.variable],
  [StringName, SemanticTokenTypes.variable],
  [FunctionToken, SemanticTokenTypes.function],
  [Escape, SemanticTokenTypes.macro],
]);

function typeOf(token: ListingToken): TokenType | undefined {
  const own = TYPES.get(token.tokenType);
  if (own !== undefined || token.tokenType === Foreign) return own;
  const kind = token.payload?.kind;
  if (kind === undefined) return undefined;
  if (kind === 'operator') return SemanticTokenTypes.operator;
  return kind === 'constant' ? SemanticTokenTypes.function : SemanticTokenTypes.keyword;
}

/** A token of the protocol stands on one line; bytes of a REM may go on over several. */
function withoutLineEnds({ start, end, type }: Painted, { positions }: Snapshot): Painted[] {
  const last = positions.lineOf(end);
  const pieces: Painted[] = [];
  for (let line = positions.lineOf(start); line <= last; line++) {
    pieces.push({
      type,
      start: Math.max(start, positions.startOfLine(line)),
      end: Math.min(end, positions.endOfLine(line)),
    });
  }
  return pieces;
}
