/** The verdict on a program, as every command says it, and what to do next. */
import type { Listing } from '../../../grammar/tree.js';
import { analyse } from '../../analysis/program.js';
import { NotAnImage } from '../../image/areas.js';
import { NO_ROOM, ramOf } from '../../image/build.js';
import { listingOfImage } from '../../image/read.js';
import { lintAnalysed, lintBy } from '../../lint/lint.js';
import { helpByHand, ramThatRuns, savingOptions } from '../../lint/room.js';
import { RULES } from '../../lint/rules.js';
import type { Diagnostic, Source } from '../../listing/diagnostics.js';
import { ramText } from '../../machine/ram-size.js';
import { type Budget, budgetOf } from '../../memory/budget.js';
import {
  endOfImage,
  loadRoom,
  type Verdict,
  verdictJson,
  verdictText,
} from '../../memory/verdict.js';
import { settledVerdict } from '../../rehearsal/telling/settle.js';
import { type InputOptions, isRead, type Program, programOfText } from './input.js';
import { tell } from './io.js';
import { count, tellDiagnostics } from './show.js';

export interface Room {
  readonly source: Source;
  /** What is said of a listing that is too large; undefined where it loads. */
  readonly missing?: Diagnostic;
  /** Has it an image? Else nothing is known of its size, or it is too large. */
  readonly built: boolean;
}

/** Builds a listing that stands, or will stand, at a path, for `options.ram` or its own RAM. */
export function roomFor(path: string, text: string, options: InputOptions): Room {
  const program = withNextStep(programOfText(path, text, options));
  const missing = program.diagnostics.find(({ rule }) => rule === NO_ROOM);
  return { source: program.source, missing, built: program.image !== undefined };
}

/** The same program; of one that is too large the diagnostic names the next step, whatever that is by now. */
export function withNextStep(program: Program): Program {
  const isLack = ({ rule }: Diagnostic): boolean => rule === NO_ROOM;
  if (!isRead(program) || !program.diagnostics.some(isLack)) return program;
  const help = roomStep(program);
  const diagnostics = program.diagnostics.map((one) => (isLack(one) ? { ...one, help } : one));
  return { ...program, diagnostics };
}

/**
 * The budget of a program that was read without errors, of an image as it would be loaded; what its
 * bounds leave open is settled where a short rehearsal can.
 */
export function budgetFor({ kind, listing, image, ram }: Program): Budget {
  return settledBudget(listing, ram, kind === 'listing' ? undefined : image);
}

/** The same, also where a program is too large to be built; undefined where it has errors. */
export const budgetIfRead = (program: Program): Budget | undefined =>
  isRead(program) ? budgetFor(program) : undefined;

function settledBudget(listing: Listing, ram: number, image?: Uint8Array): Budget {
  const budget = budgetOf(listing, { ram, image });
  return { ...budget, verdict: settled(listing, budget, image) };
}

/** Most verdicts are not open: only for one that is the rehearsal need be loaded. */
const settled = (listing: Listing, budget: Budget, image?: Uint8Array): Verdict =>
  budget.verdict.kind === 'may run' ? settledVerdict(listing, budget, image) : budget.verdict;

/** The member `verdict` of every command's JSON: null where nothing can be said of the program. */
export const verdictMember = (verdict?: Verdict) => ({
  verdict: verdict === undefined ? null : verdictJson(verdict),
});

/** What is told of a program before it goes on its way: the budget, and what would stop it. */
export interface Checked {
  /** Undefined where it has errors. */
  readonly budget?: Budget;
  /** The linter's errors, as warnings: the image is made all the same. */
  readonly mistakes: readonly Diagnostic[];
}

/** What the linter judges the room by: an image as it would be loaded, where one was given. */
function judging({ kind, image, ram }: Program) {
  const own = kind === 'listing' ? undefined : image;
  const settle = (read: Listing, bounds: Budget) => settled(read, bounds, own);
  return { ram, image: own, settle };
}

const MISTAKES = RULES.filter(({ kind }) => kind === 'mistake');

/** Checks a program; one that has no image, for errors or for its size, has no mistakes besides. */
export function check(program: Program): Checked {
  const { source, listing, image } = program;
  if (image === undefined) return { budget: budgetIfRead(program), mistakes: [] };
  const read = { text: source.text, listing };
  const { budget, findings } = lintBy(MISTAKES, read, judging(program));
  const mistakes = findings
    // Of the room the verdict tells.
    .filter(({ severity, rule }) => severity === 'error' && rule !== NO_ROOM)
    .map((finding): Diagnostic => ({ ...finding, severity: 'warning' }));
  return { budget, mistakes };
}

