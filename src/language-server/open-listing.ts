/** A listing that is open in an editor: its newest text, and what is known of it. */
import type { TextDocumentContentChangeEvent } from 'vscode-languageserver';
import { Positions } from '../editing/positions.js';
import { Snapshot, type SnapshotOptions } from '../editing/snapshot.js';
import { LiveListing } from '../listing/live.js';

export class OpenListing {
  private live: LiveListing;
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
    this.known ??= new Snapshot(this.text, this.options, this.live.read(), this.positions);
    return this.known;
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
        this.text = this.live.change(start, Math.max(start, end), change.text);
      } else {
        this.text = change.text;
        this.live = new LiveListing(change.text, this.options);
      }
      this.positions = new Positions(this.text, this.options.encoding);
    }
    this.known = undefined;
    this.version = version;
  }
}
