/** Showing diagnostics and sums to a person, or as JSON. */
import {
  type Diagnostic,
  hasErrors,
  type Paint,
  Places,
  placeDiagnostics,
  type Source,
  showDiagnostic,
} from '../listing/diagnostics.js';
import { count } from '../listing/print.js';
import { visibleJson } from '../markup/visible.js';
import { DONE, NO, tell } from './io.js';
import { styled, wantsColour } from './terminal.js';

/** Colours for a stream that wants them. */
export function paintFor(stream: NodeJS.WriteStream): Paint {
  if (!wantsColour(stream)) return (text) => text;
  return styled;
}

/** Most messages that are shown for one file: a thousand would hide the first. */
const MOST_SHOWN = 100;

/** Tells diagnostics on standard error, in the order of the text, and how many there were. */
export function tellDiagnostics(source: Source, diagnostics: readonly Diagnostic[]): void {
  if (diagnostics.length === 0) return;
  const paint = paintFor(process.stderr);
  const places = new Places(source.text);
  for (const diagnostic of diagnostics.slice(0, MOST_SHOWN)) {
    tell(showDiagnostic(source, diagnostic, places, paint));
  }
  const more = diagnostics.length - MOST_SHOWN;
  if (more > 0) tell(`${source.name}: and ${count(more, 'more message')}; mend these first`);
}

/** Diagnostics in the form of `--format json`. */
export function jsonOf(value: unknown): string {
  const bytesAsNumbers = (_: string, item: unknown) =>
    item instanceof Uint8Array ? [...item] : item;
  return visibleJson(JSON.stringify(value, bytesAsNumbers, 2));
}

export { count, placeDiagnostics };

/** The exit status that diagnostics mean. */
export function statusOf(diagnostics: readonly Diagnostic[]): number {
  return hasErrors(diagnostics) ? NO : DONE;
}

/** Seconds as a person says them: `9 s`, `1 min 05 s`. */
export function duration(seconds: number): string {
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  return `${Math.floor(whole / 60)} min ${String(whole % 60).padStart(2, '0')} s`;
}
