/**
 * The ledger of the room left: at every statement, kept in a bounded number of entries so that ten
 * million statements take no more memory than ten thousand.
 */
import { RAM_START } from '../../machine/memory-map.js';
import type { AreaSizes, VariableSize } from './areas.js';

/** The least room in a stretch of statements. */
export interface Entry {
  /** Statements run up to, and with, the last of the stretch. */
  readonly statements: number;
  /** Bytes left at its fullest moment, and the line that ran then. */
  readonly spare: number;
  readonly line: number;
  readonly sizes: AreaSizes;
}

/** The fullest moment of the whole rehearsal. */
export interface Peak {
  /** Bytes in use, with those that the ROM and the machine stack keep: the RAM less `spare`. */
  readonly bytes: number;
  readonly line: number;
  /** Bytes left; below 0 where the program asked for more than there was. */
  readonly spare: number;
  readonly statements: number;
  readonly sizes: AreaSizes;
  readonly variables: readonly VariableSize[];
}

/** What the ledger reads of the memory. */
export interface Watched {
  readonly stackTop: number;
  readonly spare: number;
  readonly moment: { readonly line: number; readonly statements: number };
  /** Changes whenever variables come, go or move. */
  readonly stamp: number;
  sizes(): AreaSizes;
  variableSizes(): VariableSize[];
}

/** So many entries before each two neighbours become one. */
const MOST_ENTRIES = 1024;

export class Ledger {
  readonly entries: Entry[] = [];
  /** The least room in the stretch that runs: memory calls `lower` for anything below it. */
  low = Number.POSITIVE_INFINITY;
  /** Statements in a stretch. */
  stretch = 1;
  peak: Peak | undefined;
  /** Called when a new peak is noted: once its statement is over, `settlePeak` wants to be called. */
  onPeak: () => void = () => {};
  private open: Entry | undefined;
  private variables: readonly VariableSize[] = [];
  private stamp = 0;

  /** Notes a moment with less room than any before in this stretch; `sizes` are those of that moment. */
  lower(spare: number, sizes: AreaSizes, memory: Watched): void {
    this.low = spare;
    const { line, statements } = memory.moment;
    this.open = { statements, spare, line, sizes };
    if (this.peak !== undefined && spare >= this.peak.spare) return;
    const bytes = memory.stackTop - RAM_START - spare;
    this.peak = { ...this.open, bytes, variables: this.variables };
    this.onPeak();
  }

  /** Once the statement of a new peak is over: which variables there are then. */
  settlePeak(memory: Watched): void {
    if (this.stamp !== memory.stamp) {
      this.stamp = memory.stamp;
      this.variables = memory.variableSizes();
    }
    this.peak = { ...this.peak!, variables: this.variables };
  }

  /** Ends a stretch: the next begins with the room that there is now. */
  close(memory: Watched): void {
    const { statements } = memory.moment;
    if (this.open !== undefined) {
      const { spare, line, sizes } = this.open;
      this.entries.push({ statements, spare, line, sizes });
    }
    if (this.entries.length >= MOST_ENTRIES) this.thin();
    this.low = Number.POSITIVE_INFINITY;
    this.lower(memory.spare, memory.sizes(), memory);
  }

  /** Of each two neighbours the fuller stays; a stretch becomes twice as long. */
  private thin(): void {
    const { entries } = this;
    const kept: Entry[] = [];
    for (let at = 0; at < entries.length; at += 2) {
      const first = entries[at];
      const second = entries[at + 1] ?? first;
      const { spare, line, sizes } = second.spare < first.spare ? second : first;
      kept.push({ statements: second.statements, spare, line, sizes });
    }
    entries.splice(0, entries.length, ...kept);
    this.stretch *= 2;
  }
}
