/** Parts two lines that stand in one row. */
import { CERTAINTY } from '../certainties.js';
import { found } from '../note.js';
import { beginsWithCommand } from '../page/commands.js';
import { bare } from '../page/joints.js';
import { parses } from '../readings/parsing.js';
import { isLine, type Pass, type Work, type WorkItem, type WorkLine } from '../work.js';

export const splitRunTogether: Pass = (work) => {
  const items: WorkItem[] = [];
  const { lines } = work;
  let at = 0;
  for (const item of work.items) {
    items.push(item);
    if (!isLine(item)) continue;
    const next = lines[++at]?.number ?? Number.POSITIVE_INFINITY;
    let more = splitLine(work, item, next);
    for (; more !== undefined; more = splitLine(work, more, next)) items.push(more);
  }
  work.items = items;
};

/** Cuts a second line off this one where a number within it begins one; gives that line. */
function splitLine(work: Work, line: WorkLine, next: number): WorkLine | undefined {
  const { text } = line.body;
  const numbers = [...text.matchAll(/(?<=\s)(\d{1,4})\s+(?=[A-Z?])/gi)].filter(
    ({ 1: number }) => Number(number) > line.number && Number(number) < next,
  );
  if (numbers.length === 0 || parses(bare(text))) return undefined;
  for (const match of numbers) {
    const start = match.index + match[0].length;
    if (!beginsWithCommand(text.slice(start, start + 20))) continue;
    if (!work.effort.spend(match.index)) return undefined;
    if (!parses(bare(text.slice(0, match.index)))) continue;
    const to = `a line ${Number(match[1])} of its own`;
    const why = 'two lines stand in one row';
    const more = { kind: 'split', from: text, certainty: CERTAINTY.twoLinesInRow, why } as const;
    const note = found(line.body, match.index, text.length, to, more);
    if (!work.add(line, note).made) return undefined;
    const body = line.body.slice(start);
    line.body = line.body.slice(0, match.index).trimEnd();
    return { page: line.page, number: Number(match[1]), body, notes: [] };
  }
  return undefined;
}
