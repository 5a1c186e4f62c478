/**
 * The budget: where each byte of the RAM goes once a program is loaded, and while it runs.
 * Sizes by the manual, chapters 26 to 28; the room that the ROM keeps free by the published ROM
 * disassembly, from memory.
 */
import type { Line, Listing } from '../../grammar/tree.js';
import { fullestOf } from '../analysis/course/fullest.js';
import { bothCourses, type Course, type GivenUp } from '../analysis/course/known.js';
import { sureRows, widestRows } from '../analysis/display.js';
import {
  conditionsCost,
  either,
  statementCost,
  typedSize,
  workOfStatement,
} from '../analysis/expression-cost.js';
import { TYPED_LENGTH } from '../analysis/expression-ranges.js';
import { LONGEST_NUMBER } from '../analysis/number-length.js';
import { analyse, type Program } from '../analysis/program.js';
import type { Step } from '../analysis/steps.js';
import { areasOf } from '../image/areas.js';
import { buildImage, NO_ROOM, ramOf } from '../image/build.js';
import type { Diagnostic } from '../listing/diagnostics.js';
import { STACKED_SIZE } from '../machine/calculator-stack.js';
import { lineSize } from '../machine/image-layout.js';
import {
  type AreaName,
  clearDisplaySize,
  EDIT_LINE_SIZE,
  GOSUB_SIZE,
  hasFullDisplay,
  IMAGE_START,
  KEPT_FREE,
  MACHINE_STACK_HIGH,
  MACHINE_STACK_LOW,
  PROGRAM_START,
  RAM_START,
  REPORT_SIZE,
  SYSTEM_VARIABLES_SIZE,
} from '../machine/memory-map.js';
import { type Bounds, gap, type VariableBudget, variableBudgets } from './variables.js';
import {
  endOfImage,
  loadRoom,
  type Room,
  room,
  type Verdict,
  verdictJson,
  verdictOf,
} from './verdict.js';

export interface AreaBudget extends Bounds {
  readonly area: AreaName;
  /** First address, with every area below it as small as it can be and those above as large. */
  readonly start: number;
}

export interface LineBudget {
  readonly number: number;
  /** Number, length, text and NEWLINE. */
  readonly bytes: number;
  /** Of these: the marker and five bytes behind each number literal. */
  readonly hidden: number;
}

export interface Budget {
  /** Bytes of RAM fitted. */
  readonly ram: number;
  /** Bytes of the image. */
  readonly image: number;
  /** Address of each line's first byte, in stored order, and the first behind the program. */
  readonly lineAddresses: readonly number[];
  readonly programEnd: number;
  readonly areas: readonly AreaBudget[];
  readonly lines: readonly LineBudget[];
  readonly variables: readonly VariableBudget[];
  /** Can the program be loaded? */
  readonly loads: Room;
  /** Can it run to its end, whatever the run brings? */
  readonly runs: Room;
  /** What the build says of a program that is too large to be loaded, at its place. */
  readonly tooLarge?: Diagnostic;
  /** What both come to; it may rest on a rehearsal. */
  readonly verdict: Verdict;
}

/** What a program that runs itself finds: the image's end leaves one byte. */
const BARE_EDIT_LINE_SIZE = 1;
type Size = Omit<AreaBudget, 'start'>;

export interface BudgetOptions {
  /** RAM fitted, in bytes. Default: the listing's own `.ram`, else 1K. */
  readonly ram?: number;
  /**
   * Where an image is to be loaded as it is, rather than what the listing builds for that RAM: they
   * differ in their displays.
   */
  readonly image?: Uint8Array;
}

/** The budget of a listing that was read without errors. Takes time linear in the listing. */
export function budgetOf(listing: Listing, options: BudgetOptions = {}): Budget {
  return budgetOfProgram(analyse(listing), ramOf(listing, options.ram), options.image);
}

