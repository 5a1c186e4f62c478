/**
 * READ, DATA and RESTORE. Where the program shows that each READ is passed once, it becomes an
 * assignment; else the values stand in a string, and a variable says which of them is next.
 */
import { matchesOutside } from '../page/text-spans.js';
import { freeLetter, splitCommas } from './parts.js';

export interface DataPlan {
  /** Lines to be put before the first, which set the string and the variable. */
  readonly before: readonly string[];
  /** What takes the place of the next READ that stands in the program, or of one anywhere. */
  read(targets: readonly string[]): readonly string[];
  /** What takes the place of a RESTORE, to a line where one is given. */
  restore(line: number | undefined): readonly string[];
  readonly why: string;
}

interface Numbered {
  readonly number: number;
  readonly text: string;
}

interface Value {
  readonly text: string;
  readonly quoted: boolean;
  /** Of the DATA line that it stands in. */
  readonly line: number;
}

const READ = /\bREAD\b\s*([^:]*)/gi;
const DATA = /\bDATA\b/gi;

/** The plan for a program; undefined where it reads nothing, or does not show how. */
export function planData(lines: readonly Numbered[]): DataPlan | undefined {
  const values = lines.flatMap(valuesOf);
  const targets = lines.flatMap(({ text }) =>
    matchesOutside(text, READ).flatMap(([, list]) => splitCommas(list.split(/\bELSE\b/i)[0])),
  );
  if (values.length === 0 || targets.length === 0) return undefined;
  if (targets.some((target) => !/^[A-Z][A-Z0-9]*\$?(?:\(.+\))?$/i.test(target))) return undefined;
  const strings = targets.filter(isString).length;
  const texts = values.map(({ text, quoted }) => (text === '' && !quoted ? '0' : text));
  // Whether an empty value is 0 or no text depends on who reads it.
  if (strings > 0 && values.some(({ text, quoted }) => text === '' && !quoted)) return undefined;
  if (strings === 0 && !texts.every(isNumber)) return undefined;
  if (!texts.every((text) => /^[A-Z0-9 £$:?()<>=+\-*/;,.]*$/i.test(text))) return undefined;
  if (isPassedOnce(lines) && targets.length <= values.length)
    return assignments(targets, values, texts);
  return pointer(lines, values, texts, strings === 0);
}

