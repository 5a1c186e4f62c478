/** Applying fixes: all of them, or the fewest that make a program fit. */
import type { Include } from '../../grammar/text.js';
import type { Listing, Span } from '../../grammar/tree.js';
import { hasErrors } from '../listing/diagnostics.js';
import { applyEdits } from '../listing/edits.js';
import type { ListingText } from '../listing/join-pieces.js';
import { readListing } from '../listing/read.js';
import { firstIndex } from '../listing/search.js';
import { lineSize } from '../machine/image-layout.js';
import type { Budget } from '../memory/budget.js';
import { type LintOptions, lintBy } from './lint.js';
import { bytesOver, type Fixable, fixableFindings } from './room.js';
import type { Rule } from './rule.js';
import { RULES } from './rules.js';

export interface FixOptions extends LintOptions {
  /** Stop once the program fits, and apply the fewest fixes for that. */
  readonly untilFits?: boolean;
  /** Gives the bytes of files that REMs name, as for `readListing`. */
  readonly include?: Include;
}

export interface AppliedFix {
  readonly rule: string;
  readonly what: string;
  /** Number of the program line where it begins. */
  readonly line: number;
  readonly bytes: number;
}

export interface FixResult {
  readonly text: string;
  readonly applied: readonly AppliedFix[];
  /** Bytes by which the program became shorter. */
  readonly saved: number;
  readonly before: Budget;
  readonly after: Budget;
  /** Are there more to apply, which the last ones uncovered? Then fixing again goes on from here. */
  readonly isUnfinished: boolean;
}

/** A fix can uncover another; each round makes the listing shorter, and few are usually needed. */
const MOST_ROUNDS = 20;

/**
 * Applies the fixes of a listing that was read without errors. Never changes the numbers of its
 * lines. Throws Error if a fix breaks the listing or saves other than it claimed: a fault of a rule.
 */
export function fixListing(read: ListingText, options: FixOptions = {}): FixResult {
  return fixBy(RULES, read, options);
}

/** The same, by some rules only. */
export function fixBy(
  rules: readonly Rule[],
  read: ListingText,
  options: FixOptions = {},
): FixResult {
  let { text: now, listing: tree } = read;
  let result = lintBy(rules, read, options);
  const before = result.budget;
  const applied: AppliedFix[] = [];
  let isUnfinished = false;
  for (let round = 0; ; round++) {
    const candidates = fixableFindings(result.findings);
    const chosen = options.untilFits ? fewest(candidates, result.budget) : apart(candidates);
    isUnfinished = chosen.length > 0;
    if (!isUnfinished || round === MOST_ROUNDS) break;
    const next = applyEdits(
      now,
      chosen.flatMap(({ fix }) => fix.edits),
    );
    const bytes = chosen.reduce((sum, finding) => sum + finding.bytes, 0);
    const nextTree = readAgain(next, tree, bytes, options.include);
    applied.push(...chosen.map((finding) => appliedFix(finding, tree)));
    [now, tree] = [next, nextTree];
    result = lintBy(rules, { text: now, listing: tree }, options);
  }
  const saved = programBytes(read.listing) - programBytes(tree);
  return { text: now, applied, saved, before, after: result.budget, isUnfinished };
}

/** As many as do not touch one another, best-paying first. */
function apart(candidates: readonly Fixable[]): Fixable[] {
  const chosen: Fixable[] = [];
  const spans = new SpanSet();
  for (const finding of bestFirst(candidates)) {
    const { edits, claims = edits } = finding.fix;
    if (claims.some((span) => spans.touches(span))) continue;
    for (const span of claims) spans.add(span);
    chosen.push(finding);
  }
  return chosen;
}

function bestFirst(candidates: readonly Fixable[]): Fixable[] {
  return [...candidates].sort((a, b) => b.bytes - a.bytes || a.start - b.start);
}

/**
 * The best-paying that together save what is over. What a fix brings with it elsewhere, such as
 * workspace for VAL, shows in the next round.
 */
function fewest(candidates: readonly Fixable[], budget: Budget): Fixable[] {
  let over = bytesOver(budget);
  const chosen: Fixable[] = [];
  for (const finding of apart(candidates)) {
    if (over <= 0) break;
    chosen.push(finding);
    over -= finding.bytes;
  }
  // Where the last one alone would have done, a smaller one may do too: take the smallest that does.
  const last = chosen.at(-1);
  if (last === undefined) return chosen;
  const needed = over + last.bytes;
  const taken = new Set(chosen);
  const smaller = apart(candidates)
    .filter((finding) => !taken.has(finding) && finding.bytes >= needed)
    .at(-1);
  return smaller === undefined ? chosen : [...chosen.slice(0, -1), smaller];
}

/** Offsets that edits have taken, for looking up in time that does not grow with their number. */
class SpanSet {
  private readonly offsets = new Set<number>();

  touches({ start, end }: Span): boolean {
    for (let at = start; at <= end; at++) if (this.offsets.has(at)) return true;
    return false;
  }

  add({ start, end }: Span): void {
    for (let at = start; at <= end; at++) this.offsets.add(at);
  }
}

function readAgain(
  text: string,
  before: Listing,
  bytes: number,
  include: Include | undefined,
): Listing {
  const { listing, diagnostics } = readListing(text, { include });
  if (hasErrors(diagnostics)) {
    const { message } = diagnostics.find(({ severity }) => severity === 'error')!;
    throw new Error(`a fix broke the listing: ${message}`);
  }
  const saved = programBytes(before) - programBytes(listing);
  if (saved !== bytes) throw new Error(`fixes that claimed ${bytes} bytes saved ${saved}`);
  return listing;
}

function programBytes({ lines }: Listing): number {
  return lines.reduce((sum, line) => sum + lineSize(line), 0);
}

function appliedFix(finding: Fixable, { lines }: Listing): AppliedFix {
  const line = lines[firstIndex(lines.length, (index) => lines[index].end > finding.start)];
  return {
    rule: finding.rule,
    what: finding.fix.what,
    line: line !== undefined && finding.start >= line.start ? line.number : 0,
    bytes: finding.bytes,
  };
}
