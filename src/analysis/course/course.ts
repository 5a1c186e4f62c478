/**
 * The courses that a run can take, followed from RUN on: loops with known ends pass by pass,
 * subroutines call by call, both ways where only the run knows which. Ways that meet at the same
 * point of the same pass are joined. So what stands in memory at the same time is known together,
 * and the display as it is written over, scrolled and cleared.
 *
 * The work has a bound that follows from the length of the program. Past a part of it loops are no
 * longer followed pass by pass: their passes are joined, and what still moves is let go. Where that
 * does not settle either, or the program does what cannot be followed, it gives up. Both are told.
 */
import type { Expression, Line, PrintItem } from '../../../grammar/tree.js';
import { PROGRAM_START, RAM_START } from '../../machine/memory-map.js';
import { FOR_VARIABLE_SIZE } from '../../machine/variables.js';
import { conditionsCost } from '../expression-cost.js';
import { range } from '../expression-ranges.js';
import type { Flow } from '../flow.js';
import type { Name } from '../names.js';
import { ANYWHERE } from '../printing.js';
import { ownExpressions, type Step } from '../steps.js';
import { Worklist } from '../worklist.js';
import type { Apart } from './apart.js';
import { decided } from './conditions.js';
import { Moments } from './fullest.js';
import { type Course, type GivenUp, givenUp, type Undone } from './known.js';
import { begin, type Lead, turn } from './loops.js';
import type { Drawing } from './lots/drawing.js';
import { drawsOf, drawsOfAll } from './lots/lot-values.js';
import { partedByTarget, settingByLots } from './lots/parting.js';
import { meetingPoints, type Nesting, nestingOf } from './nesting.js';
import { plot, print, type Watch } from './printed-places.js';
import { settingOf } from './setting.js';
import { type Held, State, Unfollowed } from './state.js';

/** Steps that are followed before loops are let go; before all is, twice as many: these and so many a line. */
const PATIENT_STEPS = { least: 3000, aLine: 60 };
/** The same where ways are kept apart: that pays in short programs, and takes too long in long ones. */
const PATIENT_APART = { least: 6000, aLine: 12 };
/** Passes of one loop that are followed one by one. */
const MOST_PASSES = 300;
/** Ways that are kept apart at one point of one pass. */
const MOST_KINDS = 100;
const DEEPEST_CALL = 40;

/** Statements that work RND out lot by lot where they can. */
const KNOW_OF_LOTS = new Set(['LET', 'PRINT', 'PLOT', 'UNPLOT', 'FOR', 'NEXT', 'GOTO', 'GOSUB']);

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
  visits: number;
  /** Has it been followed with its lots told apart? They are not kept. */
  told: boolean;
}

/** What is told apart where it meets. */
export interface Told {
  readonly apart?: Apart;
  /** What each lot that RND can draw leads to. */
  readonly lots?: Drawing;
}

/** Follows a program; `longest`: characters that one character of a string is shown as at most. */
export function courseOf(flow: Flow, longest: number, told: Told = {}): Course | GivenUp {
  if (flow.open) return givenUp('a jump may lead to any line, or a line is not understood');
  if (flow.entry >= flow.length) return givenUp('it has no line to begin at');
  const follower = new Follower(flow, longest, told);
  try {
    return follower.follow();
  } catch (error) {
    if (!(error instanceof Unfollowed)) throw error;
    return givenUp(error.message, follower.line);
  }
}

class Follower {
  private readonly nesting: Nesting;
  private readonly meets: boolean[];
  private readonly meetings = new Map<string, Meeting>();
  private readonly waiting = new Worklist<Meeting>((a, b) => inOrder(a.path, b.path));
  private readonly moments: Moments;
  private readonly sizes = new Map<Name, number>();
  /** For each point how many kinds of ways are kept apart there. */
  private readonly kinds = new Map<string, number>();
  private steps = 0;
  /** The line that is being followed. */
  line: Line | undefined;
  private undone: Undone | undefined;
  private readonly patience: number;
  private readonly limit: number;

  constructor(
    private readonly flow: Flow,
    private readonly longest: number,
    private readonly told: Told,
  ) {
    this.moments = new Moments(flow.length);
    const inside = flow.next.map((next) => next.filter((to) => to < flow.length));
    this.nesting = nestingOf(inside);
    this.meets = meetingPoints(flow, inside, this.nesting);
    const { least, aLine } = told.apart === undefined ? PATIENT_STEPS : PATIENT_APART;
    this.patience = least + aLine * flow.length;
    this.limit = 2 * this.patience;
  }

  follow(): Course {
    const { entry } = this.flow;
    this.arrive({ index: entry, passes: this.nesting.heads[entry].map(() => 0) }, new State());
    for (const meeting of this.waiting) {
      meeting.visits++;
      this.walk(meeting.place, this.taken(meeting));
    }
    const { together, besides } = this.moments;
    return { together, besides, sizes: this.sizes, undone: this.undone };
  }

