/** Everything that a rehearsed program works on: what its compiled lines share. */
import type { IfStatement, Line } from '../../../grammar/tree.js';
import { LINE_PASSED } from '../../machine/timing.js';
import { halt, Wait } from '../halt.js';
import { STACK_DOUBT } from './areas.js';
import type { Clock } from './clock.js';
import type { Keys } from './keys.js';
import { Ledger } from './ledger.js';
import { AT, Memory, type Moment } from './memory.js';
import { Printer } from './printer.js';
import { Screen } from './screen.js';
import { Variables } from './variables.js';

/** What a statement becomes that is made once to run often. */
export interface Compiled {
  readonly run: () => void;
  /** Bytes that its expressions need on the calculator stack, at the deepest; without what follows THEN. */
  readonly calculator: number;
  /** T-states that it takes whatever its values are. */
  readonly cost: number;
}

/**
 * A program line, ready to run. It is a class, for all lines of all rehearsals to be alike to the
 * engine: it looks at them at every statement.
 */
export class ProgramLine implements Compiled {
  readonly number: number;
  readonly run: () => void;
  readonly calculator: number;
  readonly cost: number;
  ran = false;
  /** How often it ran, and the T-states of it, those of the picture among them. */
  runs = 0;
  time = 0;

  constructor(
    { run, calculator, cost }: Compiled,
    readonly source: Line,
    readonly address: number,
  ) {
    this.number = source.number;
    this.run = run;
    this.calculator = calculator;
    this.cost = cost;
  }
}

/** What a person is asked for: a value for INPUT, or a key for PAUSE. */
export interface InputQuestion {
  readonly what: 'number' | 'string' | 'key';
  readonly line: number;
  /** The screen as it is, 24 rows. */
  readonly screen: readonly Uint8Array[];
  /** Why the answer before was not taken. */
  readonly refused?: string;
}

/** Asks a person. Undefined: nobody is there, or the answers have ended. */
export type Ask = (question: InputQuestion) => string | undefined;

export interface ModelOptions {
  readonly image: Uint8Array;
  readonly ram: number;
  readonly keyboard: Keys;
  /** Is a person at the keys while it runs? */
  readonly isLive?: boolean;
  /** Values for INPUT, in order, as they would be typed. */
  readonly inputs: readonly string[];
  readonly ask?: Ask;
  /** What SEED holds at the start, and what RAND alone takes instead of FRAMES. */
  readonly seed?: number;
  /** What USR gives; without it, USR ends the rehearsal. */
  readonly usr?: number;
  /** Goes on where only what the machine stack takes decides whether there is room. */
  readonly inDoubt?: boolean;
}

/** What the rehearsal does otherwise than the machine, or the machine otherwise than may be meant. */
export interface Remark {
  readonly line: number;
  readonly message: string;
}

/** CDFLAG in SLOW: wanted, and so. */
const CDFLAG_SLOW = 0xc0;
/** FRAMES counts in 15 bits; the top one is 1 unless a PAUSE runs. */
const FRAMES_MASK = 0x7fff;
const FRAMES_TOP = 0x8000;

export class Model implements Moment {
  readonly ledger = new Ledger();
  readonly memory: Memory;
  readonly variables: Variables;
  readonly screen: Screen;
  readonly printer: Printer;
  readonly keyboard: Keys;
  readonly remarks = new Map<string, Remark>();
  /** Each IF whose condition was met at some time. */
  readonly taken = new Set<IfStatement>();
  lines: readonly ProgramLine[] = [];
  /** Index of the line that comes next. */
  next = 0;
  line = 0;
  /**
   * Statements until somebody must look up, and the time at which, in T-states: comparing with these
   * is all that the run does at each. What has been run follows from the first.
   */
  countdown = 0;
  lookUpAt = 0;
  private plannedStatements = 0;
  inputsUsed = 0;
  /** Does LPRINT run? Then STR$ prints as well (FLAGS bit 1). */
  toPrinter = false;
  /** Statements run when INKEY$ last found no key down. */
  lastEmptyInkey = Number.NEGATIVE_INFINITY;
  /** Up to when FRAMES has been counted. */
  private countedTime = 0;
  private framesLeft = 0xffff;
  private readonly indexes = new Map<number, number>();

