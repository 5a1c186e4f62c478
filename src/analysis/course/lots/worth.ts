/** Where it pays to tell lots apart. */
import type { Flow } from '../../flow.js';
import { linesBefore } from '../alive.js';
import type { Course } from '../known.js';

/**
 * For each line: can the machine come from there to a moment that takes more than `room` bytes, before
 * the display is cleared? `course`: what is known with all lots together.
 */
export function worthTelling(flow: Flow, course: Course, room: number): readonly boolean[] {
  const worth = flow.steps.map(() => false);
  const before = linesBefore(flow);
  const waiting: number[] = [];
  const add = (index: number): void => {
    if (worth[index]) return;
    worth[index] = true;
    waiting.push(index);
  };
  course.together.forEach((moment, index) => {
    if (moment !== undefined && moment.bytes > room) add(index);
  });
  for (let index = waiting.pop(); index !== undefined; index = waiting.pop()) {
    for (const from of before[index]) {
      const { statement, conditions } = flow.steps[from];
      if (statement?.kind !== 'CLS' || conditions.length > 0) add(from);
    }
  }
  return worth;
}
