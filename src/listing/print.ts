/** How a listing and what is said of it are worded. */
export { charactersText, hexBytes, remText, statementText } from '../../grammar/detokenise.js';

/** `1 line`, `2 lines`. */
export function count(number: number, thing: string, things = `${thing}s`): string {
  return `${number} ${number === 1 ? thing : things}`;
}
