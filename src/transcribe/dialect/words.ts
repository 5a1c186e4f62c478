/**
 * Statements of other dialects of BASIC, and what says the same on this machine. Each rewrite has a
 * certainty of its own: where two machines differ in more than the word, it is an offer.
 */
import { beginsStatement, beginsWithCommand } from '../page/commands.js';
import type { Mapped } from '../page/mapped.js';
import { textSpans } from '../page/text-spans.js';
import { parses } from '../readings/parsing.js';

export interface Rewrite {
  /** The statements that take the place of the one line, in order. */
  readonly statements: readonly Mapped[];
  readonly certainty: number;
  readonly why: readonly string[];
}

/** What READ takes from DATA, worked out over the whole program. */
export interface DataPlan {
  /** Statements of a READ line, by the line's index; undefined where a loop reads. */
  readonly assignments: ReadonlyMap<number, readonly string[]>;
  readonly certainty: number;
}

interface Draft {
  body: Mapped;
  certainty: number;
  readonly why: string[];
}

/** A rewrite of one line, or undefined where it holds nothing of another dialect. */
export function rewriteDialect(
  body: Mapped,
  number: number,
  next: number,
  data: readonly string[] | undefined,
  dataCertainty: number,
): Rewrite | undefined {
  if (parses(body.text)) return undefined;
  const parts = partStatements(body);
  const why: string[] = [];
  let certainty = 1;
  const statements: Mapped[] = [];
  let open: Mapped | undefined;
  for (const part of parts) {
    const draft: Draft = { body: part, certainty: 1, why: [] };
    rewriteWords(draft);
    certainty = Math.min(certainty, draft.certainty);
    why.push(...draft.why);
    // LOCATE and the PRINT that follows it are one statement here.
    const text = draft.body.text;
    if (open !== undefined && /^PRINT\b/i.test(text)) {
      statements[statements.length - 1] = open.concat(
        draft.body.slice(/^PRINT\s*/i.exec(text)![0].length),
      );
    } else statements.push(draft.body);
    open = draft.why.includes(LOCATE) ? statements.at(-1) : undefined;
  }
  if (data !== undefined) {
    statements.splice(
      0,
      statements.length,
      ...data.map((text) => body.replace(0, body.length, text)),
    );
    why.push('each READ is given its own value from the DATA lines');
    certainty = Math.min(certainty, dataCertainty);
  }
  const conditional = splitConditional(statements, number, next, why);
  if (conditional !== undefined) {
    certainty = Math.min(certainty, 0.9);
    statements.splice(0, statements.length, ...conditional);
  } else if (parts.length > 1) why.push('one statement a line');
  if (why.length === 0) return undefined;
  return { statements, certainty: parts.length > 1 ? Math.min(certainty, 0.95) : certainty, why };
}

// ───────────────────────────────── several statements a line ─────────────────────────────────

/** Parts a line at the colons between statements; the line as one where some part is none. */
function partStatements(body: Mapped): Mapped[] {
  const parts: Mapped[] = [];
  let from = 0;
  for (const { start, end, isText } of textSpans(body.text)) {
    if (isText) continue;
    for (let at = start; at < end; at++) {
      if (body.text[at] !== ':') continue;
      parts.push(trimmed(body.slice(from, at)));
      from = at + 1;
    }
  }
  parts.push(trimmed(body.slice(from)));
  const full = parts.filter(({ text }) => text !== '');
  return full.length > 0 && full.every(({ text }) => beginsStatement(text)) ? full : [body];
}

function trimmed(body: Mapped): Mapped {
  return body.slice(/^\s*/.exec(body.text)![0].length).trimEnd();
}

/**
 * IF with ELSE, and IF with several statements after THEN: jumps over what is not to be done. The
 * machine goes on at the next line where a target has no line of its own.
 */
function splitConditional(
  statements: readonly Mapped[],
  number: number,
  next: number,
  why: string[],
): Mapped[] | undefined {
  const at = statements.findIndex(({ text }) => /^IF\b/i.test(text));
  if (at < 0) return undefined;
  const match = /^IF\s*(.+?)\s*\bTHEN\b\s*(.*?)(?:\s*\bELSE\b\s*(.*))?$/i.exec(statements[at].text);
  if (match === null) return undefined;
  const [, condition, then, otherwise] = match;
  const rest = statements.slice(at + 1);
  if (otherwise === undefined && rest.length === 0) return undefined;
  const source = statements[at];
  const made = (text: string): Mapped => source.replace(0, source.length, text);
  const before = statements.slice(0, at);
  const step = numberStep(number, next, before.length + rest.length + 4);
  if (otherwise === undefined) {
    // IF c THEN a: b  becomes  IF NOT (c) THEN GOTO the next line / a / b
    const past = Number.isFinite(next) ? next : number + step * (before.length + rest.length + 2);
    why.push('what follows THEN hangs on the condition: a jump passes over it');
    return [...before, made(`IF NOT (${condition}) THEN GOTO ${past}`), made(jump(then)), ...rest];
  }
  why.push('ELSE becomes a second line');
  if (isJump(then))
    return [...before, made(`IF ${condition} THEN ${jump(then)}`), made(jump(otherwise)), ...rest];
  const first = number + step * (before.length + 3);
  const past = Number.isFinite(next) ? next : first + step * (rest.length + 1);
  return [
    ...before,
    made(`IF ${condition} THEN GOTO ${first}`),
    made(jump(otherwise)),
    ...rest,
    made(`GOTO ${past}`),
    made(jump(then)),
  ];
}