/** Says where the mistakes of a program are told in full. */
export function tellMistakes(
  { kind, source }: Program,
  mistakes: readonly Diagnostic[],
  all?: boolean,
): void {
  if (mistakes.length === 0) return;
  tellDiagnostics(source, mistakes, all);
  const what = `${source.name}: ${count(mistakes.length, 'mistake')} that the machine would stop at`;
  tell(
    kind === 'listing'
      ? `${what}; \`listwright lint ${source.name}\` says what else there is`
      : `${what}; \`listwright detokenise ${source.name}\` gives the listing to mend`,
  );
}

/** The verdict on an image in so much RAM; undefined for bytes that make no program. */
export function verdictOfImage(image: Uint8Array, ram: number): Verdict | undefined {
  try {
    return settledBudget(listingOfImage(image).listing, ram, image).verdict;
  } catch (error) {
    if (error instanceof NotAnImage) return undefined;
    throw error;
  }
}

/** Which command asks, so that the next one is named and not the same again. */
export interface Asking {
  /** Writes what does not load all the same. */
  readonly anyway?: boolean;
  /** What to do about `may run`: by default `fit`, which settles what can be; false for nothing more. */
  readonly open?: string | false;
}

/**
 * Tells the verdict of a budget on standard error, with the next step where it is not `runs`. Gives false for
 * what does not load, unless it is wanted anyway.
 */
export function tellVerdict(program: Program, budget: Budget, asking: Asking = {}): boolean {
  const { source } = program;
  const { verdict } = budget;
  const { kind } = verdict;
  const text = verdictText(verdict);
  if (kind === 'runs') {
    tell(`${source.name}: ${text}`);
    return true;
  }
  const loads = kind !== 'does not load';
  // Of a listing the build has told that, at the line where the room runs out.
  if (loads || program.kind !== 'listing') {
    const severity = loads || asking.anyway ? 'warning' : 'error';
    tell(`${source.name}: ${severity}: ${text}`);
    const next = nextStep(program, budget, asking);
    if (next !== undefined) tell(`  do:  ${next}`);
  }
  return loads || asking.anyway === true;
}

/** Tells it of an image, or that of a recording, where it cannot be loaded; of a listing the build has. */
export function tellTooLarge(program: Program): boolean {
  const { kind, image, ram } = program;
  if (kind === 'listing' || image === undefined) return false;
  if (loadRoom(endOfImage(image), ram).verdict !== 'does not fit') return false;
  return !tellVerdict(program, budgetFor(program));
}

/** What leads on from a verdict: a command, or what a person can do. */
function nextStep(program: Program, budget: Budget, asking: Asking): string | undefined {
  const { kind, basis } = budget.verdict;
  if (kind !== 'may run') return roomStep(program, budget);
  if (asking.open === false) return undefined;
  const [name, asked] = wordsFor(program);
  if (basis.on === 'bounds' && basis.fillingSeed !== undefined) {
    const shown = `\`listwright rehearse ${name}${asked} --seed ${basis.fillingSeed}\` shows it`;
    return program.kind === 'listing' ? `${shown}; ${roomStep(program, budget)}` : shown;
  }
  return asking.open ?? `\`listwright fit ${name}${asked}\` says what it hangs on`;
}

/** A program's name, and the option for its RAM where that is not its own, as words of a command. */
function wordsFor({ source, listing, ram }: Program): [name: string, asked: string] {
  return [source.name, ramOf(listing) === ram ? '' : ` --ram ${ramText(ram)}`];
}

/**
 * What gives a program room: the command that saves something in its listing, while one does; then
 * what a person can do, by the budget that was told.
 */
export function roomStep(program: Program, known?: Budget): string {
  const { kind, source, listing } = program;
  const analysed = analyse(listing);
  const found = lintAnalysed(source.text, analysed, judging(program));
  const [name, asked] = wordsFor(program);
  const itsListing = `\`listwright detokenise ${name}\` gives the listing`;
  const options = savingOptions(found.findings, found.budget);
  if (options === undefined) {
    const help = helpByHand(known ?? found.budget, analysed);
    return kind === 'listing' ? help : `${help}; ${itsListing}`;
  }
  const saving =
    kind === 'listing'
      ? `\`listwright lint ${name}${asked} ${options}\` saves what it can; --dry-run only shows it`
      : `${itsListing}, on which \`listwright lint ${options}\` saves what it can`;
  const larger = ramThatRuns(found.budget, analysed);
  return larger === undefined
    ? saving
    : `${saving}; with --ram ${ramText(larger)} it runs, if that much is fitted`;
}
