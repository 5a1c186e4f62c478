/** Remarks on the numbering: numbers that come twice or out of order, and gaps in even steps. */
import type { Pass } from '../work.js';

/** Fewer even steps than this, or a smaller share, show no gap. */
const FEWEST_STEPS = 4;
const SHARE = 0.6;
/** A gap that is wider begins another part of the program. */
const WIDEST = 10;

export const remarkNumbers: Pass = ({ lines, remarks }) => {
  const counts = new Map<number, number>();
  const steps = lines.slice(1).map((line, at) => ({ line, before: lines[at].number }));
  for (const { line, before } of steps) {
    const step = line.number - before;
    counts.set(step, (counts.get(step) ?? 0) + 1);
    if (step === 0) remarks.push(`there are two lines ${line.number}`);
    if (step < 0) remarks.push(`line ${line.number} stands after line ${before}`);
  }
  const [usual, count] = [...counts].sort((a, b) => b[1] - a[1])[0] ?? [0, 0];
  if (usual <= 0 || count < FEWEST_STEPS || count < lines.length * SHARE) return;
  for (const { line, before } of steps) {
    const step = line.number - before;
    if (step <= usual || step > usual * WIDEST) continue;
    remarks.push(
      `the lines go up in steps of ${usual}, but from ${before} to ${line.number}: a line may be missing`,
    );
  }
};
