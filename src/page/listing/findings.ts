/** The findings as a list, each with the way there and what can be done about it. */
import { $, button, make, rested, withCode } from '../dom.js';
import type { Editor, Finding } from '../editor/editor.js';
import { TEXTS } from '../texts.js';
import type { Known } from '../workers/known.js';

/** Findings that are listed; the editor marks all. */
const MOST = 20;
/** What to do by the command line: here a button does it. */
const COMMAND = /\ndo: `listwright .*/;
/** Milliseconds of rest after which the server is asked for fixes. */
const REST = 150;

export class FindingsList {
  private shown: readonly { finding: Finding; item: HTMLElement }[] = [];
  private readonly askLater = rested(REST, () => void this.askFixes());

  constructor(private readonly editor: () => Editor) {}

  show(known: Known, findings: readonly Finding[]): void {
    const { findings: t } = TEXTS;
    this.shown = findings
      .slice(0, MOST)
      .map((finding) => ({ finding, item: this.itemOf(finding) }));
    const more = findings.length - this.shown.length;
    $('findings').replaceChildren(
      ...this.shown.map(({ item }) => item),
      ...(more > 0 ? [make('li', { className: 'quiet' }, t.more(more))] : []),
    );
    $('findings-none').textContent =
      findings.length > 0 ? '' : known.lines === 0 ? t.empty : t.none;
    this.showSavings(known);
    this.askLater();
  }

  private itemOf({ severity, message, row, column, from, to }: Finding): HTMLElement {
    const { findings: t } = TEXTS;
    const [what, ...more] = message.replace(COMMAND, '').split('\n');
    return make(
      'li',
      {},
      make(
        'p',
        {},
        make('span', { className: `severity ${severity}` }, `${t.severity[severity]} `),
        make('span', { className: 'place' }, `${t.row(row, column)} `),
        ...withCode(what),
      ),
      ...(more.length > 0 ? [make('p', { className: 'quiet' }, ...withCode(more.join('\n')))] : []),
      make(
        'div',
        { className: 'bar' },
        button(t.goTo(row), () => this.editor().goTo(from, to), { className: 'small' }),
      ),
    );
  }

  /** Fixes take the server longer than findings: they are asked for once typing rests. */
  private async askFixes(): Promise<void> {
    const { shown } = this;
    const editor = this.editor();
    for (const { finding, item } of shown) {
      const fixes = await editor.fixesFor(finding);
      // Meanwhile the text may have changed, and with it the list.
      if (this.shown !== shown) return;
      item.querySelector('.bar')!.append(
        ...fixes.map((fix) =>
          button(fix.title, () => editor.apply(fix), {
            className: `small fix ${fix.isPreferred ? 'preferred' : ''}`,
          }),
        ),
      );
    }
  }

  /** What changes the whole listing is worked out when it is chosen: that can take a second. */
  private showSavings({ verdict }: Known): void {
    const { saveAll, makeFit } = TEXTS.findings;
    const offers = [
      ['fit', makeFit],
      ['all', saveAll],
    ] as const;
    const isShort = verdict !== undefined && verdict.kind !== 'runs';
    $('savings').replaceChildren(
      ...(isShort ? offers : []).map(([kind, words]) => {
        const offer = button(words, () => void this.save(kind, offer), { className: 'small' });
        return offer;
      }),
    );
  }

  private async save(kind: 'all' | 'fit', offer: HTMLButtonElement): Promise<void> {
    offer.disabled = true;
    const apply = await this.editor().savings(kind);
    if (apply !== undefined) apply();
    else offer.textContent = TEXTS.findings.noSavings;
  }
}
