/**
 * The readings of one printed statement, likeliest first. The text is taken apart into runs of
 * letters and digits and what stands between them; each has its own few readings, with a cost in
 * natural logarithms of its odds. They are tried together in the order of their sums, and those
 * that are statements are kept, each with what it disagrees in with the rest of the program.
 */
import { endOfString } from '../../../grammar/lexer.js';
import type { Statement } from '../../../grammar/tree.js';
import type { Edit as TextEdit } from '../../listing/edits.js';
import { firstIndex } from '../../listing/search.js';
import type { Effort } from '../effort.js';
import { bare } from '../page/joints.js';
import { LIKE_DIGITS } from './look-alike.js';
import { disagreement } from './oddities.js';
import { parseText } from './parsing.js';
import { namesIn, targetsIn } from './program.js';
import { type LineContext, type Way, waysOfRun } from './runs.js';

export interface Reading {
  readonly text: string;
  readonly cost: number;
  readonly statement: Statement;
  /** What each changed run was and became, in the order of the text. */
  readonly edits: readonly Edit[];
}

/** A change to the printed text, with what stood there. */
export interface Edit extends TextEdit {
  readonly from: string;
}

export interface Readings {
  /** Those that are statements, best first; none where none was found within the bounds. */
  readonly found: readonly Reading[];
  /** Did the search stop before it came to its end? */
  readonly cut: boolean;
}

const LOST_QUOTE = 5;
const OTHER_SIGN = 4.5;
const OTHER_BRACKET = 1;
const UNKNOWN_ARRAY = 2;
/** Attempts for one line, what share of the page's effort they may take, and how far beyond the best to look. */
const MOST_ATTEMPTS = 500;
const FEWEST_ATTEMPTS = 20;
const SHARE = 1 / 8;
/** No line is shorter to parse than so many characters. */
const SHORTEST = 40;
/** What every line may cost, however little is left, as long as anything is. */
const SMALL_CHANGE = 10_000;
const BEYOND = 7;
/** Pieces before the place of a failure that may have caused it. */
const REACH = 64;

interface Piece {
  readonly start: number;
  readonly end: number;
  readonly ways: readonly Way[];
}

/** A way for each piece: the first of each, but for these. */
interface Choice {
  readonly others: ReadonlyMap<number, number>;
  readonly cost: number;
}

export function readingsOf(printed: string, context: LineContext): Readings {
  const { effort, names } = context;
  if (effort.left === 0) return asItStands(printed);
  const pieces = piecesOf(printed, context);
  const open = pieces.flatMap(({ ways }, index) => (ways.length > 1 ? [index] : []));
  const found: Reading[] = [];
  const seen = new Set<string>();
  const queue = new Queue();
  queue.push({ others: new Map(), cost: pieces.reduce((sum, { ways }) => sum + ways[0].cost, 0) });
  let best = Number.POSITIVE_INFINITY;
  for (let left = attemptsFor(printed, effort); left > 0; left--) {
    const choice = queue.pop();
    if (choice === undefined || choice.cost > best + BEYOND) break;
    const { text, places } = joined(pieces, choice);
    effort.take(text.length);
    const { statement, failedAt } = parseText(text);
    if (statement !== undefined && !seen.has(text)) {
      seen.add(text);
      const cost = choice.cost + disagreement(statement, names) + unknownArrays(statement, context);
      best = Math.min(best, cost);
      found.push({ text, cost, statement, edits: editsOf(printed, pieces, choice) });
    }
    let reach = REACH;
    for (let at = open.length - 1; at >= 0 && reach > 0; at--) {
      const index = open[at];
      // What stands behind the place of failure cannot mend it.
      if (places[index] > failedAt) continue;
      reach--;
      const { ways } = pieces[index];
      const next = (choice.others.get(index) ?? 0) + 1;
      if (next < ways.length) {
        const cost = choice.cost + ways[next].cost - ways[next - 1].cost;
        if (cost <= best + BEYOND)
          queue.push({ others: new Map(choice.others).set(index, next), cost });
      }
    }
  }
  const cut = queue.least <= best + BEYOND;
  found.sort((a, b) => a.cost - b.cost);
  return { found: found.filter(({ cost }) => cost <= best + BEYOND), cut };
}

