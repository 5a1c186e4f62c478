/** The listing's part of the page: editor, drafts, samples, RAM, share, findings and verdict. */
import { USUAL_RAM_SIZES } from '../../machine/ram-size.js';
import { $, make, rested, saveFile, setText } from '../dom.js';
import { Editor } from '../editor/editor.js';
import { TEXTS } from '../texts.js';
import {
  allDrafts,
  currentId,
  type Draft,
  deleteDraft,
  isSomethingUnkept,
  keepDraft,
  newDraft,
  onForeignChange,
  setCurrent,
  titleOf,
} from './drafts.js';
import { FindingsList } from './findings.js';
import { showFit } from './fit.js';
import { linkOf, listingInLink } from './share.js';

/** Milliseconds of rest after which a draft is kept. */
const REST = 250;

export interface DeskEvents {
  /** The listing, or the RAM, is another now. */
  changed(): void;
  /** Files that a person gave. */
  files(files: readonly File[]): void;
  samples(): Promise<readonly { readonly name: string; readonly text: string }[]>;
}

export class Desk {
  /** Comes true when what is known of the listing has been shown for the first time. */
  readonly firstRead: Promise<void>;
  private tellRead!: () => void;
  private editor!: Editor;
  private draft!: Draft;
  private readonly list = new FindingsList(() => this.editor);
  private readonly keepLater = rested(REST, () => this.keep());
  private dirty = false;
  /** Was it told that the browser keeps no drafts? */
  private isNotKept = false;
  /** Did this window write what is kept of the draft? */
  private isOwn = false;

  static async open(events: DeskEvents): Promise<Desk> {
    const desk = new Desk(events);
    await desk.start();
    return desk;
  }

  private constructor(private readonly events: DeskEvents) {
    this.firstRead = new Promise((resolve) => {
      this.tellRead = resolve;
    });
  }

  get text(): string {
    return this.editor.text;
  }

  /** RAM as a person chose it, such as `16K`; undefined: what the listing says. */
  get ram(): string | undefined {
    return $<HTMLSelectElement>('ram').value || undefined;
  }

  get lineAtCursor(): number | undefined {
    return this.editor.lineAtCursor;
  }

  showRunning(line: number | undefined): void {
    this.editor.showRunning(line);
  }

  /** Opens a text as a draft of its own, with marks at rows that are in doubt. */
  openAsDraft(text: string, doubtfulRows: readonly number[] = []): void {
    const same = allDrafts().find((draft) => draft.text === text);
    this.take(same ?? newDraft(text));
    this.dirty = true;
    this.keep();
    this.editor.showDoubts(doubtfulRows);
  }

  private async start(): Promise<void> {
    const drafts = allDrafts();
    this.draft = drafts.find(({ id }) => id === currentId()) ?? drafts[0] ?? newDraft('');
    this.editor = await Editor.start($('editor'), this.draft.text, {
      changed: () => {
        this.dirty = true;
        this.keepLater();
        this.tell(this.isNotKept ? TEXTS.listing.notKept : '');
        this.events.changed();
      },
      refused: () => this.tell(TEXTS.listing.tooLarge),
      known: (known, findings) => {
        showFit(known);
        this.list.show(known, findings);
        this.tellRead();
      },
    });
    setCurrent(this.draft.id);
    this.showDrafts();
    this.listen();
    await this.openLink();
  }

  private listen(): void {
    const drafts = $<HTMLSelectElement>('draft');
    drafts.onchange = () => {
      // Keeping writes the list of drafts anew, and with it what is chosen.
      const chosen = drafts.value;
      this.keep();
      const draft = allDrafts().find(({ id }) => id === chosen);
      if (draft !== undefined) this.take(draft);
    };
    $('draft-new').onclick = () => {
      this.openAsDraft('');
      this.editor.goTo(0);
    };
    this.listenToDelete();
    this.listenToSamples();
    const ram = $<HTMLSelectElement>('ram');
    ram.append(make('option', { value: '' }, TEXTS.listing.ramOwn));
    ram.append(...USUAL_RAM_SIZES.map((size) => make('option', { value: size }, size)));
    ram.onchange = () => {
      this.editor.setRam(ram.value);
      this.events.changed();
    };
    const file = $<HTMLInputElement>('file');
    $('open').onclick = () => file.click();
    file.onchange = () => {
      this.events.files([...(file.files ?? [])]);
      file.value = '';
    };
    $('tidy').onclick = () => this.editor.tidy();
    $('save-listing').onclick = () => saveFile(titleOf(this.text), 'bas', this.text);
    this.listenToShare();
    // A page that is left may never come back: what is written is kept at once.
    addEventListener('pagehide', () => this.keep());
    document.addEventListener('visibilitychange', () => this.keep());
    addEventListener('beforeunload', (event) => {
      this.keep();
      if (isSomethingUnkept()) event.preventDefault();
    });
    addEventListener('beforeprint', () => {
      $('paper').replaceChildren(...this.text.split('\n').map((line) => make('div', {}, line)));
    });
    addEventListener('hashchange', () => void this.openLink());
    onForeignChange((draft) => this.takeForeign(draft));
  }

