/** A printed page read again: its questions are answered by clicks, each answer changes the source. */
import { $, button, make } from '../dom.js';
import { TEXTS } from '../texts.js';
import type { Transcribed } from '../workers/tape.js';
import type { Tape } from './tape.js';

const t = TEXTS.pageOfText;
type Question = Transcribed['questions'][number];

export class ScanDialog {
  private source = '';
  private result: Transcribed | undefined;
  /** What a person has decided to leave as it is. */
  private readonly left = new Set<string>();

  constructor(
    private readonly tape: Tape,
    open: (text: string) => void,
  ) {
    $('scan-open').onclick = () => {
      $<HTMLDialogElement>('scan').close();
      open(this.result?.text ?? '');
    };
  }

  async show(source: string): Promise<void> {
    this.left.clear();
    await this.read(source);
    const dialog = $<HTMLDialogElement>('scan');
    if (dialog.open) return;
    dialog.showModal();
    // Not on the first answer: a key pressed too often would choose it.
    $('scan-title').focus();
  }

  private async read(source: string): Promise<void> {
    this.source = source;
    this.result = await this.tape.ask('transcribe', source);
    const questions = this.result.questions.filter((question) => !this.left.has(keyOf(question)));
    $('scan-help').textContent = `${t.changed(this.result.changes)} ${t.left(questions.length)}`;
    $('scan-text').textContent = this.result.text;
    const list = $('scan-questions');
    const wasAnswered = list.contains(document.activeElement);
    list.replaceChildren(...questions.map((question) => this.itemOf(question)));
    // Whoever answers by the keyboard goes on with the next question.
    if (wasAnswered) (list.querySelector('button') ?? $('scan-open')).focus();
  }

  private itemOf(question: Question): HTMLElement {
    const { from, lines, why, candidates } = question;
    const answers = candidates.map((candidate) =>
      button(candidate, () => void this.answer(question, candidate), { className: 'small code' }),
    );
    const leave = (): void => {
      this.left.add(keyOf(question));
      void this.read(this.source);
    };
    return make(
      'li',
      {},
      make('p', {}, make('code', {}, from), `${t.inLines(lines)}: ${why}`),
      make('div', { className: 'bar' }, ...answers, button(t.asIs, leave, { className: 'small' })),
    );
  }

  /** Puts the answer in all the places that the question is about, from the last to the first. */
  private async answer({ places }: Question, candidate: string): Promise<void> {
    let { source } = this;
    for (const { start, end } of [...places].sort((a, b) => b.start - a.start)) {
      source = source.slice(0, start) + candidate + source.slice(end);
    }
    await this.read(source);
  }
}

const keyOf = ({ from, candidates, lines }: Question): string =>
  JSON.stringify([from, candidates, lines]);
