/** Asks about single letters and digits that look alike where either would be a statement. */
import type { Statement } from '../../../grammar/tree.js';
import { baseVariable, type Node, visit } from '../../../grammar/visit.js';
import { CERTAINTY } from '../certainties.js';
import { found } from '../note.js';
import { textSpans } from '../page/text-spans.js';
import { digitsLike, shapeOf } from '../readings/look-alike.js';
import { disagreement, odditiesOf } from '../readings/oddities.js';
import { BASE, parses, parseText } from '../readings/parsing.js';
import type { ProgramNames } from '../readings/program.js';
import type { Pass, Work, WorkLine } from '../work.js';

/** A reading that disagrees by so much more than another is not asked about. */
const STRANGE = 2;

/** Another reading of one place. */
interface Doubt {
  readonly text: string;
  readonly other: string;
  readonly start: number;
  readonly end: number;
}

export const askLookAlikes: Pass = (work) => {
  if (!isDamaged(work)) return;
  for (const line of work.lines) {
    if (line.notes.some(({ made, kind }) => !made && kind !== 'text')) continue;
    if (work.effort.spend(line.body.length)) askOne(work, line);
  }
};

/** Did the page confuse characters anywhere? Then it may have done so where both make sense. */
export function isDamaged({ lines }: Work): boolean {
  return lines.some(({ notes }) =>
    notes.some(({ kind, from, to, candidates, certainty, made }) => {
      if (kind === 'number') return true;
      if (!made && certainty === CERTAINTY.unprovoked) return false;
      const [seen, meant] = [from, to || (candidates[0] ?? '')].map(withoutSpaces);
      if (kind === 'look-alike' || kind === 'word') return seen !== meant;
      return kind === 'text' && seen !== meant && shapeOf(seen) === shapeOf(meant);
    }),
  );
}

const withoutSpaces = (text: string): string => text.replace(/\s/g, '').toUpperCase();

function askOne(work: Work, line: WorkLine): void {
  const { names, effort } = work;
  const { text: whole } = line.body;
  const { statement } = parseText(whole);
  if (statement === undefined) return;
  const own = disagreement(statement, names);
  for (const { text, other, start, end } of [
    ...lookAlikes(statement, names),
    ...commas(whole, work),
  ]) {
    if (!effort.spend(whole.length)) return;
    const otherwise = parseText(whole.slice(0, start) + other + whole.slice(end)).statement;
    // `FOR I=I TO 9` is no doubt worth asking about.
    if (otherwise === undefined) continue;
    const stranger = disagreement(otherwise, names) - own;
    if (stranger >= STRANGE) continue;
    const against = odditiesOf(otherwise, names).at(-1)?.what;
    const reason =
      stranger > 0 && against !== undefined
        ? `with ${other}, ${against}`
        : `the print has ${text}, and nothing in the program speaks against it`;
    const note = found(line.body, start, end, text, {
      kind: 'look-alike',
      candidates: [text, other],
      certainty: CERTAINTY.open,
      why: `${text} and ${other} look alike, and this page has confused such characters: compare it with the print`,
      prefers: reason,
    });
    work.add(line, note);
  }
}

function lookAlikes(statement: Statement, names: ProgramNames): Doubt[] {
  const found: Doubt[] = [];
  const targets = new Set<unknown>();
  visit(statement, (node) => {
    const { kind } = node;
    if (kind === 'LET' || kind === 'INPUT' || kind === 'DIM')
      targets.add(baseVariable(node.target));
    if (kind === 'FOR' || kind === 'NEXT') targets.add(node.variable);
    if (kind === 'subscripted') targets.add(node.base);
    const other = otherReading(node, targets.has(node), names);
    if (other !== undefined) {
      found.push({ ...other, start: node.start - BASE, end: node.end - BASE });
    }
  });
  return found;
}

/** What else a number or a name may be by its shape, where the program knows that too. */
function otherReading(
  node: Node,
  isTarget: boolean,
  names: ProgramNames,
): { text: string; other: string } | undefined {
  if (node.kind === 'number') {
    const { text } = node;
    const other = [...names.alike(text)].find(
      (name) => /^[A-Z][A-Z0-9]*$/.test(name) && names.isGiven(name),
    );
    return other === undefined ? undefined : { text, other };
  }
  if (node.kind !== 'variable' || node.type !== 'number') return undefined;
  const { name } = node;
  const known = [...names.alike(name)].find((one) => one !== name);
  if (known !== undefined) return { text: name, other: known };
  const digits = digitsLike(name);
  return isTarget || digits === undefined ? undefined : { text: name, other: digits };
}

/** Full stops that may be commas: what stands around them is a statement either way. */
function commas(text: string, { effort }: Work): Doubt[] {
  const found: Doubt[] = [];
  for (const span of textSpans(text)) {
    if (span.isText) continue;
    for (const { 0: number, index } of text.slice(span.start, span.end).matchAll(/\d*\.\d*/g)) {
      if (!effort.spend(text.length)) return found;
      const start = span.start + index;
      const end = start + number.length;
      const other = number.replace('.', ',');
      if (parses(text.slice(0, start) + other + text.slice(end)))
        found.push({ text: number, other, start, end });
    }
  }
  return found;
}
