/**
 * First mistakes: what people write who come from another dialect, a printed listing or a slip of
 * the finger, each with what they meant. A correction is offered only where it reads without error.
 */
import type { ListingToken } from '../../../grammar/lexer.js';
import type { Problem } from '../../../grammar/tree.js';
import { Mistyped, type Recogniser, type Remedy, reads } from './mistyped.js';
import * as shapes from './shapes.js';
import * as signs from './signs.js';
import * as values from './values.js';

/** The first that knows a mistake speaks, so the narrow ones stand before the wide. */
const RECOGNISERS: readonly Recogniser[] = [
  signs.hash,
  signs.twoSigns,
  signs.otherSigns,
  signs.atSign,
  signs.otherAssignments,
  shapes.remarkBehind,
  signs.otherBases,
  signs.wordOperators,
  signs.kindOfNumber,
  signs.ampersand,
  signs.otherQuotes,
  signs.openString,
  signs.otherBrackets,
  signs.shortWords,
  shapes.otherwise,
  shapes.colon,
  values.otherFunctions,
  shapes.bracketedPair,
  shapes.prompt,
  shapes.numberWithComma,
  shapes.list,
  shapes.sharedValue,
  shapes.product,
  shapes.thenParts,
  shapes.twoStatements,
  shapes.severalBytes,
  shapes.separators,
  shapes.tooMuch,
  shapes.openBracket,
  shapes.letMissing,
  shapes.commandMissing,
];

/** What a statement that broke off at the token `at` was meant to be; undefined where unknown. */
export function remedyFor(
  tokens: readonly ListingToken[],
  at: number,
  isForeign: (word: string) => boolean,
): Problem | undefined {
  if (tokens.length === 0) return undefined;
  const line = new Mistyped(tokens, isForeign);
  for (const recognise of RECOGNISERS) {
    const found = firstThatReads(recognise(line, at));
    if (found !== undefined) return problemOf(found, line, at);
  }
  return undefined;
}

/** What a value of the wrong kind, or a value with brackets behind it, was meant to be. */
export function remedyForProblem(
  tokens: readonly ListingToken[],
  problem: Problem,
  isForeign: (word: string) => boolean,
): Problem | undefined {
  const line = new Mistyped(tokens, isForeign);
  const at = tokens.findIndex(({ startOffset }) => startOffset >= problem.start);
  if (at < 0) return undefined;
  if (problem.rule === 'type') {
    const found = firstThatReads(values.kindRemedies(line, problem));
    return found && { ...problemOf(found, line, at), rule: 'type' };
  }
  const found =
    problem.rule === 'subscripts'
      ? (firstThatReads(values.emptyBrackets(line, at - 1)) ??
        firstThatReads(values.otherFunctions(line, at - 1)))
      : firstThatReads(values.otherFunctions(line, at));
  return (
    found && {
      ...problemOf(found, line, at),
      rule: problem.rule === 'subscripts' ? 'subscripts' : 'other-dialect',
    }
  );
}

function firstThatReads(found: ReturnType<Recogniser>): Remedy | undefined {
  if (found === undefined) return undefined;
  const remedies = 'message' in found ? [found] : found;
  return remedies.find(({ lines, mind }) =>
    lines.length === 0 ? mind !== undefined : lines.every(reads),
  );
}

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