const isString = (target: string): boolean => target.replace(/\(.*$/, '').endsWith('$');
const isNumber = (text: string): boolean =>
  /^[-+]?(?:\d+\.?\d*|\.\d+)(?:E[-+]?\d+)?$/i.test(text.replace(/\s/g, ''));

function valuesOf({ number, text }: Numbered): Value[] {
  const [data] = matchesOutside(text, DATA);
  if (data === undefined) return [];
  return splitCommas(listOf(text, data)).map((value) => {
    const quoted = /^"(.*)"$/.exec(value);
    return { text: quoted?.[1] ?? value, quoted: quoted !== null, line: number };
  });
}

/** What stands behind DATA, to the end of the statement. */
function listOf(text: string, { 0: word, index }: RegExpExecArray): string {
  const start = index + word.length;
  const end = matchesOutside(text, /:/g).find((colon) => colon.index > start)?.index;
  return text.slice(start, end);
}

/**
 * Is each READ passed exactly once? So it is where up to the last of them nothing jumps, calls,
 * comes again or hangs on a condition, and nothing behind goes back there.
 */
function isPassedOnce(lines: readonly Numbered[]): boolean {
  const reads = lines.filter(({ text }) => matchesOutside(text, READ).length > 0);
  const last = reads[reads.length - 1].number;
  let depth = 0;
  for (const { number, text } of lines) {
    const has = (find: RegExp): boolean => matchesOutside(text, find).length > 0;
    if (has(/\bRESTORE\b/gi)) return false;
    if (number <= last) {
      const reading = has(READ);
      if (has(/\b(?:GO ?TO|GO ?SUB|ON|RETURN|RUN|STOP|END|CLEAR)\b|\bTHEN\s*\d/gi)) return false;
      if (reading && (has(/\b(?:IF|FOR|NEXT)\b/gi) || depth > 0)) return false;
      depth += matchesOutside(text, /\bFOR\b/gi).length - matchesOutside(text, /\bNEXT\b/gi).length;
      continue;
    }
    const jumps = matchesOutside(
      text,
      /\b(?:GO ?TO|GO ?SUB|THEN|ELSE|RUN)\b\s*(?=([\d\s,]*)([^\s\d,:]?))/gi,
    );
    for (const [word, digits, more] of jumps) {
      const isWord = /^(?:THEN|ELSE)/i.test(word);
      // THEN and ELSE may be followed by a statement, RUN by nothing: it begins anew.
      if (digits.trim() === '') {
        if (!isWord && !(/^RUN/i.test(word) && more === '')) return false;
        continue;
      }
      if (/[-+*/]/.test(more)) return false;
      if (digits.split(',').some((target) => Number(target) <= last)) return false;
    }
  }
  return true;
}

function assignments(
  targets: readonly string[],
  values: readonly Value[],
  texts: readonly string[],
): DataPlan | undefined {
  const fits = targets.every(
    (target, at) => isString(target) || (!values[at].quoted && isNumber(texts[at])),
  );
  if (!fits) return undefined;
  let next = 0;
  return {
    before: [],
    read: (list) =>
      list.map((target) => {
        const text = texts[next++];
        return `LET ${target}=${isString(target) ? `"${text}"` : text}`;
      }),
    restore: () => [],
    why: 'each READ is passed once: it is given its own value from the DATA lines',
  };
}

function pointer(
  lines: readonly Numbered[],
  values: readonly Value[],
  texts: readonly string[],
  numbersOnly: boolean,
): DataPlan | undefined {
  const bodies = lines.map(({ text }) => text);
  // CLEAR, and RUN with a line, would take the string away.
  if (bodies.some((body) => matchesOutside(body, /\bCLEAR\b|\bRUN\s*\d/gi).length > 0))
    return undefined;
  const letter = freeLetter(bodies, 'DQVWYZ');
  if (letter === undefined) return undefined;
  const longest = Math.max(...texts.map(({ length }) => length));
  const even = texts.every(({ length }) => length === longest);
  const padding = texts.reduce((sum, { length }) => sum + longest - length, 0);
  const fixed = longest > 0 && (even || (numbersOnly && padding <= texts.length));
  if (longest > 99) return undefined;
  // Where the lengths differ, each value has its own before it, in one digit or two.
  const digits = fixed ? 0 : longest > 9 ? 2 : 1;
  const stored = texts.map((text) =>
    fixed ? text.padEnd(longest) : String(text.length).padStart(digits, '0') + text,
  );
  const name = `${letter}$`;
  const length = digits === 1 ? `VAL ${name}(${letter})` : `VAL ${name}(${letter} TO ${letter}+1)`;
  const slice = !fixed
    ? `${name}(${letter}+${digits} TO ${letter}+${digits === 1 ? '' : '1+'}${length})`
    : longest === 1
      ? `${name}(${letter})`
      : `${name}(${letter} TO ${letter}+${longest - 1})`;
  const step = fixed ? String(longest) : `${digits}+${length}`;
  const startOf = (line: number): number => {
    const at = values.findIndex((value) => value.line >= line);
    return 1 + stored.slice(0, at < 0 ? stored.length : at).join('').length;
  };
  return {
    before: [`LET ${name}="${stored.join('')}"`, `LET ${letter}=1`],
    read: (list) =>
      list.flatMap((target) => [
        `LET ${target}=${isString(target) ? '' : 'VAL '}${slice}`,
        `LET ${letter}=${letter}+${step}`,
      ]),
    restore: (line) => [`LET ${letter}=${line === undefined ? 1 : startOf(line)}`],
    why: `the values of the DATA lines stand in ${name}, and ${letter} says where the next one is`,
  };
}
