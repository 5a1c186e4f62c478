/** The bytes that each program line takes, beside it. */
import { RangeSet, StateField } from '@codemirror/state';
import { GutterMarker, gutter } from '@codemirror/view';
import { setPaint } from './paint.js';

class Cost extends GutterMarker {
  constructor(private readonly bytes: number) {
    super();
  }

  override eq(other: Cost): boolean {
    return other.bytes === this.bytes;
  }

  override toDOM(): Node {
    return document.createTextNode(String(this.bytes));
  }
}

const costs = StateField.define<RangeSet<GutterMarker>>({
  create: () => RangeSet.empty,
  update(shown, { changes, effects, state }) {
    for (const effect of effects) {
      if (!effect.is(setPaint)) continue;
      // While a listing has errors its bytes are not known: the last that were stay.
      if (effect.value.verdict === undefined) return shown.map(changes);
      return RangeSet.of(
        effect.value.costs.map(([row, bytes]) =>
          new Cost(bytes).range(state.doc.line(row + 1).from),
        ),
        true,
      );
    }
    return shown.map(changes);
  },
});

export const showCosts = [
  costs,
  gutter({
    class: 'cm-costs',
    side: 'after',
    markers: (view) => view.state.field(costs),
    initialSpacer: () => new Cost(888),
  }),
];
