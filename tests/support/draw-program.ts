/**
 * Whole programs drawn at random: what a person types in for 1K, in the manner of games loops,
 * tables, sorted lists, growing strings, scrolling roads and plotted curves. Each ends by itself
 * unless the display fills up; those that need a person bring their answers.
 */
import { randomFrom } from './random.js';

export interface DrawnProgram {
  readonly text: string;
  /** What is typed at each INPUT in turn. */
  readonly inputs: readonly string[];
  /** Names of the parts that it is made of. */
  readonly parts: readonly string[];
}

/** Draws the program of a seed: always the same one. */
export function drawProgram(seed: number): DrawnProgram {
  return new Drawer(seed).draw();
}

const WORDS = [
  'LANTERN',
  'OAK',
  'LOFT',
  'RIVER',
  'MILL',
  'TOWPATH',
  'LOCK',
  'BARGE',
  'HERON',
  'NIGHT',
];
const GRAPHICS = ['▘', '▝', '▀', '▌', '█', '▒', '▄', '▟', '▙', '▞'];
const LINE_STEP = 10;

class Drawer {
  private readonly random: () => number;
  /** Lines without their numbers; `@name` stands for the line that `labels` tells. */
  private readonly lines: string[] = [];
  private readonly subroutines: string[][] = [];
  private readonly labels = new Map<string, number>();
  private readonly inputs: string[] = [];
  private readonly parts: string[] = [];
  private labelCount = 0;
  private readonly saving: boolean;
  private size = 0;
  private letters: string[] = [];

  constructor(seed: number) {
    this.random = randomFrom(seed);
    this.saving = this.chance(0.35);
  }

  // ───────────────────────────────── drawing ─────────────────────────────────

  private int(low: number, high: number): number {
    return low + Math.floor(this.random() * (high - low + 1));
  }

  private chance(of: number): boolean {
    return this.random() < of;
  }

  private pick<T>(from: readonly T[]): T {
    return from[this.int(0, from.length - 1)];
  }

  /** A letter that this part has not used. */
  private letter(): string {
    const free = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'].filter((one) => !this.letters.includes(one));
    const found = this.pick(free);
    this.letters.push(found);
    return found;
  }

  private loopLetter(): string {
    const found = ['I', 'N', 'F', 'J', 'K', 'X'].find((one) => !this.letters.includes(one))!;
    this.letters.push(found);
    return found;
  }

  private word(): string {
    return this.pick(WORDS);
  }

  private mark(): string {
    return this.chance(0.5) ? this.pick(['*', 'O', '+', 'V', '=']) : this.pick(GRAPHICS);
  }

  /** A number as this program's writer writes numbers. */
  private n(value: number): string {
    if (!this.saving || this.chance(0.2)) return String(value);
    if (value === 0) return 'NOT PI';
    if (value === 1) return 'SGN PI';
    if (value === 3) return 'INT PI';
    if (value >= 28 && value <= 63 && this.chance(0.5)) {
      return `CODE "${value < 38 ? value - 28 : String.fromCharCode(65 + value - 38)}"`;
    }
    return `VAL "${value}"`;
  }

  private say(...lines: string[]): void {
    for (const line of lines) {
      this.lines.push(line);
      this.size += estimate(line);
    }
  }

  private label(): string {
    return `@L${this.labelCount++}@`;
  }

  private here(label: string): void {
    this.labels.set(label, this.lines.length);
  }

  private subroutine(label: string, lines: string[]): void {
    this.subroutines.push([label, ...lines]);
    for (const line of lines) this.size += estimate(line);
  }

  // ───────────────────────────────── the whole ─────────────────────────────────

