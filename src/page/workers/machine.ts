/** The machine, live: a stepped rehearsal at the machine's own pace, in a Web Worker. */
import { charactersText } from '../../listing/print.js';
import { readListing } from '../../listing/read.js';
import { KEYWORDS, unicodeOfCode } from '../../machine/characters.js';
import { CLOCK_HZ } from '../../machine/clock.js';
import { DISPLAY_COLUMNS, DISPLAY_ROWS } from '../../machine/memory-map.js';
import { chosenRam } from '../../machine/ram-size.js';
import { Run } from '../../rehearsal/run.js';
import type { AreaSizes } from '../../rehearsal/state/areas.js';
import { HeldKeys } from '../../rehearsal/state/keys.js';
import { endText, plainRow } from '../../rehearsal/telling/show.js';

/** A key as the machine sees it. */
export interface HeldKey {
  readonly code: number;
  readonly isBreak: boolean;
}

/** What the page asks of the machine. */
export type MachineOrder =
  | { readonly do: 'load'; readonly text: string; readonly ram?: string }
  | { readonly do: 'run' }
  | { readonly do: 'pause' }
  | { readonly do: 'step' }
  /** Runs until this line comes next. */
  | { readonly do: 'until'; readonly line: number }
  | { readonly do: 'key'; readonly key?: HeldKey }
  /** What was typed at INPUT, without NEWLINE. */
  | { readonly do: 'type'; readonly codes: readonly number[] }
  | { readonly do: 'pace'; readonly pace: number };

export type MachineState = 'running' | 'paused' | 'ended' | 'broken';

/** What the page is shown. */
export interface MachineView {
  readonly state: MachineState;
  /** 24 rows of 32 codes. */
  readonly screen: Uint8Array;
  /** The screen's rows as text. */
  readonly rows: readonly string[];
  /** Is there no picture, since it computes in FAST? */
  readonly isDark: boolean;
  /** The line that comes next, or that waits. */
  readonly line?: number;
  readonly statements: number;
  readonly wait?: { readonly what: 'number' | 'string' | 'key'; readonly refused?: string };
  /** How it ended, or why it does not begin. */
  readonly end?: string;
  readonly ram: number;
  readonly spare: number;
  readonly sizes?: AreaSizes;
  readonly remarks: readonly string[];
}

/** Milliseconds between two looks at the clock; pictures are sent no oftener. */
const TICK = 1000 / 60;
/** After a longer stop, such as a sleeping computer, the machine does not catch up. */
const LONGEST = 200;
/** Milliseconds of each tick that a fast pace may take at most. */
const SHARE = 8;
/** Frames of a PAUSE that ends by itself. */
const LONGEST_PAUSE = 32767;
/** Frames that are run between two looks at how long that took. */
const STRIDE = 2;

export class LiveMachine {
  private run: Run | undefined;
  private keys = new HeldKeys();
  private state: MachineState = 'paused';
  private problem: string | undefined;
  private until: number | undefined;
  private pace = 1;
  private last = 0;
  private timer: ReturnType<typeof setInterval> | undefined;
  /** Where the machine's clock should stand now, in T-states. */
  private due = 0;

  constructor(private readonly show: (view: MachineView) => void) {}

  take(order: MachineOrder): void {
    switch (order.do) {
      case 'load':
        this.load(order.text, order.ram);
        break;
      case 'run':
        this.until = undefined;
        this.start();
        break;
      case 'until':
        this.until = order.line;
        // Where it stands there already, it goes round once.
        this.stepOnce();
        this.start();
        break;
      case 'pause':
        this.stop('paused');
        break;
      case 'step':
        this.stop('paused');
        this.stepOnce();
        break;
      case 'key':
        this.keys.hold(order.key);
        return;
      case 'type':
        this.run?.answer(this.typed(order.codes));
        break;
      case 'pace':
        this.pace = order.pace;
        return;
    }
    this.tell();
  }