/** The same, of a program that is analysed already. */
export function budgetOfProgram(program: Program, ram: number, image?: Uint8Array): Budget {
  const fresh = buildImage(program.listing, { ram });
  const { lineAddresses } = fresh;
  const built = image === undefined ? fresh.areas : areasOf(image);
  const end = image === undefined ? built.E_LINE : endOfImage(image);
  const variables = variableBudgets(program);
  const fixed = {
    program: built.D_FILE - PROGRAM_START,
    display: built.VARS - built.D_FILE,
  };
  const alone = sizesOf(program, ram, fixed.program, fixed.display, variables);
  const { sizes, most, course } = settled(program, ram, alone);
  const followed = course !== undefined && 'sizes' in course ? course : undefined;
  const undone = course?.undone && { why: course.undone.why, line: course.undone.line?.number };
  const loads = loadRoom(end, ram);
  const runs = room(ram, { low: total(sizes, 'low'), high: most });
  return {
    ram,
    image: built.E_LINE - IMAGE_START,
    lineAddresses,
    programEnd: built.D_FILE,
    areas: placed(sizes, ram),
    lines: program.listing.lines.map((line) => ({
      number: line.number,
      bytes: lineSize(line),
      hidden: line.hidden,
    })),
    variables: followed === undefined ? variables : atTheirLargest(variables, followed),
    loads,
    runs,
    tooLarge: fresh.diagnostics.find(({ rule }) => rule === NO_ROOM),
    verdict: verdictOf(ram, loads, runs, { on: 'bounds', undone }),
  };
}

/** The sizes of all areas, and the most that they come to at the same time. */
interface Settled {
  readonly sizes: readonly Size[];
  readonly most: number;
  /** What was followed, or why nothing was. */
  readonly course?: Course | GivenUp;
}

/**
 * The sizes, by the courses that a run can take where those of each area alone leave the verdict open,
 * and by those kept apart where these do: to follow them takes longer than all else, so it is done
 * only where it may decide.
 */
function settled(program: Program, ram: number, alone: readonly Size[]): Settled {
  let found: Settled = { sizes: alone, most: total(alone, 'high') };
  const isOpen = (): boolean => found.most > ram && total(alone, 'low') <= ram;
  for (const way of ['course', 'courseApart'] as const) {
    const course = isOpen() ? program[way] : undefined;
    if (course !== undefined) found = withCourse(found, course, ram, alone);
  }
  const { course } = found;
  if (!isOpen() || hasFullDisplay(ram) || course === undefined || !('sizes' in course))
    return found;
  const room = fullestOf(course.together).bytes - (found.most - ram);
  const ofLots = program.courseOfLots?.(room, course);
  return ofLots === undefined ? found : withCourse(found, ofLots, ram, alone);
}

/** What one more course tells. */
function withCourse(
  found: Settled,
  next: Course | GivenUp,
  ram: number,
  alone: readonly Size[],
): Settled {
  const { course: known = next } = found;
  // What the second could not do either is told by the first.
  if (!('sizes' in next)) return { ...found, course: known };
  const course = 'sizes' in known ? bothCourses(known, next) : next;
  const then = atTheFullest(course, ram, alone);
  return then.most < found.most ? { ...then, course } : { ...found, course };
}

function total(sizes: readonly Size[], bound: 'low' | 'high'): number {
  return sizes.reduce((sum, size) => sum + size[bound], 0);
}

/**
 * The sizes at the fullest moment of the courses that a run can take. They come to less than the most
 * of every area together: these need not come together. Nor need an area have all that it has at the
 * least, which may be later: what it has then is its most all the same.
 */
function atTheFullest(course: Course, ram: number, sizes: readonly Size[]): Settled {
  const { together, besides } = course;
  const full = hasFullDisplay(ram);
  const { areas, line } = fullestOf(full ? besides : together);
  const clear = clearDisplaySize(ram);
  const then: Partial<Record<AreaName, number>> = {
    ...areas,
    display: full ? clear : clear + areas.display,
    'machine stack': MACHINE_STACK_HIGH + areas['machine stack'],
  };
  const most = sizes.reduce((sum, size) => sum + (then[size.area] ?? size.high), 0);
  const found = sizes.map((size): Size => {
    const high = then[size.area];
    if (high === undefined) return size;
    const { area, low } = size;
    if (high <= low) return { area, low, high: low, why: undefined };
    // What has come about by then is told by the line that makes it loose; what is at work, by its own.
    const isBounded = Number.isFinite(size.high);
    if (size.why === undefined || !isBounded || !COMES_ABOUT.has(area)) {
      return { area, low, high, line: line?.number, why: AT_THE_FULLEST };
    }
    const place = line === undefined ? '' : `; the fullest moment is at line ${line.number}`;
    return { area, low, high, line: size.line, why: size.why + place };
  });
  return { sizes: found, most: Math.max(most, total(sizes, 'low')) };
}

