/** A page at work: what the passes share, and change. */
import { Effort } from './effort.js';
import { candidatesOf, type Found, type Note } from './note.js';
import { bare } from './page/joints.js';
import type { Mapped } from './page/mapped.js';
import { type PageItem, type PageLine, readPage } from './page/page.js';
import { ProgramNames } from './readings/program.js';

export interface WorkLine {
  readonly page: PageLine;
  readonly number: number;
  body: Mapped;
  readonly notes: Note[];
  /** Was it read, so that only look-alikes are left to ask about? */
  settled?: boolean;
  /** Were its readings looked for, while anything might still be tried? */
  tried?: boolean;
}

/** A line that says nothing on this machine: it is left out, and its notes are kept. */
export interface GoneLine {
  readonly kind: 'gone';
  readonly line: WorkLine;
}

export type WorkItem = WorkLine | GoneLine | Exclude<PageItem, PageLine>;

export const isLine = (item: WorkItem): item is WorkLine => 'page' in item;

export class Work {
  items: WorkItem[];
  readonly remarks: string[] = [];
  readonly effort: Effort;
  /** Is the page printed in capitals, so that a small letter is a misprint? */
  readonly capitals: boolean;
  names = new ProgramNames([]);
  /** The numbers of lines that were read only as they stand, for want of effort. */
  readonly asPrinted: number[] = [];
  /** Lines that no reading makes a statement of. */
  unread = 0;

  /**
   * @param sure the certainty from which a change is made
   * @param progress is called with the part of the work that is done, 0 to 1
   */
  constructor(
    readonly source: string,
    readonly sure: number,
    readonly progress: (part: number) => void,
  ) {
    this.effort = new Effort(source);
    const page = readPage(source, this.effort);
    this.capitals = page.capitals;
    if (page.width !== undefined)
      this.remarks.push(`the page wraps its lines at ${page.width} columns`);
    this.items = page.items.map((item) =>
      item.kind === 'line' ? { page: item, number: item.number, body: item.body, notes: [] } : item,
    );
  }

  get lines(): WorkLine[] {
    return this.items.filter(isLine);
  }

  /** What was found as a note: it was made where it is sure enough. */
  noteOf(found: Found, line?: number): Note {
    const made = found.certainty >= this.sure;
    return { ...found, candidates: candidatesOf(found), line, made };
  }

  add(line: WorkLine, found: Found): Note {
    const note = this.noteOf(found, line.number);
    line.notes.push(note);
    return note;
  }

  /** Learns the program's names from its lines as they stand now. */
  gatherNames(): void {
    this.names = new ProgramNames(
      this.lines.map(({ number, body }) => ({ number, text: bare(body.text) })),
    );
  }
}

/** One step of the way from a page to a listing. */
export type Pass = (work: Work) => void;
