/** Showing diagnostics and sums to a person, or as JSON. */
import {
  type Diagnostic,
  hasErrors,
  type Paint,
  Places,
  placeDiagnostics,
  type Source,
  showDiagnostics,
} from '../../listing/diagnostics.js';
import { count, MOST_SHOWN, shortList } from '../../listing/print.js';
import { visibleJson } from '../../markup/visible.js';
import { DONE, NO, tell } from './io.js';
import { styled, wantsColour } from './terminal.js';

/** Colours for a stream that wants them. */
export function paintFor(stream: NodeJS.WriteStream): Paint {
  if (!wantsColour(stream)) return (text) => text;
  return styled;
}

/** Tells diagnostics on standard error, in the order of the text, and how many there were. */
export function tellDiagnostics(
  source: Source,
  diagnostics: readonly Diagnostic[],
  all = false,
): void {
  if (diagnostics.length === 0) return;
  const paint = paintFor(process.stderr);
  const places = new Places(source.text);
  const first = diagnostics.slice(0, all ? diagnostics.length : MOST_SHOWN);
  const shown = showDiagnostics(source, first, places, paint);
  const more = diagnostics.length - first.length;
  if (more > 0) shown.push(`${source.name}: and ${count(more, 'more message')}; --all shows them`);
  tell(shown.join('\n'));
}

/** Diagnostics in the form of `--format json`. */
export function jsonOf(value: unknown): string {
  const bytesAsNumbers = (_: string, item: unknown) =>
    item instanceof Uint8Array ? [...item] : item;
  return visibleJson(JSON.stringify(value, bytesAsNumbers, 2));
}

/**
 * JSON in the same form, in pieces: where a value has an iterable that is no list, its items are made
 * one after the other, and never stand in memory together.
 */
export const piecesOfJson = (value: unknown): Iterable<string> => jsonPieces(value, '');

/** @param indent stands before each row of it but the first */
function* jsonPieces(value: unknown, indent: string): Generator<string> {
  const inner = `${indent}  `;
  if (typeof value !== 'object' || value === null) yield jsonOf(value);
  else if (Array.isArray(value)) {
    yield* listPieces(value, indent, (item) => jsonPieces(item, inner));
  } else if (Symbol.iterator in value) {
    const rowsOf = (item: unknown) => [jsonOf(item).replaceAll('\n', `\n${inner}`)];
    yield* listPieces(value as Iterable<unknown>, indent, rowsOf);
  } else {
    const members = Object.entries(value).filter(([, member]) => member !== undefined);
    const memberOf = function* ([name, member]: [string, unknown]): Generator<string> {
      yield `${jsonOf(name)}: `;
      yield* jsonPieces(member, inner);
    };
    yield* listPieces(members, indent, memberOf, '{}');
  }
}

function* listPieces<Item>(
  items: Iterable<Item>,
  indent: string,
  piecesOf: (item: Item) => Iterable<string>,
  [open, close] = '[]',
): Generator<string> {
  let before = open;
  for (const item of items) {
    yield `${before}\n${indent}  `;
    yield* piecesOf(item);
    before = ',';
  }
  yield before === open ? `${open}${close}` : `\n${indent}${close}`;
}

export { count, MOST_SHOWN, placeDiagnostics, shortList };

/** The exit status that diagnostics mean. */
export function statusOf(diagnostics: readonly Diagnostic[]): number {
  return hasErrors(diagnostics) ? NO : DONE;
}

/** Whole seconds as a counter shows them: `1:05`. */
export function counter(seconds: number): string {
  const whole = Math.floor(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

/** Seconds as a person says them: `9 s`, `1 min 05 s`. */
export function duration(seconds: number): string {
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  return `${Math.floor(whole / 60)} min ${String(whole % 60).padStart(2, '0')} s`;
}
