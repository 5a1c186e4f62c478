/** The machine's part of the page: screen, buttons, keys, what it says, and its memory as it runs. */
import { KEYWORD_CODES } from '../../machine/characters.js';
import { LEDGER_AREAS } from '../../rehearsal/state/areas.js';
import { $, make, setText } from '../dom.js';
import { strip } from '../listing/fit.js';
import { TEXTS } from '../texts.js';
import type { MachineOrder, MachineView } from '../workers/machine.js';
import { startWorker } from '../workers/start.js';
import { MachineKeys } from './keys.js';
import { Screen } from './screen.js';
import { TypedLine } from './typed-line.js';

/** What the machine needs of the listing. */
export interface Source {
  readonly text: string;
  readonly ram: string | undefined;
  readonly lineAtCursor: number | undefined;
  showRunning(line: number | undefined): void;
}

/** Milliseconds between two changes of what is not the picture. */
const SLOW_LOOK = 250;
/** Points of the ledger's curve. */
const POINTS = 400;

const t = TEXTS.machine;

export class Machine {
  private worker: Promise<Worker> | undefined;
  private readonly screen = new Screen($<HTMLCanvasElement>('screen'));
  private readonly typed = new TypedLine();
  private view: MachineView | undefined;
  private isLoaded = false;
  private lastLook = 0;
  /** The line at the last slow look, which is marked once it is the same at the next. */
  private lastLine: number | undefined;
  private spares: number[] = [];

  constructor(private readonly source: Source) {
    new MachineKeys($('keys'), $('glass'), {
      held: (key) => void this.order({ do: 'key', key }),
      pressed: (key, isShifted) => {
        if (this.isTyping) this.enter(this.typed.press(key, isShifted));
      },
      typed: (code) => {
        if (this.isTyping) this.enter(this.typed.put(code));
      },
    });
    this.listen();
  }

  /** The listing has changed: what runs goes on, and the next start takes the new one. */
  listingChanged(): void {
    this.isLoaded = false;
  }

  private listen(): void {
    for (const id of ['run', 'restart'])
      $(id).onclick = () => {
        void this.start({ do: 'run' }, true);
        $('glass').focus();
      };
    $('step').onclick = () => void this.start({ do: 'step' });
    $('here').onclick = () => {
      const line = this.source.lineAtCursor;
      if (line !== undefined) void this.start({ do: 'until', line });
    };
    $('pause').onclick = () => {
      void this.order({ do: this.view?.state === 'running' ? 'pause' : 'run' });
    };
    $('break').onclick = () => void this.breakOff();
    const pace = $<HTMLSelectElement>('pace');
    pace.onchange = () => void this.order({ do: 'pace', pace: Number(pace.value) });
  }

  private async start(order: MachineOrder, anew = false): Promise<void> {
    const state = this.view?.state;
    const isOver = state === 'ended' || state === 'broken';
    if (anew || isOver || (!this.isLoaded && state !== 'running')) {
      this.typed.clear();
      this.spares = [];
      this.isLoaded = true;
      const { text, ram } = this.source;
      await this.order({ do: 'pace', pace: Number($<HTMLSelectElement>('pace').value) });
      await this.order({ do: 'load', text, ram });
    }
    await this.order(order);
  }

  /** At INPUT it is STOP that ends a program; everywhere else SPACE, held for a moment. */
  private async breakOff(): Promise<void> {
    const key = { code: 0, isBreak: true };
    if (this.isTyping) await this.order({ do: 'type', codes: [STOP] });
    await this.order({ do: 'key', key });
    await this.order({ do: 'run' });
    setTimeout(() => void this.order({ do: 'key' }), HELD);
  }

  private async order(order: MachineOrder): Promise<void> {
    // Keys that nobody waits for start no machine.
    if (this.worker === undefined && (order.do === 'key' || order.do === 'pace')) {
      if (order.do === 'key') return;
    }
    this.worker ??= this.startWorker();
    (await this.worker).postMessage({ machine: order });
  }

  private async startWorker(): Promise<Worker> {
    const worker = await startWorker('bench');
    worker.onmessage = ({ data }) => this.take((data as { view: MachineView }).view);
    return worker;
  }

  private get isTyping(): boolean {
    const what = this.view?.wait?.what;
    return what === 'number' || what === 'string';
  }

