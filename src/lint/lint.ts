/** The linter: a listing's mistakes, and where it takes more memory than it must. */
import type { Listing } from '../../grammar/tree.js';
import { single } from '../analysis/expression-ranges.js';
import { analyse, type Program } from '../analysis/program.js';
import type { Step } from '../analysis/steps.js';
import { NO_ROOM, ramOf } from '../image/build.js';
import type { ListingText } from '../listing/join-pieces.js';
import { firstIndex } from '../listing/search.js';
import { type Budget, budgetOfProgram } from '../memory/budget.js';
import type { Verdict } from '../memory/verdict.js';
import { readAllowances, type Silenced, silence } from './allowances.js';
import { deadLines } from './dead-lines.js';
import { helpByHand, savingOptions } from './room.js';
import type { Finding, LintContext, Rule } from './rule.js';
import { RULES } from './rules.js';
import { selfReadingOf } from './self-reading.js';

export interface LintOptions {
  /** RAM in bytes; default: the listing's own `.ram`, else 1K. */
  readonly ram?: number;
  /** Bytes that are loaded as they are, where that is not what the listing builds. */
  readonly image?: Uint8Array;
  /** Gives a verdict where the bounds of the budget leave it open, such as `settledVerdict`. */
  readonly settle?: (listing: Listing, budget: Budget) => Verdict;
}

export interface LintResult {
  /** In the order of the text. */
  readonly findings: readonly Finding[];
  /** What comments of the listing silence, with their reasons. */
  readonly silenced: readonly Silenced[];
  readonly budget: Budget;
}

/** The rule of comments that silence: it is no check of the program, and cannot be silenced. */
export const ALLOWANCE_RULE = 'lint-comment';

/**
 * Checks a listing that was read without errors. Takes time linear in the listing.
 */
export function lint(read: ListingText, options: LintOptions = {}): LintResult {
  return lintBy(RULES, read, options);
}

/** The same, by some rules only. */
export function lintBy(
  rules: readonly Rule[],
  { text, listing }: ListingText,
  options: LintOptions = {},
): LintResult {
  return lintAnalysed(text, analyse(listing), options, rules);
}

/** The same, of a listing that is analysed already. */
export function lintAnalysed(
  text: string,
  program: Program,
  options: LintOptions,
  rules = RULES,
): LintResult {
  const ram = ramOf(program.listing, options.ram);
  const bounds = budgetOfProgram(program, ram, options.image);
  const verdict = options.settle?.(program.listing, bounds) ?? bounds.verdict;
  const budget = { ...bounds, verdict };
  const selfReading = selfReadingOf(program, budget);
  const mayChange = ({ index }: Step): boolean =>
    selfReading.addresses[index] > selfReading.highest;
  const context: LintContext = {
    text,
    program,
    budget,
    ram,
    selfReading,
    constant: (node) => single(program.ranges.number(node)),
    mayChange,
    fixIn: (step, fix) => (mayChange(step) ? fix : undefined),
  };
  const found: Finding[] = [];
  for (const { name, severity, check } of rules) {
    check(context, ({ start, end }, finding) => {
      found.push({ severity, rule: name, start, end, ...finding });
    });
  }
  const sifted = sift(text, program.listing, withoutFalseStops(found, program));
  // Only of all rules together can it be said that none of them saves any more.
  if (rules !== RULES) return { ...sifted, budget };
  return { ...sifted, findings: withWhatHelps(sifted.findings, program, budget), budget };
}

/** A program that lacks room is not told to apply fixes of which none is left. */
function withWhatHelps(
  findings: readonly Finding[],
  program: Program,
  budget: Budget,
): readonly Finding[] {
  const lacks = findings.some(isLack);
  if (!lacks || savingOptions(findings, budget) !== undefined) return findings;
  const help = helpByHand(budget, program);
  return findings.map((finding) => (isLack(finding) ? { ...finding, help } : finding));
}

const isLack = ({ severity, rule }: Finding): boolean => severity === 'error' && rule === NO_ROOM;

/** What would stop the machine in a line that no run comes to stops nothing: it is a warning there. */
function withoutFalseStops(found: readonly Finding[], program: Program): readonly Finding[] {
  if (!found.some(isStop)) return found;
  const dead = deadLines(program);
  const lines = program.steps.filter(({ index }) => dead[index]).map(({ line }) => line);
  lines.sort((a, b) => a.start - b.start);
  const isDead = ({ start }: Finding): boolean =>
    lines[firstIndex(lines.length, (at) => lines[at].end > start)]?.start <= start;
  return found.map((finding) =>
    isStop(finding) && isDead(finding)
      ? {
          ...finding,
          severity: 'warning',
          why: `no run comes here yet; if one did: ${finding.why}`,
        }
      : finding,
  );
}

/** That there is no room is told of the whole program, wherever it is shown. */
const isStop = ({ severity, rule }: Finding): boolean => severity === 'error' && rule !== NO_ROOM;

/** Leaves out what comments silence, and adds what is wrong with these. */
function sift(text: string, listing: Listing, found: readonly Finding[]) {
  const complaints: Finding[] = [];
  const complain = (finding: Omit<Finding, 'rule' | 'severity'>): void => {
    complaints.push({ severity: 'warning', rule: ALLOWANCE_RULE, ...finding });
  };
  const names = new Set(RULES.map(({ name }) => name));
  const allowances = readAllowances(listing, text.length, names, complain);
  const { findings, silenced, unused } = silence(found, allowances);
  for (const { comment, rules } of unused) {
    complaints.push({
      severity: 'note',
      rule: ALLOWANCE_RULE,
      start: comment.start,
      end: comment.end,
      message: `this comment silences nothing: ${rules.join(', ')} has no finding here`,
      why: 'a comment that is no longer needed hides the next finding',
      help: 'delete it',
    });
  }
  const all = [...findings, ...complaints].sort((a, b) => a.start - b.start || a.end - b.end);
  return { findings: all, silenced };
}
