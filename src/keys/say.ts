/** Keys to press in words, as one person reads them out to another. */
import type { LineKeys, Press } from './keys.js';

/** One press: `P=PRINT`, `shift 3=THEN`, `H`. */
export function sayPress(press: Press): string {
  const key = press.shift ? `shift ${press.key}` : press.key;
  return press.gives === key ? key : `${key}=${press.gives}`;
}

/** A run of presses that are made while the cursor shows the same letter. */
export interface Run {
  readonly mode: Press['mode'];
  readonly presses: readonly Press[];
}

export function runsOf(presses: readonly Press[]): Run[] {
  const runs: { mode: Press['mode']; presses: Press[] }[] = [];
  for (const press of presses) {
    const last = runs.at(-1);
    if (last?.mode === press.mode) last.presses.push(press);
    else runs.push({ mode: press.mode, presses: [press] });
  }
  return runs;
}

/** Presses as text, one row for each letter that the cursor shows: `  K  1 0 P=PRINT`. */
export function sayLine(line: LineKeys): string {
  const rows = runsOf(line.presses).map(
    ({ mode, presses }) => `  ${mode}  ${presses.map(sayPress).join('  ')}`,
  );
  if (line.presses.some(({ detour }) => detour)) rows.push(`     ${DETOUR}`);
  return rows.join('\n');
}

/** Why a keyword is typed that the line does not hold. */
export const DETOUR =
  '(a THEN or AND that is rubbed out again is there to change the cursor between K and L)';
