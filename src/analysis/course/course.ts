/**
 * The courses that a run can take, followed from RUN on: loops with known ends pass by pass,
 * subroutines call by call, both ways where only the run knows which. Ways that meet at the same
 * point of the same pass are joined. So what stands in memory at the same time is known together,
 * and the display as it is written over, scrolled and cleared.
 *
 * The work has a bound that follows from the length of the program. Past a part of it loops are no
 * longer followed pass by pass: their passes are joined, and what still moves is let go. Where that
 * does not settle either, or the program does what cannot be followed, there is no result.
 */
import type { Line } from '../../../grammar/tree.js';
import { baseVariable } from '../../../grammar/visit.js';
import { GOSUB_SIZE, PROGRAM_START, RAM_START } from '../../machine/memory-map.js';
import { NUMBER_SIZE } from '../../machine/numbers.js';
import {
  arraySize,
  FOR_VARIABLE_SIZE,
  numberVariableSize,
  stringVariableSize,
} from '../../machine/variables.js';
import { blurred, compared } from '../comparison.js';
import { STACKED_SIZE, stepCost, workOfStatement } from '../expression-cost.js';
import { ANY_NUMBER, type NumberRange, range, single, sum, TYPED } from '../expression-ranges.js';
import type { Flow } from '../flow.js';
import { type Name, nameOfVariable } from '../names.js';
import { ANYWHERE, Printing } from '../printing.js';
import { expressionsOf, type Step } from '../steps.js';
import { numbersIn, refined } from './conditions.js';
import { type Nesting, nestingOf } from './nesting.js';
import { type Counting, type Held, State, Unfollowed } from './state.js';

/** The most bytes that something takes, and the line that it takes them at. */
export interface Most {
  readonly bytes: number;
  readonly line?: Line;
}

/** Sizes at one moment. */
export type Areas = Readonly<
  Record<'display' | 'variables' | 'workspace' | 'calculator' | 'nesting' | 'gosub', number>
>;

/** The fullest moment, and what stands in memory then. */
export interface Fullest extends Most {
  readonly areas: Areas;
}

export interface Course {
  /** The most that display rows, variables, workspace, calculator and both stacks take together. */
  readonly together: Fullest;
  /** The same without the display, for a machine whose display is full from the start. */
  readonly besides: Fullest;
  /** The most bytes of each variable. */
  readonly sizes: ReadonlyMap<Name, number>;
}

/** Steps that are followed before loops are let go, and before all is: these and so many a line. */
const PATIENT_STEPS = { least: 3000, aLine: 60 };
const MOST_STEPS = { least: 6000, aLine: 120 };
/** Passes of one loop that are followed one by one. */
const MOST_PASSES = 300;
const DEEPEST_CALL = 40;
/** The most lines that a computed jump is followed to. */
const MOST_TARGETS = 64;
/** GOSUB asks for this much more than it takes (the ROM). */
const GOSUB_MARGIN = 4;
/** SCROLL has the new row's end before the old row goes. */
const SCROLL_SIZE = 1;
/** Values of one variable for which a PRINT is followed one by one. */
const MOST_VALUES = 32;

/** Where a call goes back to, and the passes of the loops there. */
interface Frame {
  readonly caller: number;
  readonly passes: readonly number[];
  readonly path: readonly number[];
  readonly depth: number;
  readonly up?: Frame;
}

/** A place in the course: a line, in these passes of the loops around it, within these calls. */
interface Place {
  readonly index: number;
  readonly passes: readonly number[];
  readonly frame?: Frame;
}

interface Meeting {
  readonly place: Place;
  readonly path: readonly number[];
  readonly state: State;
  waiting: boolean;
  visits: number;
}

/** Follows a program whose flow is not open; undefined where that could not be done. */
export function courseOf(flow: Flow, longest: number): Course | undefined {
  if (flow.open || flow.entry >= flow.length) return undefined;
  try {
    return new Follower(flow, longest).follow();
  } catch (error) {
    if (error instanceof Unfollowed) return undefined;
    throw error;
  }
}

const EMPTY: Fullest = {
  bytes: 0,
  areas: { display: 0, variables: 0, workspace: 0, calculator: 0, nesting: 0, gosub: 0 },
};

class Follower {
  private readonly nesting: Nesting;
  private readonly meets: boolean[];
  private readonly meetings = new Map<string, Meeting>();
  private readonly queue: Meeting[] = [];
  private together = EMPTY;
  private besides = EMPTY;
  private readonly sizes = new Map<Name, number>();
  private steps = 0;
  private readonly patience: number;
  private readonly limit: number;

