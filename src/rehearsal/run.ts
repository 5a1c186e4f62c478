/** The rehearsal itself: a listing run on the model, from RUN to its end. */
import type { IfStatement, Line, Listing, Statement } from '../../grammar/tree.js';
import { baseVariable } from '../../grammar/visit.js';
import { buildImage, ramOf } from '../image/build.js';
import { loadingShort } from '../image/loading.js';
import { charactersText, count } from '../listing/print.js';
import { numberText } from '../machine/arithmetic/digits.js';
import { INVERSE, QUOTE } from '../machine/characters.js';
import { CLOCK_HZ } from '../machine/clock.js';
import { DISPLAY_ROWS } from '../machine/memory-map.js';
import { endOfImage } from '../memory/verdict.js';
import { type End, Halt, halt, Wait } from './halt.js';
import { Evaluator } from './language/evaluator.js';
import { StatementMaker } from './language/statements.js';
import {
  DEFAULT_FRAMES,
  DEFAULT_STATEMENTS,
  type InspectOptions,
  type LineTime,
  type Rehearsal,
  type RehearseOptions,
  type RunOptions,
  type StepLimits,
} from './rehearsal.js';
import { Keyboard } from './state/keys.js';
import { AT } from './state/memory.js';
import { Model, ProgramLine } from './state/model.js';
import { codesOf } from './state/output.js';

/**
 * Runs a listing that was read without errors. It starts as RUN does, or, where the image runs by
 * itself (`.start`), at that line with its variables kept. It never throws for what a program does;
 * it throws RangeError for a listing that has errors or is too large to be loaded.
 */
export function rehearse(listing: Listing, options: RehearseOptions = {}): Rehearsal {
  return playOut(new Run(listing, options), options.conts);
}

/** The same, with a look at the model after every statement. */
export function rehearseInspected(listing: Listing, options: InspectOptions): Rehearsal {
  return playOut(new Run(listing, options), options.conts);
}

function playOut(run: Run, conts = 0): Rehearsal {
  run.step();
  for (let left = conts; left > 0 && run.end?.kind === 'report'; left--) {
    run.typeCont();
    run.step();
  }
  return run.result();
}

/** Statements before a limit during which the lines that run are noted, to say where it loops. */
const LAST_LOOK = 2000;
/** T-states that as many take in SLOW, at the most usual. */
const LAST_LOOK_TIME = LAST_LOOK * 100_000;
/** More than so many lines are not a loop to be named. */
const LINES_NAMED = 12;

/** A run that is stepped: `rehearse` is one step to its end. */
export class Run {
  readonly model: Model;
  /** How it ended, once it has. */
  end: End | undefined;
  /** What it waits for, where a person is there to give it. */
  wait: Wait | undefined;
  private readonly lines: ProgramLine[];
  private readonly statementLimit: number;
  private readonly frameLimit: number;
  private readonly timeLimit: number;
  private ledgerStop = 0;
  /** Where the step that runs comes to its end. */
  private stopStatements = Number.POSITIVE_INFINITY;
  private stopTime = Number.POSITIVE_INFINITY;
  /** Is there anything to be done after the statement? */
  private watching = false;
  /** Lines that ran since the last look began. */
  private recent: Set<number> | undefined;

  constructor(
    listing: Listing,
    private readonly options: RunOptions,
  ) {
    const ram = ramOf(listing, options.ram);
    const built = buildImage(listing, { ram });
    const image = options.image ?? built.image;
    if (image === undefined || loadingShort(endOfImage(image), ram) > 0) {
      throw new RangeError('the program is too large to be loaded');
    }
    this.model = new Model({
      image,
      ram,
      keyboard: options.person ?? new Keyboard(options.keys ?? []),
      isLive: options.person !== undefined,
      inputs: options.inputs ?? [],
      ask: options.ask,
      seed: options.seed,
      usr: options.usr,
      inDoubt: options.inDoubt,
    });
    this.lines = this.prepare(listing.lines, built.lineAddresses);
    this.model.lines = this.lines;
    this.model.ledger.onPeak = () => {
      this.watching = true;
    };
    this.statementLimit = options.statements ?? DEFAULT_STATEMENTS;
    this.frameLimit =
      options.frames ?? (options.statements === undefined ? DEFAULT_FRAMES : Infinity);
    this.timeLimit = this.frameLimit * this.model.clock.frameLength;
    // An image may begin with what no run gets by, such as a display that has no rows.
    this.attempt(() => this.start());
  }

