/** The machine's picture on a canvas: our own glyphs, sharp at any size. */
import { codesOfText, INVERSE } from '../../machine/characters.js';
import { GLYPH_SIZE, runsOfGlyph } from '../../machine/glyphs.js';
import { DISPLAY_COLUMNS, DISPLAY_ROWS } from '../../machine/memory-map.js';

const PAPER = '#f4f2ea';
const INK = '#1c1c1c';

/** What the machine shows when it is switched on: the cursor that waits for a keyword. */
function switchedOn(): Uint8Array {
  const codes = new Uint8Array(DISPLAY_COLUMNS * DISPLAY_ROWS);
  codes[codes.length - DISPLAY_COLUMNS] = codesOfText('K')[0] + INVERSE;
  return codes;
}

export class Screen {
  private readonly context: CanvasRenderingContext2D;
  /** Device pixels of a dot. */
  private dot = 0;
  private codes = switchedOn();
  /** What stands on the canvas. */
  private readonly drawn = new Uint8Array(this.codes.length);
  private isWaiting = false;

  constructor(private readonly canvas: HTMLCanvasElement) {
    this.context = canvas.getContext('2d', { alpha: false })!;
    // It tells the first size too, once the page is laid out.
    new ResizeObserver(() => this.resize()).observe(canvas);
  }

  /** Shows 24 rows of 32 codes with the next picture of the browser. */
  show(codes: Uint8Array): void {
    this.codes = codes;
    this.drawLater();
  }

  private resize(): void {
    const width = this.canvas.clientWidth * devicePixelRatio;
    // Whole pixels for each dot: where the size falls between, the browser makes it smaller.
    const dot = Math.max(1, Math.ceil(width / (DISPLAY_COLUMNS * GLYPH_SIZE)));
    if (dot === this.dot) return;
    this.dot = dot;
    this.canvas.width = DISPLAY_COLUMNS * GLYPH_SIZE * dot;
    this.canvas.height = DISPLAY_ROWS * GLYPH_SIZE * dot;
    // A blank screen, of spaces alone.
    this.context.fillStyle = PAPER;
    this.context.fillRect(0, 0, this.canvas.width, this.canvas.height);
    this.drawn.fill(0);
    this.drawLater();
  }

  private drawLater(): void {
    if (this.isWaiting) return;
    this.isWaiting = true;
    requestAnimationFrame(() => {
      this.isWaiting = false;
      this.draw();
    });
  }

  /** Draws the cells that have changed. */
  private draw(): void {
    const { codes, drawn } = this;
    for (let cell = 0; cell < codes.length; cell++) {
      if (drawn[cell] === codes[cell]) continue;
      this.drawCell(cell, codes[cell]);
      drawn[cell] = codes[cell];
    }
  }

  private drawCell(cell: number, code: number): void {
    const { context, dot } = this;
    const size = GLYPH_SIZE * dot;
    const left = (cell % DISPLAY_COLUMNS) * size;
    const top = Math.floor(cell / DISPLAY_COLUMNS) * size;
    context.fillStyle = PAPER;
    context.fillRect(left, top, size, size);
    context.fillStyle = INK;
    for (const { row, from, to } of runsOfGlyph(code)) {
      context.fillRect(left + from * dot, top + row * dot, (to - from) * dot, dot);
    }
  }
}
