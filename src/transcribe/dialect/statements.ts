/**
 * One line of another dialect to the lines that say the same: one statement a line, and jumps where
 * IF governs several of them or has an ELSE.
 */
import { CERTAINTY } from '../certainties.js';
import { beginsStatement } from '../page/commands.js';
import type { Mapped } from '../page/mapped.js';
import { matchesOutside } from '../page/text-spans.js';
import { parses } from '../readings/parsing.js';
import type { DataPlan } from './data.js';
import { type Functions, hasCall, isDefinition, withoutCalls } from './functions.js';
import { type Around, rewriteOn } from './on.js';
import { splitCommas } from './parts.js';
import { type Draft, LOCATE, rewriteWords } from './words.js';

/** What the whole program says about its READ and DATA, and its functions. */
export interface Program extends Around {
  readonly data?: DataPlan;
  readonly functions: Functions;
}

export interface Rewrite {
  /** The lines that take its place, in order; none where it says nothing here. */
  readonly lines: readonly { readonly number: number; readonly body: Mapped }[];
  readonly certainty: number;
  readonly why: readonly string[];
  /** Does it rest on the program's READ and DATA, or its functions? */
  readonly onProgram: boolean;
}

type Node = Mapped | Conditional;

interface Conditional {
  readonly condition: Mapped;
  readonly met: readonly Node[];
  readonly otherwise: readonly Node[];
}

const isPlain = (node: Node): node is Mapped => 'text' in node;

/** A line to be, in which a jump to another of them stands as a mark. */
interface Draw {
  body: Mapped;
  /** The place among the lines that its jump leads to; the number of lines for the line after. */
  target?: number;
}

/** Stands for the number of a line that has none yet. */
const MARK = '\uFDD2';

/**
 * @param number of the line; `next`: of the line after it, infinite for none
 * @returns undefined where the line is a statement as it stands, or nothing of it is known
 */
export function rewriteLine(
  body: Mapped,
  number: number,
  next: number,
  program: Program,
): Rewrite | undefined {
  if (parses(body.text) && !hasCall(body.text)) return undefined;
  const writer = new Writer(body, program);
  const nodes = parted(body);
  writer.writeAll(nodes);
  if (writer.why.length === 0) return undefined;
  const { draws } = writer;
  const step = numberStep(number, next, draws.length);
  const numberOf = (at: number): number =>
    at < draws.length ? number + at * step : Number.isFinite(next) ? next : number + at * step;
  const lines = draws.map((draw, at) => {
    const mark = draw.body.text.indexOf(MARK);
    const whole =
      draw.target === undefined || mark < 0
        ? draw.body
        : draw.body.replace(mark, mark + 1, String(numberOf(draw.target)));
    return { number: number + at * step, body: whole };
  });
  const why = [...writer.why];
  let { certainty } = writer;
  if (draws.length > 1 && step === 0) {
    why.push(`there is no room for the line numbers before ${next}`);
    certainty = Math.min(certainty, CERTAINTY.incomplete);
  }
  if (!lines.every((line) => parses(line.body.text)))
    certainty = Math.min(certainty, CERTAINTY.incomplete);
  return { lines, certainty, why, onProgram: writer.onProgram };
}

/** Numbers for the lines that one line becomes stand this far apart; 0 where there is no room. */
export function numberStep(number: number, next: number, count: number): number {
  const room = (Number.isFinite(next) ? next : number + 10 * count + 10) - number;
  const most = Math.floor((room - 1) / Math.max(1, count - 1));
  return [10, 5, 2, 1].find((step) => step <= most) ?? 0;
}

// ───────────────────────────────── a line to its statements ─────────────────────────────────

/** The statements of a line; the line as one where some part of it begins like none. */
function parted(body: Mapped): Node[] {
  const nodes = new Parter(body).list();
  return nodes === undefined ? [body] : nodes;
}

class Parter {
  private readonly marks: RegExpExecArray[];
  private next = 0;
  private from = 0;
  private failed = false;

