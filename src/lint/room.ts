/** What is over, and what helps a program that lacks room: savings made by themselves, or a person. */
import type { Program } from '../analysis/program.js';
import { count } from '../listing/print.js';
import { clearDisplaySize, hasFullDisplay, IMAGE_START } from '../machine/memory-map.js';
import { ramText, smallestRam } from '../machine/ram-size.js';
import { type Budget, budgetOfProgram } from '../memory/budget.js';
import type { VariableBudget } from '../memory/variables.js';
import type { Finding, Fix } from './rule.js';

export type Fixable = Finding & { readonly fix: Fix; readonly bytes: number };

/** The findings with a fix that saves bytes. */
export function fixableFindings(findings: readonly Finding[]): Fixable[] {
  return findings.filter(
    (finding): finding is Fixable => finding.fix !== undefined && (finding.bytes ?? 0) > 0,
  );
}

/** Bytes that are wanted before the verdict is `runs`; 0 or less when it is. */
export function bytesOver({ ram, loads, runs, verdict }: Budget): number {
  if (verdict.basis.on === 'rehearsal') return verdict.needed.high - ram;
  const most = Math.max(loads.high, runs.high) - ram;
  if (Number.isFinite(most)) return most;
  // Nothing in the listing bounds what it needs: bring down what it needs at least.
  return Math.max(loads.low, runs.low) - ram;
}

/**
 * The options with which `lint` saves something: the fewest fixes where it is known how much is over,
 * all of them where it is not. Undefined where no fix is left.
 */
export function savingOptions(findings: readonly Finding[], budget: Budget): string | undefined {
  if (fixableFindings(findings).length === 0) return undefined;
  return bytesOver(budget) > 0 ? '--fix --until-fits' : '--fix';
}

/** Of what takes most, so much is named, if it takes more than this part of the RAM. */
const MOST_NAMED = 4;
const WORTH_NAMING = 1 / 40;

/** Something that takes room, and what a person can do about it. */
interface Taker {
  readonly what: string;
  readonly bytes: number;
  readonly more?: string;
  readonly help: string;
}

/** What a person can do where no fix saves any more: how much is over, what takes most, what helps. */
export function helpByHand(budget: Budget, program: Program): string {
  const takers = takersOf(budget).slice(0, MOST_NAMED);
  const named = takers.map(({ what, bytes, more }) => {
    const size = Number.isFinite(bytes) ? count(bytes, 'byte') : 'nothing bounds it';
    return `${what} (${more === undefined ? size : `${size}, ${more}`})`;
  });
  const most = named.length === 0 ? '' : ` most is taken by ${named.join(', ')};`;
  const helps = new Set(takers.map(({ help }) => help));
  helps.add('two programs in place of one, each loaded by itself');
  const larger = ramThatRuns(budget, program);
  if (larger !== undefined) helps.add(`RAM of ${ramText(larger)}, where it runs`);
  return `no fix is left that saves more: ${overText(budget)};${most} what helps: ${[...helps].join(', or ')}`;
}

function overText({ verdict: { spare, kind } }: Budget): string {
  if (kind !== 'may run')
    return `${count(-spare.best, 'byte')} at least ${have(-spare.best)} to go`;
  if (spare.worst >= 0) return 'how much is over is not known';
  return Number.isFinite(spare.worst)
    ? `up to ${count(-spare.worst, 'byte')} ${have(-spare.worst)} to go`
    : 'nothing bounds how much it takes';
}

const have = (bytes: number): string => (bytes === 1 ? 'has' : 'have');

/** What takes more than a little, the largest first: to load, only what is saved on the tape. */
function takersOf(budget: Budget): Taker[] {
  const { lines, ram, verdict } = budget;
  const longest = Math.max(0, ...lines.map(({ bytes }) => bytes));
  const program: Taker = {
    what: 'the program',
    bytes: lines.reduce((sum, { bytes }) => sum + bytes, 0),
    more: `${longest} of them line ${lines.find(({ bytes }) => bytes === longest)?.number}`,
    help: 'fewer or shorter lines',
  };
  const others = verdict.kind === 'does not load' ? [savedWith(budget)] : madeBy(budget);
  return [program, ...others]
    .filter(({ bytes }) => bytes > ram * WORTH_NAMING)
    .sort((a, b) => b.bytes - a.bytes);
}

function savedWith({ image, programEnd, ram }: Budget): Taker {
  return {
    what: 'the display and the variables that are saved with it',
    bytes: IMAGE_START + image - programEnd - clearDisplaySize(ram),
    help: 'saving it without them',
  };
}

/** Arrays and strings are large one by one, other variables by their number. */
const isLarge = ({ name }: VariableBudget): boolean => /[$(]/.test(name);

/** The display and the variables, as the run makes them. */
function madeBy({ areas, variables, ram }: Budget): Taker[] {
  const display = areas.find(({ area }) => area === 'display')?.high ?? 0;
  const numbers = variables.filter((variable) => !isLarge(variable));
  return [
    {
      what: `${count(numbers.length, 'variable')} of one number each`,
      bytes: numbers.reduce((sum, { high }) => sum + high, 0),
      help: 'fewer variables, above all of FOR, which takes three times as much',
    },
    {
      what: 'the display',
      bytes: hasFullDisplay(ram) ? 0 : display - clearDisplaySize(ram),
      help: 'fewer rows on the screen, and printed further left, for a row takes a byte for each column up to its last',
    },
    ...variables.filter(isLarge).map((variable): Taker => {
      const { name, high, line } = variable;
      const more = line === undefined ? undefined : `line ${line}`;
      return { what: name, bytes: high, more, help: helpFor(variable) };
    }),
  ];
}

function helpFor({ name, low, high }: VariableBudget): string {
  if (name.endsWith('()')) return `a smaller DIM of ${name.slice(0, -2)}`;
  return low === high ? `a shorter ${name}` : `an end to the growth of ${name}, by its LEN`;
}

/** The smallest usual RAM in which the listing runs for certain. */
export function ramThatRuns({ ram }: Budget, program: Program): number | undefined {
  return smallestRam(
    (size) => size > ram && budgetOfProgram(program, size).verdict.kind === 'runs',
  );
}
