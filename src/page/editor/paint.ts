/** Colours of words, as the server's semantic tokens have them; they move with the text till the next. */
import { type Range, StateEffect, StateField, type Text } from '@codemirror/state';
import { Decoration, type DecorationSet, EditorView } from '@codemirror/view';
import type { Known } from '../workers/known.js';

export const setPaint = StateEffect.define<Known>();

export const paint = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(painted, { changes, effects, state }) {
    for (const effect of effects) {
      if (effect.is(setPaint)) return paintOf(effect.value, state.doc);
    }
    return painted.map(changes);
  },
  provide: (field) => EditorView.decorations.from(field),
});

/** Five numbers a token: rows on, columns on, length, type, and none of modifiers. */
function paintOf({ tokens: data, tokenTypes }: Known, doc: Text): DecorationSet {
  const marks = tokenTypes.map((type) => Decoration.mark({ class: `word-${type}` }));
  const ranges: Range<Decoration>[] = [];
  let [row, column] = [1, 0];
  for (let at = 0; at < data.length; at += 5) {
    const [rows, columns, length, type] = data.subarray(at, at + 4);
    column = rows === 0 ? column + columns : columns;
    row += rows;
    const start = doc.line(row).from + column;
    ranges.push(marks[type].range(start, start + length));
  }
  return Decoration.set(ranges);
}