  draw(): DrawnProgram {
    const target = this.int(180, 620);
    if (this.chance(0.4)) this.say(`REM ${this.word()} ${this.word()}`);
    if (this.chance(0.5)) this.title();
    let first = true;
    do {
      if (!first && this.chance(0.6)) {
        if (this.chance(0.3)) this.say(`PAUSE ${this.n(this.int(20, 100))}`);
        this.say('CLS');
      }
      first = false;
      this.letters = [];
      const [name, make] = this.pick(Object.entries(this.kinds));
      this.parts.push(name);
      make();
    } while (this.size < target);
    if (this.chance(0.5)) this.say(`PRINT "${this.pick(['END', 'DONE', 'THE END', 'FINISHED'])}"`);
    if (this.subroutines.length > 0 || this.chance(0.3)) this.say('STOP');
    for (const [label, ...lines] of this.subroutines) {
      this.here(label);
      this.lines.push(...lines);
    }
    const number = (index: number): string => String((index + 1) * LINE_STEP);
    if (this.labels.size > 0 && [...this.labels.values()].includes(this.lines.length)) {
      this.lines.push('REM');
    }
    const text = this.lines
      .map((line, index) => {
        const body = line.replace(/@L\d+@/g, (label) => number(this.labels.get(label)!));
        return `${number(index)} ${body}`;
      })
      .join('\n');
    return { text: `${text}\n`, inputs: this.inputs, parts: this.parts };
  }

  private title(): void {
    const title = `${this.word()} ${this.word()}`;
    this.say(
      this.pick([
        `PRINT "${title}"`,
        `PRINT AT ${this.n(0)},${this.n(this.int(2, 12))};"${title}"`,
        `PRINT TAB ${this.n(this.int(1, 10))};"${title}"`,
        `PRINT "[~${title}]"`,
      ]),
    );
    if (this.chance(0.3)) this.say('PRINT');
  }

  /** `IF` as some write it. */
  private randomTo(most: number): string {
    return `INT (RND*${this.n(most)})`;
  }