  private prepare(lines: readonly Line[], addresses: readonly number[]): ProgramLine[] {
    const maker = new StatementMaker(this.model, new Evaluator(this.model));
    return lines.map((source, index) => {
      const { statement } = source;
      if (statement === undefined) throw new RangeError(`line ${source.number} has an error`);
      return new ProgramLine(maker.make(statement), source, addresses[index]);
    });
  }

  /** The rehearsal as it stands: whole once the run has ended. */
  result(): Rehearsal {
    const end = this.end ?? { kind: 'limit', why: 'it has not ended yet' };
    const { model } = this;
    model.ledger.close(model.memory);
    model.ledger.settlePeak(model.memory);
    return {
      end,
      line: model.line,
      statements: model.statements,
      frames: model.frame,
      seconds: model.clock.seconds,
      profile: this.profile(),
      ram: model.options.ram,
      peak: model.ledger.peak!,
      ledger: model.ledger.entries,
      variables: [...model.memory.largest.values()],
      deepestGosub: model.memory.deepestGosub,
      most: {
        ...model.memory.most,
        'calculator stack': this.lines.reduce((most, { ran, calculator }) => {
          return ran ? Math.max(most, calculator) : most;
        }, model.memory.deepestThen),
      },
      screen: this.finalScreen(end),
      printer: model.printer.strip(),
      unrun: this.lines
        .filter((line) => !line.ran && line.source.statement?.kind !== 'REM')
        .map((line) => line.number),
      untaken: this.lines
        .filter(({ ran, source }) => ran && !ifsOf(source).every((one) => model.taken.has(one)))
        .map(({ number }) => number),
      remarks: [...model.remarks.values()],
    };
  }

  private profile(): LineTime[] {
    return this.lines
      .filter(({ runs }) => runs > 0)
      .map(({ number, runs, time }) => ({ line: number, runs, seconds: time / CLOCK_HZ }));
  }

  /** Number of the line that comes next; undefined once it has ended. */
  get nextLine(): number | undefined {
    if (this.end !== undefined) return undefined;
    return this.wait !== undefined ? this.model.line : this.lines[this.model.next]?.number;
  }

  /** Lets it go on until a limit, the end, or something that a person must give. */
  step({ statements, frames }: StepLimits = {}): void {
    const { model } = this;
    const { clock } = model;
    this.stopStatements = model.statements + (statements ?? Number.POSITIVE_INFINITY);
    this.stopTime = clock.now + (frames ?? Number.POSITIVE_INFINITY) * clock.frameLength;
    let wait: Wait | undefined;
    do {
      if (this.end !== undefined) return;
      wait = this.wait;
      this.attempt(() => this.goOn());
    } while (this.wait !== wait);
  }

  /** Gives an INPUT that waits what was typed for it; it may be refused, and then it waits again. */
  answer(text: string): void {
    const { wait } = this;
    if (this.end === undefined && wait !== undefined && wait.what !== 'key') {
      this.attempt(() => this.resume(wait, text));
    }
  }

  /**
   * CONT typed after a report (06AE): the display is cleared, and the program goes on with the line
   * that was reported, or behind it where that was a STOP. After another end it does nothing.
   */
  typeCont(): void {
    const { end, model } = this;
    if (end?.kind !== 'report') return;
    const { memory } = model;
    this.end = undefined;
    memory.setWord(AT.OLDPPC, end.code === '9' ? model.line + 1 : model.line);
    memory.workspace = 0;
    memory.calculator = 0;
    model.toPrinter = false;
    // A command has no line: where none is left, its report is 0/0.
    model.line = 0;
    this.attempt(() => {
      model.screen.clear();
      model.next = model.indexOf(memory.word(AT.OLDPPC));
    });
  }

