/** Directives that say a thing twice, or contradict one another. */
import type { Directive, Item, Problem } from '../../grammar/tree.js';
import { sharedName } from '../machine/variables.js';
import { kindOf } from './directive-text.js';

type Report = (problem: Problem) => void;

/**
 * Reports directives that say a thing twice or contradict one another.
 * Gives true when the lines are to be stored as they are written.
 */
export function checkDirectives(items: readonly Directive[], report: Report): boolean {
  const first = new Map<string, Item>();
  for (const item of items) {
    const key = saysOnce(item);
    if (key === undefined) continue;
    if (first.has(key)) {
      report({
        start: item.start,
        end: item.end,
        rule: 'directive',
        message: `.${key} is given twice`,
        help: 'leave one of them out',
      });
    } else first.set(key, item);
  }
  contradict(first, 'start', 'system NXTLIN', report);
  contradict(first, 'tv', 'system MARGIN', report);
  const rawDisplay = items.find((item) => kindOf(item) === 'raw display');
  if (rawDisplay !== undefined) {
    contradict(new Map([...first, ['raw display', rawDisplay]]), 'display', 'raw display', report);
  }
  return first.has('lines');
}

/** What a directive says that can be said once; undefined for what may come again. */
function saysOnce(item: Item): string | undefined {
  switch (item.kind) {
    case 'name':
    case 'ram':
    case 'tv':
    case 'start':
    case 'lines':
    case 'numbers':
    case 'display':
      return item.kind;
    case 'system':
      return `system ${item.name}`;
    case 'var':
      return `var ${sharedName(item.variable)}`;
  }
  return undefined;
}

function contradict(
  first: ReadonlyMap<string, Item>,
  one: string,
  other: string,
  report: Report,
): void {
  const [a, b] = [first.get(one), first.get(other)];
  if (a === undefined || b === undefined) return;
  const later = a.start > b.start ? a : b;
  report({
    start: later.start,
    end: later.end,
    rule: 'directive',
    message: `.${one} and .${other} say the same thing`,
    help: 'leave one of them out',
  });
}