const COMES_ABOUT: ReadonlySet<AreaName> = new Set(['display', 'variables']);
const AT_THE_FULLEST = 'what stands here at the fullest moment of all ways through the program';

/** Variables as large as they become on any way through the program. */
function atTheirLargest(
  variables: readonly VariableBudget[],
  { sizes }: Course,
): readonly VariableBudget[] {
  return variables.map((variable) => {
    const size = sizes.get(variable.name);
    if (size === undefined || size >= variable.high) return variable;
    const high = Math.max(variable.low, size);
    const why = high > variable.low ? 'its size depends on the run' : undefined;
    return { ...variable, high, why };
  });
}

function sizesOf(
  program: Program,
  ram: number,
  programBytes: number,
  savedDisplay: number,
  variables: readonly VariableBudget[],
): Size[] {
  const exactly = (area: AreaName, size: number): Size => ({ area, low: size, high: size });
  const work = workOf(program);
  return [
    exactly('system variables', SYSTEM_VARIABLES_SIZE),
    exactly('program', programBytes),
    displaySize(program, ram, savedDisplay),
    variablesSize(program, variables),
    exactly('end byte', 1),
    exactly('edit line', program.runsItself ? BARE_EDIT_LINE_SIZE : EDIT_LINE_SIZE),
    { area: 'workspace', low: 0, ...work.strings },
    { area: 'calculator stack', low: 0, ...work.values },
    exactly('kept free by the ROM', KEPT_FREE),
    {
      area: 'machine stack',
      low: MACHINE_STACK_LOW,
      high: MACHINE_STACK_HIGH + work.nesting.high,
      line: work.nesting.high > 0 ? work.nesting.line : undefined,
      why: 'its own share is known only between 18 and 29; expressions within expressions need more',
    },
    gosubSize(program),
  ];
}

function variablesSize(program: Program, variables: readonly VariableBudget[]): Size {
  const clears = program.steps.some(
    ({ index, statement }) =>
      program.flow.reachable[index] &&
      (statement?.kind === 'CLEAR' || statement?.kind === 'RUN' || statement?.kind === 'unchecked'),
  );
  const low = clears ? 0 : variables.reduce((sum, variable) => sum + variable.low, 0);
  const high = variables.reduce((sum, variable) => sum + variable.high, 0);
  const widest = [...variables].sort((a, b) => gap(b) - gap(a))[0];
  if (low === high || widest === undefined) return { area: 'variables', low, high };
  if (clears) return { area: 'variables', low, high, why: 'the program clears its variables' };
  const { line, name, why } = widest;
  return { area: 'variables', low, high, line, why: `${name}: ${why}` };
}

/**
 * At 3¼K and more the display is full already; below, each row grows to where it is printed. What
 * was saved on the display is still there when a program runs itself.
 */
function displaySize(program: Program, ram: number, savedDisplay: number): Size {
  const clear = clearDisplaySize(ram);
  if (hasFullDisplay(ram)) return { area: 'display', low: clear, high: clear };
  const widest = widestRows(program.display);
  const sure = sureRows(program.display, program.sure);
  const low = clear + sure.reduce((sum, width) => sum + width, 0);
  const lower = lowerRows(program);
  const kept = program.runsItself ? savedDisplay - clear : 0;
  const high = clear + widest.reduce((sum, row) => sum + row.width, 0) + lower.size + kept;
  const gaps = new Map<Line | undefined, number>([[lower.line, lower.size]]);
  widest.forEach(({ line, width }, row) => {
    gaps.set(line, (gaps.get(line) ?? 0) + width - sure[row]);
  });
  const unsure = [...gaps].sort((a, b) => b[1] - a[1])[0][0];
  const why =
    unsure === undefined
      ? 'the report at the end takes up to 6 bytes'
      : 'how much of each row is printed depends on the run';
  return { area: 'display', low, high, line: unsure?.number, why };
}

