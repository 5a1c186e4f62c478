/** How the lines of a text end. */
import { MOST_CHARACTERS } from '../machine/program-limits.js';

/**
 * Carriage returns alone, as some editors end lines, count as line ends; offsets stay. A text that is
 * too large to be a listing stays as it is: to put millions of them in takes hundreds of megabytes.
 */
export function unifyLineEnds(text: string): string {
  if (text.length > MOST_CHARACTERS) return text;
  return text.includes('\r') && !text.includes('\n') ? text.replaceAll('\r', '\n') : text;
}
