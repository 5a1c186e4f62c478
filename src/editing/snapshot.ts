/**
 * One state of a listing in an editor, and all that is known of it. Nothing here changes: an edit
 * makes a new snapshot. What is costly is worked out when it is first asked for, and then kept.
 */
import type { Include } from '../../grammar/text.js';
import type { Item, Line, Listing } from '../../grammar/tree.js';
import {
  analyse,
  namesOfProgram,
  type Program,
  type ProgramNames,
  withoutCourses,
} from '../analysis/program.js';
import { type LintResult, lintAnalysed } from '../lint/lint.js';
import { type Diagnostic, hasErrors } from '../listing/diagnostics.js';
import type { ReadListing } from '../listing/join-pieces.js';
import { readListing } from '../listing/read.js';
import { firstIndex } from '../listing/search.js';
import { type Encoding, Positions } from './positions.js';

export interface SnapshotOptions {
  /** RAM in bytes; default: the listing's own `.ram`, else 1K. */
  readonly ram?: number;
  /** Gives the bytes of a file that a REM names. */
  readonly include?: Include;
  /** The units of positions; UTF-16 unless told otherwise. */
  readonly encoding?: Encoding;
}

export class Snapshot {
  readonly listing: Listing;
  readonly diagnostics: readonly Diagnostic[];
  /** Has the listing an error, so that it builds no image and is not linted? */
  readonly broken: boolean;
  private names_?: ProgramNames;
  private program_?: Program;
  private lint_?: LintResult;
  /** Is what the linter says by now all that it would say? */
  isSettled = false;

  constructor(
    readonly text: string,
    readonly options: SnapshotOptions = {},
    readonly read: ReadListing = readListing(text, { include: options.include }),
    readonly positions = new Positions(text, options.encoding),
  ) {
    this.listing = read.listing;
    this.diagnostics = read.diagnostics;
    this.broken = hasErrors(read.diagnostics);
  }

  /** Lines, expressions and names: sooner known than the whole program. */
  get names(): ProgramNames {
    this.names_ ??= this.program_ ?? namesOfProgram(this.listing);
    return this.names_;
  }

  /** Names, flow and ranges. Of a broken listing too: a line with an error may do anything. */
  get program(): Program {
    this.program_ ??= analyse(this.listing);
    return this.program_;
  }

  /** What the linter says in full; undefined while the listing is broken. */
  get lint(): LintResult | undefined {
    if (this.broken) return undefined;
    if (!this.isSettled)
      this.lint_ = lintAnalysed(this.text, this.program, { ram: this.options.ram });
    this.isSettled = true;
    return this.lint_;
  }

  /**
   * What it says by now: in full if that was asked for, or if the plain bounds settle the verdict;
   * else with the verdict left open, since following the courses of a run can take a second.
   */
  get lintByNow(): LintResult | undefined {
    if (this.broken) return undefined;
    if (this.lint_ === undefined) {
      this.lint_ = lintAnalysed(this.text, withoutCourses(this.program), { ram: this.options.ram });
      this.isSettled = this.lint_.budget.verdict.kind !== 'may run';
    }
    return this.lint_;
  }

  /** The line, directive or comment that an offset stands in or right behind. */
  itemAt(offset: number): Item | undefined {
    const { items } = this.listing;
    const item = items[firstIndex(items.length, (index) => items[index].start > offset) - 1];
    return item !== undefined && offset <= item.end ? item : undefined;
  }

  /** The program line of an offset, or undefined. */
  lineAt(offset: number): Line | undefined {
    const item = this.itemAt(offset);
    return item?.kind === 'line' ? item : undefined;
  }
}

/** An answer that is worked out when a snapshot is first asked for it, and then kept with it. */
export function onceFor<Answer extends object>(
  work: (snapshot: Snapshot) => Answer,
): (snapshot: Snapshot) => Answer {
  const known = new WeakMap<Snapshot, Answer>();
  return (snapshot) => {
    const found = known.get(snapshot) ?? work(snapshot);
    known.set(snapshot, found);
    return found;
  };
}
