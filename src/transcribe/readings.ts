/**
 * The readings of one printed statement, likeliest first. The text is taken apart into runs of
 * letters and digits and what stands between them; each run has its own few readings (as it stands,
 * other characters of the same shape, words run together, a misspelt keyword), each with a cost in
 * natural logarithms of its odds. They are tried together in the order of their sums, and those
 * that are statements are kept, each with what it disagrees in with the rest of the program.
 */
import { KEYWORD_TABLE, keyword } from '../../grammar/keywords.js';
import { endOfString } from '../../grammar/lexer.js';
import { wordDistance } from '../listing/explain.js';
import { costOfReading, costOfWord, digitLike, shapeOf } from './look-alike.js';
import { JOINT_CLOSED, JOINT_OPEN } from './page.js';
import { parseText } from './parsing.js';
import { disagreement, namesIn, type ProgramNames } from './program.js';

export interface Reading {
  readonly text: string;
  readonly cost: number;
  /** What each changed run was and became. */
  readonly edits: readonly Edit[];
}

export interface Edit {
  /** Where it stands in the printed text. */
  readonly start: number;
  readonly end: number;
  readonly from: string;
  readonly to: string;
}

/** Costs beside those of look-alike characters. */
const LOST_SPACE = 2.5;
const MISSPELT = 6;
const UNKNOWN_NAME = 7;
const UNKNOWN_IN_A_PART = 4;
/** `Z00`, `I6389`: nobody calls a variable that. */
const NUMBER_AS_NAME = 14;
const LOST_QUOTE = 5;
const DIGIT_IN_WORD = 7.5;
const COMMA_AS_STOP = 4.5;
const OTHER_SIGN = 4.5;
/** Readings of one run that are kept, attempts for one line, and how far beyond the best to look. */
const MOST_OF_A_RUN = 10;
const MOST_ATTEMPTS = 500;
const FEWEST_ATTEMPTS = 20;
/** For all lines of a page together. */
export const ATTEMPTS_OF_A_PAGE = 50_000;
const BEYOND = 7;

interface Way {
  readonly text: string;
  readonly cost: number;
}

interface Piece {
  readonly start: number;
  readonly end: number;
  readonly ways: readonly Way[];
}

const BY_SHAPE = new Map<string, string[]>();
for (const { word } of KEYWORD_TABLE) {
  if (!/^[A-Z]/.test(word)) continue;
  const shape = shapeOf(word);
  BY_SHAPE.set(shape, [...(BY_SHAPE.get(shape) ?? []), word]);
}

export interface LineContext {
  readonly names: ProgramNames;
  readonly capitals: boolean;
  /** Attempts that are left for the whole page: a page of nonsense must end too. */
  readonly attempts: { left: number };
}

/** All readings that are statements, best first; none where none was found within the bounds. */
export function readingsOf(printed: string, context: LineContext): Reading[] {
  const pieces = piecesOf(printed, context);
  const found: Reading[] = [];
  const seen = new Set<string>();
  const queue: { chosen: number[]; cost: number }[] = [];
  const tried = new Set<string>();
  const push = (chosen: number[]): void => {
    const key = chosen.join(',');
    if (tried.has(key)) return;
    tried.add(key);
    const cost = chosen.reduce((sum, way, index) => sum + pieces[index].ways[way].cost, 0);
    let at = queue.length;
    while (at > 0 && queue[at - 1].cost < cost) at--;
    queue.splice(at, 0, { chosen, cost });
  };
  push(pieces.map(() => 0));
  let best = Number.POSITIVE_INFINITY;
  const { attempts } = context;
  const most = Math.min(MOST_ATTEMPTS, Math.max(FEWEST_ATTEMPTS, attempts.left / 50));
  for (let attempt = 0; attempt < most && queue.length > 0; attempt++) {
    attempts.left--;
    const { chosen, cost } = queue.pop()!;
    if (cost > best + BEYOND) break;
    const { text, places } = joined(pieces, chosen);
    const { statement, failedAt } = parseText(text);
    if (statement !== undefined && !seen.has(text)) {
      seen.add(text);
      const total = cost + disagreement(statement, context.names) + unknownLoop(statement, context);
      best = Math.min(best, total);
      found.push({ text, cost: total, edits: editsOf(printed, pieces, chosen) });
    }
    pieces.forEach((piece, index) => {
      // What stands behind the place of failure cannot mend it.
      if (chosen[index] + 1 >= piece.ways.length || places[index] > failedAt) return;
      const next = [...chosen];
      next[index]++;
      push(next);
    });
  }
  return found.sort((a, b) => a.cost - b.cost).filter(({ cost }) => cost <= best + BEYOND);
}

