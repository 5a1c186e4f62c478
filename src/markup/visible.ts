/**
 * Text that may be shown: what would steer a terminal, or turn the order of what is read, stands
 * as its code, `[U+001B]`. Controls as in ISO/IEC 6429; marks of direction as in Unicode Standard
 * Annex 9, with the separators of lines and paragraphs and the code points that are no characters.
 */

/** Line feed and tab stay: they are layout. */
const STEERING =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what it is about
  /[\0-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufdd0-\ufdef\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

const hexOf = (character: string): string =>
  character.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0');
const codeText = (character: string): string => `[U+${hexOf(character)}]`;

/** Text of one line or more, safe to show. */
export function visible(text: string): string {
  return text.replace(STEERING, codeText);
}

/** Text that belongs on one line, such as a file's name: line feeds and tabs are codes too. */
export function visibleLine(text: string): string {
  return visible(text).replace(/[\n\t]/g, codeText);
}

/** JSON text that says the same, with those characters as escapes. */
export function visibleJson(json: string): string {
  return json.replace(STEERING, (character) => `\\u${hexOf(character)}`);
}