const isJump = (text: string): boolean => /^(?:\d+|GO ?TO\b.*|STOP|RETURN)$/i.test(text.trim());
const jump = (text: string): string =>
  /^\d+$/.test(text.trim()) ? `GOTO ${text.trim()}` : text.trim();

/** Numbers for the lines that one line becomes stand this far apart; 0 where there is no room. */
export function numberStep(number: number, next: number, count: number): number {
  const room = (Number.isFinite(next) ? next : number + 10 * count + 10) - number;
  const most = Math.floor((room - 1) / Math.max(1, count - 1));
  return [10, 5, 2, 1].find((step) => step <= most) ?? 0;
}

// ───────────────────────────────── words and functions ─────────────────────────────────

const LOCATE = 'LOCATE counts rows and columns from 1 on some machines: look at the screen';

interface Rule {
  readonly find: RegExp;
  readonly to: string | ((match: RegExpExecArray) => string);
  readonly certainty: number;
  readonly why: string;
}

const RULES: readonly Rule[] = [
  { find: /^\?\s*/, to: 'PRINT ', certainty: 0.97, why: '? is PRINT' },
  { find: /^['!]\s?/, to: 'REM ', certainty: 0.93, why: 'a remark is REM' },
  { find: /^HOME$/i, to: 'CLS', certainty: 0.95, why: 'HOME is CLS' },
  { find: /^END$/i, to: 'STOP', certainty: 0.95, why: 'END is STOP' },
  { find: /^RANDOMI[SZ]E\b/i, to: 'RAND', certainty: 0.95, why: 'the word is RAND here' },
  { find: /^CONTINUE$/i, to: 'CONT', certainty: 0.95, why: 'the word is CONT here' },
  { find: /[\^↑]/g, to: '**', certainty: 0.97, why: 'a power is **' },
  {
    find: /\bTHEN\s*(\d+)(?=\s*(?:$|ELSE))/gi,
    to: (match) => `THEN GOTO ${match[1]}`,
    certainty: 0.96,
    why: 'THEN takes a statement',
  },
  {
    find: /^GET\s+([A-Z]\$)$/i,
    to: (match) => `LET ${match[1]}=INKEY$`,
    certainty: 0.92,
    why: 'GET reads a key: INKEY$',
  },
  { find: /\bINKEY\b(?!\$)/gi, to: 'INKEY$', certainty: 0.93, why: 'the word is INKEY$' },
  {
    find: /^LOCATE\s*([^,]+),([^,]+)$/i,
    to: (match) => `PRINT AT ${match[1].trim()},${match[2].trim()};`,
    certainty: 0.75,
    why: LOCATE,
  },
  {
    find: /^PRINT\s*@\s*(\d+)\s*[,;]/i,
    to: (match) => `PRINT AT ${Math.floor(Number(match[1]) / 32)},${Number(match[1]) % 32};`,
    certainty: 0.8,
    why: 'PRINT @ counts places of the screen, by rows of 32',
  },
  {
    find: /\bAT\s*\(([^(),]+),([^(),]+)\)/gi,
    to: (match) => `AT ${match[1]},${match[2]}`,
    certainty: 0.92,
    why: 'AT takes no brackets',
  },
  { find: /\bSQRT\b/gi, to: 'SQR', certainty: 0.95, why: 'the word is SQR' },
  { find: /\b(?:ATAN|ARCTAN)\b/gi, to: 'ATN', certainty: 0.95, why: 'the word is ATN' },
  { find: /\bRND\s*\(\s*[01]\s*\)/gi, to: 'RND', certainty: 0.93, why: 'RND takes nothing' },
  {
    find: /\bRND\s*\(\s*(\d+)\s*\)/gi,
    to: (match) => `(INT (RND*${match[1]})+1)`,
    certainty: 0.8,
    why: 'RND gives a part of 1',
  },
  {
    find: /\bASC\s*(?=\()/gi,
    to: 'CODE ',
    certainty: 0.8,
    why: 'CODE gives the machine’s own codes',
  },
  {
    find: /\bLOG\s*(?=\()/gi,
    to: 'LN ',
    certainty: 0.85,
    why: 'LOG is the natural logarithm on most machines',
  },
  { find: /></g, to: '<>', certainty: 0.97, why: 'unequal is <>' },
  { find: /=</g, to: '<=', certainty: 0.97, why: 'at most is <=' },
  { find: /=>/g, to: '>=', certainty: 0.97, why: 'at least is >=' },
];

function rewriteWords(draft: Draft): void {
  for (const rule of RULES) applyRule(draft, rule);
  for (let guard = 0; guard < 20 && sliceFunction(draft); guard++);
  addLet(draft);
}

function applyRule(draft: Draft, rule: Rule): void {
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
  const to = sliceText(
    found[1].toUpperCase(),
    parts.map((part) => part.trim()),
  );
  if (to === undefined) return false;
  draft.body = draft.body.replace(found.index, end, to);
  draft.certainty = Math.min(draft.certainty, 0.93);
  draft.why.push(`${found[1].toUpperCase()}$ is a slice`);
  return true;
}

/** The arguments that begin at `open`, and one past the bracket that closes them; -1 for none. */
function argumentsAt(text: string, open: number): { parts: string[]; end: number } {
  const parts: string[] = [];
  let depth = 0;
  let inString = false;
  let from = open;
  for (let at = open; at < text.length; at++) {
    if (text[at] === '"') inString = !inString;
    if (inString) continue;
    if (text[at] === '(') depth++;
    else if (text[at] === ')' && depth-- === 0) {
      parts.push(text.slice(from, at));
      return { parts, end: at + 1 };
    } else if (text[at] === ',' && depth === 0) {
      parts.push(text.slice(from, at));
      from = at + 1;
    }
  }
  return { parts, end: -1 };
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

const bracketed = (text: string): string => (/^[A-Z0-9.]+$/i.test(text) ? text : `(${text})`);

/** `A=5` to `LET A=5`; not where a command's own letters run into the name. */
function addLet(draft: Draft): void {
  const { text } = draft.body;
  const match = /^([A-Z][A-Z0-9]*\$?)\s*(?:\([^=]*\))?\s*=/i.exec(text);
  if (match === null || beginsWithCommand(text) || !parses(`LET ${text}`)) return;
  draft.body = draft.body.replace(0, 0, 'LET ');
  draft.certainty = Math.min(draft.certainty, 0.95);
  draft.why.push('an assignment begins with LET');
}

// ───────────────────────────────── READ and DATA ─────────────────────────────────

/**
 * Assignments for every READ, where each is passed once: as many values as variables, no RESTORE,
 * and no loop around a READ. Gives no assignments where that is not so.
 */
export function planData(bodies: readonly string[]): DataPlan {
  const reads: { index: number; names: string[] }[] = [];
  const values: string[] = [];
  let depth = 0;
  let inLoop = false;
  let restores = false;
  bodies.forEach((body, index) => {
    if (/^FOR\b/i.test(body)) depth++;
    if (/^NEXT\b/i.test(body)) depth--;
    if (/^RESTORE\b/i.test(body)) restores = true;
    const read = /^READ\s+(.*)$/i.exec(body);
    if (read !== null) {
      inLoop ||= depth > 0;
      reads.push({ index, names: splitCommas(read[1]) });
    }
    const data = /^DATA\s+(.*)$/i.exec(body);
    if (data !== null) values.push(...splitCommas(data[1]));
  });
  const count = reads.reduce((sum, { names }) => sum + names.length, 0);
  const assignments = new Map<number, string[]>();
  if (inLoop || restores || count !== values.length || count === 0)
    return { assignments, certainty: 0 };
  for (const { index, names } of reads) {
    assignments.set(
      index,
      names.map((name) => {
        const value = values.shift()!;
        return `LET ${name}=${name.endsWith('$') && !value.startsWith('"') ? `"${value}"` : value}`;
      }),
    );
  }
  return { assignments, certainty: 0.92 };
}

/** How a READ in a loop can be written here: the values in a string, cut by a counter. */
export function dataString(bodies: readonly string[]): readonly string[] | undefined {
  const values = bodies.flatMap((body) => {
    const data = /^DATA\s+(.*)$/i.exec(body);
    return data === null ? [] : splitCommas(data[1]).map((value) => value.replace(/^"|"$/g, ''));
  });
  if (values.length === 0) return undefined;
  const width = Math.max(...values.map(({ length }) => length));
  const read =
    bodies.map((body) => /^READ\s+([A-Z][A-Z0-9]*\$?)/i.exec(body)?.[1]).find(Boolean) ?? 'X';
  const letters = [...'DQVWYZ'];
  const used = new Set(
    bodies
      .join(' ')
      .toUpperCase()
      .match(/\b[A-Z]\b\$?/g) ?? [],
  );
  const letter = letters.find((one) => !used.has(one) && !used.has(`${one}$`)) ?? 'D';
  const slice = `${letter}$(${letter} TO ${letter}+${width - 1})`;
  return [
    `LET ${letter}$="${values.map((value) => value.padEnd(width)).join('')}"`,
    `LET ${letter}=1`,
    `LET ${read}=${read.endsWith('$') ? '' : 'VAL '}${slice}`,
    `LET ${letter}=${letter}+${width}`,
  ];
}

function splitCommas(text: string): string[] {
  return (text.match(/"[^"]*"|[^,]+/g) ?? []).map((part) => part.trim());
}
