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

interface Rule {
  readonly find: RegExp;
  readonly to: string | ((match: RegExpExecArray) => string);
  readonly certainty: number;
  readonly why: string;
}

const RULES: readonly Rule[] = [
  { find: /^\?\s*/, to: 'PRINT ', certainty: CERTAINTY.sameSign, why: '? is PRINT' },
  { find: /^['!]\s?/, to: 'REM ', certainty: CERTAINTY.sameEffect, why: 'a remark is REM' },
  { find: /^HOME$/i, to: 'CLS', certainty: CERTAINTY.sameWord, why: 'HOME is CLS' },
  { find: /^END$/i, to: 'STOP', certainty: CERTAINTY.sameWord, why: 'END is STOP' },
  {
    find: /^RANDOMI[SZ]E\b/i,
    to: 'RAND',
    certainty: CERTAINTY.sameWord,
    why: 'the word is RAND here',
  },
  { find: /^CONTINUE$/i, to: 'CONT', certainty: CERTAINTY.sameWord, why: 'the word is CONT here' },
  { find: /[\^↑]/g, to: '**', certainty: CERTAINTY.sameSign, why: 'a power is **' },
  {
    find: /^GET\s+([A-Z]\$)$/i,
    to: (match) => `LET ${match[1]}=INKEY$`,
    certainty: CERTAINTY.sameInProgram,
    why: 'GET reads a key: INKEY$',
  },
  {
    find: /\bINKEY\b(?!\$)/gi,
    to: 'INKEY$',
    certainty: CERTAINTY.sameEffect,
    why: 'the word is INKEY$',
  },
  {
    find: /^LOCATE\s*([^,]+),([^,]+)$/i,
    to: (match) => `PRINT AT ${match[1].trim()},${match[2].trim()};`,
    certainty: CERTAINTY.screen,
    why: LOCATE,
  },
  {
    find: /^PRINT\s*@\s*(\d+)\s*[,;]/i,
    to: (match) => `PRINT AT ${Math.floor(Number(match[1]) / 32)},${Number(match[1]) % 32};`,
    certainty: CERTAINTY.differs,
    why: 'PRINT @ counts places of the screen, by rows of 32',
  },
  {
    find: /\bAT\s*\(([^(),]+),([^(),]+)\)/gi,
    to: (match) => `AT ${match[1]},${match[2]}`,
    certainty: CERTAINTY.sameInProgram,
    why: 'AT takes no brackets',
  },
  { find: /\bSQRT\b/gi, to: 'SQR', certainty: CERTAINTY.sameWord, why: 'the word is SQR' },
  {
    find: /\b(?:ATAN|ARCTAN)\b/gi,
    to: 'ATN',
    certainty: CERTAINTY.sameWord,
    why: 'the word is ATN',
  },
  {
    find: /\bRND\s*\(\s*[01]\s*\)/gi,
    to: 'RND',
    certainty: CERTAINTY.sameEffect,
    why: 'RND takes nothing',
  },
  {
    find: /\bRND\s*\(\s*(\d+)\s*\)/gi,
    to: (match) => `(INT (RND*${match[1]})+1)`,
    certainty: CERTAINTY.differs,
    why: 'RND gives a part of 1',
  },
  {
    find: /\bASC\s*(?=\()/gi,
    to: 'CODE ',
    certainty: CERTAINTY.differs,
    why: 'CODE gives the machine’s own codes',
  },
  {
    find: /\bLOG\s*(?=\()/gi,
    to: 'LN ',
    certainty: CERTAINTY.natural,
    why: 'LOG is the natural logarithm on most machines',
  },
  { find: /></g, to: '<>', certainty: CERTAINTY.sameSign, why: 'unequal is <>' },
  { find: /=</g, to: '<=', certainty: CERTAINTY.sameSign, why: 'at most is <=' },
  { find: /=>/g, to: '>=', certainty: CERTAINTY.sameSign, why: 'at least is >=' },
];

/** Rewrites the words of a statement, or of an expression alone. */
export function rewriteWords(draft: Draft, isStatement = true): void {
  for (const rule of RULES) {
    if (isStatement || !rule.find.source.startsWith('^')) applyRule(draft, rule);
  }
  for (let guard = 0; guard < 20 && sliceFunction(draft); guard++);
  if (isStatement) addLet(draft);
}

function applyRule(draft: Draft, rule: Rule): void {
  // Most rules find nothing in most statements.
  if (draft.body.text.search(rule.find) < 0) return;
  const spans = textSpans(draft.body.text).filter(({ isText }) => isText);
  const flags = rule.find.flags.includes('g') ? rule.find.flags : `${rule.find.flags}g`;
  const matches = [...draft.body.text.matchAll(new RegExp(rule.find.source, flags))].reverse();
  for (const match of matches) {
    const at = match.index;
    if (spans.some(({ start, end }) => at >= start && at < end)) continue;
    const to = typeof rule.to === 'string' ? rule.to : rule.to(match as unknown as RegExpExecArray);
    draft.body = draft.body.replace(at, at + match[0].length, to);
    draft.certainty = Math.min(draft.certainty, rule.certainty);
    if (!draft.why.includes(rule.why)) draft.why.push(rule.why);
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