  private load(text: string, ram: string | undefined): void {
    this.stop('paused');
    this.run = undefined;
    this.keys = new HeldKeys();
    this.problem = undefined;
    const { listing, diagnostics } = readListing(text);
    const error = diagnostics.find(({ severity }) => severity === 'error');
    if (error !== undefined) {
      this.state = 'broken';
      this.problem = error.message;
      return;
    }
    try {
      this.run = new Run(listing, {
        ram: chosenRam(ram),
        statements: Number.POSITIVE_INFINITY,
        person: this.keys,
      });
    } catch (error) {
      // A program that is larger than the RAM: the library says so.
      if (!(error instanceof RangeError)) throw error;
      this.state = 'broken';
      this.problem = error.message;
    }
  }

  private start(): void {
    const { run } = this;
    if (run === undefined || run.end !== undefined) return;
    this.state = 'running';
    this.last = performance.now();
    this.due = run.model.clock.now;
    this.timer ??= setInterval(() => this.tick(), TICK);
  }

  private stop(state: MachineState): void {
    clearInterval(this.timer);
    this.timer = undefined;
    this.state = state;
  }

  private stepOnce(): void {
    const { run } = this;
    if (run === undefined) return;
    // A PAUSE that waits comes to its end, unless it has none; INPUT stays.
    if (run.wait === undefined) run.step({ statements: 1 });
    else run.step({ statements: 0, frames: LONGEST_PAUSE });
    if (run.end !== undefined) this.stop('ended');
  }

  private tick(): void {
    const run = this.run!;
    const { clock } = run.model;
    const now = performance.now();
    const passed = Math.min(now - this.last, LONGEST);
    this.last = now;
    this.due += (passed / 1000) * CLOCK_HZ * this.pace;
    const latest = now + SHARE;
    while (clock.now < this.due && run.end === undefined && this.state === 'running') {
      if (this.until !== undefined && run.nextLine === this.until) {
        this.until = undefined;
        this.stop('paused');
        break;
      }
      const frames = Math.min(STRIDE, (this.due - clock.now) / clock.frameLength);
      // One by one to that line: and none behind a PAUSE that ends on the way.
      const one = run.wait === undefined ? 1 : 0;
      run.step({ frames, statements: this.until === undefined ? undefined : one });
      if (performance.now() > latest) {
        // It cannot go faster here: what is not done now is not owed.
        this.due = clock.now;
      }
    }
    if (run.end !== undefined) this.stop('ended');
    this.tell();
  }

  /** What was typed, as the rehearsal takes it. */
  private typed(codes: readonly number[]): string {
    if (this.run?.wait?.what === 'string') return charactersText(Uint8Array.from(codes), true);
    const words = codes.map((code) => {
      const keyword = KEYWORDS.get(code);
      return keyword === undefined ? (unicodeOfCode(code) ?? '?') : ` ${keyword} `;
    });
    return words.join('').trim();
  }

  private tell(): void {
    const { run, state } = this;
    if (run === undefined) {
      this.show({ ...DARK, state, end: this.problem });
      return;
    }
    const { model, end, wait } = run;
    const rows = end === undefined ? model.memory.displayRows() : run.result().screen;
    const screen = new Uint8Array(DISPLAY_COLUMNS * DISPLAY_ROWS);
    rows.slice(0, DISPLAY_ROWS).forEach((codes, row) => {
      screen.set(codes.subarray(0, DISPLAY_COLUMNS), row * DISPLAY_COLUMNS);
    });
    this.show({
      state,
      screen,
      rows: rows.map((codes) => plainRow(codes).trimEnd()),
      isDark: state === 'running' && !model.clock.isSlow && wait === undefined,
      line: run.nextLine,
      statements: model.statements,
      wait: wait && { what: wait.what, refused: wait.refused },
      end: end && endText(run.result()),
      ram: model.options.ram,
      spare: model.memory.spare,
      sizes: model.memory.sizes(),
      remarks: [...model.remarks.values()].map(({ line, message }) => `${line}: ${message}`),
    });
  }
}

const DARK: MachineView = {
  state: 'paused',
  screen: new Uint8Array(DISPLAY_COLUMNS * DISPLAY_ROWS),
  rows: [],
  isDark: false,
  statements: 0,
  ram: 0,
  spare: 0,
  remarks: [],
};