  constructor(private readonly body: Mapped) {
    this.marks = matchesOutside(body.text, /:|\b(?:IF|THEN|ELSE)\b|\b(?:REM\b.*|DATA\b[^:]*)/gi);
  }

  list(): Node[] | undefined {
    const nodes = this.statements();
    return this.failed || this.next < this.marks.length ? undefined : nodes;
  }

  /** Statements up to an ELSE or the end of the line. */
  private statements(): Node[] {
    const nodes: Node[] = [];
    for (;;) {
      const mark = this.marks[this.next];
      const word = mark?.[0].toUpperCase();
      const before = this.body.slice(this.from, mark?.index).trimmed();
      if (word === 'IF' && before.text === '') {
        nodes.push(this.conditional());
        if (this.marks[this.next] === undefined || this.isElse()) return nodes;
        continue;
      }
      if (mark !== undefined && word !== ':' && word !== 'ELSE') {
        // A REM or DATA takes what follows it; THEN without IF, or IF within, is no statement.
        if (before.text !== '' || !/^(?:REM|DATA)/.test(word)) this.failed = true;
        this.next++;
        continue;
      }
      if (before.text !== '') this.add(nodes, before);
      if (mark === undefined || word === 'ELSE') return nodes;
      this.pass();
    }
  }

  private isElse(): boolean {
    return this.marks[this.next][0].toUpperCase() === 'ELSE';
  }

  private pass(): void {
    const mark = this.marks[this.next++];
    this.from = mark.index + mark[0].length;
  }

  private add(nodes: Node[], statement: Mapped): void {
    if (!beginsStatement(statement.text) && !/^\d+$/.test(statement.text)) this.failed = true;
    nodes.push(statement);
  }

  /** IF condition THEN statements [ELSE statements]: the rest of the line belongs to it. */
  private conditional(): Conditional {
    this.pass();
    const start = this.from;
    const then = this.marks[this.next];
    if (then?.[0].toUpperCase() !== 'THEN') {
      this.failed = true;
      this.next = this.marks.length;
      this.from = this.body.length;
      return { condition: this.body, met: [], otherwise: [] };
    }
    const condition = this.body.slice(start, then.index).trimmed();
    this.pass();
    const met = this.statements();
    let otherwise: Node[] = [];
    if (this.marks[this.next] !== undefined && this.isElse()) {
      this.pass();
      otherwise = this.statements();
    }
    return { condition, met, otherwise };
  }
}

// ───────────────────────────────── statements to lines ─────────────────────────────────

class Writer {
  readonly draws: Draw[] = [];
  readonly why: string[] = [];
  certainty = 1;
  onProgram = false;
  private open = false;

  constructor(
    private readonly body: Mapped,
    private readonly program: Program,
  ) {}

  writeAll(nodes: readonly Node[]): void {
    nodes.forEach((node) => {
      if (isPlain(node)) for (const one of this.plain(node)) this.draws.push({ body: one });
      else this.conditional(node);
    });
    if (nodes.length > 1) this.because('one statement a line', CERTAINTY.sameWord);
  }

  private because(why: string, certainty: number): void {
    if (!this.why.includes(why)) this.why.push(why);
    this.certainty = Math.min(this.certainty, certainty);
  }

  private made(text: string): Mapped {
    return this.body.replace(0, this.body.length, text);
  }