  private enter(codes: readonly number[] | undefined): void {
    if (codes !== undefined) {
      void this.order({ do: 'type', codes: [...codes] });
      this.typed.clear();
    }
    this.draw();
  }

  private take(view: MachineView): void {
    const before = this.view;
    this.view = view;
    this.draw();
    this.spares.push(view.spare);
    const now = performance.now();
    const isNews = before?.state !== view.state || before?.wait?.what !== view.wait?.what;
    const isMoved = view.state === 'paused' && before?.line !== view.line;
    if (!isNews && !isMoved && view.state === 'running' && now - this.lastLook < SLOW_LOOK) return;
    this.lastLook = now;
    this.look(view);
  }

  private draw(): void {
    const { view } = this;
    if (view === undefined) return;
    const { screen, isDark, wait } = view;
    const what = wait?.what;
    if (what === 'number' || what === 'string') {
      this.screen.show(this.typed.onto(screen, what, wait?.refused !== undefined));
    } else this.screen.show(isDark ? new Uint8Array(screen.length) : screen);
  }

  /** Everything but the picture: words, buttons, memory, the line that runs. */
  private look(view: MachineView): void {
    const { state, line, rows, remarks } = view;
    setText($('report'), this.words(view));
    const runs = state === 'running';
    $<HTMLButtonElement>('pause').disabled = !runs && state !== 'paused';
    setText($('pause'), runs ? t.pause : t.goOn);
    $<HTMLButtonElement>('break').disabled = state === 'ended' || state === 'broken';
    $<HTMLButtonElement>('restart').disabled = false;
    setText($('screen-text'), view.isDark ? t.fast : rows.join('\n').trimEnd() || t.empty);
    // While it runs, only a line that stays is marked: a mark that hurries would flicker.
    this.source.showRunning(runs && line !== this.lastLine ? undefined : line);
    this.lastLine = line;
    const said = $('remarks');
    if (said.childElementCount !== remarks.length) {
      said.replaceChildren(...remarks.map((words) => make('li', {}, `${t.remark}: ${words}`)));
    }
    this.showMemory(view);
  }

  private words({ state, wait, line, end }: MachineView): string {
    if (end !== undefined) return end;
    if (state === 'broken') return t.broken;
    if (wait !== undefined) {
      const refused = wait.refused === undefined ? '' : `${t.refused(wait.refused)} `;
      const paused = state === 'paused' ? `${t.pausedThere} ` : '';
      return paused + refused + t.waits[wait.what](line ?? 0);
    }
    return state === 'running' ? t.running(undefined) : t.paused(line);
  }

  private showMemory({ sizes, ram, spare }: MachineView): void {
    if (sizes === undefined) return;
    $('in-use').hidden = false;
    setText($('now'), t.now(ram - spare, ram, spare));
    $('now-map').replaceChildren(
      ...LEDGER_AREAS.map((area) => strip(area, Math.max(0, sizes[area]) / ram)),
    );
    this.drawLedger(ram);
  }

  /** Bytes to spare since the start: of each stretch of pictures, the least. */
  private drawLedger(ram: number): void {
    if (this.spares.length > 2 * POINTS) {
      this.spares = this.spares.flatMap((spare, at, all) =>
        at % 2 === 0 ? [Math.min(spare, all[at + 1] ?? spare)] : [],
      );
    }
    const canvas = $<HTMLCanvasElement>('ledger');
    const [width, height] = [canvas.clientWidth, canvas.clientHeight];
    const scale = devicePixelRatio;
    canvas.width = width * scale;
    canvas.height = height * scale;
    const context = canvas.getContext('2d')!;
    context.scale(scale, scale);
    const style = getComputedStyle(canvas);
    context.strokeStyle = style.getPropertyValue('--accent');
    context.fillStyle = style.getPropertyValue('--tint');
    context.lineWidth = 1.5;
    const curve = new Path2D();
    this.spares.forEach((spare, at) => {
      const x = (width * at) / Math.max(1, this.spares.length - 1);
      curve.lineTo(x, height - 2 - ((height - 4) * Math.max(0, spare)) / ram);
    });
    const under = new Path2D(curve);
    under.lineTo(width, height);
    under.lineTo(0, height);
    context.fill(under);
    context.stroke(curve);
  }
}

const STOP = KEYWORD_CODES.get('STOP')!;
/** Milliseconds that BREAK is held. */
const HELD = 150;
