/** `lint LISTING…`: mistakes and memory-hungry constructs; `--fix` applies the safe savings. */

import type { Command } from 'commander';
import { NO_ROOM } from '../image/build.js';
import { type FixResult, fixListing } from '../lint/fix.js';
import { lint } from '../lint/lint.js';
import { bytesOver } from '../lint/room.js';
import { type Linted, sarifLog } from '../lint/sarif.js';
import { patchOf } from '../listing/changes.js';
import { type Diagnostic, hasErrors, type Source } from '../listing/diagnostics.js';
import { ramText } from '../machine/ram-size.js';
import { verdictText } from '../memory/verdict.js';
import { settledVerdict } from '../rehearsal/telling/settle.js';
import { findingsText } from './common/findings.js';
import { type CommandOptions, loadListing, type Program, programOfText } from './common/input.js';
import { CannotAsk, DONE, NO, print, printPieces, tell, writeBytes } from './common/io.js';
import { allOption, formatOption, includeAnywhereOption, ramOption } from './common/options.js';
import { roomStep, verdictMember } from './common/room.js';
import {
  count,
  jsonOf,
  paintFor,
  piecesOfJson,
  placeDiagnostics,
  shortList,
  tellDiagnostics,
} from './common/show.js';
import { follow, watchOption } from './common/watch.js';

declare const LISTWRIGHT_VERSION: string;

interface Options extends CommandOptions {
  format: 'text' | 'json' | 'sarif';
  strict?: boolean;
  fix?: boolean;
  untilFits?: boolean;
  dryRun?: boolean;
  savings?: boolean;
  watch?: boolean;
}

export function register(program: Command): void {
  program
    .command('lint')
    .description('report mistakes and memory-hungry constructs; --fix applies the safe savings')
    .argument('<listings...>', 'the listings, or - for standard input')
    .addOption(ramOption())
    .addOption(formatOption('sarif'))
    .option('--savings', 'list each saving, also where there is room enough')
    .option('--strict', 'exit with status 1 for warnings too')
    .option('--fix', 'apply every safe saving, and say what was done')
    .option('--until-fits', 'with --fix: apply the fewest that make the program fit')
    .option('--dry-run', 'with --fix: only show what would be done')
    .addOption(includeAnywhereOption())
    .addOption(allOption())
    .addOption(watchOption())
    .action(async (paths: string[], options: Options) => {
      if (options.watch && !options.fix) await follow(paths, () => lintAll(paths, options));
      else lintAll(paths, options);
    });
}

/** What was found in one listing; a listing with errors has only those. */
interface LintedProgram extends Linted {
  readonly path: string;
  readonly program: Program;
}

function lintAll(paths: readonly string[], options: Options): void {
  checkOptions(paths, options);
  if (options.fix) {
    const fixed = paths.map((path) => fixOne(path, options));
    // The long work is done before the first file is written: an end in the middle leaves none.
    for (const { path, text } of fixed) if (text !== undefined) writeBytes(path, text);
    process.exitCode = Math.max(...fixed.map(({ status }) => status));
    return;
  }
  const linted = paths.map((path) => lintOne(path, options));
  if (options.format === 'json') print(jsonOf(linted.map(asJson)));
  else if (options.format === 'sarif')
    printPieces(piecesOfJson(sarifLog(linted.map(sarifFile), LISTWRIGHT_VERSION)));
  else for (const one of linted) showFindings(one, options);
  const worst = linted.some(({ diagnostics }) => isNo(diagnostics, options.strict));
  process.exitCode = worst ? NO : DONE;
}

function checkOptions(paths: readonly string[], options: Options): void {
  if (!options.fix && (options.untilFits || options.dryRun)) {
    const which = options.untilFits ? '--until-fits' : '--dry-run';
    throw new CannotAsk(`${which} says how --fix works`, `write --fix ${which}`);
  }
  if (options.fix && options.watch) {
    throw new CannotAsk('--watch shows, and --fix changes the file', 'give one of them');
  }
  if (options.fix && options.format !== 'text') {
    throw new CannotAsk('--fix shows what it did as text', 'leave --format out');
  }
  if (options.savings && (options.fix || options.format !== 'text')) {
    throw new CannotAsk(
      '--savings says how much of the findings is shown as text',
      options.fix ? 'leave it out' : 'leave it out: this format always has all of them',
    );
  }
  if (paths.filter((path) => path === '-').length > 1) {
    throw new CannotAsk('standard input can be read only once', 'give - once');
  }
}

