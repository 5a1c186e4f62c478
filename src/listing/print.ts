/** How a listing and what is said of it are worded. */
export { charactersText, hexBytes, remText, statementText } from '../../grammar/detokenise.js';

/** The first row of a text, cut to so many characters. */
export function shortened(text: string, most: number): string {
  const characters = [...text.split('\n')[0]];
  return characters.length > most
    ? `${characters.slice(0, most - 1).join('')}…`
    : characters.join('');
}

/** `1 line`, `2 lines`. */
export function count(number: number, thing: string, things = `${thing}s`): string {
  return `${number} ${number === 1 ? thing : things}`;
}

/** Most items of a list that are shown unless all are asked for: a thousand would hide the first. */
export const MOST_SHOWN = 20;

/** The rows of a list, cut short unless all of it is asked for. */
export function shortList(
  rows: readonly string[],
  all = false,
  indent = '',
  most = MOST_SHOWN,
): string[] {
  if (all || rows.length <= most) return [...rows];
  const left = rows.length - most;
  return [...rows.slice(0, most), `${indent}and ${left} more; --all shows them`];
}