  constructor(readonly options: ModelOptions) {
    this.memory = new Memory(options.image, options.ram, this.ledger);
    this.memory.moment = this;
    if (options.inDoubt) this.memory.benefit = STACK_DOUBT;
    this.framesLeft = this.memory.word(AT.FRAMES);
    this.variables = new Variables(this.memory);
    this.screen = new Screen(this.memory);
    this.printer = new Printer(this.memory);
    this.keyboard = options.keyboard;
    this.memory.bytes[AT.CDFLAG] = CDFLAG_SLOW;
    if (options.seed !== undefined) this.memory.setWord(AT.SEED, options.seed);
  }

  // ───────────────────────────────── lines ─────────────────────────────────

  /** As `indexOf`, with the time that the ROM takes to pass over the lines before it. */
  lineFound(number: number): number {
    const index = this.indexOf(number);
    this.clock.spend(LINE_PASSED * (index + 1));
    return index;
  }

  /** Index of the first line, in the order of the program, with this number or a higher one. */
  indexOf(number: number): number {
    let index = this.indexes.get(number);
    if (index === undefined) {
      index = this.lines.findIndex((line) => line.number >= number);
      if (index < 0) index = this.lines.length;
      this.indexes.set(number, index);
    }
    return index;
  }

  get nextAddress(): number {
    return this.lines[this.next]?.address ?? this.memory.dFile;
  }

  // ───────────────────────────────── time ─────────────────────────────────

  /** Statements run, with the one that runs. */
  get statements(): number {
    return this.plannedStatements - this.countdown;
  }

  get clock(): Clock {
    return this.memory.clock;
  }

  /** Lets so many statements, or the time up to this, go by before anybody looks up. */
  plan(statements: number, time: number): void {
    this.plannedStatements += statements - this.countdown;
    this.countdown = statements;
    this.lookUpAt = time;
  }

  get frame(): number {
    return this.clock.frame;
  }

  /** The system variable FRAMES: it counts down while there is a picture. */
  get frames(): number {
    this.countFrames();
    return this.framesLeft;
  }

  set frames(value: number) {
    this.countFrames();
    this.framesLeft = value;
  }

  private countFrames(): void {
    const { now, frameLength, isSlow } = this.clock;
    const passed = Math.floor((now - this.countedTime) / frameLength);
    this.countedTime += passed * frameLength;
    if (!isSlow) return;
    this.framesLeft = ((this.framesLeft - passed) & FRAMES_MASK) | FRAMES_TOP;
  }

  setPace(slow: boolean): void {
    this.countFrames();
    this.clock.setSlow(slow);
    this.memory.bytes[AT.CDFLAG] = slow ? CDFLAG_SLOW : 0;
  }

  /** PAUSE: lets frames pass until a key is pressed; from 32768 up only a key ends it. */
  pause(length: number): void {
    const key = this.keyboard.nextDown(this.frame);
    const forever = length > FRAMES_MASK;
    if (this.options.isLive && key === undefined) {
      const { clock, frame } = this;
      const until = forever ? Number.POSITIVE_INFINITY : (frame + length) * clock.frameLength;
      const resume = () => this.endPause(forever ? length : length - (this.frame - frame));
      throw new Wait('key', resume, until);
    }
    if (forever && key === undefined && this.askPerson('key') === undefined) {
      throw halt(
        'key',
        `PAUSE ${length} waits for a key, and no key is to come`,
        'give one with --keys, such as --keys "NEWLINE"',
      );
    }
    const untilKey = key === undefined ? Number.POSITIVE_INFINITY : key - this.frame;
    const passed = Math.min(untilKey, forever ? untilKey : length);
    const { clock } = this;
    if (Number.isFinite(passed))
      clock.now = Math.max(clock.now, (this.frame + passed) * clock.frameLength);
    this.endPause(forever ? length : length - passed);
  }

  /** The end of a PAUSE, so many frames before it was due. */
  private endPause(left: number): void {
    this.countedTime = this.clock.now;
    // The ROM sets FRAMES to the length, counts it down, and then sets its high byte (ROM).
    this.framesLeft = 0xff00 | (Math.max(0, left) & 0xff);
  }

  askPerson(what: InputQuestion['what'], refused?: string): string | undefined {
    const screen = this.memory.displayRows();
    return this.options.ask?.({ what, line: this.line, screen, refused });
  }

  // ───────────────────────────────── what is said ─────────────────────────────────

  /** Notes, once, what is to be said of a place. */
  remark(key: string, message: string): void {
    if (!this.remarks.has(key)) this.remarks.set(key, { line: this.line, message });
  }
}