/** Where nothing more may be tried. */
function asItStands(printed: string): Readings {
  const text = bare(printed);
  const { statement } = parseText(text);
  const found = statement === undefined ? [] : [{ text, cost: 0, statement, edits: [] }];
  return { found, cut: true };
}

function attemptsFor(printed: string, { left }: Effort): number {
  const length = Math.max(SHORTEST, printed.length);
  const fewest = Math.max(1, Math.min(FEWEST_ATTEMPTS, SMALL_CHANGE / length));
  return Math.min(MOST_ATTEMPTS, Math.max(fewest, (left * SHARE) / length));
}

/** Choices by their cost, each once. */
class Queue {
  /** The least costly last. */
  private readonly choices: Choice[] = [];
  private readonly had = new Set<string>();

  push(choice: Choice): void {
    const key = [...choice.others].sort(([a], [b]) => a - b).join(' ');
    if (this.had.has(key)) return;
    this.had.add(key);
    const { choices } = this;
    const at = firstIndex(choices.length, (index) => choices[index].cost < choice.cost);
    choices.splice(at, 0, choice);
  }

  pop(): Choice | undefined {
    return this.choices.pop();
  }

  /** What the least costly choice costs that was not yet taken. */
  get least(): number {
    return this.choices.at(-1)?.cost ?? Number.POSITIVE_INFINITY;
  }
}

/** An array element of a name that no DIM gives: as odd as an unknown name. */
function unknownArrays(statement: Statement, { names }: LineContext): number {
  let cost = 0;
  for (const name of namesIn(statement).used) {
    if (name.endsWith('(') && !names.isKnown(name, false)) cost += UNKNOWN_ARRAY;
  }
  return cost;
}

const chosen = ({ ways }: Piece, index: number, { others }: Choice): string =>
  ways[others.get(index) ?? 0].text;

function joined(pieces: readonly Piece[], choice: Choice): { text: string; places: number[] } {
  let text = '';
  const places: number[] = [];
  pieces.forEach((piece, index) => {
    places.push(text.length);
    text += chosen(piece, index, choice);
  });
  return { text, places };
}

function editsOf(printed: string, pieces: readonly Piece[], choice: Choice): Edit[] {
  return pieces.flatMap((piece, index) => {
    const { start, end } = piece;
    const from = printed.slice(start, end);
    const text = chosen(piece, index, choice);
    return from === text ? [] : [{ start, end, from, text }];
  });
}

// ───────────────────────────────── a line to pieces ─────────────────────────────────

/** Letters and digits; a number in E form takes its sign and power with it. */
const RUN = new RegExp(`[A-Za-z0-9$|!.\uFDD0\uFDD1]+(?:(?<=[${LIKE_DIGITS}.]E)[+-]\\d+)?`, 'y');

function piecesOf(printed: string, context: LineContext): Piece[] {
  const pieces: Piece[] = [];
  const names = ownNames(printed);
  const lastBracket = printed.lastIndexOf(']');
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
      at = add(at, at < lastBracket ? printed.indexOf(']', at) + 1 : at + 1);
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
  if (sign === '{') return [{ text: '(', cost: OTHER_BRACKET }];
  if (sign === '}') return [{ text: ')', cost: OTHER_BRACKET }];
  return undefined;
}

/** Names that the line has as it stands: the program counts it among those that use them. */
function ownNames(printed: string): ReadonlySet<string> {
  const standing = bare(printed);
  const { statement } = parseText(standing);
  return statement === undefined
    ? new Set(targetsIn(standing).map(({ name }) => name))
    : namesIn(statement).used;
}