  private attempt(work: () => void): void {
    try {
      work();
    } catch (error) {
      if (error instanceof Wait) this.wait = error;
      else if (error instanceof Halt) this.end = error.end;
      else throw error;
    }
  }

  private goOn(): void {
    if (this.wait !== undefined) this.waitOn(this.wait);
    else this.loop();
  }

  /** Time goes by for a program that waits; a PAUSE ends by it, or by a key. */
  private waitOn(wait: Wait): void {
    const { clock, keyboard, frame } = this.model;
    const isPressed = wait.what === 'key' && keyboard.heldAt(frame) !== undefined;
    const now = Math.max(clock.now, Math.min(this.stopTime, wait.until));
    if (!isPressed && Number.isFinite(now)) clock.now = now;
    if (isPressed || clock.now >= wait.until) this.resume(wait, '');
  }

  private resume(wait: Wait, text: string): void {
    this.wait = undefined;
    wait.resume(text);
    this.afterStatement(this.lines[this.model.next - 1]);
  }

  /** RUN: or, for an image that starts by itself, on from where it says. */
  private start(): void {
    const { model, lines } = this;
    const nextAddress = model.memory.word(AT.NXTLIN);
    const index = lines.findIndex((line) => line.address === nextAddress);
    if (index >= 0) {
      model.memory.leaveLoaded();
      model.next = index;
      return;
    }
    model.memory.clearVariables();
    model.screen.clear();
  }

  private loop(): void {
    const { model, lines } = this;
    while (model.next < lines.length) {
      if (model.statements >= this.stopStatements || model.clock.now >= this.stopTime) return;
      this.lookUp(lines[model.next]);
      this.runPlanned();
    }
    this.end = { kind: 'report', code: '0', why: 'the program came to its end' };
  }

  /** Runs the statements that were planned. It is short so that it is compiled well: it is all of the time. */
  private runPlanned(): void {
    const { model, lines } = this;
    const { memory, ledger, clock } = model;
    const { length } = lines;
    while (model.countdown > 0 && model.next < length && clock.now < model.lookUpAt) {
      const begun = clock.now;
      model.countdown--;
      const line = lines[model.next++];
      const { calculator } = line;
      model.line = line.number;
      line.ran = true;
      memory.workspace = 0;
      memory.calculator = calculator;
      if (memory.ceiling - memory.eLine - calculator < ledger.low) {
        memory.askCalculator(calculator);
      }
      clock.spend(line.cost);
      line.runs++;
      line.run();
      line.time += clock.now - begun;
      if (this.watching) this.afterStatement(line);
    }
  }

  private afterStatement(line: ProgramLine): void {
    const { model } = this;
    const { trace, inspect } = this.options;
    model.ledger.settlePeak(model.memory);
    this.recent?.add(line.number);
    if (trace !== undefined) trace(line.number, this.valueLeft(line.source.statement!));
    if (inspect !== undefined) inspect(model);
    this.watching = (this.recent ?? trace ?? inspect) !== undefined;
  }

  /** Before a line: limits, the BREAK key, the ledger's stretches; then plans what runs without a look. */
  private lookUp(line: ProgramLine): void {
    const { model } = this;
    const { ledger, keyboard, memory } = model;
    const halted = this.haltedNow(line);
    if (halted !== undefined) throw halted;
    const { statements, clock } = model;
    if (statements >= this.ledgerStop) {
      this.options.progress?.(
        Math.max(statements / this.statementLimit, clock.now / this.timeLimit),
      );
      model.line = line.number;
      memory.workspace = 0;
      memory.calculator = 0;
      ledger.close(memory);
      this.ledgerStop = statements + ledger.stretch;
    }
    const lastLook = this.statementLimit - LAST_LOOK;
    const lastTime = this.timeLimit - LAST_LOOK_TIME;
    if (statements >= lastLook || clock.now >= lastTime) this.recent ??= new Set();
    this.watching = (this.recent ?? this.options.trace ?? this.options.inspect) !== undefined;
    const looking = this.recent !== undefined;
    const breakFrame = keyboard.nextBreak(model.frame) ?? Number.POSITIVE_INFINITY;
    const planned = Math.min(
      this.ledgerStop - statements,
      this.stopStatements - statements,
      (looking ? this.statementLimit : lastLook) - statements,
    );
    const time = Math.min(
      looking ? this.timeLimit : lastTime,
      breakFrame * clock.frameLength,
      this.stopTime,
    );
    // One statement at the least, whatever the time.
    model.plan(Math.max(1, planned), Math.max(time, clock.now + 1));
  }