function unknownLoop(statement: Parameters<typeof namesIn>[0], context: LineContext): number {
  // An array element of a name that no DIM gives: as odd as an unknown name.
  let cost = 0;
  for (const name of namesIn(statement).used) {
    if (name.endsWith('(') && !context.names.isKnown(name, false)) cost += 2;
  }
  return cost;
}

function joined(
  pieces: readonly Piece[],
  chosen: readonly number[],
): { text: string; places: number[] } {
  let text = '';
  const places: number[] = [];
  pieces.forEach((piece, index) => {
    places.push(text.length);
    text += piece.ways[chosen[index]].text;
  });
  return { text, places };
}

function editsOf(printed: string, pieces: readonly Piece[], chosen: readonly number[]): Edit[] {
  return pieces.flatMap(({ start, end, ways }, index) => {
    const from = printed.slice(start, end);
    const to = ways[chosen[index]].text;
    return from === to ? [] : [{ start, end, from, to }];
  });
}

// ───────────────────────────────── a line to pieces ─────────────────────────────────

/** Letters and digits; a number in E form takes its sign and power with it. */
const RUN = /[A-Za-z0-9$|!.\uFDD0\uFDD1]+(?:(?<=[0-9OoIl|SBZG.]E)[+-]\d+)?/y;

function piecesOf(printed: string, context: LineContext): Piece[] {
  const pieces: Piece[] = [];
  const names = ownNames(printed);
  const add = (start: number, end: number, ways?: readonly Way[]): number => {
    const plain = [{ text: printed.slice(start, end), cost: 0 }];
    pieces.push({ start, end, ways: ways === undefined || ways.length === 0 ? plain : ways });
    return end;
  };
  for (let at = 0; at < printed.length; ) {
    const character = printed[at];
    if (character === '"') {
      const end = endOfString(printed, at);
      if (end > 0) at = add(at, end);
      else {
        const rest = printed.slice(at);
        at = add(at, printed.length, [
          { text: rest, cost: 0 },
          { text: `${rest}"`, cost: LOST_QUOTE },
        ]);
      }
      continue;
    }
    if (character === '[') {
      const close = printed.indexOf(']', at);
      at = add(at, close < 0 ? at + 1 : close + 1);
      continue;
    }
    RUN.lastIndex = at;
    const run = RUN.exec(printed)?.[0];
    if (run === undefined) {
      at = add(at, at + 1, waysOfSign(character));
      continue;
    }
    if (/^REM$/i.test(run)) {
      add(at, at + run.length);
      at = add(at + run.length, printed.length);
      continue;
    }
    at = add(at, at + run.length, waysOfRun(run, context, names));
  }
  return pieces;
}

function waysOfSign(sign: string): Way[] | undefined {
  if (sign === ':') return [{ text: ';', cost: OTHER_SIGN }];
  if (sign === '_') return [{ text: '-', cost: OTHER_SIGN }];
  if (sign === '{') return [{ text: '(', cost: 1 }];
  if (sign === '}') return [{ text: ')', cost: 1 }];
  return undefined;
}

/** Names that the line has as it stands: the program counts it among those that use them. */
function ownNames(printed: string): ReadonlySet<string> {
  const { statement } = parseText(printed.replace(JOINT_CLOSED, '').replace(JOINT_OPEN, ' '));
  return statement === undefined ? new Set() : namesIn(statement).used;
}

// ───────────────────────────────── the readings of a run ─────────────────────────────────

interface Partial {
  readonly text: string;
  readonly cost: number;
  /** What the last part is: names and numbers need something between them. */
  readonly last: 'none' | 'word' | 'value' | 'sign';
  /** Did two rows meet behind it, with a space between them or without one? */
  readonly joint?: 'open' | 'closed';
}

function waysOfRun(run: string, context: LineContext, own: ReadonlySet<string>): Way[] {
  const ways = new Map<string, number>();
  const keep = (text: string, cost: number): void => {
    if (cost < (ways.get(text) ?? Number.POSITIVE_INFINITY)) ways.set(text, cost);
  };
  for (const { text, cost } of parted(run, context, own)) keep(text, cost);
  if (/^[A-Za-z][A-Za-z0-9]*\$?$/.test(run)) keepMisspelt(run, keep);
  if (ways.size === 0) keep(run.replace(JOINT_CLOSED, '').replace(JOINT_OPEN, ' '), 9);
  return [...ways]
    .map(([text, cost]) => ({ text, cost }))
    .sort((a, b) => a.cost - b.cost)
    .slice(0, MOST_OF_A_RUN);
}

