/** What is wrong with a listing, and where it could save memory, as the protocol's diagnostics. */
import { type Diagnostic, DiagnosticSeverity, DiagnosticTag } from 'vscode-languageserver-types';
import type { Finding } from '../../lint/rule.js';
import { isSaving } from '../../lint/rules.js';
import type { Diagnostic as ReadingError, Severity } from '../../listing/diagnostics.js';
import { isShortOfRoom } from '../../memory/verdict.js';
import type { Snapshot } from '../snapshot.js';

export const SOURCE = 'listwright';

export interface FindingsOptions {
  /** Address of the page of rules: each finding links to its rule there. */
  readonly rulesPage?: string;
}

const SEVERITIES: Record<Severity, DiagnosticSeverity> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  note: DiagnosticSeverity.Information,
};

/** Rules about what has no use: an editor shows it faded. */
const UNNECESSARY = new Set([
  'unreachable-line',
  'unused-variable',
  'spare-digits',
  'spare-space',
  'spare-brackets',
]);

/**
 * Errors of reading, or else what the linter finds, in the order of the text. What only saves bytes
 * is told where the RAM is nearly used up; elsewhere it would hide the mistakes, and is left to
 * `fixes`.
 */
export function findings(snapshot: Snapshot, options: FindingsOptions = {}): Diagnostic[] {
  const { lintByNow: lint } = snapshot;
  const saves = lint !== undefined && isShortOfRoom(lint.budget.verdict);
  return allFindings(snapshot)
    .filter((finding) => saves || !isSaving(finding))
    .map((finding) => diagnosticOf(snapshot, finding, options));
}

/** A finding as the protocol has it. */
export function diagnosticOf(
  snapshot: Snapshot,
  finding: AnyFinding,
  { rulesPage }: FindingsOptions = {},
): Diagnostic {
  const shown: Diagnostic = {
    range: snapshot.positions.rangeOf(finding),
    severity: isSaving(finding) ? DiagnosticSeverity.Hint : SEVERITIES[finding.severity],
    code: finding.rule,
    source: SOURCE,
    message: messageOf(finding),
  };
  if (UNNECESSARY.has(finding.rule)) shown.tags = [DiagnosticTag.Unnecessary];
  if (snapshot.lintByNow !== undefined && rulesPage !== undefined) {
    shown.codeDescription = { href: `${rulesPage}#${finding.rule}` };
  }
  return shown;
}

/** An error of reading, or what the linter finds. */
export type AnyFinding = ReadingError & Partial<Finding>;

/** All of them, as the library has them. */
export function allFindings(snapshot: Snapshot): readonly AnyFinding[] {
  const { lintByNow: lint, diagnostics } = snapshot;
  if (lint === undefined) return diagnostics;
  return [...diagnostics, ...lint.findings].sort((a, b) => a.start - b.start || a.end - b.end);
}

function messageOf({ message, why, help }: AnyFinding): string {
  const rest = [why && `why: ${why}`, help && `do: ${help}`].filter(Boolean);
  return [message, ...rest].join('\n');
}
