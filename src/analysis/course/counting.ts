/** How the variable of a FOR counts, and with which values its loop goes on or ends. */
import { blurred, compared } from '../comparison.js';
import { type NumberRange, single } from '../expression-ranges.js';

/** The limit and step of a FOR, and the lines that its NEXT leads to. */
export interface Counting {
  readonly limit: NumberRange;
  readonly step: NumberRange;
  readonly bodies: readonly number[];
}

/** The values with which a loop goes on, and those with which it ends. */
export function split(
  value: NumberRange,
  { limit, step }: Counting,
): { within?: NumberRange; past?: NumberRange } {
  const known = step.low >= 0 && single(value) !== undefined && single(limit) !== undefined;
  if (known) return compared('>', value, limit).low === 0 ? { within: value } : { past: value };
  let [within, past]: (NumberRange | undefined)[] = [undefined, undefined];
  const whole = value.whole && limit.whole;
  if (step.high >= 0) {
    const most = blurred(limit.high, whole, 1);
    if (value.low <= most) within = { ...value, high: Math.min(value.high, most) };
    if (value.high > limit.low) {
      past = { ...value, low: Math.max(value.low, whole ? limit.low + 1 : limit.low) };
    }
  }
  if (step.low < 0) {
    const least = blurred(limit.low, whole, -1);
    const down: NumberRange = { ...value, low: Math.max(value.low, least) };
    if (value.high >= least) within = within === undefined ? down : value;
    const up = { ...value, high: Math.min(value.high, whole ? limit.high - 1 : limit.high) };
    if (value.low < limit.high) past = past === undefined ? up : value;
  }
  return { within, past };
}
