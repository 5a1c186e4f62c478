/** The verdict on a program, as every command says it, and what to do next. */
import type { Listing } from '../../../grammar/tree.js';
import { NotAnImage } from '../../image/areas.js';
import { NO_ROOM, ramOf, remedyFor } from '../../image/build.js';
import { listingOfImage } from '../../image/read.js';
import { lintBy } from '../../lint/lint.js';
import { RULES } from '../../lint/rules.js';
import type { Diagnostic, Source } from '../../listing/diagnostics.js';
import { RAM_START } from '../../machine/memory-map.js';
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
  /** What the build says of a listing that is too large; undefined where it loads. */
  readonly missing?: Diagnostic;
  /** Has it an image? Else nothing is known of its size, or it is too large. */
  readonly built: boolean;
}

/** Builds a listing that stands, or will stand, at a path, for `options.ram` or its own RAM. */
export function roomFor(path: string, text: string, options: InputOptions): Room {
  const { source, diagnostics, image } = programOfText(path, text, options);
  const missing = diagnostics.find(({ rule }) => rule === NO_ROOM);
  return { source, missing, built: image !== undefined };
}

/**
 * The budget of a program that was read without errors, of an image as it would be loaded; what its
 * bounds leave open is settled where a short rehearsal can.
 */
export function budgetFor({ kind, listing, image, ram }: Program): Budget {
  return settledBudget(listing, ram, kind === 'listing' ? undefined : image);
}

/** The verdict on a program, also where it is too large to be built; undefined where it has errors. */
export const verdictFor = (program: Program): Verdict | undefined =>
  isRead(program) ? budgetFor(program).verdict : undefined;

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
  readonly budget: Budget;
  /** The linter's errors, as warnings: the image is made all the same. */
  readonly mistakes: readonly Diagnostic[];
}

const MISTAKES = RULES.filter(({ kind }) => kind === 'mistake');

/** Checks a program that was read without errors. */
export function check({ kind, source, listing, image, ram }: Program): Checked {
  const own = kind === 'listing' ? undefined : image;
  const { budget, findings } = lintBy(
    MISTAKES,
    { text: source.text, listing },
    { ram, image: own, settle: (read, bounds) => settled(read, bounds, own) },
  );
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
 * Tells the verdict on standard error, with the next step where it is not `runs`. Gives false for
 * what does not load, unless it is wanted anyway.
 */
export function tellVerdict(program: Program, verdict: Verdict, asking: Asking = {}): boolean {
  const { source } = program;
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
    const next = nextStep(program, verdict, asking);
    if (next !== undefined) tell(`  do:  ${next}`);
  }
  return loads || asking.anyway === true;
}

/** Tells it of an image, or that of a recording, where it cannot be loaded; of a listing the build has. */
export function tellTooLarge(program: Program): boolean {
  const { kind, image, ram } = program;
  if (kind === 'listing' || image === undefined) return false;
  if (loadRoom(endOfImage(image), ram).verdict !== 'does not fit') return false;
  return !tellVerdict(program, budgetFor(program).verdict);
}

const savingStep = (name: string, asked: string): string =>
  `\`listwright lint ${name} --fix --until-fits${asked}\` saves what it can; --dry-run only shows it`;

/** The command that leads on from a verdict. */
export function nextStep(
  program: Program,
  { kind, ram, basis }: Verdict,
  asking: Asking,
): string | undefined {
  const asked = ramOf(program.listing) === ram ? '' : ` --ram ${ramText(ram)}`;
  const { name } = program.source;
  if (kind === 'may run') {
    if (asking.open === false) return undefined;
    if (basis.on === 'bounds' && basis.fillingSeed !== undefined) {
      const shown = `\`listwright rehearse ${name}${asked} --seed ${basis.fillingSeed}\` shows it`;
      return program.kind === 'listing' ? `${shown}; ${savingStep(name, asked)}` : shown;
    }
    return asking.open ?? `\`listwright fit ${name}${asked}\` says what it hangs on`;
  }
  if (program.kind === 'listing') {
    return savingStep(name, asked);
  }
  const remedy =
    kind === 'does not load' && program.image !== undefined
      ? remedyFor(endOfImage(program.image) - RAM_START, ram)
      : '`listwright lint --fix --until-fits` on the listing saves what it can';
  return `${remedy}; \`listwright detokenise ${name}\` gives the listing`;
}