  /** A state to go on with. What tells its lots apart is large, and is not kept. */
  private taken(meeting: Meeting): State {
    const { lots } = meeting.state;
    if (lots === undefined) return meeting.state.copy();
    meeting.state.forgetLots();
    meeting.told = true;
    const state = meeting.state.copy();
    state.lots = lots;
    return state;
  }

  /** Goes on as long as there is one way and no other can meet it. */
  private walk(from: Place, start: State): void {
    let place = from;
    let state = start;
    for (;;) {
      this.line = this.flow.steps[place.index].line;
      if (++this.steps > this.limit) {
        throw new Unfollowed(`it had not come to an end after ${this.limit} steps`);
      }
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
    const point = path.join();
    const kind = this.kindAt(point, place, state);
    const key = point + kind;
    const known = this.meetings.get(key);
    if (known === undefined) {
      if (this.isOld(place, kind, state)) return;
      const meeting = { place, path, state: state.copy(), visits: 0, told: false };
      this.meetings.set(key, meeting);
      this.waiting.put(meeting);
      return;
    }
    const changed = known.state.join(state, known.visits > 1);
    if (changed || known.told) this.waiting.put(known);
    known.told = false;
  }

  /** What keeps a way apart at a point; the same for all where there are too many, or steps run out. */
  private kindAt(point: string, { index }: Place, state: State): string {
    if (this.told.apart === undefined || this.steps >= this.patience) return '';
    const kind = this.told.apart.kind(index, state);
    if (this.meetings.has(point + kind)) return kind;
    const kinds = (this.kinds.get(point) ?? 0) + 1;
    if (kinds > MOST_KINDS) return '';
    this.kinds.set(point, kinds);
    return kind;
  }

  /** Does the pass before this one hold everything already? Then nothing new can follow. */
  private isOld(place: Place, kind: string, state: State): boolean {
    const heads = this.nesting.heads[place.index];
    const at = heads.length - 1;
    if (at < 0 || heads[at] !== place.index || place.passes[at] === 0) return false;
    const passes = [...place.passes];
    passes[at]--;
    const before = this.meetings.get(this.pathOf({ ...place, passes }).join() + kind);
    if (before === undefined || before.told || state.lots !== undefined) return false;
    return !before.state.copy().join(state, false);
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

  /** The passes at a line that is come to from another one within the same call. */
  private placeAfter({ index, passes, frame }: Place, to: number): Place {
    const [from, heads] = [this.nesting.heads[index], this.nesting.heads[to]];
    let same = true;
    const next = heads.map((head, at) => {
      same &&= from[at] === head;
      if (!same) return 0;
      if (head !== to) return passes[at];
      if (this.isPatient(passes[at])) return passes[at] + 1;
      return passes[at];
    });
    return { index: to, passes: next, frame };
  }

  /** Is a loop followed further pass by pass? */
  private isPatient(passes: number): boolean {
    if (this.steps < this.patience && passes < MOST_PASSES) return true;
    this.undone ??= {
      why: `a loop was followed pass by pass no further than pass ${passes + 1}`,
      line: this.line,
    };
    return false;
  }

  // ───────────────────────────────── one line ─────────────────────────────────

  /** Changes the state. */
  private step(place: Place, before: State): Way[] {
    const step = this.flow.steps[place.index];
    const ways: Way[] = [];
    if (this.told.lots?.before(step, before, this.steps < this.patience)) {
      this.undone ??= {
        why: 'what RND draws was followed for all its values together from here on',
        line: step.line,
      };
    }
    let state = before;
    const depth = place.frame?.depth ?? 0;
    let strings = 0;
    if (step.conditions.length > 0) {
      const cost = conditionsCost(step, before);
      this.moments.working(step, depth, before, cost);
      strings = cost.strings;
    }
    for (const condition of step.conditions) {
      const { holding, not } = decided(state, condition);
      if (not !== undefined) this.go(ways, place, place.index + 1, not);
      if (holding === undefined) return ways;
      state = holding;
    }
    if (step.statement?.kind === 'PRINT') {
      this.print(step, step.statement.items, place, state, strings, ways);
      return ways;
    }
    const begun = this.moments.begin(step, depth, state, strings);
    this.run(step, place, state, ways);
    this.moments.end(step, depth, begun, state);
    return ways;
  }

  private print(
    step: Step,
    items: readonly PrintItem[],
    place: Place,
    state: State,
    conditions: number,
    ways: Way[],
  ): void {
    const depth = place.frame?.depth ?? 0;
    const watch: Watch = {
      working: (then, cost) =>
        this.moments.working(step, depth, then, { ...cost, strings: conditions + cost.strings }),
      printed: (then, strings) => this.moments.done(step, depth, then, conditions + strings),
    };
    if (print({ items, longest: this.longest, watch }, state))
      this.go(ways, place, place.index + 1, state);
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
        way.place.passes.every((pass, at) => pass === place.passes[at]) &&
        this.areAlike(way, state),
    );
    if (same === undefined) ways.push({ place, state });
    else {
      const both = same.state.copy();
      both.join(state, false);
      ways[ways.indexOf(same)] = { place, state: both };
    }
  }

  private areAlike({ place: { index }, state }: Way, other: State): boolean {
    const { apart } = this.told;
    return apart === undefined || apart.kind(index, state) === apart.kind(index, other);
  }

  private run(step: Step, place: Place, state: State, ways: Way[]): void {
    const { statement, index } = step;
    const next = (): void => this.go(ways, place, index + 1, state);
    const lead = (leads: readonly Lead[]): void => {
      for (const { to, state: there } of leads) this.go(ways, place, to, there);
    };
    if (statement !== undefined && !KNOW_OF_LOTS.has(statement.kind)) {
      state.draw(drawsOfAll(ownExpressions(statement)));
    }
    switch (statement?.kind) {
      case 'GOTO':
        lead(this.jump(statement.args[0], state));
        return;
      case 'GOSUB':
        this.call(place, this.jump(statement.args[0], state), ways);
        return;
      case 'RETURN':
        this.goBack(place, state, ways);
        return;
      case 'FOR':
        this.noteSize(statement.variable.name, FOR_VARIABLE_SIZE);
        lead(begin(index, statement, state, this.flow));
        return;
      case 'NEXT':
        lead(turn(index, statement.variable.name, state));
        return;
      case 'STOP':
      case 'NEW':
      case 'LOAD':
        return;
      case undefined:
      case 'unchecked':
      case 'RUN':
      case 'CONT':
        throw new Unfollowed('RUN and CONT begin anew with what stands there');
      case 'LET': {
        const byLots = settingByLots(statement, state);
        this.set(settingOf(statement, state), state);
        if (byLots === undefined) state.draw(drawsOfAll(ownExpressions(statement)));
        else byLots(state);
        next();
        return;
      }
      case 'INPUT':
      case 'DIM':
        // What is typed may be RND.
        if (statement.kind === 'INPUT') state.draw(Infinity);
        this.set(settingOf(statement, state), state);
        next();
        return;
      case 'RAND':
        this.told.lots?.rand(statement.args, state);
        next();
        return;
      case 'PLOT':
      case 'UNPLOT':
        if (plot(statement.args, state, this.longest)) next();
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
        if (low < PROGRAM_START && high >= RAM_START) {
          throw new Unfollowed('POKE may change the system variables');
        }
        next();
        return;
      }
      case 'CLEAR':
        state.clearVariables();
        next();
        return;
      default:
        next();
    }
  }

