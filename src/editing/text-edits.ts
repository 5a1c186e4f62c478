/** Changes of a text as the protocol's edits. */
import { diffLines } from 'diff';
import type { TextEdit } from 'vscode-languageserver-types';
import type { Span } from '../../grammar/tree.js';
import type { Snapshot } from './snapshot.js';

/** One change, given by offsets. */
export function textEdit(
  { positions }: Snapshot,
  edit: Span & { readonly text: string },
): TextEdit {
  return { range: positions.rangeOf(edit), newText: edit.text };
}

/** The lines that must change to give another text: the cursor and marks elsewhere stay put. */
export function editsBetween(snapshot: Snapshot, text: string): TextEdit[] {
  if (text === snapshot.text) return [];
  const edits: TextEdit[] = [];
  let at = 0;
  let open: { start: number; end: number; text: string } | undefined;
  const close = (): void => {
    if (open !== undefined) edits.push(textEdit(snapshot, open));
    open = undefined;
  };
  for (const { value, added, removed } of diffLines(snapshot.text, text)) {
    if (!added && !removed) {
      close();
      at += value.length;
      continue;
    }
    open ??= { start: at, end: at, text: '' };
    if (added) open.text += value;
    else {
      at += value.length;
      open.end = at;
    }
  }
  close();
  return edits;
}
