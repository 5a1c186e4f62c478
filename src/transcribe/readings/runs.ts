/**
 * The readings of one run of letters and digits: as it stands, other characters of the same shape,
 * words run together, a misspelt keyword. Each has a cost in natural logarithms of its odds.
 */
import { KEYWORD_TABLE, keyword } from '../../../grammar/keywords.js';
import { wordDistance } from '../../listing/explain.js';
import { grouped } from '../../listing/search.js';
import type { Effort } from '../effort.js';
import { bare, JOINT_CLOSED, JOINT_OPEN } from '../page/joints.js';
import {
  costOfReading,
  costOfWord,
  digitLike,
  isMisprint,
  LETTERS_LIKE_DIGITS,
  shapeOf,
} from './look-alike.js';
import type { ProgramNames } from './program.js';

export interface Way {
  readonly text: string;
  readonly cost: number;
}

export interface LineContext {
  readonly names: ProgramNames;
  readonly capitals: boolean;
  readonly effort: Effort;
}

/** Costs beside those of look-alike characters. */
const LOST_SPACE = 2.5;
const MISSPELT = 6;
const UNKNOWN_NAME = 7;
const UNKNOWN_IN_A_PART = 4;
/** A name that is used and never given a value, and one that looks like a known one. */
const NEVER_GIVEN = 4;
const LIKE_A_KNOWN_NAME = 2;
const SELDOM_KNOWN = 3;
/** `Z00`, `I6389`: nobody calls a variable that. */
const NUMBER_AS_NAME = 14;
const DIGIT_IN_WORD = 7.5;
const COMMA_AS_STOP = 4.5;
const SPACE_AT_JOINT = 2;
/** What cannot be taken apart stays as it stands. */
const NO_WAY = 9;

/** Readings of one run that are kept. */
const MOST_OF_A_RUN = 10;
/** A run of which every space was lost is not longer. */
const LONGEST_RUN = 250;
/** No keyword, name or number is longer. */
const LONGEST_PART = 24;
/** What looking for the parts at one place costs, for each way to reach it, held against parsing. */
const EFFORT_OF_A_PLACE = 8;

const WORDS = KEYWORD_TABLE.map(({ word }) => word).filter((word) => /^[A-Z]/.test(word));
const BY_SHAPE = grouped(WORDS, shapeOf);

/** Words that a run may be misspelt from, with their shapes. */
const SHAPED = WORDS.filter((word) => word.length > 2).map((word) => ({
  word,
  shape: shapeOf(word),
}));

interface Partial {
  readonly text: string;
  readonly cost: number;
  /** What the last part is: names and numbers need something between them. */
  readonly last: 'none' | 'word' | 'value' | 'sign';
  /** Did two rows meet behind it, with a space between them or without one? */
  readonly joint?: 'open' | 'closed';
}

/** The likeliest readings of a run; `own`: names that its line has as it stands. */
export function waysOfRun(run: string, context: LineContext, own: ReadonlySet<string>): Way[] {
  const ways = new Map<string, number>();
  const keep = (text: string, cost: number): void => {
    if (cost < (ways.get(text) ?? Number.POSITIVE_INFINITY)) ways.set(text, cost);
  };
  if (run.length <= LONGEST_RUN) {
    for (const { text, cost } of parted(run, context, own)) keep(text, cost);
  }
  if (/^[A-Za-z][A-Za-z0-9]*\$?$/.test(run)) keepMisspelt(run, keep);
  if (ways.size === 0) keep(bare(run), NO_WAY);
  return [...ways]
    .map(([text, cost]) => ({ text, cost }))
    .sort((a, b) => a.cost - b.cost)
    .slice(0, MOST_OF_A_RUN);
}

function keepMisspelt(run: string, keep: (text: string, cost: number) => void): void {
  const upper = run.toUpperCase();
  // A word that has a keyword's very shape is that keyword, and no other misspelt.
  const own = shapeOf(upper);
  if (upper.length < 3 || BY_SHAPE.has(own)) return;
  let near = NEAR.get(own);
  if (near === undefined) {
    near = wordsNear(own, upper.length < 6 ? 1 : 2);
    if (own.length <= LONGEST_PART && NEAR.size < MOST_NEAR) NEAR.set(own, near);
  }
  for (const { text, cost } of near) keep(text, cost);
}

