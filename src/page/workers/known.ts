/** What the page shows of a listing as it stands, in one message: all from the same snapshot. */
import { findings } from '../../editing/questions/findings.js';
import { TOKEN_TYPES, tokens } from '../../editing/questions/tokens.js';
import type { Snapshot } from '../../editing/snapshot.js';
import { charactersText } from '../../listing/print.js';
import { tapeName } from '../../listing/tape-name.js';
import { type VerdictKind, verdictText } from '../../memory/verdict.js';

export interface KnownArea {
  readonly area: string;
  readonly low: number;
  /** Null where nothing bounds it. */
  readonly high: number | null;
}

export interface Known {
  /** Name on tape. */
  readonly name: string;
  readonly lines: number;
  /** Undefined while the listing has errors. */
  readonly verdict?: { readonly kind: VerdictKind; readonly text: string };
  readonly areas: readonly KnownArea[];
  readonly ram: number;
  /** Bytes of each program line, by its row of the text, from 0. */
  readonly costs: readonly (readonly [row: number, bytes: number])[];
  /** Findings as the protocol has them. */
  readonly findings: ReturnType<typeof findings>;
  /** Semantic tokens, in the protocol's numbers. */
  readonly tokens: Uint32Array;
  /** What the types in them are called. */
  readonly tokenTypes: readonly string[];
}

export function knownOf(snapshot: Snapshot): Known {
  const { listing, positions, lintByNow } = snapshot;
  const budget = lintByNow?.budget;
  const bytes = new Map(budget?.lines.map((line) => [line.number, line.bytes]));
  return {
    name: charactersText(tapeName(listing, ''), false),
    lines: listing.lines.length,
    verdict: budget && { kind: budget.verdict.kind, text: verdictText(budget.verdict) },
    areas: (budget?.areas ?? []).map(({ area, low, high }) => {
      return { area, low, high: Number.isFinite(high) ? high : null };
    }),
    ram: budget?.ram ?? 0,
    costs: listing.lines.flatMap(({ number, start }) => {
      const size = bytes.get(number);
      return size === undefined ? [] : [[positions.lineOf(start), size] as const];
    }),
    findings: findings(snapshot),
    tokens: Uint32Array.from(tokens(snapshot).data),
    tokenTypes: TOKEN_TYPES,
  };
}
