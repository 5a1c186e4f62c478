/** What can be done about the findings in a range, or about the whole listing. */
import {
  type CodeAction,
  CodeActionKind,
  type Diagnostic,
  type Range,
  type TextEdit,
} from 'vscode-languageserver-types';
import { fixListing } from '../../lint/fix.js';
import type { Finding } from '../../lint/rule.js';
import { RULES } from '../../lint/rules.js';
import type { Diagnostic as ReadingError } from '../../listing/diagnostics.js';
import { count } from '../../listing/print.js';
import { repairsOf } from '../repairs.js';
import type { Snapshot } from '../snapshot.js';
import { editsBetween, textEdit } from '../text-edits.js';
import { allFindings, findings } from './findings.js';

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
    const shown = findings(snapshot);
    for (const [index, finding] of allFindings(snapshot).entries()) {
      if (finding.end < start || finding.start > end) continue;
      actions.push(...actionsFor(snapshot, uri, finding, shown[index]));
    }
  }
  // Asked for a kind: in full; asked for a place: as offers, which are worked out only if wanted.
  if (wants(FIX_ALL)) pushWhole(actions, snapshot, uri, FIX_ALL, 'Apply all safe savings', false);
  if (wants(MAKE_FIT)) {
    pushWhole(actions, snapshot, uri, MAKE_FIT, 'Apply the fewest savings that make it fit', true);
  }
  return actions;
}

function actionsFor(
  snapshot: Snapshot,
  uri: string,
  finding: ReadingError & Partial<Finding>,
  diagnostic: Diagnostic,
): CodeAction[] {
  const actions: CodeAction[] = [];
  const edit = (edits: TextEdit[]) => ({ changes: { [uri]: edits } });
  if (finding.fix !== undefined) {
    const { what, edits } = finding.fix;
    const saving = finding.bytes ? ` (saves ${count(finding.bytes, 'byte')})` : '';
    actions.push({
      title: capitalised(what) + saving,
      kind: CodeActionKind.QuickFix,
      diagnostics: [diagnostic],
      isPreferred: finding.severity !== 'note',
      edit: edit(edits.map((one) => textEdit(snapshot, one))),
    });
  }
  if (finding.severity === 'error' && snapshot.broken) {
    for (const repair of repairsOf(snapshot, finding)) {
      actions.push({
        title: repair.what,
        kind: CodeActionKind.QuickFix,
        diagnostics: [diagnostic],
        isPreferred: true,
        edit: edit([textEdit(snapshot, repair)]),
      });
    }
  }
  if (snapshot.lint !== undefined && RULE_NAMES.has(finding.rule)) {
    const at = startOfItem(snapshot, finding.start);
    actions.push({
      title: `Allow ${finding.rule} here (write the reason)`,
      kind: CodeActionKind.QuickFix,
      diagnostics: [diagnostic],
      edit: edit([
        textEdit(snapshot, { start: at, end: at, text: `' lint: allow ${finding.rule} — \n` }),
      ]),
    });
  }
  return actions;
}

function pushWhole(
  actions: CodeAction[],
  snapshot: Snapshot,
  uri: string,
  kind: string,
  title: string,
  untilFits: boolean,
): void {
  if (!snapshot.lint?.findings.some(({ fix }) => fix !== undefined)) return;
  const { ram, include } = snapshot.options;
  const fixed = fixListing(snapshot.text, snapshot.listing, { ram, include, untilFits });
  if (fixed.applied.length === 0) return;
  actions.push({
    title: `${title} (${count(fixed.saved, 'byte')}, ${count(fixed.applied.length, 'change')})`,
    kind,
    edit: { changes: { [uri]: editsBetween(snapshot, fixed.text) } },
  });
}

/** A comment that allows something stands on a line of its own before what it is about. */
function startOfItem(snapshot: Snapshot, offset: number): number {
  const { positions } = snapshot;
  return positions.startOfLine(positions.lineOf(snapshot.itemAt(offset)?.start ?? offset));
}

const capitalised = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