  /** Where a jump leads. Changes the state. */
  private jump(node: Expression, state: State): Lead[] {
    const byLots = partedByTarget(state, node);
    if (byLots !== undefined) {
      return byLots.map(({ number, state: there }) => ({
        to: this.flow.targetsBetween(range(number))![0],
        state: there,
      }));
    }
    const targets = this.flow.targetsBetween(state.number(node));
    if (targets === undefined) throw new Unfollowed('a jump may lead to too many lines');
    state.draw(drawsOf(node));
    return targets.map((to) => ({ to, state }));
  }

  private call(place: Place, leads: readonly Lead[], ways: Way[]): void {
    const depth = (place.frame?.depth ?? 0) + 1;
    if (depth > DEEPEST_CALL) {
      throw new Unfollowed(`GOSUBs stand more than ${DEEPEST_CALL} deep within one another`);
    }
    const { index: caller, passes } = place;
    const frame = { caller, passes, path: this.pathOf(place), depth, up: place.frame };
    for (const { to: index, state } of leads) {
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

  // ───────────────────────────────── loops and variables ─────────────────────────────────

  private set(setting: ReturnType<typeof settingOf>, state: State): void {
    if (setting !== undefined) this.hold(state, ...setting);
  }

  private hold(state: State, name: Name, held: Held): void {
    state.hold(name, held);
    this.noteSize(name, held.size);
  }

  private noteSize(name: Name, size: number): void {
    if (size > (this.sizes.get(name) ?? 0)) this.sizes.set(name, size);
  }
}

interface Way {
  readonly place: Place;
  readonly state: State;
}

/** Places in the order of the course: outer loops pass by pass, within a pass line by line. */
function inOrder(a: readonly number[], b: readonly number[]): number {
  const shared = Math.min(a.length, b.length);
  for (let at = 0; at < shared; at++) if (a[at] !== b[at]) return a[at] - b[at];
  return a.length - b.length;
}
