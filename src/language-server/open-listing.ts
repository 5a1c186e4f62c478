/** A listing that is open in an editor: its newest text, and what is known of it. */
import type { TextDocumentContentChangeEvent } from 'vscode-languageserver';
import { Positions } from '../editing/positions.js';
import { Snapshot, type SnapshotOptions } from '../editing/snapshot.js';
import { LiveListing } from '../listing/live.js';

/** A stretch of the text that was read, and how many characters stand in its place by now. */
interface Unread {
  start: number;
  end: number;
  length: number;
}

/** Characters between two changes that are read as one: changes far apart are not. */
const NEAR = 200;

export class OpenListing {
  private live: LiveListing;
  /** What was changed since the listing was read: it waits until somebody asks. */
  private unread: Unread | undefined;
  private positions: Positions;
  private known?: Snapshot;

  constructor(
    private text: string,
    /** The version that the editor has given this text. */
    public version: number,
    private options: SnapshotOptions,
  ) {
    this.live = new LiveListing(text, options);
    this.positions = new Positions(text, options.encoding);
  }

  /** The newest snapshot, which holds until the next change. */
  get snapshot(): Snapshot {
    this.readChanges();
    this.known ??= new Snapshot(this.text, this.options, this.live.read(), this.positions);
    return this.known;
  }

  /** How many pieces were read since the text was given whole: for tests. */
  get piecesRead(): number {
    return this.live.piecesRead;
  }

  setRam(ram: number | undefined): void {
    this.options = { ...this.options, ram };
    this.known = undefined;
  }

  /** Takes the editor's changes, one after the other. */
  change(changes: readonly TextDocumentContentChangeEvent[], version: number): void {
    for (const change of changes) {
      if ('range' in change && change.range !== undefined) {
        const { start, end } = this.positions.spanOf(change.range);
        this.put(start, Math.max(start, end), change.text);
      } else {
        this.text = change.text;
        this.unread = undefined;
        this.live = new LiveListing(change.text, this.options);
      }
      this.positions = new Positions(this.text, this.options.encoding);
    }
    this.known = undefined;
    this.version = version;
  }

  /** Replaces a stretch of the text; where a line takes long to read, keys must not wait for it. */
  private put(start: number, end: number, text: string): void {
    const isNear = ({ start: first, length }: Unread): boolean =>
      end >= first - NEAR && start <= first + length + NEAR;
    if (this.unread !== undefined && !isNear(this.unread)) this.readChanges();
    const before = this.unread ?? { start, end: start, length: 0 };
    const first = Math.min(start, before.start);
    const behind = Math.max(0, end - (before.start + before.length));
    const last = before.start + before.length + behind;
    this.unread = {
      start: first,
      end: before.end + behind,
      length: last - first + text.length - (end - start),
    };
    this.text = this.text.slice(0, start) + text + this.text.slice(end);
  }

  private readChanges(): void {
    if (this.unread === undefined) return;
    const { start, end, length } = this.unread;
    this.unread = undefined;
    this.live.change(start, end, this.text.slice(start, start + length));
  }
}
