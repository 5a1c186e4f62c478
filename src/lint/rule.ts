/** What a rule is, and what it finds. */
import type { Expression, Span } from '../../grammar/tree.js';
import type { Program } from '../analysis/program.js';
import type { Step } from '../analysis/steps.js';
import type { Diagnostic, Severity } from '../listing/diagnostics.js';
import type { Edit } from '../listing/edits.js';
import type { Budget } from '../memory/budget.js';
import type { SelfReading } from './self-reading.js';

/** `memory`: bytes that could be saved · `mistake`: what stops the program or does what nobody meant. */
type RuleKind = 'memory' | 'mistake';

/** A change to the listing's text that leaves alone what the program does. */
export interface Fix {
  /** What it does, in a few words. */
  readonly what: string;
  readonly edits: readonly Edit[];
  /** The text that has to stay as it is for this fix to hold; its edits alone unless given. */
  readonly claims?: readonly Span[];
}

export interface Finding extends Diagnostic {
  readonly why: string;
  /**
   * Bytes to be saved. Where there is a fix, exactly those by which it shortens the image; else a
   * careful estimate, which may also lie in the variables or the display.
   */
  readonly bytes?: number;
  readonly fix?: Fix;
}

/** What a rule is given. */
export interface LintContext {
  /** The listing's text, into which all offsets point. */
  readonly text: string;
  readonly program: Program;
  /** For the RAM in question. */
  readonly budget: Budget;
  readonly ram: number;
  readonly selfReading: SelfReading;
  /** The one value of an expression, where the listing tells it. */
  constant(node: Expression): number | undefined;
  /** May the bytes of this line change, and all behind them move? */
  mayChange(step: Step): boolean;
  /** A fix that changes this line; undefined where its bytes may not change. */
  fixIn(step: Step, fix: Fix): Fix | undefined;
}

/** Reports what was found at a place. */
export type Report = (
  at: Span,
  finding: Omit<Finding, 'rule' | 'severity' | keyof Span> & { readonly severity?: Severity },
) => void;

export interface Rule {
  /** Stable, in small letters with hyphens; comments that silence it name it. */
  readonly name: string;
  readonly kind: RuleKind;
  /** Of its findings, unless one says otherwise. */
  readonly severity: Severity;
  /** One line for the table of rules. */
  readonly summary: string;
  /** Its page: why it matters, and what to do, in a few sentences. */
  readonly page: string;
  /** Does it offer fixes? */
  readonly fixes?: boolean;
  check(context: LintContext, report: Report): void;
}
