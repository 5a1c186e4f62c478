// Valid: LET S=0, and long names in a program that has no letter left.
// Not valid: LET SCORE=0, which stores five characters wherever the score is meant.

import { count } from '../../listing/print.js';
import { hasSpaces, nameUses } from '../name-uses.js';
import type { LintContext, Rule } from '../rule.js';

export const longName: Rule = {
  name: 'long-name',
  kind: 'memory',
  severity: 'note',
  summary: 'a variable whose name has more than one letter',
  page: 'Every letter of a name is a byte, in each place where it stands and once more in the variable. The fix gives the variable the first letter of its name if that is free, else another free one, everywhere. It is not offered where a `VAL` of unknown text, or a variable saved with the program, may mean the name.',
  fixes: true,
  check(context, report) {
    const free = freeLetters(context);
    for (const variable of context.program.names.all.values()) {
      const { name } = variable;
      if (name.length < 2 || /[$(]/.test(name)) continue;
      const places = nameUses(variable);
      // Without the spaces in it first, which `spare-space` tells.
      if (places.length === 0 || places.some(({ node }) => hasSpaces(node))) continue;
      const letter = free.has(name[0]) ? name[0] : [...free][0];
      const bytes = places.length * (name.length - 1);
      const safe = letter !== undefined && mayRename(context, name, places);
      if (letter !== undefined && safe) free.delete(letter);
      report(places[0].node, {
        message: `${name} stands ${count(places.length, 'time')}: a name of one letter saves ${count(bytes, 'byte')}, and ${name.length - 1} more in the variable`,
        why: 'every letter of a name is a byte wherever it stands',
        help:
          letter === undefined ? 'no letter is free: one must be used for two things' : undefined,
        bytes,
        fix: safe
          ? {
              what: `${name} becomes ${letter}`,
              edits: places.map(({ node }) => ({ start: node.start, end: node.end, text: letter })),
            }
          : undefined,
      });
    }
  },
};

/** Letters that name neither a number nor an array of numbers, nor a saved variable. */
function freeLetters({ program }: LintContext): Set<string> {
  const free = new Set('ABCDEFGHIJKLMNOPQRSTUVWXYZ');
  for (const name of program.names.all.keys())
    if (!name.includes('$')) free.delete(name.replace('()', ''));
  for (const { name } of program.saved) free.delete(name);
  return free;
}

function mayRename(
  context: LintContext,
  name: string,
  places: readonly { step: Parameters<LintContext['mayChange']>[0]; inText: boolean }[],
): boolean {
  const { program } = context;
  if (program.names.unknownReads.length > 0) return false;
  if (program.saved.some((variable) => variable.name === name)) return false;
  return places.every(({ step, inText }) => !inText && context.mayChange(step));
}
