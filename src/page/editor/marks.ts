/** Marks on whole lines: the one that runs, and those with bytes in doubt. */
import { type EditorState, StateEffect, StateField } from '@codemirror/state';
import { Decoration, type DecorationSet, EditorView } from '@codemirror/view';

/** The row that runs, from 1; undefined: none. */
export const setRunning = StateEffect.define<number | undefined>();
/** Rows, from 1, that hold bytes in doubt. */
export const setDoubts = StateEffect.define<readonly number[]>();

function marksField(className: string, rowsOf: (effect: StateEffect<unknown>) => Rows) {
  const mark = Decoration.line({ class: className });
  return StateField.define<DecorationSet>({
    create: () => Decoration.none,
    update(marked, { changes, effects, state }) {
      for (const effect of effects) {
        const rows = rowsOf(effect);
        if (rows !== undefined)
          return Decoration.set(placesOf(state, rows).map((at) => mark.range(at)));
      }
      return marked.map(changes);
    },
    provide: (field) => EditorView.decorations.from(field),
  });
}

type Rows = readonly number[] | undefined;

function placesOf({ doc }: EditorState, rows: readonly number[]): number[] {
  return [...new Set(rows)]
    .filter((row) => row >= 1 && row <= doc.lines)
    .sort((a, b) => a - b)
    .map((row) => doc.line(row).from);
}

export const marks = [
  marksField('line-running', (effect) => {
    if (!effect.is(setRunning)) return undefined;
    return effect.value === undefined ? [] : [effect.value];
  }),
  marksField('line-doubtful', (effect) => (effect.is(setDoubts) ? effect.value : undefined)),
];
