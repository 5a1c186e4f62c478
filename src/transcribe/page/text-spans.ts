/** Where a statement holds text: in strings, and in a REM. */
import { endOfString } from '../../../grammar/lexer.js';

export interface TextSpan {
  readonly start: number;
  readonly end: number;
  readonly isText: boolean;
}

/** The parts of a statement: its strings' and REM's text, and what is neither. */
export function textSpans(text: string): TextSpan[] {
  const spans: TextSpan[] = [];
  let from = 0;
  const add = (start: number, end: number, isText: boolean): void => {
    if (end > start) spans.push({ start, end, isText });
  };
  const word = /[A-Za-z][A-Za-z0-9]*\$?/y;
  for (let at = 0; at < text.length; ) {
    if (text[at] === '"') {
      const end = endOfString(text, at);
      add(from, at + 1, false);
      from = end < 0 ? text.length : end - 1;
      add(at + 1, from, true);
      at = end < 0 ? text.length : end;
      continue;
    }
    word.lastIndex = at;
    const found = word.exec(text)?.[0];
    if (found === undefined) at++;
    else {
      at += found.length;
      if (!/^REM$/i.test(found)) continue;
      const start = at + (text[at] === ' ' ? 1 : 0);
      add(from, start, false);
      add(start, text.length, true);
      return spans;
    }
  }
  add(from, text.length, false);
  return spans;
}

/** Matches that begin outside strings and REM. The expression has the flag g. */
export function matchesOutside(text: string, find: RegExp): RegExpExecArray[] {
  // Most of what is looked for is in no statement: that is told soonest by a search.
  if (text.search(find) < 0) return [];
  const matches = [...text.matchAll(find)];
  const texts = textSpans(text).filter(({ isText }) => isText);
  let next = 0;
  return matches.filter(({ index }) => {
    while (next < texts.length && texts[next].end <= index) next++;
    return next >= texts.length || index < texts[next].start;
  });
}

const QUOTES = /["“”]/g;

/** How many quotes, straight or curly? */
export const quotesIn = (text: string): number => (text.match(QUOTES) ?? []).length;

export const isRemark = (text: string): boolean => /^\s*REM\b/i.test(text);
