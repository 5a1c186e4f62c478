/** A listing that is open in an editor: its newest text, and what is known of it. */
import type { TextDocumentContentChangeEvent } from 'vscode-languageserver';
import { Positions } from '../editing/positions.js';
import { Snapshot, type SnapshotOptions } from '../editing/snapshot.js';

export class OpenListing {
  private known?: Snapshot;

  constructor(
    private text: string,
    /** The version that the editor has given this text. */
    public version: number,
    private options: SnapshotOptions,
  ) {}

  /** The newest snapshot: read when it is first asked for. */
  get snapshot(): Snapshot {
    this.known ??= new Snapshot(this.text, this.options);
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
        const { start, end } = new Positions(this.text, this.options.encoding).spanOf(change.range);
        this.text = this.text.slice(0, start) + change.text + this.text.slice(end);
      } else this.text = change.text;
      this.known = undefined;
    }
    this.version = version;
  }
}