/** Below the rows of PRINT: what is typed at INPUT, or the report at the end. */
function lowerRows(program: Program): { size: number; line?: Line } {
  let found: { size: number; line?: Line } = { size: REPORT_SIZE };
  for (const { statement, index, line } of program.steps) {
    if (statement?.kind !== 'INPUT' || !program.flow.reachable[index]) continue;
    const size = typedSize(statement.target.type) - 1;
    if (size > found.size) found = { size, line };
  }
  return found;
}

type Most = Omit<Bounds, 'low'>;

/** The most that any line needs of workspace, calculator stack and nested expressions. */
function workOf(program: Program): { strings: Most; values: Most; nesting: Most } {
  let [strings, values, nesting]: Most[] = [{ high: 0 }, { high: 0 }, { high: 0 }];
  for (const step of program.steps) {
    if (!program.flow.reachable[step.index]) continue;
    const line = step.line.number;
    const { ranges } = program;
    const cost = either(conditionsCost(step, ranges), statementCost(step, ranges));
    const work = cost.strings + workOfStatement(step, program.ranges).workspace;
    if (work > strings.high) strings = { high: work, line, why: whyWork(step) };
    if (cost.values * STACKED_SIZE > values.high) {
      values = { high: cost.values * STACKED_SIZE, line, why: 'the deepest expression' };
    }
    if (cost.nesting > nesting.high) nesting = { high: cost.nesting, line };
  }
  return { strings, values, nesting };
}

function whyWork({ statement }: Step): string {
  if (statement?.kind === 'INPUT') {
    return statement.target.type === 'string'
      ? `what is typed at INPUT stands here: taken to be at most ${TYPED_LENGTH} characters`
      : `what is typed at INPUT stands here: taken to be a number of at most ${LONGEST_NUMBER} characters`;
  }
  const isString = statement?.kind === 'LET' && statement.target.type === 'string';
  if (isString && statement.target.kind === 'subscripted') {
    return 'what is put into a part of a string is made anew first, as long as the part';
  }
  return isString
    ? 'a new string is made before the old one is given up'
    : 'texts are worked on here until the statement ends';
}

function gosubSize({ calls }: Program): Size {
  const area = 'GOSUB stack';
  if (calls.deepest === 0) return { area, low: 0, high: 0 };
  return {
    area,
    low: 0,
    high: calls.deepest * GOSUB_SIZE,
    line: calls.line?.number,
    why:
      calls.deepest === Infinity
        ? 'this GOSUB can come to itself again before any RETURN'
        : `GOSUB stands within GOSUB, ${calls.deepest} deep at most`,
  };
}

/** Areas up from the bottom as small as they can be; the stacks and the margin down from the top. */
export function placed(sizes: readonly Size[], ram: number): AreaBudget[] {
  const starts = new Map<AreaName, number>();
  const fromTop = sizes.slice(sizes.findIndex((size) => size.area === 'kept free by the ROM'));
  let up = RAM_START;
  for (const { area, low } of sizes) {
    starts.set(area, up);
    up += low;
  }
  let down = RAM_START + ram;
  for (const { area, high } of [...fromTop].reverse()) {
    down = Math.max(RAM_START, down - Math.min(high, ram));
    starts.set(area, down);
  }
  return sizes.map((size) => ({ ...size, start: starts.get(size.area)! }));
}

/** The budget in the form of `--format json`; where nothing bounds a size, it counts the whole RAM. */
export function budgetJson(budget: Budget) {
  const { ram, image, loads, runs } = budget;
  const bounded = (bytes: number): number => (Number.isFinite(bytes) ? bytes : ram);
  return {
    ram,
    image,
    areas: budget.areas.map(({ area, start, low, high }) => ({
      area,
      start,
      low,
      high: bounded(high),
    })),
    lines: budget.lines,
    variables: budget.variables.map(({ name, low, high, line }) => ({
      name,
      low,
      high: bounded(high),
      line: line ?? null,
    })),
    loads: roomJson(loads, ram),
    runs: roomJson(runs, ram),
    verdict: verdictJson(budget.verdict),
  };
}

function roomJson({ verdict, low, high, spare }: Room, ram: number) {
  const bounded = Number.isFinite(high);
  return {
    verdict,
    needed: { low, high: bounded ? high : null },
    spare: Number.isFinite(spare) ? spare : -ram,
  };
}
