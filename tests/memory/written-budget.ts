import type { Budget } from '../../src/memory/budget.js';
import { type Basis, room, verdictOf } from '../../src/memory/verdict.js';

/** A budget of 1000 bytes of RAM, written down: no analysis comes to it. `high` is the most that its variables take. */
export function budget(basis: Basis = { on: 'bounds' }, high = 400): Budget {
  const needed = (low: number, most: number) => room(1000, { low, high: most });
  return {
    ram: 1000,
    image: 100,
    lineAddresses: [],
    programEnd: 0,
    areas: [
      { area: 'system variables', start: 16384, low: 125, high: 125 },
      { area: 'program', start: 16509, low: 100, high: 100 },
      { area: 'display', start: 16609, low: 25, high: 60, line: 20, why: 'it is printed' },
      { area: 'variables', start: 16634, low: 6, high, line: 10, why: 'it hangs on the run' },
      { area: 'workspace', start: 16640, low: 0, high: 1 },
    ],
    lines: [
      { number: 10, bytes: 15, hidden: 6 },
      { number: 20, bytes: 68, hidden: 0 },
      { number: 30, bytes: 6, hidden: 0 },
      { number: 40, bytes: 39, hidden: 0 },
    ],
    variables: [
      { name: 'A', low: 6, high: 6, line: 10 },
      { name: 'B$', low: 3, high: 103, line: 20, why: 'its length hangs on the run' },
      { name: 'C()', low: 0, high: 250 },
    ],
    loads: needed(300, 350),
    runs: needed(256, high + 286),
    verdict: verdictOf(1000, needed(300, 350), needed(256, high + 286), basis),
  } as Budget;
}