  private haltedNow(line: ProgramLine): Halt | undefined {
    const { model } = this;
    if (model.statements >= this.statementLimit) {
      return this.limitReached(count(this.statementLimit, 'statement'), '--statements');
    }
    if (model.clock.now >= this.timeLimit) {
      return this.limitReached(count(this.frameLimit, 'frame'), '--frames');
    }
    if (!model.keyboard.heldAt(model.frame)?.isBreak) return undefined;
    // PPC is set before BREAK is looked at (066C).
    model.line = line.number;
    return new Halt({ kind: 'report', code: 'D', why: 'the BREAK key was pressed' });
  }

  private limitReached(limit: string, option: string): Halt {
    const { model } = this;
    const numbers = [...(this.recent ?? [])].sort((a, b) => a - b);
    const where =
      numbers.length > 0 && numbers.length <= LINES_NAMED
        ? `; the last were run in ${numbers.length === 1 ? 'line' : 'lines'} ${numbers.join(', ')}`
        : '';
    const waits = model.statements - model.lastEmptyInkey < LAST_LOOK;
    if (waits && !model.keyboard.hasMore(model.frame)) {
      return halt(
        'limit',
        `it waits for a key: INKEY$ found none down up to the limit of ${limit}${where}`,
        'press one with --keys, such as --keys "NEWLINE"',
      );
    }
    return halt(
      'limit',
      `it had not ended at the limit of ${limit}${where}`,
      `see whether it is meant to run for ever; ${option} changes the limit`,
    );
  }

  // ───────────────────────────────── what is shown ─────────────────────────────────

  /** `N = 3`: the variable that a statement changes, as it is now. */
  private valueLeft(statement: Statement): string {
    if (statement.kind === 'IF') return this.valueLeft(statement.then);
    const { variables } = this.model;
    if (statement.kind === 'FOR' || statement.kind === 'NEXT') {
      const { name } = statement.variable;
      return `${name} = ${numberText(variables.read(variables.number(name)))}`;
    }
    if (statement.kind !== 'LET' && statement.kind !== 'INPUT') return '';
    const { target } = statement;
    const evaluator = new Evaluator(this.model);
    const name = baseVariable(target)?.name ?? '';
    try {
      const value =
        target.type === 'number'
          ? numberText(evaluator.number(target)())
          : `"${charactersText(evaluator.string(target)(), true)}"`;
      return `${name} = ${value}`;
    } catch (error) {
      // A LET after THEN that was not reached may name what is not there.
      if (error instanceof Halt) return '';
      throw error;
    }
  }

  /** The rows of the display, and what the machine writes at the bottom when it stops. */
  private finalScreen(end: End): Uint8Array[] {
    const rows = this.model.memory.displayRows();
    const last = DISPLAY_ROWS - 1;
    if (end.code !== undefined) rows[last] = codesOf(`${end.code}/${this.model.line}`);
    if (end.kind === 'input') {
      const cursor = codesOf('L')[0] + INVERSE;
      const isText = end.why.startsWith('INPUT waits for a string');
      rows[last] = isText ? Uint8Array.of(QUOTE, cursor, QUOTE) : Uint8Array.of(cursor);
    }
    return rows;
  }
}

/** IF a THEN IF b THEN … has several. */
function ifsOf({ statement }: Line): IfStatement[] {
  const found: IfStatement[] = [];
  for (let one = statement; one?.kind === 'IF'; one = one.then) found.push(one);
  return found;
}
