/** What an editor writes behind the text: bytes of each line, and what an address is. */
import { type InlayHint, InlayHintKind, type Range } from 'vscode-languageserver-types';
import { lineSize } from '../../machine/image-layout.js';
import { systemVariableAt } from '../addresses.js';
import { isAddress } from '../literals.js';
import type { Snapshot } from '../snapshot.js';

/** The hints within a range. */
export function hints(snapshot: Snapshot, range: Range): InlayHint[] {
  const { positions, listing, program } = snapshot;
  const { start, end } = positions.spanOf(range);
  const found: InlayHint[] = [];
  for (const line of listing.lines) {
    if (line.end < start || line.start > end) continue;
    found.push({
      position: positions.positionAt(line.end),
      label: `${lineSize(line)} B`,
      paddingLeft: true,
      tooltip: line.hidden > 0 ? `${line.hidden} of them hidden behind its numbers` : undefined,
    });
  }
  for (const use of program.literals) {
    const { node } = use;
    if (node.end < start || node.start > end || !isAddress(use)) continue;
    const named = systemVariableAt(node.value);
    if (named === undefined) continue;
    found.push({
      position: positions.positionAt(node.end),
      label: named.label,
      kind: InlayHintKind.Type,
      paddingLeft: true,
      tooltip: named.does,
    });
  }
  return found;
}
