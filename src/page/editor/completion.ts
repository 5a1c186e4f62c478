/** The list of words that may come next, as the server knows them. */
import { autocompletion, closeCompletion, completionStatus } from '@codemirror/autocomplete';
import { EditorView, keymap, type Rect } from '@codemirror/view';

/** Pixels of the widest box with what a word means. */
const WIDEST_INFO = 480;

export const completion = [
  // The signs that stand before the words are in few systems' fonts.
  autocompletion({ icons: false, positionInfo: placeOfInfo }),
  // The list goes, and the browser moves the focus on to what is behind the editor.
  keymap.of([{ key: 'Tab', run: (view) => closeCompletion(view) && false }]),
  // It scrolls: whatever looks for ways to do that without a mouse finds one.
  EditorView.updateListener.of(({ state, view }) => {
    if (completionStatus(state) !== 'active') return;
    view.dom.querySelector('.cm-tooltip-autocomplete > ul')?.setAttribute('tabindex', '0');
  }),
];

/** What a word means stands under the list of words, or over it where there is more room. */
function placeOfInfo(
  _view: EditorView,
  list: Rect,
  _word: Rect,
  info: Rect,
  space: Rect,
): { style: string } {
  const isUnder = space.bottom - list.bottom > info.bottom - info.top;
  const width = Math.min(space.right - list.left, WIDEST_INFO);
  return { style: `${isUnder ? 'top' : 'bottom'}: 100%; left: -1px; max-width: ${width}px` };
}
