/** What is wrong with a listing, and where it could save memory, as the protocol's diagnostics. */
import { type Diagnostic, DiagnosticSeverity, DiagnosticTag } from 'vscode-languageserver-types';
import type { Finding } from '../../lint/rule.js';
import type { Severity } from '../../listing/diagnostics.js';
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
  'spare-brackets',
]);

/** Errors of reading, or else what the linter finds, in the order of the text. */
export function findings(snapshot: Snapshot, options: FindingsOptions = {}): Diagnostic[] {
  const found = allFindings(snapshot);
  return found.map((finding) => {
    const shown: Diagnostic = {
      range: snapshot.positions.rangeOf(finding),
      severity: isSaving(finding) ? DiagnosticSeverity.Hint : SEVERITIES[finding.severity],
      code: finding.rule,
      source: SOURCE,
      message: messageOf(finding),
    };
    if (UNNECESSARY.has(finding.rule)) shown.tags = [DiagnosticTag.Unnecessary];
    if (snapshot.lint !== undefined && options.rulesPage !== undefined) {
      shown.codeDescription = { href: `${options.rulesPage}#${finding.rule}` };
    }
    return shown;
  });
}

/** The same, as the library has them. */
export function allFindings(
  snapshot: Snapshot,
): readonly (Finding | Snapshot['diagnostics'][number])[] {
  const { lint, diagnostics } = snapshot;
  if (lint === undefined) return diagnostics;
  return [...diagnostics, ...lint.findings].sort((a, b) => a.start - b.start || a.end - b.end);
}

const isSaving = (finding: Partial<Finding>): boolean =>
  finding.bytes !== undefined && finding.severity === 'note';

function messageOf({
  message,
  why,
  help,
}: Pick<Finding, 'message' | 'why' | 'help'> | Snapshot['diagnostics'][number]): string {
  const rest = [why && `why: ${why}`, help && `do: ${help}`].filter(Boolean);
  return [message, ...rest].join('\n');
}
