/** `ON n GOTO a,b,c` and `ON n GOSUB a,b,c`. */
import { bracketed } from '../../listing/slices.js';
import { CERTAINTY } from '../certainties.js';
import { digitsLike, LIKE_DIGITS, shapeOf } from '../readings/look-alike.js';
import { isFleeting, splitCommas } from './parts.js';

/** `ON ERROR`, `ON KEY` and their like wait for something: that is no choice by a number. */
const ON = new RegExp(
  `^[O0]N\\b(?!\\s*(?:ERROR|ERR|BREAK|KEY|TIMER|STOP|INTERRUPT)\\b)\\s*(.+?)\\s*\\bG[O0] ?(T[O0]|[S5]UB)\\b\\s*([${LIKE_DIGITS}\\s,]+)$`,
  'i',
);

/** The lines of the program, and a variable that nothing else uses. */
export interface Around {
  readonly numbers: ReadonlySet<number>;
  readonly spare?: string;
}

/**
 * The statements that do the same, and how sure that is; undefined where it is none. A number in
 * which letters were printed for digits is read where there is a line of that number.
 */
export function rewriteOn(
  text: string,
  { numbers, spare }: Around,
): { lines: string[]; certainty: number } | undefined {
  const match = ON.exec(text);
  if (match === null) return undefined;
  const printed = splitCommas(match[3]);
  const targets = printed.map((number) => Number(digitsLike(number)));
  if (targets.some((target, at) => !(target > 0 && /\d/.test(printed[at])))) return undefined;
  const isLed = targets.every((target, at) => numbers.has(target) || /^\d+$/.test(printed[at]));
  const lines = jumpsTo(targets, shapeOf(match[2]) === 'TO' ? 'GOTO' : 'GOSUB', match[1], spare);
  return lines && { lines, certainty: isLed ? CERTAINTY.sameInProgram : CERTAINTY.offer };
}

/** Where the value is no place in the list, the program goes on with the next statement. */
function jumpsTo(
  targets: readonly number[],
  word: 'GOTO' | 'GOSUB',
  on: string,
  spare: string | undefined,
): string[] | undefined {
  let value = on;
  const before: string[] = [];
  if (isFleeting(value)) {
    if (spare === undefined) return undefined;
    before.push(`LET ${spare}=${value}`);
    value = spare;
  }
  const whole = `INT ${bracketed(value)}`;
  if (targets.length === 1) return [...before, `IF ${whole}=1 THEN ${word} ${targets[0]}`];
  const chosen = bracketed(value);
  const within = `${chosen}>=1 AND ${chosen}<${targets.length + 1}`;
  const step = targets[1] - targets[0];
  const even = step > 0 && targets.every((target, at) => target === targets[0] + at * step);
  if (even) {
    const first = targets[0] - step;
    const offset = first === 0 ? '' : first > 0 ? `${first}+` : `-${-first}+`;
    return [...before, `IF ${within} THEN ${word} ${offset}${step}*${whole}`];
  }
  // A jump leaves the chain; from a call the program would come back into it.
  if (word === 'GOTO')
    return [...before, ...targets.map((target, at) => `IF ${whole}=${at + 1} THEN GOTO ${target}`)];
  const sum = targets.map((target, at) => `(${target} AND ${whole}=${at + 1})`).join('+');
  return [...before, `IF ${within} THEN GOSUB ${sum}`];
}
