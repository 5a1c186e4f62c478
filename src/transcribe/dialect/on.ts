/** `ON n GOTO a,b,c` and `ON n GOSUB a,b,c`. */
import { bracketed, isFleeting, splitCommas } from './parts.js';

/** `ON ERROR`, `ON KEY` and their like wait for something: that is no choice by a number. */
const ON =
  /^ON\b(?!\s*(?:ERROR|ERR|BREAK|KEY|TIMER|STOP|INTERRUPT)\b)\s*(.+?)\s*\bGO ?(TO|SUB)\b\s*([\d\s,]+)$/i;

/**
 * The statements that do the same; undefined where it is none. `spare`: a variable that nothing
 * else uses. Where n is no place in the list, the program goes on with the next statement.
 */
export function rewriteOn(text: string, spare: string | undefined): string[] | undefined {
  const match = ON.exec(text);
  if (match === null) return undefined;
  const word = `GO${match[2].toUpperCase()}`;
  const targets = splitCommas(match[3]).map(Number);
  if (targets.some((target) => !(target > 0))) return undefined;
  let value = match[1];
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