/** What the words of a program may be misspelt from: most of them come again and again. */
const NEAR = new Map<string, readonly Way[]>();
const MOST_NEAR = 1000;

function wordsNear(own: string, most: number): Way[] {
  return SHAPED.flatMap(({ word, shape }) => {
    const distance = wordDistance(own, shape, most);
    return distance > 0 && distance <= most
      ? [{ text: word, cost: MISSPELT + 2 * (distance - 1) }]
      : [];
  });
}

/** Takes a run apart into keywords, numbers, names and signs in every way that makes sense. */
function parted(run: string, context: LineContext, own: ReadonlySet<string>): Way[] {
  const reached: Partial[][] = Array.from({ length: run.length + 1 }, () => []);
  reached[0].push({ text: '', cost: 0, last: 'none' });
  for (let at = 0; at < run.length; at++) {
    const from = trimmed(reached[at]);
    if (from.length === 0) continue;
    if (!context.effort.spend(from.length * EFFORT_OF_A_PLACE)) return [];
    if (run[at] === JOINT_CLOSED || run[at] === JOINT_OPEN) {
      const joint = run[at] === JOINT_OPEN ? 'open' : 'closed';
      for (const partial of from) reached[at + 1].push({ ...partial, joint });
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
            : SELDOM_KNOWN;
      const cost = costOfWord(text, name, capitals) + known;
      add(end, name === text.toUpperCase() ? text : name, cost + jointCost, 'value');
    }
    for (const name of arrayNames(text, names)) {
      add(end, name, costOfWord(text, name, capitals) + jointCost, 'value');
    }
    // A letter that the program sets is no misread digit.
    const number = isSetName(text, context) ? undefined : asNumber(text, capitals);
    if (number !== undefined) add(end, number.text, number.cost + jointCost, 'value');
    const standsAlone = end === run.length || /[-+.\uFDD0\uFDD1]/.test(run[end]);
    if (/^[A-Za-z][A-Za-z0-9]*\$?$/.test(text) && keyword(text.toUpperCase()) === undefined) {
      const unknown = names.alike(text).has(text.toUpperCase())
        ? Number.POSITIVE_INFINITY
        : nameCost(text, context) +
          (text.length > 1 && names.alike(text).size > 0 ? LIKE_A_KNOWN_NAME : 0);
      const misprints = costOfWord(text, text.toUpperCase(), capitals);
      if (standsAlone || startsKeyword(run, end))
        add(end, text, unknown + misprints + jointCost, 'value');
    }
    // Small letters that are misprints: a name of their other readings, though nothing knows it.
    if (text.length === 1) {
      for (const meant of LETTERS_LIKE_DIGITS) {
        if (meant === text.toUpperCase() || shapeOf(text) !== shapeOf(meant)) continue;
        add(end, meant, costOfReading(text, meant, capitals) + nameCost(meant, context), 'value');
      }
    }
  }
  return steps;
}

/** Is it a name, printed as such, that some line gives a value? */
function isSetName(text: string, { names, capitals }: LineContext): boolean {
  return (
    /^[A-Z]+$/.test(text) &&
    ![...text].some((character) => isMisprint(character, capitals)) &&
    names.isGiven(text)
  );
}

const isNameLike = (name: string): boolean => keyword(name) === undefined;

/** A part without the marks where rows met, and what leaving a likely space out costs. */
function withoutJoints(part: string): { text: string; cost: number } | undefined {
  if (!/[\uFDD0\uFDD1]/.test(part)) return { text: part, cost: 0 };
  const open = part.includes(JOINT_OPEN);
  return { text: part.replace(/[\uFDD0\uFDD1]/g, ''), cost: open ? SPACE_AT_JOINT : 0 };
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
    return names.isGiven(name) || names.orphans > 0.25 ? 0 : NEVER_GIVEN;
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