function keepMisspelt(run: string, keep: (text: string, cost: number) => void): void {
  const upper = run.toUpperCase();
  // A word that has a keyword's very shape is that keyword, and no other misspelt.
  if (upper.length < 3 || BY_SHAPE.has(shapeOf(upper))) return;
  const most = upper.length < 6 ? 1 : 2;
  for (const { word } of KEYWORD_TABLE) {
    if (!/^[A-Z]/.test(word) || word.length < 3) continue;
    const distance = wordDistance(shapeOf(upper), shapeOf(word), most);
    if (distance > 0 && distance <= most) keep(word, MISSPELT + 2 * (distance - 1));
  }
}

/** Takes a run apart into keywords, numbers, names and signs in every way that makes sense. */
function parted(run: string, context: LineContext, own: ReadonlySet<string>): Way[] {
  const reached: Partial[][] = Array.from({ length: run.length + 1 }, () => []);
  reached[0].push({ text: '', cost: 0, last: 'none' });
  for (let at = 0; at < run.length; at++) {
    const from = trimmed(reached[at]);
    if (from.length === 0) continue;
    if (run[at] === JOINT_CLOSED || run[at] === JOINT_OPEN) {
      const joint = run[at] === JOINT_OPEN ? 'open' : 'closed';
      reached[at + 1].push(...from.map((partial): Partial => ({ ...partial, joint })));
      continue;
    }
    for (const step of stepsFrom(run, at, context, own)) {
      for (const partial of from) {
        const between = gap(partial, step.last);
        if (between === undefined) continue;
        const text = partial.text + (between.space ? ' ' : '') + step.text;
        const cost = partial.cost + between.cost + step.cost;
        reached[step.end].push({ text, cost, last: step.last });
      }
    }
  }
  return trimmed(reached[run.length]).map(({ text, cost }) => ({ text, cost }));
}

/** The best few of the ways to reach a place, each text and ending once. */
function trimmed(partials: readonly Partial[]): Partial[] {
  const best = new Map<string, Partial>();
  for (const partial of partials) {
    const key = `${partial.text}/${partial.last}/${partial.joint}`;
    const other = best.get(key);
    if (other === undefined || partial.cost < other.cost) best.set(key, partial);
  }
  return [...best.values()].sort((a, b) => a.cost - b.cost).slice(0, MOST_OF_A_RUN * 2);
}

/** What stands between two parts, and its cost; undefined where they cannot stand side by side. */
function gap(
  before: Partial,
  after: Partial['last'],
): { cost: number; space: boolean } | undefined {
  if (before.last === 'none' || after === 'sign' || before.last === 'sign') {
    return { cost: 0, space: false };
  }
  // Two values side by side are no statement, whatever stands around them.
  if (before.last === 'value' && after === 'value') return undefined;
  return { cost: before.joint === 'open' ? 0 : LOST_SPACE, space: true };
}

interface Step extends Partial {
  readonly end: number;
}

const LONGEST_PART = 24;