  private readonly kinds: Readonly<Record<string, () => void>> = {
    squares: () => {
      const i = this.loopLetter();
      const form = this.pick([
        `${i},${i}*${i}`,
        `${i};TAB ${this.n(8)};SQR ${i}`,
        `${i};"*";${i};"=";${i}*${i}`,
      ]);
      this.say(`FOR ${i}=${this.n(1)} TO ${this.n(this.int(4, 18))}`, `PRINT ${form}`, `NEXT ${i}`);
    },
    times: () => {
      const i = this.loopLetter();
      const t = this.letter();
      if (this.chance(0.3)) {
        this.inputs.push(String(this.int(2, 12)));
        this.say('PRINT "WHICH TABLE?"', `INPUT ${t}`, 'CLS');
      } else this.say(`LET ${t}=${this.n(this.int(2, 12))}`);
      this.say(
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(6, 12))}`,
        `PRINT ${i};" X ";${t};" = ";${i}*${t}`,
        `NEXT ${i}`,
      );
    },
    scrollingRoad: () => {
      const i = this.loopLetter();
      const x = this.letter();
      const wide = this.int(3, 9);
      this.say(
        `LET ${x}=${this.n(this.int(5, 15))}`,
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(10, 60))}`,
        'SCROLL',
        `LET ${x}=${x}+${this.randomTo(3)}-${this.n(1)}`,
        `IF ${x}<${this.n(0)} THEN LET ${x}=${this.n(0)}`,
        `IF ${x}>${this.n(30 - wide)} THEN LET ${x}=${this.n(30 - wide)}`,
        this.chance(0.5)
          ? `PRINT TAB ${x};"${this.mark()}";TAB ${x}+${this.n(wide)};"${this.mark()}"`
          : `PRINT AT ${this.n(21)},${x};"${this.mark()}${' '.repeat(wide - 1)}${this.mark()}"`,
        `NEXT ${i}`,
      );
    },
    scrollingText: () => {
      const i = this.loopLetter();
      this.say(
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(8, 40))}`,
        'SCROLL',
        this.pick([
          `PRINT "${this.word()} ";${i}`,
          `PRINT ${i},${this.randomTo(100)}`,
          `PRINT "${this.word()}"`,
          `PRINT TAB ${this.randomTo(12)};"${this.mark()}"`,
        ]),
        `NEXT ${i}`,
      );
    },
    curve: () => {
      const x = 'X';
      const s = this.pick([1, 2, 3, 4]);
      const height = this.int(4, 20);
      this.say(
        `FOR ${x}=${this.n(0)} TO ${this.n(this.int(20, 63))} STEP ${this.n(s)}`,
        this.pick([
          `PLOT ${x},${this.n(22)}+${this.n(height)}*SIN (${x}/${this.n(this.int(4, 12))})`,
          `PLOT ${x},${x}/${this.n(2)}`,
          `PLOT ${x},INT (${x}*${x}/${this.n(128)})`,
          `PLOT ${x},ABS (${x}-${this.n(32)})`,
        ]),
        `NEXT ${x}`,
      );
    },
    plottedBox: () => {
      const i = this.loopLetter();
      const w = this.letter();
      const h = this.letter();
      this.say(
        `LET ${w}=${this.n(this.int(8, 30))}`,
        `LET ${h}=${this.n(this.int(6, 20))}`,
        `FOR ${i}=${this.n(0)} TO ${w}`,
        `PLOT ${i},${this.n(this.int(20, 40))}`,
        `PLOT ${i},${h}`,
        `NEXT ${i}`,
      );
      if (this.chance(0.4)) {
        this.say(`FOR ${i}=${h} TO ${this.n(20)}`, `PLOT ${w},${i}`, `NEXT ${i}`);
      }
    },
    stars: () => {
      const i = this.loopLetter();
      const wide = this.int(10, 64);
      this.say(
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(6, 40))}`,
        this.chance(0.5)
          ? `PLOT RND*${this.n(wide - 1)},RND*${this.n(this.int(10, 43))}`
          : `PRINT AT ${this.randomTo(this.int(4, 22))},${this.randomTo(Math.min(32, wide))};"${this.mark()}"`,
        `NEXT ${i}`,
      );
    },
    randomWord: () => {
      const i = this.loopLetter();
      const a = this.letter();
      this.say(
        `LET ${a}$=""`,
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(4, 24))}`,
        `LET ${a}$=${a}$+CHR$ (${this.n(38)}+${this.randomTo(26)})`,
        `NEXT ${i}`,
        `PRINT ${a}$`,
      );
      if (this.chance(0.4)) this.say(`PRINT LEN ${a}$;" LETTERS"`);
    },
    growUntil: () => {
      const a = this.letter();
      const back = this.label();
      const most = this.int(6, 40);
      this.say(`LET ${a}$="${this.mark()}"`);
      this.here(back);
      this.say(
        `LET ${a}$=${a}$+"${this.chance(0.5) ? this.mark() : this.word().slice(0, 3)}"`,
        `IF LEN ${a}$<${this.n(most)} THEN GOTO ${back}`,
        `PRINT ${a}$`,
      );
    },
    dice: () => {
      const i = this.loopLetter();
      const c = this.letter();
      const r = this.letter();
      const sides = this.pick([6, 6, 8, 10]);
      this.say(
        `DIM ${c}(${this.n(sides)})`,
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(10, 60))}`,
        `LET ${r}=${this.randomTo(sides)}+${this.n(1)}`,
        `LET ${c}(${r})=${c}(${r})+${this.n(1)}`,
        `NEXT ${i}`,
        `FOR ${i}=${this.n(1)} TO ${this.n(sides)}`,
        this.pick([`PRINT ${i},${c}(${i})`, `PRINT ${i};": ";${c}(${i})`]),
        `NEXT ${i}`,
      );
    },
    bars: () => {
      const i = this.loopLetter();
      const j = this.loopLetter();
      const r = this.letter();
      this.say(
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(4, 12))}`,
        `LET ${r}=${this.randomTo(this.int(6, 20))}+${this.n(1)}`,
        `FOR ${j}=${this.n(1)} TO ${r}`,
        `PRINT "${this.mark()}";`,
        `NEXT ${j}`,
        this.chance(0.5) ? 'PRINT' : `PRINT ${r}`,
        `NEXT ${i}`,
      );
    },
    towers: () => {
      const i = this.loopLetter();
      const j = this.loopLetter();
      this.say(
        `FOR ${i}=${this.n(0)} TO ${this.n(this.int(6, 20))}`,
        `FOR ${j}=${this.n(21)} TO ${this.n(21)}-${this.randomTo(this.int(3, 8))} STEP -${this.n(1)}`,
        `PRINT AT ${j},${i};"${this.mark()}"`,
        `NEXT ${j}`,
        `NEXT ${i}`,
      );
    },
    search: () => {
      const [low, high, guess, hidden] = ['L', 'H', 'G', 'S'];
      const back = this.label();
      const found = this.label();
      this.say(
        `LET ${hidden}=${this.randomTo(100)}+${this.n(1)}`,
        `LET ${low}=${this.n(1)}`,
        `LET ${high}=${this.n(100)}`,
      );
      this.here(back);
      this.say(
        `LET ${guess}=INT ((${low}+${high})/${this.n(2)})`,
        this.chance(0.5) ? `PRINT ${guess};" ";` : `PRINT "TRY ";${guess}`,
        `IF ${guess}=${hidden} THEN GOTO ${found}`,
        `IF ${guess}<${hidden} THEN LET ${low}=${guess}+${this.n(1)}`,
        `IF ${guess}>${hidden} THEN LET ${high}=${guess}-${this.n(1)}`,
        `GOTO ${back}`,
      );
      this.here(found);
      this.say('PRINT "FOUND"');
    },
    walker: () => {
      const i = this.loopLetter();
      const x = this.letter();
      const row = this.int(3, 20);
      this.say(
        `LET ${x}=${this.n(this.int(5, 25))}`,
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(10, 50))}`,
        `PRINT AT ${this.n(row)},${x};" "`,
        `LET ${x}=${x}+${this.randomTo(3)}-${this.n(1)}`,
        this.chance(0.5)
          ? `IF ${x}<${this.n(0)} OR ${x}>${this.n(31)} THEN LET ${x}=${this.n(15)}`
          : `IF ${x}<${this.n(1)} THEN LET ${x}=${this.n(1)}`,
        `IF ${x}>${this.n(30)} THEN LET ${x}=${this.n(30)}`,
        `PRINT AT ${this.n(row)},${x};"${this.mark()}"`,
        `NEXT ${i}`,
      );
    },
    bouncer: () => {
      const i = this.loopLetter();
      const [x, d] = [this.letter(), this.letter()];
      const wide = this.int(10, 30);
      this.say(
        `LET ${x}=${this.n(this.int(1, 8))}`,
        `LET ${d}=${this.n(1)}`,
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(20, 80))}`,
        `PRINT AT ${this.n(this.int(2, 20))},${x};"${this.mark()}"`,
        `LET ${x}=${x}+${d}`,
        `IF ${x}=${this.n(0)} OR ${x}=${this.n(wide)} THEN LET ${d}=-${d}`,
        `NEXT ${i}`,
      );
    },
    sort: () => {
      const i = this.loopLetter();
      const [a, t, c] = [this.letter(), this.letter(), this.letter()];
      const count = this.int(4, 14);
      const again = this.label();
      this.say(
        `LET ${c}=${this.n(count)}`,
        `DIM ${a}(${c})`,
        `FOR ${i}=${this.n(1)} TO ${c}`,
        `LET ${a}(${i})=${this.randomTo(100)}`,
        `NEXT ${i}`,
      );
      this.here(again);
      this.say(
        `LET ${t}=${this.n(0)}`,
        `FOR ${i}=${this.n(1)} TO ${c}-${this.n(1)}`,
        `IF ${a}(${i})<=${a}(${i}+${this.n(1)}) THEN GOTO ${this.skipAhead(3)}`,
        `LET ${t}=${a}(${i})`,
        `LET ${a}(${i})=${a}(${i}+${this.n(1)})`,
        `LET ${a}(${i}+${this.n(1)})=${t}`,
        `NEXT ${i}`,
        `IF ${t}>${this.n(0)} THEN GOTO ${again}`,
        `FOR ${i}=${this.n(1)} TO ${c}`,
        this.chance(0.5) ? `PRINT ${a}(${i})` : `PRINT ${a}(${i});" ";`,
        `NEXT ${i}`,
        'PRINT',
      );
    },
    primes: () => {
      const [n, d] = ['N', 'D'];
      const base = this.lines.length;
      const skip = this.label();
      this.say(
        `FOR ${n}=${this.n(2)} TO ${this.n(this.int(20, 90))}`,
        `FOR ${d}=${this.n(2)} TO SQR ${n}`,
        `IF ${n}/${d}=INT (${n}/${d}) THEN GOTO ${skip}`,
        `NEXT ${d}`,
        this.chance(0.6) ? `PRINT ${n};" ";` : `PRINT ${n},`,
        `NEXT ${n}`,
      );
      this.labels.set(skip, base + 5);
      this.say('PRINT');
    },
    fibonacci: () => {
      const i = this.loopLetter();
      this.say(
        `LET A=${this.n(0)}`,
        `LET B=${this.n(1)}`,
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(6, 20))}`,
        this.chance(0.6) ? 'PRINT A' : 'PRINT A;" ";',
        'LET C=A+B',
        'LET A=B',
        'LET B=C',
        `NEXT ${i}`,
      );
    },
    backwards: () => {
      const i = this.loopLetter();
      const a = this.letter();
      if (this.chance(0.4)) {
        this.inputs.push(this.word());
        this.say(`INPUT ${a}$`);
      } else this.say(`LET ${a}$="${this.word()} ${this.word()}"`);
      this.say(
        `FOR ${i}=LEN ${a}$ TO ${this.n(1)} STEP -${this.n(1)}`,
        `PRINT ${a}$(${i});`,
        `NEXT ${i}`,
        'PRINT',
      );
    },
    banner: () => {
      const i = this.loopLetter();
      const a = this.letter();
      this.say(
        `LET ${a}$="${this.word()} ${this.word()} "`,
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(10, 50))}`,
        `PRINT AT ${this.n(this.int(0, 20))},${this.n(this.int(0, 8))};${a}$`,
        `LET ${a}$=${a}$(${this.n(2)} TO )+${a}$(${this.n(1)})`,
        `NEXT ${i}`,
      );
    },
    barSubroutine: () => {
      const i = this.loopLetter();
      const j = this.loopLetter();
      const v = this.letter();
      const sub = this.label();
      this.say(
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(4, 10))}`,
        `LET ${v}=${this.randomTo(this.int(5, 18))}`,
        `GOSUB ${sub}`,
        `NEXT ${i}`,
      );
      this.subroutine(sub, [
        `PRINT "${this.word().slice(0, 3)} ";`,
        `FOR ${j}=${this.n(0)} TO ${v}`,
        `PRINT "${this.mark()}";`,
        `NEXT ${j}`,
        'PRINT',
        'RETURN',
      ]);
    },
    score: () => {
      const i = this.loopLetter();
      const s = this.pick(['S', 'SC', 'SCORE', 'T']);
      const sub = this.label();
      this.say(
        `LET ${s}=${this.n(0)}`,
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(8, 40))}`,
        `IF RND>${this.pick(['.5', '.3', '.7'])} THEN LET ${s}=${s}+${this.n(this.pick([1, 5, 10]))}`,
        `GOSUB ${sub}`,
        `NEXT ${i}`,
      );
      this.subroutine(sub, [
        `PRINT AT ${this.n(0)},${this.n(this.int(0, 20))};"SCORE ";${s}`,
        'RETURN',
      ]);
    },
    names: () => {
      const i = this.loopLetter();
      const a = this.letter();
      const count = this.int(2, 5);
      this.say(`DIM ${a}$(${this.n(count)},${this.n(this.int(4, 8))})`);
      for (let at = 1; at <= count; at++) this.say(`LET ${a}$(${this.n(at)})="${this.word()}"`);
      this.say(
        `FOR ${i}=${this.n(1)} TO ${this.n(count)}`,
        `PRINT ${i};" ";${a}$(${i})`,
        `NEXT ${i}`,
      );
    },
    maze: () => {
      const i = this.loopLetter();
      const j = this.loopLetter();
      this.say(
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(3, 12))}`,
        `FOR ${j}=${this.n(1)} TO ${this.n(this.int(4, 20))}`,
        this.pick([
          `PRINT CHR$ (${this.n(6)}+${this.randomTo(2)});`,
          `PRINT ("${this.mark()}" AND RND<.5)+" ";`,
          `PRINT "${this.pick(GRAPHICS)}";`,
        ]),
        `NEXT ${j}`,
        'PRINT',
        `NEXT ${i}`,
      );
    },
    frames: () => {
      const i = this.loopLetter();
      this.say(
        `FOR ${i}=${this.n(0)} TO ${this.n(this.int(6, 20))}`,
        'CLS',
        `PRINT AT ${i},${i};"${this.mark()}${this.mark()}"`,
        `PRINT AT ${i}+${this.n(1)},${i};"${this.mark()}${this.mark()}"`,
        `NEXT ${i}`,
      );
    },
    binary: () => {
      const [n, b] = [this.letter(), this.letter()];
      const back = this.label();
      this.say(`LET ${n}=${this.n(this.int(20, 255))}`, `LET ${b}$=""`);
      this.here(back);
      this.say(
        `LET ${b}$=STR$ (${n}-${this.n(2)}*INT (${n}/${this.n(2)}))+${b}$`,
        `LET ${n}=INT (${n}/${this.n(2)})`,
        `IF ${n}>${this.n(0)} THEN GOTO ${back}`,
        `PRINT ${b}$`,
      );
    },
    degrees: () => {
      const c = this.loopLetter();
      this.say(
        `FOR ${c}=${this.n(0)} TO ${this.n(100)} STEP ${this.n(this.pick([10, 20, 25]))}`,
        `PRINT ${c};TAB ${this.n(this.int(6, 12))};${c}*${this.n(9)}/${this.n(5)}+${this.n(32)}`,
        `NEXT ${c}`,
      );
    },
    falling: () => {
      const i = this.loopLetter();
      const p = this.letter();
      this.say(
        `LET ${p}=${this.n(this.int(8, 20))}`,
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(10, 40))}`,
        `PRINT AT ${this.n(20)},${this.randomTo(this.int(8, 30))};"${this.mark()}"`,
        'SCROLL',
        `LET ${p}=${p}+(INKEY$="8")-(INKEY$="5")`,
        `PRINT AT ${this.n(this.int(2, 8))},${p};"V"`,
        `NEXT ${i}`,
      );
    },
    countdown: () => {
      const c = this.letter();
      const back = this.label();
      this.say(`LET ${c}=${this.n(this.int(5, 30))}`);
      this.here(back);
      this.say(
        `PRINT AT ${this.n(this.int(0, 21))},${this.n(this.int(0, 28))};${c};" "`,
        `LET ${c}=${c}-${this.n(1)}`,
        `IF ${c}>${this.n(0)} THEN GOTO ${back}`,
      );
    },
    interest: () => {
      const [p, y] = ['P', 'Y'];
      this.say(
        `LET ${p}=${this.n(this.int(10, 500))}`,
        `FOR ${y}=${this.n(1)} TO ${this.n(this.int(5, 15))}`,
        `LET ${p}=${p}*1.${this.int(1, 9)}`,
        this.chance(0.5) ? `PRINT ${y},INT (${p}*100+.5)/100` : `PRINT "YEAR ";${y};" ";INT ${p}`,
        `NEXT ${y}`,
      );
    },
    choice: () => {
      const i = this.loopLetter();
      const k = this.letter();
      const sub = this.label();
      this.say(
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(3, 10))}`,
        `LET ${k}=${this.randomTo(3)}`,
        `GOSUB ${sub}+${this.n(20)}*${k}`,
        `NEXT ${i}`,
      );
      this.subroutine(sub, [
        `PRINT "${this.word()}"`,
        'RETURN',
        `PRINT "${this.word()}"`,
        'RETURN',
        `PRINT "${this.word()}"`,
        'RETURN',
      ]);
    },
    coins: () => {
      const i = this.loopLetter();
      const [h, t] = ['H', 'T'];
      this.say(
        `LET ${h}=${this.n(0)}`,
        `LET ${t}=${this.n(0)}`,
        `FOR ${i}=${this.n(1)} TO ${this.n(this.int(10, 50))}`,
        `IF RND<.5 THEN LET ${h}=${h}+${this.n(1)}`,
        `LET ${t}=${i}-${h}`,
        this.chance(0.5)
          ? `PRINT AT ${this.n(5)},${this.n(0)};"HEADS ";${h},"TAILS ";${t}`
          : `PRINT AT ${this.n(this.int(3, 8))},${this.n(2)};${h};"/";${t}`,
        `NEXT ${i}`,
      );
    },
    ladder: () => {
      const [x, y] = [this.letter(), this.letter()];
      const back = this.label();
      this.say(`LET ${x}=${this.n(0)}`, `LET ${y}=${this.n(this.int(10, 20))}`);
      this.here(back);
      this.say(
        `PRINT AT ${y},${x};"${this.mark()}"`,
        `LET ${x}=${x}+${this.n(this.int(1, 2))}`,
        `LET ${y}=${y}-${this.n(1)}`,
        `IF ${y}>${this.n(this.int(0, 4))} THEN GOTO ${back}`,
      );
    },
    reply: () => {
      const a = this.letter();
      this.inputs.push(this.word());
      this.say(
        'PRINT "WHAT IS YOUR NAME?"',
        `INPUT ${a}$`,
        `PRINT "HELLO ";${a}$`,
        `IF LEN ${a}$>${this.n(6)} THEN PRINT "A LONG ONE"`,
      );
    },
    quiz: () => {
      const i = this.loopLetter();
      const [a, b, c, s] = [this.letter(), this.letter(), this.letter(), this.letter()];
      const count = this.int(2, 6);
      for (let at = 0; at < count; at++) this.inputs.push(String(this.int(0, 100)));
      this.say(
        `LET ${s}=${this.n(0)}`,
        `FOR ${i}=${this.n(1)} TO ${this.n(count)}`,
        `LET ${a}=${this.randomTo(10)}`,
        `LET ${b}=${this.randomTo(10)}`,
        `PRINT ${a};"+";${b};"=";`,
        `INPUT ${c}`,
        `PRINT ${c}`,
        `IF ${c}=${a}+${b} THEN LET ${s}=${s}+${this.n(1)}`,
        `NEXT ${i}`,
        `PRINT ${s};" RIGHT"`,
      );
    },
  };

  /** A label of the line that comes `count` lines behind the one that is being written. */
  private skipAhead(count: number): string {
    const label = this.label();
    // Called while the two lines before it are still to be stored.
    this.labels.set(label, this.lines.length + 3 + count);
    return label;
  }
}

/** About how many bytes a line takes: a keyword is one, a number seven. */
function estimate(line: string): number {
  const words = line
    .replace(/"[^"]*"/g, (text) => '.'.repeat(text.length))
    .replace(/[A-Z$]{2,} ?/g, 'K');
  return 5 + words.replace(/ /g, '').length + 6 * (words.match(/\d+/g)?.length ?? 0);
}
