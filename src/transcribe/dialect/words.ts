/**
 * Words and functions of other dialects of BASIC, and what says the same on this machine. Each has a
 * certainty of its own: where two machines differ in more than the word, it is an offer.
 */
import { CERTAINTY } from '../certainties.js';
import { beginsWithCommand } from '../page/commands.js';
import type { Mapped } from '../page/mapped.js';
import { textSpans } from '../page/text-spans.js';
import { parses } from '../readings/parsing.js';
import { argumentsAt, bracketed } from './parts.js';

/** One statement on its way. */
export interface Draft {
  body: Mapped;
  certainty: number;
  readonly why: string[];
}

export const LOCATE = 'LOCATE counts rows and columns from 1 on some machines: look at the screen';

/** What is found, what stands in its place, how sure that is, and why. */
type Rule = readonly [
  find: RegExp,
  to: string | ((match: RegExpExecArray) => string),
  certainty: number,
  why: string,
];

const RULES: readonly Rule[] = [
  [/^\?\s*/, 'PRINT ', CERTAINTY.sameSign, '? is PRINT'],
  [/^['!]\s?/, 'REM ', CERTAINTY.sameEffect, 'a remark is REM'],
  [/^HOME$/i, 'CLS', CERTAINTY.sameWord, 'HOME is CLS'],
  [/^END$/i, 'STOP', CERTAINTY.sameWord, 'END is STOP'],
  [/^RANDOMI[SZ]E\b/i, 'RAND', CERTAINTY.sameWord, 'the word is RAND here'],
  [/^CONTINUE$/i, 'CONT', CERTAINTY.sameWord, 'the word is CONT here'],
  [/[\^↑]/g, '**', CERTAINTY.sameSign, 'a power is **'],
  [
    /^GET\s+([A-Z]\$)$/i,
    (match) => `LET ${match[1]}=INKEY$`,
    CERTAINTY.sameInProgram,
    'GET reads a key: INKEY$',
  ],
  [/\bINKEY\b(?!\$)/gi, 'INKEY$', CERTAINTY.sameEffect, 'the word is INKEY$'],
  [
    /^LOCATE\s*([^,]+),([^,]+)$/i,
    (match) => `PRINT AT ${match[1].trim()},${match[2].trim()};`,
    CERTAINTY.screen,
    LOCATE,
  ],
  [
    /^PRINT\s*@\s*(\d+)\s*[,;]/i,
    (match) => `PRINT AT ${Math.floor(Number(match[1]) / 32)},${Number(match[1]) % 32};`,
    CERTAINTY.differs,
    'PRINT @ counts places of the screen, by rows of 32',
  ],
  [
    /\bAT\s*\(([^(),]+),([^(),]+)\)/gi,
    (match) => `AT ${match[1]},${match[2]}`,
    CERTAINTY.sameInProgram,
    'AT takes no brackets',
  ],
  [/\bSQRT\b/gi, 'SQR', CERTAINTY.sameWord, 'the word is SQR'],
  [/\b(?:ATAN|ARCTAN)\b/gi, 'ATN', CERTAINTY.sameWord, 'the word is ATN'],
  [/\bRND\s*\(\s*[01]\s*\)/gi, 'RND', CERTAINTY.sameEffect, 'RND takes nothing'],
  [
    /\bRND\s*\(\s*(\d+)\s*\)/gi,
    (match) => `(INT (RND*${match[1]})+1)`,
    CERTAINTY.differs,
    'RND gives a part of 1',
  ],
  [/\bASC\s*(?=\()/gi, 'CODE ', CERTAINTY.differs, 'CODE gives the machine’s own codes'],
  [/\bLOG\s*(?=\()/gi, 'LN ', CERTAINTY.natural, 'LOG is the natural logarithm on most machines'],
  [/></g, '<>', CERTAINTY.sameSign, 'unequal is <>'],
  [/=</g, '<=', CERTAINTY.sameSign, 'at most is <='],
  [/=>/g, '>=', CERTAINTY.sameSign, 'at least is >='],
];

/** Rewrites the words of a statement, or of an expression alone. */
export function rewriteWords(draft: Draft, isStatement = true): void {
  for (const rule of RULES) {
    if (isStatement || !rule[0].source.startsWith('^')) applyRule(draft, rule);
  }
  for (let guard = 0; guard < 20 && sliceFunction(draft); guard++);
  if (isStatement) addLet(draft);
}

function applyRule(draft: Draft, [find, to, certainty, why]: Rule): void {
  // Most rules find nothing in most statements.
  if (draft.body.text.search(find) < 0) return;
  const spans = textSpans(draft.body.text).filter(({ isText }) => isText);
  const flags = find.flags.includes('g') ? find.flags : `${find.flags}g`;
  const matches = [...draft.body.text.matchAll(new RegExp(find.source, flags))].reverse();
  for (const match of matches) {
    const at = match.index;
    if (spans.some(({ start, end }) => at >= start && at < end)) continue;
    const put = typeof to === 'string' ? to : to(match as unknown as RegExpExecArray);
    draft.body = draft.body.replace(at, at + match[0].length, put);
    draft.certainty = Math.min(draft.certainty, certainty);
    if (!draft.why.includes(why)) draft.why.push(why);
  }
}

/** MID$, LEFT$ and RIGHT$ to slices; true where one was found. */
function sliceFunction(draft: Draft): boolean {
  const { text } = draft.body;
  const found = /\b(MID|LEFT|RIGHT)\$\s*\(/gi.exec(text);
  if (
    found === null ||
    textSpans(text).some(
      ({ start, end, isText }) => isText && found.index >= start && found.index < end,
    )
  )
    return false;
  const open = found.index + found[0].length;
  const { parts, end } = argumentsAt(text, open);
  if (end < 0) return false;
  const to = sliceText(found[1].toUpperCase(), parts);
  if (to === undefined) return false;
  draft.body = draft.body.replace(found.index, end, to);
  draft.certainty = Math.min(draft.certainty, CERTAINTY.sameEffect);
  draft.why.push(`${found[1].toUpperCase()}$ is a slice`);
  return true;
}

function sliceText(kind: string, [value, first, count]: readonly string[]): string | undefined {
  if (value === undefined || first === undefined) return undefined;
  const base = /^(?:[A-Z]\$(?:\([^()]*\))?|"[^"]*")$/i.test(value) ? value : `(${value})`;
  if (kind === 'LEFT') return `${base}( TO ${first})`;
  if (kind === 'RIGHT') {
    const from = /^\d+$/.test(first) ? `${-1 + Number(first)}` : undefined;
    return from === undefined
      ? `${base}(LEN ${base}-${bracketed(first)}+1 TO )`
      : `${base}(LEN ${base}${from === '0' ? '' : `-${from}`} TO )`;
  }
  if (count === undefined) return `${base}(${first} TO )`;
  const last =
    /^\d+$/.test(first) && /^\d+$/.test(count)
      ? String(Number(first) + Number(count) - 1)
      : count === '1'
        ? first
        : `${first}+${bracketed(count)}-1`;
  return last === first ? `${base}(${first})` : `${base}(${first} TO ${last})`;
}

/** `A=5` to `LET A=5`; not where a command's own letters run into the name. */
function addLet(draft: Draft): void {
  const { text } = draft.body;
  const match = /^([A-Z][A-Z0-9]*\$?)\s*(?:\([^=]*\))?\s*=/i.exec(text);
  if (match === null || beginsWithCommand(text) || !parses(`LET ${text}`)) return;
  draft.body = draft.body.replace(0, 0, 'LET ');
  draft.certainty = Math.min(draft.certainty, CERTAINTY.sameWord);
  draft.why.push('an assignment begins with LET');
}
