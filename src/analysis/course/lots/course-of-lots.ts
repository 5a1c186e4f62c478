/** The courses of a program with all that RND can draw told apart. */
import type { Flow } from '../../flow.js';
import type { Names } from '../../names.js';
import { courseOf } from '../course.js';
import { fullestOf } from '../fullest.js';
import type { Course } from '../known.js';
import { Drawing } from './drawing.js';
import { worthTelling } from './worth.js';

/** Values of SEED from all over its cycle. */
const SOME_SEEDS = Uint16Array.from({ length: 256 }, (_, at) => at * 40503);

/**
 * Follows a program where it may take more than `room` bytes by what is known with all lots together.
 * Some of the lots come first: where these take more, it is not worth while to look at all.
 */
export function courseOfLots(
  flow: Flow,
  longest: number,
  names: Names,
  room: number,
  course: Course,
): Course | undefined {
  const worth = worthTelling(flow, course, room);
  const some = courseOf(flow, longest, {
    lots: new Drawing(flow, names, worth, { seeds: SOME_SEEDS }),
  });
  if (!('sizes' in some)) return undefined;
  if (fullestOf(some.together).bytes > room) return undefined;
  const all = courseOf(flow, longest, { lots: new Drawing(flow, names, worth) });
  return 'sizes' in all ? all : undefined;
}
