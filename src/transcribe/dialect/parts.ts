/** Pieces of statements: lists with brackets and strings in them, and names that are still free. */
import { matchesOutside } from '../page/text-spans.js';

/** Parts a text at commas outside brackets and strings; the parts without white space at their ends. */
export function splitCommas(text: string): string[] {
  const parts: string[] = [];
  let depth = 0;
  let from = 0;
  for (const { 0: sign, index } of matchesOutside(text, /[(),]/g)) {
    if (sign === '(') depth++;
    else if (sign === ')') depth--;
    else if (depth === 0) {
      parts.push(text.slice(from, index).trim());
      from = index + 1;
    }
  }
  parts.push(text.slice(from).trim());
  return parts;
}

/** The arguments that begin at `open`, and one past the bracket that closes them; -1 for none. */
export function argumentsAt(text: string, open: number): { parts: string[]; end: number } {
  let depth = 0;
  for (const { 0: sign, index } of matchesOutside(text, /[()]/g)) {
    if (index < open) continue;
    if (sign === '(') depth++;
    else if (depth-- === 0) return { parts: splitCommas(text.slice(open, index)), end: index + 1 };
  }
  return { parts: [], end: -1 };
}

/** Does each working out give another value, or do something? Then it may stand only once. */
export const isFleeting = (text: string): boolean => /\b(?:RND|USR|INKEY)\b/i.test(text);

/** A letter that names neither a number nor a string, nor an array, anywhere; undefined for none. */
export function freeLetter(bodies: readonly string[], liked: string): string | undefined {
  const used = new Set<string>();
  for (const body of bodies) {
    for (const { 0: letter } of matchesOutside(body, /(?<![A-Z0-9])[A-Z](?![A-Z0-9])/gi))
      used.add(letter.toUpperCase());
  }
  return [...liked, ...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'].find((letter) => !used.has(letter));
}
