// Valid: a FOR loop that does something, and loops one after another that share a letter.
// Not valid: an empty FOR loop that only waits, or a second letter for a loop that stands apart.

import type { Loop } from '../../analysis/flow.js';
import type { Program } from '../../analysis/program.js';
import { count } from '../../listing/print.js';
import { lineSize } from '../../machine/image-layout.js';
import { FOR_VARIABLE_SIZE } from '../../machine/variables.js';
import type { Rule } from '../rule.js';

export const loopVariable: Rule = {
  name: 'loop-variable',
  kind: 'memory',
  severity: 'note',
  summary: 'a FOR variable of 18 bytes that a PAUSE or another loop’s letter would spare',
  page: 'The variable of a `FOR` takes 18 bytes for as long as the program runs. An empty loop that only waits is a `PAUSE` (mind that a key ends it). Loops that do not stand within one another can share one letter.',
  check({ program }, report) {
    const firstOf = new Map<string, Loop>();
    for (const loop of program.flow.loops) {
      const { start, end, variable } = loop;
      if (start.statement?.kind !== 'FOR') continue;
      if (
        end !== undefined &&
        end.index === start.index + 1 &&
        end.conditions.length === 0 &&
        isPrivate(program, variable, loop)
      ) {
        const bytes = lineSize(end.line) + FOR_VARIABLE_SIZE;
        report(start.statement, {
          message: `this loop only waits: PAUSE would save about ${count(bytes, 'byte')}`,
          why: `NEXT takes a line, and the variable ${FOR_VARIABLE_SIZE} bytes`,
          help: 'PAUSE 50 waits a second at 50 frames a second, or until a key is pressed',
          bytes,
        });
      }
      if (firstOf.has(variable) || end === undefined) continue;
      const shared = [...firstOf.values()].find((other) => standApart(program, loop, other));
      firstOf.set(variable, loop);
      if (shared === undefined) continue;
      report(start.statement, {
        message: `this loop could count with ${shared.variable}, which the loop at line ${shared.start.line.number} leaves free`,
        why: `each FOR variable takes ${FOR_VARIABLE_SIZE} bytes until the run ends`,
        bytes: FOR_VARIABLE_SIZE,
      });
    }
  },
};

/** Is the variable used in this loop alone? */
function isPrivate(program: Program, name: string, loop: Loop): boolean {
  const variable = program.names.all.get(name);
  const last = loop.last?.index ?? loop.start.index;
  const within = (index: number): boolean => index >= loop.start.index && index <= last;
  if (variable === undefined) return false;
  return (
    variable.readings.every(({ step }) => within(step.index)) &&
    variable.settings.every(({ step }) => within(step.index))
  );
}

/** Two loops, each with its variable to itself, of which neither holds the other or calls out. */
function standApart(program: Program, a: Loop, b: Loop): boolean {
  if (
    program.flow.open ||
    !isPrivate(program, a.variable, a) ||
    !isPrivate(program, b.variable, b)
  ) {
    return false;
  }
  const overlaps = a.start.index <= b.last!.index && b.start.index <= a.last!.index;
  return !overlaps && !callsOut(program, a) && !callsOut(program, b);
}

function callsOut({ flow }: Program, loop: Loop): boolean {
  for (let index = loop.start.index; index <= loop.last!.index; index++) {
    if (flow.calls[index].length > 0) return true;
  }
  return false;
}