  constructor(
    private readonly flow: Flow,
    private readonly longest: number,
  ) {
    const inside = flow.next.map((next) => next.filter((to) => to < flow.length));
    this.nesting = nestingOf(inside);
    this.meets = meetingPoints(flow, inside, this.nesting);
    this.patience = PATIENT_STEPS.least + PATIENT_STEPS.aLine * flow.length;
    this.limit = MOST_STEPS.least + MOST_STEPS.aLine * flow.length;
  }

  follow(): Course {
    const { entry } = this.flow;
    this.arrive({ index: entry, passes: this.nesting.heads[entry].map(() => 0) }, new State());
    for (let meeting = this.take(); meeting !== undefined; meeting = this.take()) {
      meeting.waiting = false;
      meeting.visits++;
      this.walk(meeting.place, meeting.state.copy());
    }
    return { together: this.together, besides: this.besides, sizes: this.sizes };
  }

  /** Goes on as long as there is one way and no other can meet it. */
  private walk(from: Place, start: State): void {
    let place = from;
    let state = start;
    for (;;) {
      if (++this.steps > this.limit) throw new Unfollowed();
      const ways = this.step(place, state);
      if (ways.length === 1 && !this.meets[ways[0].place.index]) {
        [{ place, state }] = ways;
        continue;
      }
      for (const way of ways) this.arrive(way.place, way.state);
      return;
    }
  }

  // ───────────────────────────────── meeting ─────────────────────────────────

  private arrive(place: Place, state: State): void {
    const path = this.pathOf(place);
    const known = this.meetings.get(path.join());
    if (known === undefined) {
      if (this.isOld(place, state)) return;
      const meeting = { place, path, state: state.copy(), waiting: true, visits: 0 };
      this.meetings.set(path.join(), meeting);
      this.put(meeting);
      return;
    }
    if (!known.state.join(state, known.visits > 1) || known.waiting) return;
    known.waiting = true;
    this.put(known);
  }

  /** Does the pass before this one hold everything already? Then nothing new can follow. */
  private isOld(place: Place, state: State): boolean {
    const heads = this.nesting.heads[place.index];
    const at = heads.length - 1;
    if (at < 0 || heads[at] !== place.index || place.passes[at] === 0) return false;
    const passes = [...place.passes];
    passes[at]--;
    const before = this.meetings.get(this.pathOf({ ...place, passes }).join());
    return before !== undefined && !before.state.copy().join(state, false);
  }

  private pathOf({ index, passes, frame }: Place): number[] {
    const { heads, place } = this.nesting;
    const path = frame === undefined ? [] : [...frame.path];
    passes.forEach((pass, at) => {
      path.push(place[heads[index][at]], pass);
    });
    path.push(place[index]);
    return path;
  }

