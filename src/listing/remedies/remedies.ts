/**
 * First mistakes: what people write who come from another dialect, a printed listing or a slip of
 * the finger, each with what they meant. A correction is offered only where it reads without error.
 */
import { tokensOf } from '../../../grammar/lexer.js';
import { parseStatement } from '../../../grammar/parser.js';
import type { ListingToken } from '../../../grammar/tokens.js';
import type { Problem } from '../../../grammar/tree.js';
import * as arrays from './arrays.js';
import * as beginnings from './beginnings.js';
import * as commands from './commands.js';
import * as conditions from './conditions.js';
import * as inputs from './inputs.js';
import * as loops from './loops.js';
import { Mistyped, type Recogniser, type Remedy, reads } from './mistyped.js';
import * as names from './names.js';
import * as shapes from './shapes.js';
import * as signs from './signs.js';
import * as values from './values.js';

/** The first that knows a mistake speaks, so the narrow ones stand before the wide. */
const RECOGNISERS: readonly Recogniser[] = [
  commands.namedSubroutine,
  commands.sameCommand,
  commands.noCommand,
  commands.onEvent,
  commands.waiting,
  commands.otherBeginnings,
  commands.coloursWithin,
  commands.keyIntoName,
  signs.hash,
  signs.twoSigns,
  signs.otherSigns,
  signs.comparingWords,
  signs.atSign,
  signs.otherAssignments,
  names.keywordAsName,
  names.namesOfOthers,
  names.functionOfOne,
  names.notSet,
  names.quotedArray,
  names.inputAsValue,
  conditions.conditionBehind,
  conditions.chosenValue,
  conditions.oneOf,
  conditions.thenWithoutIf,
  shapes.twice,
  conditions.comparedTwice,
  shapes.remarkBehind,
  signs.otherBases,
  signs.shifts,
  signs.wordOperators,
  signs.kindOfNumber,
  signs.ampersand,
  signs.innerQuotes,
  signs.typesetValues,
  signs.joiningPoint,
  signs.otherQuotes,
  signs.openString,
  signs.otherBrackets,
  signs.shortWords,
  conditions.otherwise,
  loops.forShapes,
  arrays.dimShapes,
  arrays.subscriptShapes,
  shapes.colon,
  values.otherFunctions,
  shapes.bracketedPair,
  shapes.bracketedItems,
  inputs.prompt,
  shapes.numberWithComma,
  shapes.list,
  shapes.sharedValue,
  names.equalsMissing,
  shapes.product,
  conditions.thenParts,
  shapes.twoStatements,
  shapes.severalBytes,
  loops.forParts,
  loops.nextAlone,
  inputs.inputAlone,
  shapes.separators,
  shapes.tooMuch,
  arrays.openBracket,
  shapes.extraBracket,
  beginnings.letMissing,
  beginnings.commandMissing,
  beginnings.commandOfOthers,
];

/** Mistakes of one statement that are put right together, and the longest that is tried so. */
const MOST_TOGETHER = 3;
const LONGEST = 400;

/** What a statement that broke off at the token `at` was meant to be; undefined where unknown. */
export function remedyFor(
  tokens: readonly ListingToken[],
  at: number,
  thorough: boolean,
): Problem | undefined {
  return remedyOf(tokens, at, thorough ? MOST_TOGETHER - 1 : 0);
}

function remedyOf(tokens: readonly ListingToken[], at: number, more: number): Problem | undefined {
  if (tokens.length === 0) return undefined;
  const line = new Mistyped(tokens);
  const known = RECOGNISERS.map((recognise) => all(recognise(line, at)));
  for (const remedies of known) {
    const found = firstThatReads(remedies);
    if (found !== undefined) return problemOf(found, line, at);
  }
  if (more === 0 || line.text(0).length > LONGEST) return undefined;
  for (const remedies of known) {
    for (const remedy of remedies) {
      const found = withTheRest(remedy, more - 1);
      if (found !== undefined) return problemOf(found, line, at);
    }
  }
  return undefined;
}

/** The remedy with what is still wrong in its lines put right too; undefined where that is unknown. */
function withTheRest(remedy: Remedy, more: number): Remedy | undefined {
  const lines: string[] = [];
  for (const text of remedy.lines) {
    if (reads(text)) lines.push(text);
    else {
      const rest = remedyOfText(text, more);
      if (rest === undefined) return undefined;
      if (rest.instead === undefined) {
        return {
          message: rest.message,
          why: rest.why,
          span: remedy.span,
          lines: [],
          mind: rest.help,
        };
      }
      lines.push(...rest.instead);
    }
  }
  return lines.length === 0 ? undefined : { ...remedy, lines };
}

function remedyOfText(text: string, more: number): Problem | undefined {
  if (/[\n\r]/.test(text)) return undefined;
  const [, ...tokens] = tokensOf(`1 ${text}`);
  if (tokens.length === 0) return undefined;
  const { failure, problems } = parseStatement(tokens);
  if (failure !== undefined) {
    const at = failure.token === undefined ? tokens.length : tokens.indexOf(failure.token);
    return remedyOf(tokens, at, more);
  }
  for (const problem of problems) {
    const found = kindRemedy(tokens, problem, more);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** What a value of the wrong kind, or a value with brackets behind it, was meant to be. */
export function remedyForProblem(
  tokens: readonly ListingToken[],
  problem: Problem,
): Problem | undefined {
  return kindRemedy(tokens, problem, MOST_TOGETHER - 1);
}

function kindRemedy(
  tokens: readonly ListingToken[],
  problem: Problem,
  more: number,
): Problem | undefined {
  const line = new Mistyped(tokens);
  const at = tokens.findIndex(({ startOffset }) => startOffset >= problem.start);
  if (at < 0) return undefined;
  const isType = problem.rule === 'type';
  const isSubscript = problem.rule === 'subscripts';
  const remedies = isType
    ? values.kindRemedies(line, problem)
    : isSubscript
      ? [
          ...all(values.emptyBrackets(line, at - 1)),
          ...all(values.otherFunctions(line, at - 1)),
          ...all(arrays.secondBrackets(line, at)),
        ]
      : all(values.otherFunctions(line, at));
  let found = firstThatReads(remedies);
  if (found === undefined && more > 0 && line.text(0).length <= LONGEST) {
    for (const remedy of remedies) found ??= withTheRest(remedy, more - 1);
  }
  const rule = isType ? 'type' : isSubscript ? 'subscripts' : 'other-dialect';
  return found && { ...problemOf(found, line, at), rule };
}

const all = (found: ReturnType<Recogniser>): readonly Remedy[] =>
  found === undefined ? [] : 'message' in found ? [found] : found;

const firstThatReads = (remedies: readonly Remedy[]): Remedy | undefined =>
  remedies.find(({ lines, mind }) =>
    lines.length === 0 ? mind !== undefined : lines.every(reads),
  );

function problemOf(
  { message, rule, why, lines, mind, span }: Remedy,
  line: Mistyped,
  at: number,
): Problem {
  const index = Math.min(at, line.length - 1);
  const write =
    lines.length === 0
      ? undefined
      : `write ${lines.map((text) => `\`${text}\``).join(', and on a line of its own ')}`;
  const help = [write, mind].filter((part) => part !== undefined).join('; ');
  const place = span ?? line.span(index);
  return {
    ...place,
    rule: rule ?? 'syntax',
    message,
    why,
    help,
    instead: lines.length > 0 ? lines : undefined,
  };
}
