/** What can be done about the findings in a range, or about the whole listing. */
import { type CodeAction, CodeActionKind, type Range } from 'vscode-languageserver-types';
import { fixListing } from '../../lint/fix.js';
import { RULES } from '../../lint/rules.js';
import type { Edit } from '../../listing/edits.js';
import { count } from '../../listing/print.js';
import { repairsOf } from '../repairs.js';
import type { Snapshot } from '../snapshot.js';
import { editsBetween, textEdit } from '../text-edits.js';
import { type AnyFinding, allFindings, diagnosticOf } from './findings.js';

/** Kinds of its own under the protocol's `source.fixAll`. */
export const FIX_ALL = `${CodeActionKind.SourceFixAll}.listwright`;
export const MAKE_FIT = `${CodeActionKind.SourceFixAll}.listwright.fit`;

const RULE_NAMES = new Set(RULES.map(({ name }) => name));

/**
 * The actions for a range: a fix for each finding that has one, leave to keep a finding here, and
 * what changes the whole listing. Only kinds that begin with one of `only`, where that is given.
 */
export function fixes(
  snapshot: Snapshot,
  uri: string,
  range: Range,
  only?: readonly string[],
): CodeAction[] {
  const wants = (kind: string): boolean =>
    only === undefined || only.some((asked) => kind === asked || kind.startsWith(`${asked}.`));
  const actions: CodeAction[] = [];
  if (wants(CodeActionKind.QuickFix)) {
    const { start, end } = snapshot.positions.spanOf(range);
    for (const finding of allFindings(snapshot)) {
      if (finding.end < start || finding.start > end) continue;
      actions.push(...actionsFor(snapshot, uri, finding));
    }
  }
  for (const kind of [FIX_ALL, MAKE_FIT]) {
    const offer = wants(kind) ? wholeOffer(snapshot, uri, kind) : undefined;
    if (offer !== undefined) actions.push(offer);
  }
  return actions;
}

/**
 * Fills in the edits of an offer for the whole listing, which take a while to work out. Gives
 * undefined where nothing would change.
 */
export function resolveFix(snapshot: Snapshot, action: CodeAction): CodeAction | undefined {
  const { uri, kind } = action.data as OfferData;
  const { ram, include } = snapshot.options;
  const untilFits = kind === MAKE_FIT;
  const fixed = fixListing(snapshot, { ram, include, untilFits });
  if (fixed.applied.length === 0) return undefined;
  return { ...action, edit: { changes: { [uri]: editsBetween(snapshot, fixed.text) } } };
}

/** What an offer keeps for `resolveFix`. */
interface OfferData {
  readonly uri: string;
  readonly kind: string;
}

function wholeOffer(
  { lintByNow: lint }: Snapshot,
  uri: string,
  kind: string,
): CodeAction | undefined {
  const fixable = lint?.findings.filter(({ fix }) => fix !== undefined) ?? [];
  if (lint === undefined || fixable.length === 0) return undefined;
  if (kind === MAKE_FIT && lint.budget.verdict.kind === 'runs') return undefined;
  const title =
    kind === MAKE_FIT
      ? 'Apply the fewest savings that make it fit'
      : `Apply all safe savings (${count(fixable.length, 'place')})`;
  return { title, kind, data: { uri, kind } satisfies OfferData };
}

function actionsFor(snapshot: Snapshot, uri: string, finding: AnyFinding): CodeAction[] {
  const { rule, severity, fix, bytes } = finding;
  const diagnostics = [diagnosticOf(snapshot, finding)];
  const actions: CodeAction[] = [];
  const offer = (title: string, edits: readonly Edit[], isPreferred?: boolean): void => {
    const changes = { [uri]: edits.map((edit) => textEdit(snapshot, edit)) };
    const kind = CodeActionKind.QuickFix;
    actions.push({ title, kind, diagnostics, isPreferred, edit: { changes } });
  };
  if (fix !== undefined) {
    const saving = bytes ? ` (saves ${count(bytes, 'byte')})` : '';
    offer(capitalised(fix.what) + saving, fix.edits, severity !== 'note');
  }
  if (severity === 'error' && snapshot.broken) {
    for (const repair of repairsOf(snapshot, finding)) offer(repair.what, [repair], true);
  }
  if (snapshot.lintByNow !== undefined && RULE_NAMES.has(rule)) {
    const at = startOfItem(snapshot, finding.start);
    const comment = { start: at, end: at, text: `' lint: allow ${rule} — \n` };
    offer(`Allow ${rule} here (write the reason)`, [comment]);
  }
  return actions;
}

/** A comment that allows something stands on a line of its own before what it is about. */
function startOfItem(snapshot: Snapshot, offset: number): number {
  const { positions } = snapshot;
  return positions.startOfLine(positions.lineOf(snapshot.itemAt(offset)?.start ?? offset));
}

const capitalised = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