  /** Another window has changed a draft; where both change the same, this one goes on with a copy. */
  private takeForeign(draft: Draft | undefined): void {
    const { id, text, changed } = this.draft;
    if (draft?.id === id && draft.text !== this.text) {
      const isSuccessor = !this.isOwn || draft.after === changed;
      if (!this.dirty && isSuccessor) this.adopt(draft);
      // Where this window was the later, it is the other that goes on with a copy.
      else if (this.dirty || allDrafts().find((one) => one.id === id)?.text !== text) {
        this.draft = newDraft(this.text);
        setCurrent(this.draft.id);
        this.dirty = true;
        this.keep();
      }
    }
    this.showDrafts();
  }

  /** Shows a draft as it is kept. */
  private adopt(draft: Draft): void {
    this.draft = draft;
    this.editor.open(draft.text);
    this.dirty = false;
    this.isOwn = false;
  }

  private listenToDelete(): void {
    const erase = $<HTMLDialogElement>('erase');
    $('draft-delete').onclick = () => {
      $('erase-words').textContent = TEXTS.listing.deleteAsk(titleOf(this.text));
      erase.showModal();
    };
    $('erase-yes').onclick = () => {
      erase.close();
      deleteDraft(this.draft.id);
      this.dirty = false;
      this.take(allDrafts()[0] ?? newDraft(''));
    };
  }

  private listenToSamples(): void {
    const samples = $<HTMLSelectElement>('sample');
    const first = make('option', { value: '' }, TEXTS.listing.sampleChoose);
    samples.append(first);
    let texts: ReadonlyMap<string, string> | undefined;
    const fill = async () => {
      if (texts !== undefined) return;
      texts = new Map();
      const found = await this.events.samples();
      texts = new Map(found.map(({ name, text }) => [name, text]));
      samples.append(...found.map(({ name }) => make('option', { value: name }, name)));
    };
    // The texts are fetched when somebody is about to choose one.
    for (const event of ['focus', 'pointerenter'])
      samples.addEventListener(event, () => void fill());
    samples.onchange = () => {
      const text = texts?.get(samples.value);
      samples.value = '';
      if (text !== undefined) this.openAsDraft(text);
    };
  }

  private listenToShare(): void {
    const dialog = $<HTMLDialogElement>('link');
    const link = $<HTMLInputElement>('link-text');
    $('share').onclick = async () => {
      link.value = await linkOf(this.text);
      $('link-note').textContent = '';
      dialog.showModal();
      link.select();
    };
    $('link-copy').onclick = async () => {
      link.select();
      try {
        await navigator.clipboard.writeText(link.value);
        $('link-note').textContent = TEXTS.listing.copied;
      } catch {
        // Without leave for the clipboard there is the older way; then the text stays selected.
        const isCopied = document.execCommand('copy');
        $('link-note').textContent = isCopied ? TEXTS.listing.copied : TEXTS.listing.notCopied;
      }
    };
  }

  /** A listing in the address becomes a draft, and leaves the address. */
  private async openLink(): Promise<void> {
    const { hash, pathname, search } = location;
    if (!hash.startsWith('#listing=')) return;
    try {
      const text = await listingInLink(hash);
      if (text !== undefined) this.openAsDraft(text);
    } catch (error) {
      const { badLink, tooLarge } = TEXTS.listing;
      this.tell(error instanceof RangeError ? tooLarge : badLink);
    }
    history.replaceState(null, '', pathname + search);
  }

  private take(draft: Draft): void {
    this.keep();
    setCurrent(draft.id);
    this.adopt(draft);
    this.editor.showDoubts([]);
    this.showDrafts();
  }

  private keep(): void {
    if (!this.dirty) return;
    const { id, changed } = this.draft;
    this.draft = { id, text: this.text, changed: Date.now(), after: changed };
    this.isOwn = true;
    // What cannot be kept stays to be kept: the next change tries again.
    this.dirty = !keepDraft(this.draft);
    // What else was told stays until the listing changes: keeping it is no answer to that.
    if (this.dirty !== this.isNotKept) this.tell(this.dirty ? TEXTS.listing.notKept : '');
    this.isNotKept = this.dirty;
    this.showDrafts();
  }

  /** Says what stands above the editor. */
  private tell(words: string): void {
    setText($('listing-note'), words);
  }

  private showDrafts(): void {
    const kept = allDrafts().filter(({ id }) => id !== this.draft.id);
    const options = [this.draft, ...kept].map(({ id, text }) =>
      make('option', { value: id }, titleOf(text)),
    );
    const drafts = $<HTMLSelectElement>('draft');
    drafts.replaceChildren(...options);
    drafts.value = this.draft.id;
  }
}