  private put(meeting: Meeting): void {
    const { queue } = this;
    let at = queue.push(meeting) - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (compare(queue[above].path, meeting.path) <= 0) break;
      queue[at] = queue[above];
      at = above;
    }
    queue[at] = meeting;
  }

  private take(): Meeting | undefined {
    const { queue } = this;
    const first = queue[0];
    const last = queue.pop();
    if (last === undefined || queue.length === 0) return first;
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= queue.length) break;
      if (below + 1 < queue.length && compare(queue[below + 1].path, queue[below].path) < 0)
        below++;
      if (compare(last.path, queue[below].path) <= 0) break;
      queue[at] = queue[below];
      at = below;
    }
    queue[at] = last;
    return first;
  }

  /** The passes at a line that is come to from another one within the same call. */
  private placeAfter({ index, passes, frame }: Place, to: number): Place {
    const [from, heads] = [this.nesting.heads[index], this.nesting.heads[to]];
    let same = true;
    const next = heads.map((head, at) => {
      same &&= from[at] === head;
      if (!same) return 0;
      if (head !== to) return passes[at];
      const patient = this.steps < this.patience && passes[at] < MOST_PASSES;
      return patient ? passes[at] + 1 : passes[at];
    });
    return { index: to, passes: next, frame };
  }

  // ───────────────────────────────── one line ─────────────────────────────────

  private step(place: Place, before: State): Way[] {
    const step = this.flow.steps[place.index];
    const ways: Way[] = [];
    let state: State | undefined = before;
    for (const condition of step.conditions) {
      const found = state.number(condition);
      if (!(found.low > 0 || found.high < 0)) {
        const not =
          step.conditions.length === 1 ? refined(state.copy(), condition, false) : state.copy();
        if (not !== undefined) this.go(ways, place, place.index + 1, not);
      }
      if (found.low === 0 && found.high === 0) {
        this.note(step, place, before, before);
        return ways;
      }
      state = refined(step.conditions.length > 0 ? state.copy() : state, condition, true);
      if (state === undefined) {
        this.note(step, place, before, before);
        return ways;
      }
    }
    const start = state === before ? state.copy() : state;
    const after = start.copy();
    this.run(step, place, after, ways);
    this.note(step, place, start, after);
    return ways;
  }

  /** One more way to a line; ways to the same line of the same pass are joined at once. */
  private go(ways: Way[], from: Place, to: number, state: State): void {
    if (to >= this.flow.length) return;
    this.add(ways, this.placeAfter(from, to), state);
  }

  private add(ways: Way[], place: Place, state: State): void {
    const same = ways.find(
      (way) =>
        way.place.index === place.index &&
        way.place.frame === place.frame &&
        way.place.passes.every((pass, at) => pass === place.passes[at]),
    );
    if (same === undefined) ways.push({ place, state });
    else {
      const both = same.state.copy();
      both.join(state, false);
      ways[ways.indexOf(same)] = { place, state: both };
    }
  }

  private run(step: Step, place: Place, state: State, ways: Way[]): void {
    const { statement, index } = step;
    const next = (): void => this.go(ways, place, index + 1, state);
    switch (statement?.kind) {
      case 'GOTO':
        for (const to of this.targets(state, statement.args[0])) {
          this.go(ways, place, to, state);
        }
        return;
      case 'GOSUB':
        this.call(place, state, this.targets(state, statement.args[0]), ways);
        return;
      case 'RETURN':
        this.goBack(place, state, ways);
        return;
      case 'FOR':
        this.begin(step, statement, place, state, ways);
        return;
      case 'NEXT':
        this.turn(statement.variable.name, place, state, ways);
        return;
      case 'STOP':
      case 'NEW':
      case 'LOAD':
        return;
      case undefined:
      case 'unchecked':
      case 'RUN':
      case 'CONT':
        throw new Unfollowed();
      case 'LET':
      case 'INPUT':
      case 'DIM':
        this.set(statement, state);
        next();
        return;
      case 'PRINT':
        if (this.print(statement.items, state)) next();
        return;
      case 'PLOT':
      case 'UNPLOT':
        if (this.printed(state, (printing) => printing.plot(statement.args))) next();
        return;
      case 'LIST':
        state.grow({ ...ANYWHERE, widest: 32, surely: 0, filled: 0, most: Infinity });
        state.cursor = ANYWHERE;
        next();
        return;
      case 'CLS':
        state.clearDisplay();
        next();
        return;
      case 'SCROLL':
        state.scroll();
        next();
        return;
      case 'POKE': {
        // What PRINT has of the display can be changed there.
        const { low, high } = state.number(statement.args[0]);
        if (low < PROGRAM_START && high >= RAM_START) throw new Unfollowed();
        next();
        return;
      }
      case 'CLEAR':
        state.variables.clear();
        next();
        return;
      default:
        next();
    }
  }

  private targets(state: State, node: Parameters<State['number']>[0]): number[] {
    const found = state.number(node);
    const first = this.flow.indexOf(Math.ceil(found.low - 0.5));
    const last = this.flow.indexOf(Math.floor(found.high + 0.5));
    if (!(last - first < MOST_TARGETS)) throw new Unfollowed();
    return Array.from({ length: last - first + 1 }, (_, at) => first + at);
  }

  private call(place: Place, state: State, targets: readonly number[], ways: Way[]): void {
    const depth = (place.frame?.depth ?? 0) + 1;
    if (depth > DEEPEST_CALL) throw new Unfollowed();
    const { index: caller, passes } = place;
    const frame = { caller, passes, path: this.pathOf(place), depth, up: place.frame };
    for (const index of targets) {
      if (index >= this.flow.length) continue;
      const inner = { index, passes: this.nesting.heads[index].map(() => 0), frame };
      this.add(ways, inner, state);
    }
  }

  private goBack({ frame }: Place, state: State, ways: Way[]): void {
    if (frame === undefined) return;
    const { caller: index, passes, up } = frame;
    this.go(ways, { index, passes, frame: up }, index + 1, state);
  }

  // ───────────────────────────────── variables ─────────────────────────────────

  private set(
    statement: Step['statement'] & { kind: 'LET' | 'INPUT' | 'DIM' },
    state: State,
  ): void {
    const { target } = statement;
    const base = baseVariable(target);
    if (base === undefined) return;
    const inside = target.kind === 'subscripted';
    const name = nameOfVariable(base, inside || statement.kind === 'DIM');
    if (statement.kind === 'DIM') this.dim(name, base.type, statement.sizes, state);
    else if (base.type === 'string') {
      if (inside || state.elementLength(name) !== undefined) return;
      const found = statement.kind === 'LET' ? state.length(statement.value) : TYPED;
      this.hold(state, name, { size: stringVariableSize(found.high), length: found });
    } else {
      const value = statement.kind === 'LET' ? state.number(statement.value) : ANY_NUMBER;
      const known = state.variables.get(name);
      if (inside) {
        if (known !== undefined) {
          this.hold(state, name, { ...known, number: joinRanges(known.number, value) });
        }
        return;
      }
      const size = Math.max(known?.size ?? 0, numberVariableSize(name));
      this.hold(state, name, { ...known, size, number: value });
    }
  }

  private hold(state: State, name: Name, held: Held): void {
    state.variables.set(name, held);
    if (held.size > (this.sizes.get(name) ?? 0)) this.sizes.set(name, held.size);
  }

  private dim(
    name: Name,
    type: 'number' | 'string',
    sizes: (Step['statement'] & { kind: 'DIM' })['sizes'],
    state: State,
  ): void {
    const found = sizes.map((size) => state.number(size));
    const most = found.map(({ high }) => Math.max(1, Math.floor(high + 0.5)));
    const size = arraySize(most, type === 'number' ? NUMBER_SIZE : 1);
    if (type === 'number') {
      this.hold(state, name, { size, number: range(0) });
      return;
    }
    const element = single(found[found.length - 1]);
    if (element === undefined) throw new Unfollowed();
    const length = Math.max(1, Math.round(element));
    this.hold(state, name, { size, length: { low: length, high: length }, element: length });
  }

  // ───────────────────────────────── loops ─────────────────────────────────

  private begin(
    step: Step,
    statement: Step['statement'] & { kind: 'FOR' },
    place: Place,
    state: State,
    ways: Way[],
  ): void {
    const { name } = statement.variable;
    const from = state.number(statement.from);
    const counting: Counting = {
      limit: state.number(statement.to),
      step: statement.step === undefined ? range(1) : state.number(statement.step),
      bodies: [step.index + 1],
    };
    const { within, past } = split(from, counting);
    if (past !== undefined) {
      const skipped = state.copy();
      this.hold(skipped, name, { size: FOR_VARIABLE_SIZE, number: past, counting });
      for (const to of this.behindLoop(step)) this.go(ways, place, to, skipped);
    }
    this.hold(state, name, { size: FOR_VARIABLE_SIZE, number: within ?? from, counting });
    if (within !== undefined) this.go(ways, place, step.index + 1, state);
  }

  /** Where a loop without a pass goes on: behind a NEXT of its own, whether or not an IF is before it. */
  private behindLoop({ index, statement }: Step): number[] {
    if (statement?.kind !== 'FOR') return [];
    const found: number[] = [];
    for (let at = index + 1; at < this.flow.length; at++) {
      const { statement: other, conditions } = this.flow.steps[at];
      if (other?.kind !== 'NEXT' || other.variable.name !== statement.variable.name) continue;
      found.push(at + 1);
      if (conditions.length === 0) break;
    }
    return found;
  }

  private turn(name: Name, place: Place, state: State, ways: Way[]): void {
    const held = state.variables.get(name);
    // NEXT without FOR: the run ends here.
    if (held?.counting === undefined || held.number === undefined) return;
    const value = sum(held.number, held.counting.step);
    const { within, past } = split(value, held.counting);
    if (within !== undefined) {
      const again = state.copy();
      this.hold(again, name, { ...held, number: within });
      for (const body of held.counting.bodies) this.go(ways, place, body, again);
    }
    if (past === undefined) return;
    this.hold(state, name, { ...held, number: past });
    this.go(ways, place, place.index + 1, state);
  }

  // ───────────────────────────────── display ─────────────────────────────────

  /** PRINT; where a variable has few values it is followed for each, as AT and TAB hang together. */
  private print(items: (Step['statement'] & { kind: 'PRINT' })['items'], state: State): boolean {
    const name = this.severalPlaces(items, state);
    if (name === undefined)
      return this.printed(state, (printing) => printing.print(items, state.cursor));
    const held = state.variables.get(name)!;
    const { low, high } = held.number!;
    let joinedState: State | undefined;
    for (let value = low; value <= high; value++) {
      const one = state.copy();
      one.variables.set(name, { ...held, number: range(value) });
      if (!this.printed(one, (printing) => printing.print(items, one.cursor))) continue;
      if (joinedState === undefined) joinedState = one;
      else joinedState.join(one, false);
    }
    if (joinedState === undefined) return false;
    state.rows.set(joinedState.rows);
    state.printed = joinedState.printed;
    state.cursor = joinedState.cursor;
    return true;
  }

  private severalPlaces(
    items: (Step['statement'] & { kind: 'PRINT' })['items'],
    state: State,
  ): Name | undefined {
    const moved = items.filter(({ kind }) => kind === 'AT' || kind === 'TAB');
    if (moved.length === 0) return undefined;
    return numbersIn(items).find((name) => {
      const { low, high, whole } = state.named(name);
      return whole && high > low && high - low < MOST_VALUES;
    });
  }

  /** Prints; false where that leaves the display at the bottom, which ends the run. */
  private printed(state: State, print: (printing: Printing) => State['cursor']): boolean {
    let left = false;
    const printing = new Printing(
      state,
      this.longest,
      (growth) => state.grow(growth),
      () => {
        left = true;
      },
    );
    state.cursor = print(printing);
    return !left;
  }

  // ───────────────────────────────── sizes ─────────────────────────────────

  private note(step: Step, place: Place, before: State, after: State): void {
    const cost = stepCost(step, expressionsOf(step), before);
    const { workspace, display: typed } = workOfStatement(step, before);
    const depth = place.frame?.depth ?? 0;
    const kind = step.statement?.kind;
    const areas = {
      display:
        Math.max(before.printed, after.printed) + typed + (kind === 'SCROLL' ? SCROLL_SIZE : 0),
      variables: Math.max(before.variablesSize, after.variablesSize),
      workspace: cost.strings + workspace,
      calculator: cost.values * STACKED_SIZE,
      nesting: cost.nesting,
      gosub: depth * GOSUB_SIZE + (kind === 'GOSUB' ? GOSUB_SIZE + GOSUB_MARGIN : 0),
    };
    const { line } = step;
    const bytes = Object.values(areas).reduce((total, size) => total + size, 0);
    if (bytes > this.together.bytes) this.together = { bytes, line, areas };
    const besides = bytes - areas.display;
    if (besides > this.besides.bytes) this.besides = { bytes: besides, line, areas };
  }
}

