/** What following the courses of a program tells. */
import type { Line } from '../../../grammar/tree.js';
import type { Name } from '../names.js';
import { type FullestOfLines, lesserOf } from './fullest.js';

export interface Course {
  /** For each line the most that display rows, variables, workspace, calculator and both stacks take together. */
  readonly together: FullestOfLines;
  /** The same without the display, for a machine whose display is full from the start. */
  readonly besides: FullestOfLines;
  /** The most bytes of each variable. */
  readonly sizes: ReadonlyMap<Name, number>;
  /** What was let go so that the work came to an end; undefined where all was followed. */
  readonly undone?: Undone;
}

/** What was not followed and why, as a sentence without its point, and the line where it was given up. */
export interface Undone {
  readonly why: string;
  readonly line?: Line;
}

/** No course could be followed. */
export interface GivenUp {
  readonly undone: Undone;
}

/** What is known where a program was followed in two ways: each bound is the lesser. */
export function bothCourses(a: Course, b: Course): Course {
  const sizes = new Map(a.sizes);
  for (const [name, size] of b.sizes) sizes.set(name, Math.min(size, sizes.get(name) ?? Infinity));
  return {
    together: lesserOf(a.together, b.together),
    besides: lesserOf(a.besides, b.besides),
    sizes,
    undone: b.undone && (a.undone ?? b.undone),
  };
}

export function givenUp(why: string, line?: Line): GivenUp {
  return { undone: { why: `its ways were not followed: ${why}`, line } };
}