function isNo(diagnostics: readonly Diagnostic[], strict = false): boolean {
  return (
    hasErrors(diagnostics) || (strict && diagnostics.some(({ severity }) => severity === 'warning'))
  );
}

function load(path: string, options: Options): Program {
  const program = loadListing(path, options);
  // That it does not fit is `fit`'s to answer; here it makes findings, and hides none.
  const diagnostics = program.diagnostics.filter(({ rule }) => rule !== NO_ROOM);
  return { ...program, diagnostics };
}

function lintOne(path: string, options: Options): LintedProgram {
  const program = load(path, options);
  const { diagnostics, source, listing, ram } = program;
  if (hasErrors(diagnostics)) return { path, program, diagnostics, silenced: [] };
  const { findings, silenced, budget } = lint(
    { text: source.text, listing },
    { ram, settle: settledVerdict },
  );
  const all = [...diagnostics, ...findings].sort((a, b) => a.start - b.start);
  return { path, program, diagnostics: all, silenced, verdict: budget.verdict };
}

function sarifFile({ path, program, diagnostics, silenced, verdict }: LintedProgram) {
  return { path, text: program.source.text, diagnostics, silenced, verdict };
}

const asJson = ({ program: { source }, diagnostics, verdict }: LintedProgram) => ({
  file: source.name,
  ...verdictMember(verdict),
  diagnostics: placeDiagnostics(source, diagnostics),
});

/** All findings are the command's result: those of reading the listing, mistakes and savings. */
function showFindings({ program, ...found }: LintedProgram, options: Options): void {
  print(findingsText({ source: program.source, ...found }, options, paintFor(process.stdout)));
}

// ───────────────────────────────── fixing ─────────────────────────────────

/** A listing with its fixes: its text, where that is to be written. */
interface Fixed {
  readonly path: string;
  readonly status: number;
  readonly text?: string;
}

function fixOne(path: string, options: Options): Fixed {
  const program = load(path, options);
  const { source, diagnostics, listing, ram } = program;
  if (hasErrors(diagnostics)) {
    tellDiagnostics(source, diagnostics);
    tell(`${source.name}: nothing was changed: mend the errors first`);
    return { path, status: NO };
  }
  const result = fixListing(
    { text: source.text, listing },
    { ram, untilFits: options.untilFits, settle: settledVerdict },
  );
  showFixes(path, source, result, options);
  const isWritten = !options.dryRun && (path === '-' || result.text !== source.text);
  const status = options.untilFits && bytesOver(result.after) > 0 ? NO : DONE;
  return { path, status, text: isWritten ? result.text : undefined };
}

/** What was done line by line, the diff, and what it makes of the budget. */
function showFixes(
  path: string,
  { name, text: before }: Source,
  result: FixResult,
  options: Options,
): void {
  const show = path === '-' ? tell : print;
  const rows = result.applied.map(
    ({ line, what, bytes, rule }) => `line ${line}: ${what}: ${count(bytes, 'byte')} [${rule}]`,
  );
  for (const row of shortList(rows, options.all)) show(row);
  if (result.text !== before) {
    show(patchOf(name, before, result.text).trimEnd());
  }
  const { ram } = result.after;
  show(
    `${name}: ${count(result.saved, 'byte')} saved by ${count(result.applied.length, 'change')}, for ${ramText(ram)}`,
  );
  if (result.isUnfinished) show('there is more to save: fix it again');
  const cost = takenAgain(result);
  if (cost.length > 0) show(`of that the program takes again while it runs: ${cost.join(', ')}`);
  show(`before: ${verdictText(result.before.verdict)}`);
  show(`after:  ${verdictText(result.after.verdict)}`);
  if (result.after.verdict.kind !== 'runs') tell(`  do:  ${stepAfterFix(path, result, options)}`);
}

/** The areas that can become larger by what was saved in the program, such as the workspace by VAL. */
function takenAgain({ before, after }: FixResult): string[] {
  return after.areas.flatMap(({ area, high }) => {
    const more = high - (before.areas.find((one) => one.area === area)?.high ?? high);
    return area !== 'program' && more > 0 && Number.isFinite(more)
      ? [`up to ${count(more, 'byte')} in the ${area}`]
      : [];
  });
}

/** Where the road goes on from a listing that has been fixed. */
function stepAfterFix(path: string, { text, after }: FixResult, options: Options): string {
  const fixed = programOfText(path, text, options);
  return after.verdict.kind === 'may run'
    ? `\`listwright fit ${fixed.source.name} --rehearse\` measures a run; --input and --keys say what a person gives`
    : roomStep(fixed, after);
}
