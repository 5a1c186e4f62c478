/** Files of any kind: listings, images, recordings in whatever form the browser decodes, scanned pages. */
import { $, button, make, saveFile, setText } from '../dom.js';
import { TEXTS } from '../texts.js';
import type { Found, FoundInSound } from '../workers/tape.js';
import { timeText } from './play.js';
import type { ScanDialog } from './scan.js';
import { CannotBe, type Tape } from './tape.js';

/** Samples a second at which a sound is decoded. */
const RATE = 44100;
/** Bytes of a file that are read at a time: more at once would hold up the page. */
const READ = 1 << 22;
/** Samples that are handed to the worker at a time: some ten seconds. */
const PIECE = 1 << 19;

const t = TEXTS.socket;

export class Files {
  private taken: Promise<void> = Promise.resolve();

  constructor(
    private readonly tape: Tape,
    private readonly scan: ScanDialog,
    private readonly open: (text: string, doubtfulRows?: readonly number[]) => void,
  ) {
    $('choose').onclick = () => $('file').click();
    const { classList } = document.body;
    addEventListener('dragover', (event) => {
      event.preventDefault();
      classList.add('dragging');
    });
    addEventListener('dragleave', (event) => {
      if (event.relatedTarget === null) classList.remove('dragging');
    });
    // Before the editor, which would take a file's text in at the cursor.
    addEventListener(
      'drop',
      (event) => {
        const files = [...(event.dataTransfer?.files ?? [])];
        classList.remove('dragging');
        if (files.length === 0) return;
        event.preventDefault();
        event.stopPropagation();
        void this.take(files);
      },
      { capture: true },
    );
  }

  /** Reads files, one after the other, and opens or lists what is in them. */
  take(files: readonly File[]): Promise<void> {
    // What comes while others are read waits for them, whatever becomes of those.
    const turn = this.taken.then(() => this.readAll(files));
    this.taken = turn.catch(() => undefined);
    return turn;
  }

  private async readAll(files: readonly File[]): Promise<void> {
    const note = $('socket-note');
    for (const file of files) {
      note.textContent = TEXTS.working;
      try {
        note.textContent = await this.read(file);
      } catch (error) {
        if (!(error instanceof CannotBe)) throw error;
        note.textContent = `${file.name}: ${error.message}`;
      }
      // A file can be given from anywhere on the page; one that is open now is seen there.
      if (note.textContent !== '' && note.textContent !== t.opened(file.name)) {
        note.scrollIntoView({ block: 'nearest' });
      }
    }
  }

  private async read(file: File): Promise<string> {
    const bytes = await bytesOf(file);
    if (bytes === undefined) return t.noFile(file.name);
    const content = await this.tape.ask('read', { bytes, file: file.name }, [bytes.buffer]);
    switch (content.kind) {
      case 'listing':
        this.open(content.text);
        return t.opened(file.name);
      case 'page':
        await this.scan.show(content.text);
        return '';
      case 'programs':
        return this.listAll(content);
      case 'sound':
        return this.decode(file, content.sound);
      case 'unknown':
        return t.cannotRead(file.name);
    }
  }

  /** A sound in some form of its own: decoded in the worker if that can be, else here. */
  private async decode(file: File, kind: string): Promise<string> {
    const isDone = (await this.decodeThere()) || (await this.decodeHere(file));
    if (!isDone) return t.cannotDecode(file.name, kind);
    return this.listAll(await this.tape.ask('soundEnd', undefined));
  }

  private async decodeThere(): Promise<boolean> {
    if (!(await this.tape.ask('decode', undefined))) return false;
    let part: number | undefined = 0;
    while (part !== undefined && part < 1) {
      tellProgress(part);
      part = await this.tape.ask('decodeMore', undefined);
    }
    return part === 1;
  }

  private async decodeHere(file: File): Promise<boolean> {
    let sound: AudioBuffer;
    try {
      sound = await new OfflineAudioContext(1, 1, RATE).decodeAudioData(await file.arrayBuffer());
    } catch {
      // The browser says only that it cannot.
      return false;
    }
    const { sampleRate: rate, length, numberOfChannels } = sound;
    // Piece by piece: a whole tape, copied at once, would hold up the page.
    for (let at = 0; at < length; at += PIECE) {
      const channels = Array.from({ length: numberOfChannels }, (_, channel) => {
        const piece = new Float32Array(Math.min(PIECE, length - at));
        sound.copyFromChannel(piece, channel, at);
        return piece;
      });
      const handed = channels.map(({ buffer }) => buffer);
      await this.tape.ask('soundPiece', { rate, channels }, handed);
      tellProgress(at / length);
    }
    return true;
  }

  /** Lists what a sound holds; gives words where that is nothing. */
  private listAll({ programs, piece }: FoundInSound): string {
    this.list(programs, true);
    return programs.length > 0 ? '' : noProgramText(piece);
  }

  /**
   * Lists programs. One that comes alone is opened at once where it is of a file that was given;
   * one that was heard, only while nobody is writing.
   */
  list(programs: readonly Found[], isGiven = false): void {
    const [only] = programs;
    const isWriting = $('editor').contains(document.activeElement);
    if (programs.length === 1 && (isGiven || !isWriting)) this.open(only.text, only.doubtfulRows);
    $('heard').append(...programs.map((program) => this.itemOf(program)));
  }

  private itemOf({ name, text, image, doubts, doubtfulRows }: Found): HTMLElement {
    const open = button(t.openHeard, () => this.open(text, doubtfulRows), { className: 'small' });
    const save = button(t.saveHeard, () => saveFile(name, 'img', image as BlobPart), {
      className: 'small',
    });
    const isSure = doubts.bytes + doubts.name === 0;
    return make(
      'li',
      {},
      make('p', { className: isSure ? '' : 'doubtful' }, t.heard(name, image.length, doubts)),
      make('div', { className: 'bar' }, open, save),
    );
  }
}

/** How far it is, in tenths: oftener, a screen reader would speak of nothing else. */
function tellProgress(part: number): void {
  setText($('socket-note'), `${TEXTS.working} ${10 * Math.floor(10 * part)} %`);
}

/** What is in a file; undefined where the browser cannot read it: a folder, or one that is gone. */
async function bytesOf(file: File): Promise<Uint8Array<ArrayBuffer> | undefined> {
  const { size } = file;
  const bytes = new Uint8Array(size);
  try {
    // An empty one is read too: that is how a folder is told.
    for (let at = 0; at === 0 || at < size; at += READ) {
      const piece = await file.slice(at, at + READ).arrayBuffer();
      bytes.set(new Uint8Array(piece), at);
    }
    return bytes;
  } catch {
    // The browser says only that it could not be read.
    return undefined;
  }
}

/** What is said of a sound without a program. */
export function noProgramText(piece: FoundInSound['piece']): string {
  if (piece === undefined) return t.noProgram;
  return t.onlyPiece(timeText(piece.start), timeText(piece.end));
}
