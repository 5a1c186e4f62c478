/** The keyboard test: the keys that a listing needs, one after another, to be read beside the machine. */
import type { LineKeys, Press } from '../keys/keys.js';
import { $, make } from './dom.js';
import { CannotBe, type Tape } from './socket/tape.js';
import { TEXTS } from './texts.js';
import type { Written } from './workers/tape.js';

const t = TEXTS.typing;

interface Step extends Press {
  readonly line: number;
  readonly index: number;
  readonly total: number;
}

export class KeyboardTest {
  private steps: readonly Step[] = [];
  private at = 0;
  private board: SVGElement | undefined;

  constructor(
    private readonly tape: Tape,
    private readonly source: Written,
  ) {
    $('typing-start').onclick = () => void this.start();
    $('typing-next').onclick = () => this.go(this.at + 1);
    $('typing-back').onclick = () => this.go(this.at - 1);
    const lines = $<HTMLSelectElement>('typing-line');
    lines.onchange = () =>
      this.go(this.steps.findIndex(({ line }) => line === Number(lines.value)));
  }

  private async start(): Promise<void> {
    const { text, ram } = this.source;
    let lines: readonly LineKeys[];
    try {
      const found = await this.tape.ask('keys', { text, ram });
      this.board ??= this.drawBoard(found.drawing);
      lines = found.lines;
    } catch (error) {
      if (!(error instanceof CannotBe)) throw error;
      $('typing-key').textContent = error.message;
      return;
    }
    this.steps = lines.flatMap(({ number, presses }) =>
      presses.map((press, index) => {
        return { ...press, line: number, index: index + 1, total: presses.length };
      }),
    );
    $('typing-line').replaceChildren(
      ...lines.map(({ number }) => make('option', { value: String(number) }, String(number))),
    );
    const outOfReach = lines.flatMap((line) => line.outOfReach);
    $('typing-place').textContent = outOfReach
      .map(({ what, why }) => t.outOfReach(what, why))
      .join('; ');
    if (this.steps.length === 0) $('typing-key').textContent = t.noListing;
    else {
      $('typing-steps').hidden = false;
      this.go(0);
      $('typing-next').focus();
    }
  }

  /** The drawing comes as text of our own library; it is read as SVG, in which nothing acts. */
  private drawBoard(drawing: string): SVGElement {
    const withSpace = drawing.replace('<svg ', '<svg xmlns="http://www.w3.org/2000/svg" ');
    const parsed = new DOMParser().parseFromString(withSpace, 'image/svg+xml');
    const board = document.importNode(parsed.documentElement, true) as unknown as SVGElement;
    $('typing-board').replaceChildren(board);
    return board;
  }

  private go(at: number): void {
    if (at < 0) return;
    this.at = Math.min(at, this.steps.length);
    const step = this.steps[this.at];
    $<HTMLButtonElement>('typing-back').disabled = this.at === 0;
    $<HTMLButtonElement>('typing-next').disabled = step === undefined;
    for (const lit of this.board?.querySelectorAll('.lit') ?? []) lit.classList.remove('lit');
    if (step === undefined) {
      $('typing-key').textContent = t.done;
      $('typing-place').textContent = '';
      return;
    }
    const { key, shift, gives, mode, line, index, total } = step;
    $('typing-key').textContent = `${t.press(key, shift)}: ${t.gives(gives, mode)}`;
    $('typing-place').textContent = t.place(index, total, line);
    $<HTMLSelectElement>('typing-line').value = String(line);
    for (const name of shift ? [key, 'SHIFT'] : [key]) {
      this.board?.querySelector(`[data-key="${CSS.escape(name)}"]`)?.classList.add('lit');
    }
  }
}