  private conditional({ condition, met, otherwise }: Conditional): void {
    const test = this.words(condition, false);
    const first = met.length === 1 && isPlain(met[0]) ? this.plain(met[0]) : undefined;
    const isShort = first?.length === 1;
    if (isShort && (otherwise.length === 0 || isJump(first[0].text))) {
      const head = this.made(`IF ${test.text} THEN ${first[0].text}`);
      this.draws.push({ body: this.kept(head, condition, met[0] as Mapped, first[0]) });
      if (otherwise.length > 0) {
        this.because('ELSE becomes a second line', CERTAINTY.jumps);
        this.writeAll(otherwise);
      }
      return;
    }
    if (otherwise.length === 0) {
      this.because(
        'what follows THEN hangs on the condition: a jump passes over it',
        CERTAINTY.jumps,
      );
      const jump: Draw = { body: this.made(`IF NOT (${test.text}) THEN GOTO ${MARK}`) };
      this.draws.push(jump);
      this.writeAll(met);
      jump.target = this.draws.length;
      return;
    }
    this.because('ELSE becomes a second line', CERTAINTY.jumps);
    const jump: Draw = { body: this.made(`IF ${test.text} THEN GOTO ${MARK}`) };
    this.draws.push(jump);
    this.writeAll(otherwise);
    const past: Draw = { body: this.made(`GOTO ${MARK}`) };
    this.draws.push(past);
    jump.target = this.draws.length;
    this.writeAll(met);
    past.target = this.draws.length;
  }

  /** The whole line where nothing of it was changed, so that it keeps its own layout. */
  private kept(head: Mapped, condition: Mapped, printed: Mapped, written: Mapped): Mapped {
    const plain = this.body.text;
    const isSame = printed.text === written.text && head.text.includes(condition.text);
    return isSame && /^IF\b/i.test(plain) && !/\bELSE\b|:/i.test(plain) ? this.body : head;
  }

  /** A statement without IF: none, one or several lines. */
  private plain(statement: Mapped): Mapped[] {
    const { text } = statement;
    const { data } = this.program;
    const instead = (texts: readonly string[], why: string, certainty: number): Mapped[] => {
      this.because(why, certainty);
      return texts.map((one) => this.words(statement.replace(0, statement.length, one), true));
    };
    if (/^\d+$/.test(text))
      return instead([`GOTO ${text}`], 'THEN takes a statement', CERTAINTY.sameWord);
    if (data !== undefined) {
      const read = /^READ\b\s*(.+)$/i.exec(text);
      const restore = /^RESTORE\b\s*(\d*)$/i.exec(text);
      if (read !== null || restore !== null || /^DATA\b/i.test(text)) {
        this.onProgram = true;
        const lines =
          read !== null
            ? data.read(splitCommas(read[1]))
            : restore !== null
              ? data.restore(restore[1] === '' ? undefined : Number(restore[1]))
              : [];
        return instead(lines, data.why, CERTAINTY.sameInProgram);
      }
    }
    if (isDefinition(text) && this.program.functions.size > 0) {
      this.onProgram = true;
      return instead([], 'its expression stands in place of each call', CERTAINTY.sameInProgram);
    }
    const on = rewriteOn(text, this.program);
    if (on !== undefined)
      return instead(on.lines, 'ON becomes a jump that is worked out', on.certainty);
    return this.afterLocate(this.words(statement, true));
  }

  /** LOCATE and the PRINT that follows it are one statement here. */
  private afterLocate(statement: Mapped): Mapped[] {
    const last = this.draws.at(-1);
    const print = /^PRINT\s*/i.exec(statement.text);
    const open = this.open;
    this.open = /^PRINT AT [^;]*;$/.test(statement.text) && this.why.includes(LOCATE);
    if (!open || last === undefined || print === null) return [statement];
    last.body = last.body.concat(statement.slice(print[0].length));
    this.open = false;
    return [];
  }

  /** With the calls of functions put in place, and the words and functions that are others here. */
  private words(statement: Mapped, isStatement: boolean): Mapped {
    let body = statement;
    if (hasCall(body.text)) {
      const read = withoutCalls(body.text, this.program.functions);
      this.onProgram = true;
      if (read === undefined)
        this.because('a call that no function can stand in place of', CERTAINTY.incomplete);
      else {
        this.because('the function stands in place of its call', CERTAINTY.sameInProgram);
        body = body.replace(0, body.length, read);
      }
    }
    const draft: Draft = { body, certainty: 1, why: [] };
    rewriteWords(draft, isStatement);
    for (const why of draft.why) this.because(why, draft.certainty);
    return draft.body;
  }
}

const isJump = (text: string): boolean => /^(?:GO ?TO\b.*|STOP|RETURN)$/i.test(text);
