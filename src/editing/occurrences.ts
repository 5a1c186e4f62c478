/**
 * Where each variable of a listing stands: set or read in a line, within the text of a VAL, saved
 * by a `.var`. Lines with an error are looked at word by word, so that nothing that is only half
 * typed is forgotten.
 */
import { tokensOf } from '../../grammar/lexer.js';
import { isName, OpenBracket, StringName } from '../../grammar/tokens.js';
import type { Line, Span } from '../../grammar/tree.js';
import { baseVariable } from '../../grammar/visit.js';
import { type Name, nameOfVariable } from '../analysis/names.js';
import { nearestKeywords } from '../listing/explain.js';
import { charactersText } from '../listing/print.js';
import { grouped } from '../listing/search.js';
import { sharedName } from '../machine/variables.js';
import { onceFor, type Snapshot } from './snapshot.js';

export interface Occurrence extends Span {
  readonly name: Name;
  readonly role: 'set' | 'read' | 'saved';
  /** Undefined in a `.var`. */
  readonly line?: Line;
}

export interface Occurrences {
  /** In the order of the text, by the name under which the machine keeps a variable. */
  readonly byName: ReadonlyMap<Name, readonly Occurrence[]>;
  /** Names that stand in a VAL's text whose characters do not stand in the listing as they are. */
  readonly hidden: ReadonlySet<Name>;
}

/** The occurrences of every variable. */
export const occurrencesOf = onceFor((snapshot): Occurrences => new Collector(snapshot).collect());

/** The variable that stands at an offset, or ends right there. */
export function occurrenceAt(snapshot: Snapshot, offset: number): Occurrence | undefined {
  const item = snapshot.itemAt(offset);
  if (item === undefined) return undefined;
  let touching: Occurrence | undefined;
  for (const occurrences of occurrencesOf(snapshot).byName.values()) {
    for (const occurrence of occurrences) {
      if (offset < occurrence.start || offset > occurrence.end) continue;
      if (offset < occurrence.end) return occurrence;
      touching = occurrence;
    }
  }
  return touching;
}

const SAVED = /^\.var\s+([A-Z][A-Z0-9 ]*?\$?)\s*(?=[=(]|for\b)/i;
const SETTING_WORDS = new Set(['LET', 'INPUT', 'FOR', 'NEXT', 'DIM']);

class Collector {
  private readonly all: Occurrence[] = [];
  private readonly hidden = new Set<Name>();

  constructor(private readonly snapshot: Snapshot) {}

  collect(): Occurrences {
    const { listing, names } = this.snapshot;
    for (const variable of names.names.all.values()) {
      for (const { kind, step, target } of variable.settings) {
        // NEXT counts on what FOR has set.
        const base = baseVariable(target)!;
        const role = kind === 'NEXT' ? 'read' : 'set';
        this.add(variable.name, role, base.start, base.end, step.line);
      }
      for (const { node, step, inText } of variable.readings) {
        if (!inText) this.add(variable.name, 'read', node.start, node.end, step.line);
      }
    }
    this.collectTexts();
    for (const line of listing.lines) if (line.statement === undefined) this.collectWords(line);
    for (const item of listing.items) {
      if (item.kind !== 'var') continue;
      const match = SAVED.exec(this.snapshot.text.slice(item.start, item.end));
      if (match === null) continue;
      const start = item.start + match[0].indexOf(match[1], 4);
      this.add(sharedName(item.variable), 'saved', start, start + match[1].length);
    }
    return { byName: grouped(this.places(), ({ name }) => name), hidden: this.hidden };
  }

  private add(name: Name, role: Occurrence['role'], start: number, end: number, line?: Line): void {
    this.all.push({ name, role, start, end, line });
  }

  /** In their order. A slice that is set is a reading too: one place, and the setting is what counts. */
  private places(): Occurrence[] {
    return this.all
      .sort((a, b) => a.start - b.start || rank(a) - rank(b))
      .filter(
        ({ start, name }, at, { [at - 1]: last }) => last?.start !== start || last.name !== name,
      );
  }

  /** Names in the texts of VAL: at their places, where the text stands as it is stored. */
  private collectTexts(): void {
    for (const { node, step } of this.snapshot.names.uses) {
      if (node.kind !== 'call' || node.function !== 'VAL') continue;
      const { argument } = node;
      if (argument.kind !== 'string') continue;
      const text = charactersText(argument.codes, true);
      const start = argument.start + 1;
      const asStored = this.snapshot.text.slice(start, argument.end - 1).toUpperCase() === text;
      for (const { name, start: from, end: to } of namesIn(text)) {
        if (!asStored) this.hidden.add(name);
        else this.add(name, 'read', start + from, start + to, step.line);
      }
    }
  }

  private collectWords(line: Line): void {
    const words = this.snapshot.text.slice(line.start, line.end);
    for (const { name, start, end, before } of namesIn(words)) {
      if (this.isMisspelt(line.start + start, line.start + end)) continue;
      const role = before !== undefined && SETTING_WORDS.has(before) ? 'set' : 'read';
      this.add(name, role, line.start + start, line.start + end, line);
    }
  }

  /** Is what stands here no name, but what an error takes for a keyword that is spelt wrongly? */
  private isMisspelt(start: number, end: number): boolean {
    return this.snapshot.diagnostics.some(
      (one) =>
        one.start === start &&
        one.end === end &&
        one.rule !== 'let-missing' &&
        nearestKeywords(this.snapshot.text.slice(start, end)).length > 0,
    );
  }
}

const rank = ({ role }: Occurrence): number => (role === 'read' ? 1 : 0);

interface NameInText extends Span {
  readonly name: Name;
  /** The word or sign before it. */
  readonly before?: string;
}

/** The names in a piece of a statement, as words. */
function namesIn(text: string): NameInText[] {
  // A number before it makes it a line, which alone is read as a statement.
  const prefix = /^\s*\d/.test(text) ? '' : '1 ';
  const tokens = tokensOf(prefix + text);
  const found: NameInText[] = [];
  for (const [index, token] of tokens.entries()) {
    if (!isName(token)) continue;
    const subscripted = tokens[index + 1]?.tokenType === OpenBracket;
    const type = token.tokenType === StringName ? 'string' : 'number';
    const name = nameOfVariable(
      { kind: 'variable', type, name: token.image.toUpperCase(), start: 0, end: 0 },
      subscripted,
    );
    const start = token.startOffset - prefix.length;
    const end = token.end - prefix.length;
    found.push({ name, start, end, before: tokens[index - 1]?.image });
  }
  return found;
}
