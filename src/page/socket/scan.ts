/** A printed page read again: its questions are answered by clicks, each answer changes the source. */

import type { Question } from '../../transcribe/questions.js';
import { $, button, make } from '../dom.js';
import { TEXTS } from '../texts.js';
import type { Transcribed } from '../workers/tape.js';
import type { Tape } from './tape.js';

const t = TEXTS.pageOfText;
export class ScanDialog {
  private source = '';
  private result: Transcribed | undefined;
  /** What a person has decided. */
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
    const { from, lines, why, candidates, places } = question;
    const printed = new Set(places.map(({ start, end }) => this.source.slice(start, end)));
    // Printed now so, now so: an answer is then for all of them, and each may be right as it stands.
    const isMixed = printed.size > 1;
    const answers = candidates.map((candidate) =>
      button(
        isMixed ? t.everywhere(candidate) : candidate,
        () => void this.answer(question, candidate),
        { className: 'small code' },
      ),
    );
    const canLeave = isMixed || !candidates.includes(from);
    const leave = button(
      isMixed ? t.asPrinted : t.asIs,
      () => {
        this.left.add(keyOf(question));
        void this.read(this.source);
      },
      { className: 'small' },
    );
    return make(
      'li',
      {},
      make('p', {}, make('code', {}, from), `${t.inLines(lines)}: ${why}`),
      make('div', { className: 'bar' }, ...answers, ...(canLeave ? [leave] : [])),
    );
  }

  /** Puts the answer in all the places that the question is about, from the last to the first. */
  private async answer(question: Question, candidate: string): Promise<void> {
    let { source } = this;
    const { places } = question;
    // The characters look as much alike as before: it is not asked again.
    this.left.add(keyOf(question));
    for (const { start, end } of [...places].sort((a, b) => b.start - a.start)) {
      source = source.slice(0, start) + candidate + source.slice(end);
    }
    await this.read(source);
  }
}

/** One about several lines is about characters, and they may come to stand in more of them by an answer. */
const keyOf = ({ candidates, lines }: Question): string =>
  JSON.stringify([[...candidates].sort(), lines.length > 1 ? [] : lines]);
