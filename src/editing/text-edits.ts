/** Changes of a text as the protocol's edits. */
import type { TextEdit } from 'vscode-languageserver-types';
import { changesBetween, rowsOf } from '../listing/changes.js';
import type { Edit } from '../listing/edits.js';
import type { Snapshot } from './snapshot.js';

/** One change, given by offsets. */
export function textEdit({ positions }: Snapshot, edit: Edit): TextEdit {
  return { range: positions.rangeOf(edit), newText: edit.text };
}

/** The lines that must change to give another text: the cursor and marks elsewhere stay put. */
export function editsBetween(snapshot: Snapshot, text: string): TextEdit[] {
  if (text === snapshot.text) return [];
  const [before, after] = [rowsOf(snapshot.text), rowsOf(text)];
  const starts = [0];
  for (const row of before) starts.push(starts.at(-1)! + row.length);
  return changesBetween(before, after).map((change) =>
    textEdit(snapshot, {
      start: starts[change.before.start],
      end: starts[change.before.end],
      text: after.slice(change.after.start, change.after.end).join(''),
    }),
  );
}
