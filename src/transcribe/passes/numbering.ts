/** Remarks on the numbering: numbers that come twice or out of order, and gaps in even steps. */
import { grouped } from '../../listing/search.js';
import type { Pass } from '../work.js';

/** Fewer even steps than this, or a smaller share, show no gap. */
const FEWEST_STEPS = 4;
const SHARE = 0.6;
/** A gap that is wider begins another part of the program. */
const WIDEST = 10;

export const remarkNumbers: Pass = ({ lines, remarks }) => {
  const steps = lines.slice(1).map(({ number }, at) => {
    const before = lines[at].number;
    return { number, before, step: number - before };
  });
  for (const { number, before, step } of steps) {
    if (step === 0) remarks.push(`there are two lines ${number}`);
    if (step < 0) remarks.push(`line ${number} stands after line ${before}`);
  }
  const alike = [...grouped(steps, ({ step }) => step).values()];
  const [most] = alike.sort((a, b) => b.length - a.length);
  const usual = most?.[0].step ?? 0;
  if (usual <= 0 || most.length < Math.max(FEWEST_STEPS, lines.length * SHARE)) return;
  for (const { number, before, step } of steps) {
    if (step <= usual || step > usual * WIDEST) continue;
    remarks.push(
      `the lines go up in steps of ${usual}, but from ${before} to ${number}: a line may be missing`,
    );
  }
};
