/** A listing as budget and linter see it: everything that is worked out once and shared. */
import type { Expression, Listing, NumberLiteral } from '../../grammar/tree.js';
import { charactersText } from '../listing/print.js';
import { readListing } from '../listing/read.js';
import { isDigitCode, POINT } from '../machine/characters.js';
import type { SavedVariable } from '../machine/variables.js';
import { type CallDepth, callDepth } from './calls.js';
import { Apart } from './course/apart.js';
import { courseOf } from './course/course.js';
import { type Course, type GivenUp, givenUp } from './course/known.js';
import { courseOfLots } from './course/lots/course-of-lots.js';
import { type DisplayUse, displayUse } from './display.js';
import { Flow } from './flow.js';
import { type Names, namesOf } from './names.js';
import { longestShown } from './printed-length.js';
import { Ranges } from './ranges.js';
import { type Step, stepsOf, type Use, usesOf } from './steps.js';
import { sureLines } from './sure.js';

/** A number literal where it stands. */
export interface Literal extends Use {
  readonly node: NumberLiteral;
}

export interface Program {
  readonly listing: Listing;
  /** One step a line, in stored order. */
  readonly steps: readonly Step[];
  /** Every expression, each before its parts. */
  readonly uses: readonly Use[];
  /** Those that are number literals. */
  readonly literals: readonly Literal[];
  readonly names: Names;
  readonly ranges: Ranges;
  readonly flow: Flow;
  /** For each line: does every run come to it? */
  readonly sure: readonly boolean[];
  readonly display: DisplayUse;
  readonly calls: CallDepth;
  /**
   * What the courses that a run can take come to, or why they could not be followed; undefined where
   * nobody is to follow them.
   */
  readonly course: Course | GivenUp | undefined;
  /** The same with ways kept apart that meet, which takes longer and tells more. */
  readonly courseApart: Course | GivenUp | undefined;
  /**
   * The same with all that RND can draw told apart, where that may tell more of what takes more than
   * `room` bytes; `course` is what is known so far. Undefined where it cannot.
   */
  readonly courseOfLots: ((room: number, course: Course) => Course | undefined) | undefined;
  readonly saved: readonly SavedVariable[];
  /** Does the program run once it is loaded (`.start`)? Otherwise RUN is typed, which clears. */
  readonly runsItself: boolean;
}

/** What is soonest known of a listing: its lines, their expressions, and where each name stands. */
export type ProgramNames = Pick<Program, 'listing' | 'steps' | 'uses' | 'names'>;

export function namesOfProgram(listing: Listing): ProgramNames {
  const steps = stepsOf(listing);
  const uses = usesOf(steps);
  return { listing, steps, uses, names: namesOf(steps, uses, textReader()) };
}

/** Works out all that budget and rules share, in time linear in the listing. */
export function analyse(listing: Listing): Program {
  const { steps, uses, names } = namesOfProgram(listing);
  const saved = listing.items.flatMap((item) => (item.kind === 'var' ? [item.variable] : []));
  const ranges = new Ranges(names, saved);
  const start = listing.items.find((item) => item.kind === 'start');
  const flow = new Flow(steps, ranges, start?.line);
  const longest = longestShown(uses, ranges);
  // Variables, a display or system variables that are saved with it stand before the first line runs.
  const startsFresh = listing.items.every(
    ({ kind }) => kind !== 'var' && kind !== 'display' && kind !== 'system' && kind !== 'raw',
  );
  let course: Course | GivenUp | undefined;
  let courseApart: Course | GivenUp | undefined;
  const draws = uses.some(({ node }) => node.kind === 'constant' && node.name === 'RND');
  return {
    listing,
    steps,
    uses,
    literals: uses.filter((use): use is Literal => use.node.kind === 'number'),
    names,
    ranges,
    flow,
    sure: sureLines(flow),
    display: displayUse(flow, ranges, longest),
    calls: callDepth(flow),
    /** Followed when it is first asked for: only the budget does. */
    get course() {
      course ??= startsFresh ? courseOf(flow, longest) : SAVED_WITH_IT;
      return course;
    },
    get courseApart() {
      courseApart ??= startsFresh
        ? courseOf(flow, longest, { apart: new Apart(flow, names) })
        : SAVED_WITH_IT;
      return courseApart;
    },
    courseOfLots:
      draws && startsFresh
        ? (room, course) => courseOfLots(flow, longest, names, room, course)
        : undefined,
    saved,
    runsItself: start !== undefined,
  };
}

/** The same program for those who cannot wait: its courses are not followed. */
export const withoutCourses = (program: Program): Program =>
  Object.create(program, {
    course: { value: undefined },
    courseApart: { value: undefined },
    courseOfLots: { value: undefined },
  });

const SAVED_WITH_IT = givenUp('variables, a display or system variables are saved with it');

/** Gives the expressions within the text of a VAL, or undefined for a text that is none. */
function textReader(): (codes: Uint8Array, step: Step) => readonly Use[] | undefined {
  const known = new Map<string, Expression | undefined>();
  return (codes, step) => {
    if (codes.length > 0 && codes.every((code) => isDigitCode(code) || code === POINT)) return [];
    const text = charactersText(codes, true);
    if (!known.has(text)) known.set(text, readExpression(text));
    const node = known.get(text);
    return node && usesOf([{ ...step, conditions: [node], statement: undefined }]);
  };
}

function readExpression(text: string): Expression | undefined {
  const { listing, diagnostics } = readListing(`1 LET Z=${text}`);
  const statement = listing.lines[0]?.statement;
  if (diagnostics.length > 0 || statement?.kind !== 'LET') return undefined;
  return statement.value;
}