function stepsFrom(
  run: string,
  at: number,
  context: LineContext,
  own: ReadonlySet<string>,
): Step[] {
  const steps: Step[] = [];
  const { capitals, names } = context;
  const add = (end: number, text: string, cost: number, last: Partial['last']): void => {
    if (Number.isFinite(cost)) steps.push({ end, text, cost, last });
  };
  const first = run[at];
  if (first === '+' || first === '-') add(at + 1, first, 0, 'sign');
  if (first === '.') add(at + 1, ',', COMMA_AS_STOP, 'sign');
  for (let end = at + 1; end <= Math.min(run.length, at + LONGEST_PART); end++) {
    const part = run.slice(at, end);
    const plain = withoutJoints(part);
    if (plain === undefined) continue;
    const { text, cost: jointCost } = plain;
    // A part never ends at a joint: the joint is then a part of its own.
    if (/[\uFDD0\uFDD1]$/.test(part)) continue;
    for (const word of BY_SHAPE.get(shapeOf(text)) ?? []) {
      const cost = costOfWord(text, word, capitals);
      add(end, cost === 0 ? text : word, cost + jointCost, 'word');
    }
    for (const name of names.alike(text)) {
      if (name.endsWith('(') || !isNameLike(name)) continue;
      const known =
        name === text.toUpperCase()
          ? knownCost(name, context, own)
          : names.isKnown(name, false) || names.isGiven(name)
            ? mixedCost(name, names)
            : 3;
      const cost = costOfWord(text, name, capitals) + known;
      add(end, name === text.toUpperCase() ? text : name, cost + jointCost, 'value');
    }
    for (const name of arrayNames(text, names)) {
      add(end, name, costOfWord(text, name, capitals) + jointCost, 'value');
    }
    const number = asNumber(text, capitals);
    if (number !== undefined) add(end, number.text, number.cost + jointCost, 'value');
    const standsAlone = end === run.length || /[-+.\uFDD0\uFDD1]/.test(run[end]);
    if (/^[A-Za-z][A-Za-z0-9]*\$?$/.test(text) && keyword(text.toUpperCase()) === undefined) {
      const unknown = names.alike(text).has(text.toUpperCase())
        ? Number.POSITIVE_INFINITY
        : nameCost(text, context) + (text.length > 1 && names.alike(text).size > 0 ? 2 : 0);
      const misprints = costOfWord(text, text.toUpperCase(), capitals);
      if (standsAlone || startsKeyword(run, end))
        add(end, text, unknown + misprints + jointCost, 'value');
    }
    // Small letters that are misprints: a name of their other readings, though nothing knows it.
    if (text.length === 1) {
      for (const meant of 'OILSBZG') {
        if (meant === text.toUpperCase() || shapeOf(text) !== shapeOf(meant)) continue;
        add(end, meant, costOfReading(text, meant, capitals) + nameCost(meant, context), 'value');
      }
    }
  }
  return steps;
}

const isNameLike = (name: string): boolean => keyword(name) === undefined;

/** A part without the marks where rows met, and what leaving a likely space out costs. */
function withoutJoints(part: string): { text: string; cost: number } | undefined {
  if (!/[\uFDD0\uFDD1]/.test(part)) return { text: part, cost: 0 };
  const open = part.includes(JOINT_OPEN);
  return { text: part.replace(/[\uFDD0\uFDD1]/g, ''), cost: open ? 2 : 0 };
}

/** Names of arrays that look like this one letter. */
function arrayNames(text: string, names: ProgramNames): string[] {
  if (text.length !== 1) return [];
  return [...names.alike(`${text}(`)]
    .map((name) => name.slice(0, -1))
    .filter((name) => !names.alike(name).has(name));
}

/** `SC0RE` where `SCORE` is known too: a digit between letters is the likelier misprint. */
function mixedCost(name: string, names: ProgramNames): number {
  if (!/[A-Z]\d+[A-Z]/.test(name)) return 0;
  return [...names.alike(name)].some((other) => !/[A-Z]\d+[A-Z]/.test(other)) ? DIGIT_IN_WORD : 0;
}

function nameCost(name: string, context: LineContext): number {
  if (context.names.isKnown(name.toUpperCase(), false)) return 0;
  const digits = name.replace(/E?\??$/, '');
  const looksLikeNumber = name.length > 1 && asNumber(digits, false) !== undefined;
  if (looksLikeNumber) return NUMBER_AS_NAME;
  return context.names.orphans > 0.25 ? UNKNOWN_IN_A_PART : UNKNOWN_NAME;
}

function knownCost(name: string, context: LineContext, own: ReadonlySet<string>): number {
  const { names } = context;
  if (names.isKnown(name, own.has(name)))
    return names.isGiven(name) || names.orphans > 0.25 ? 0 : 4;
  return nameCost(`${name}?`, context);
}

function asNumber(text: string, capitals: boolean): Way | undefined {
  if (/^(?:\d+\.?\d*|\.\d+)(?:E[+-]?\d+)?$/i.test(text)) return { text, cost: 0 };
  let digits = '';
  let cost = 0;
  for (const character of text) {
    const kept = character === '.' || (/^[Ee+-]$/.test(character) && digits !== '');
    const digit = kept ? character.toUpperCase() : digitLike(character);
    if (digit === undefined) return undefined;
    cost += kept ? 0 : costOfReading(character, digit, capitals);
    digits += digit;
  }
  return /^(?:\d+\.?\d*|\.\d+)(?:E[+-]?\d+)?$/.test(digits) ? { text: digits, cost } : undefined;
}

/** Does a keyword's shape begin here? There a name may end. */
function startsKeyword(run: string, at: number): boolean {
  for (let end = at + 2; end <= Math.min(run.length, at + 7); end++) {
    if (BY_SHAPE.has(shapeOf(run.slice(at, end)))) return true;
  }
  return false;
}
