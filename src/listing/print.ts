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
