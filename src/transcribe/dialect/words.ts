/**
 * Words and functions of other dialects of BASIC, and what says the same on this machine. Each has a
 * certainty of its own: where two machines differ in more than the word, it is an offer.
 */
import { sliceText } from '../../listing/slices.js';
import { CERTAINTY } from '../certainties.js';
import { beginsWithCommand } from '../page/commands.js';
import type { Mapped } from '../page/mapped.js';
import { matchesOutside } from '../page/text-spans.js';
import { parses } from '../readings/parsing.js';
import { argumentsAt } from './parts.js';

/** One statement on its way. */
export interface Draft {
  body: Mapped;
  certainty: number;
  readonly why: string[];
}

export const LOCATE = 'LOCATE counts rows and columns from 1 on some machines: look at the screen';

/** What is found (with the flag g), what stands in its place, how sure that is, and why. */
type Rule = readonly [
  find: RegExp,
  to: string | ((match: RegExpExecArray) => string),
  certainty: number,
  why: string,
];

const RULES: readonly Rule[] = [
  [/^\?\s*/g, 'PRINT ', CERTAINTY.sameSign, '? is PRINT'],
  [/^['!]\s?/g, 'REM ', CERTAINTY.sameEffect, 'a remark is REM'],
  [/^HOME$/gi, 'CLS', CERTAINTY.sameWord, 'HOME is CLS'],
  [/^END$/gi, 'STOP', CERTAINTY.sameWord, 'END is STOP'],
  [/^RANDOMI[SZ]E\b/gi, 'RAND', CERTAINTY.sameWord, 'the word is RAND here'],
  [/^CONTINUE$/gi, 'CONT', CERTAINTY.sameWord, 'the word is CONT here'],
  [/[\^↑]/g, '**', CERTAINTY.sameSign, 'a power is **'],
  [
    /^GET\s+([A-Z]\$)$/gi,
    (match) => `LET ${match[1]}=INKEY$`,
    CERTAINTY.sameInProgram,
    'GET reads a key: INKEY$',
  ],
  [/\bINKEY\b(?!\$)/gi, 'INKEY$', CERTAINTY.sameEffect, 'the word is INKEY$'],
  [
    /^LOCATE\s*([^,]+),([^,]+)$/gi,
    (match) => `PRINT AT ${match[1].trim()},${match[2].trim()};`,
    CERTAINTY.screen,
    LOCATE,
  ],
  [
    /^PRINT\s*@\s*(\d+)\s*[,;]/gi,
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
  for (const match of matchesOutside(draft.body.text, find).reverse()) {
    const text = typeof to === 'string' ? to : to(match);
    put(draft, match.index, match.index + match[0].length, text, certainty, why);
  }
}

function put(
  draft: Draft,
  start: number,
  end: number,
  text: string,
  certainty: number,
  why: string,
): void {
  draft.body = draft.body.replace(start, end, text);
  draft.certainty = Math.min(draft.certainty, certainty);
  if (!draft.why.includes(why)) draft.why.push(why);
}

/** MID$, LEFT$ and RIGHT$ to slices; true where one was found. */
function sliceFunction(draft: Draft): boolean {
  const { text } = draft.body;
  const [found] = matchesOutside(text, /\b(MID|LEFT|RIGHT)\$\s*\(/gi);
  if (found === undefined) return false;
  const open = found.index + found[0].length;
  const { parts, end } = argumentsAt(text, open);
  if (end < 0) return false;
  const kind = found[1].toUpperCase();
  const to = sliceText(kind, parts);
  if (to === undefined) return false;
  put(draft, found.index, end, to, CERTAINTY.sameEffect, `${kind}$ is a slice`);
  return true;
}

/** `A=5` to `LET A=5`; not where a command's own letters run into the name. */
function addLet(draft: Draft): void {
  const { text } = draft.body;
  const match = /^([A-Z][A-Z0-9]*\$?)\s*(?:\([^=]*\))?\s*=/i.exec(text);
  if (match === null || beginsWithCommand(text) || !parses(`LET ${text}`)) return;
  put(draft, 0, 0, 'LET ', CERTAINTY.sameWord, 'an assignment begins with LET');
}