interface Way {
  readonly place: Place;
  readonly state: State;
}

/** The values with which a loop goes on, and those with which it ends. */
function split(
  value: NumberRange,
  { limit, step }: Counting,
): { within?: NumberRange; past?: NumberRange } {
  const known = step.low >= 0 && single(value) !== undefined && single(limit) !== undefined;
  if (known) return compared('>', value, limit).low === 0 ? { within: value } : { past: value };
  let [within, past]: (NumberRange | undefined)[] = [undefined, undefined];
  const whole = value.whole && limit.whole;
  if (step.high >= 0) {
    const most = blurred(limit.high, whole, 1);
    if (value.low <= most) within = { ...value, high: Math.min(value.high, most) };
    if (value.high > limit.low) {
      past = { ...value, low: Math.max(value.low, whole ? limit.low + 1 : limit.low) };
    }
  }
  if (step.low < 0) {
    const least = blurred(limit.low, whole, -1);
    const down: NumberRange = { ...value, low: Math.max(value.low, least) };
    if (value.high >= least) within = within === undefined ? down : value;
    const up = { ...value, high: Math.min(value.high, whole ? limit.high - 1 : limit.high) };
    if (value.low < limit.high) past = past === undefined ? up : value;
  }
  return { within, past };
}

function joinRanges(a: NumberRange | undefined, b: NumberRange): NumberRange {
  if (a === undefined) return b;
  return {
    low: Math.min(a.low, b.low),
    high: Math.max(a.high, b.high),
    whole: a.whole && b.whole,
    moves: a.moves && b.moves,
  };
}

/** Lines at which ways can meet: heads of loops, what several lines lead to, and both ends of calls. */
function meetingPoints(
  flow: Flow,
  next: readonly (readonly number[])[],
  { heads }: Nesting,
): boolean[] {
  const ways = new Int32Array(flow.length + 1);
  for (const targets of next) for (const to of targets) ways[to]++;
  for (const { index } of flow.steps) {
    for (const to of flow.calls[index]) ways[to] += 2;
    if (flow.calls[index].length > 0) ways[index + 1] += 2;
  }
  return flow.steps.map(({ index }) => ways[index] > 1 || heads[index].at(-1) === index);
}

/** Places in the order of the course: outer loops pass by pass, within a pass line by line. */
function compare(a: readonly number[], b: readonly number[]): number {
  const shared = Math.min(a.length, b.length);
  for (let at = 0; at < shared; at++) if (a[at] !== b[at]) return a[at] - b[at];
  return a.length - b.length;
}
