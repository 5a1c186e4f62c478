/** A new name for a variable, or a new number for a line with every jump to it. */
import type { Range, WorkspaceEdit } from 'vscode-languageserver-types';
import { isName, tokenOfWord } from '../../../grammar/tokens.js';
import type { Line } from '../../../grammar/tree.js';
import type { Name } from '../../analysis/names.js';
import { renumber } from '../../listing/renumber.js';
import { HIGHEST_LINE, LOWEST_LINE } from '../../machine/memory-map.js';
import { lineNumberSpan, lineTargetAt } from '../line-targets.js';
import { occurrenceAt, occurrencesOf } from '../occurrences.js';
import type { Snapshot } from '../snapshot.js';
import { textEdit } from '../text-edits.js';
import { lineNamedAt } from './navigation.js';

/** Something that cannot be renamed, or not so: the reason is for a person. */
export class CannotRename extends Error {}

export interface Renameable {
  readonly range: Range;
  readonly placeholder: string;
}

/** What a rename at this offset would change, or undefined where nothing has a name. */
export function prepareRename(snapshot: Snapshot, offset: number): Renameable | undefined {
  const { positions, text } = snapshot;
  const variable = occurrenceAt(snapshot, offset);
  if (variable !== undefined) {
    return {
      range: positions.rangeOf(variable),
      placeholder: text.slice(variable.start, variable.end),
    };
  }
  const line = lineNamedAt(snapshot, offset);
  if (line === undefined) return undefined;
  const target = lineTargetAt(snapshot, offset);
  if (target !== undefined && target.number !== line.number) return undefined;
  return {
    range: positions.rangeOf(target ?? lineNumberSpan(snapshot, line)),
    placeholder: String(line.number),
  };
}

/** The edits of a rename. Throws CannotRename with the reason where it would change the program. */
export function rename(
  snapshot: Snapshot,
  uri: string,
  offset: number,
  wanted: string,
): WorkspaceEdit | undefined {
  const variable = occurrenceAt(snapshot, offset);
  if (variable !== undefined) return renameVariable(snapshot, uri, variable.name, wanted.trim());
  const line = lineNamedAt(snapshot, offset);
  return line && renameLine(snapshot, uri, line, wanted.trim());
}

// ───────────────────────────────── variables ─────────────────────────────────

function renameVariable(
  snapshot: Snapshot,
  uri: string,
  name: Name,
  wanted: string,
): WorkspaceEdit {
  const isArray = name.endsWith('()');
  const next = wanted.toUpperCase().replaceAll(' ', '');
  checkShape(snapshot, name, next, wanted);
  const key: Name = isArray ? `${next}()` : next;
  if (key === name) return {};
  const { byName, hidden } = occurrencesOf(snapshot);
  const other = byName.get(key)?.[0];
  if (other !== undefined) {
    const where =
      other.line === undefined
        ? 'is saved with the program'
        : `stands in line ${other.line.number}`;
    throw new CannotRename(`${next} is another variable already: it ${where}`);
  }
  if (hidden.has(name)) {
    throw new CannotRename(
      `${name} also stands in the text of a VAL that is written with brackets: change that one by hand first`,
    );
  }
  const [unknown] = snapshot.program.names.unknownReads;
  if (unknown !== undefined) {
    throw new CannotRename(
      `VAL in line ${unknown.line.number} reads a text that only the run makes, and it may name ${name}`,
    );
  }
  const edits = byName
    .get(name)!
    .map(({ start, end }) => textEdit(snapshot, { start, end, text: next }));
  return { changes: { [uri]: edits } };
}

/** The manual, chapters 6, 10, 12 and 27, from memory: which names each kind of variable may have. */
function checkShape(snapshot: Snapshot, name: Name, next: string, wanted: string): void {
  const bare = name.replace('()', '');
  const isString = bare.endsWith('$');
  if (isString) {
    if (!/^[A-Z]\$$/.test(next))
      throw new CannotRename(`a string's name is one letter and $, not ${wanted}`);
    return;
  }
  if (!/^[A-Z][A-Z0-9]*$/.test(next)) {
    throw new CannotRename(
      `a name is a letter, then letters and digits, not ${wanted || 'nothing'}`,
    );
  }
  if (!isName(tokenOfWord(next, 0, next.length))) {
    throw new CannotRename(`${next} is a keyword`);
  }
  if (next.length === 1) return;
  if (name.endsWith('()')) throw new CannotRename("an array's name is one letter");
  const counts = snapshot.program.names.all
    .get(name)
    ?.settings.some(({ kind }) => kind === 'FOR' || kind === 'NEXT');
  if (counts) throw new CannotRename('the name of a FOR variable is one letter');
}

// ───────────────────────────────── lines ─────────────────────────────────

function renameLine(snapshot: Snapshot, uri: string, line: Line, wanted: string): WorkspaceEdit {
  const { listing, broken } = snapshot;
  const number = Number(wanted);
  if (!/^\d+$/.test(wanted) || number < LOWEST_LINE || number > HIGHEST_LINE) {
    throw new CannotRename(
      `a line number is ${LOWEST_LINE} to ${HIGHEST_LINE}, not ${wanted || 'nothing'}`,
    );
  }
  if (number === line.number) return {};
  if (broken)
    throw new CannotRename('the listing has errors: what names this line may stand in one of them');
  const { lines } = listing;
  const index = lines.indexOf(line);
  const [before, after] = [lines[index - 1], lines[index + 1]];
  if (before !== undefined && number <= before.number) {
    throw new CannotRename(`it would no longer stand behind line ${before.number}`);
  }
  if (after !== undefined && number >= after.number) {
    throw new CannotRename(`it would no longer stand before line ${after.number}`);
  }
  const computed = snapshot.program.flow.jumps.find(
    (jump) => jump.number === undefined && (jump.anywhere || jump.targets.includes(index)),
  );
  if (computed !== undefined) {
    throw new CannotRename(
      `the ${computed.kind} in line ${computed.step.line.number} is computed and may mean line ${line.number}`,
    );
  }
  const numbers = lines.map((one) => (one === line ? number : one.number));
  // The computed jumps that are left cannot mean this line.
  const { edits, diagnostics } = renumber(snapshot, { numbers, force: true });
  const stops = diagnostics.find(({ rule }) => rule !== 'computed-target');
  if (stops !== undefined) throw new CannotRename(stops.message);
  return { changes: { [uri]: edits.map((edit) => textEdit(snapshot, edit)) } };
}
