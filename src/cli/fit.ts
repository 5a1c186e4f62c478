/** `fit INPUT`: the budget, and a verdict for the RAM. */
import type { Command } from 'commander';
import { charactersText } from '../listing/print.js';
import { type Budget, budgetJson } from '../memory/budget.js';
import { budgetPicture } from '../memory/picture.js';
import { budgetTable, type TableOrder } from '../memory/table.js';
import { type Measured, measuredOf } from '../rehearsal/telling/measured.js';
import { measuredBudget } from '../rehearsal/telling/measured-budget.js';
import { lineRanges } from '../rehearsal/telling/show.js';
import { type CommandOptions, isRead, loadProgram, type Program } from './common/input.js';
import { DONE, NO, print, tell, writeBytes } from './common/io.js';
import {
  allOption,
  formatOption,
  includeAnywhereOption,
  ramOption,
  salvageOption,
  svgOption,
} from './common/options.js';
import { budgetFor, roomStep, tellVerdict, verdictMember, withNextStep } from './common/room.js';
import { addRunOptions, hasRunOptions, type RunWords, runShown } from './common/run-options.js';
import { count, jsonOf, MOST_SHOWN, placeDiagnostics, tellDiagnostics } from './common/show.js';
import { follow, watchOption } from './common/watch.js';

interface Options extends RunWords, CommandOptions {
  by?: TableOrder;
  svg?: string;
  rehearse?: boolean;
  watch?: boolean;
}

export function register(program: Command): void {
  const command = program
    .command('fit')
    .description('say where each byte of the RAM goes, and whether the program loads and runs')
    .argument('<input>', 'a listing, an image or a recording, or - for standard input')
    .addOption(ramOption())
    .addOption(
      program
        .createOption('--by <thing>', 'the rows of the table, widest first')
        .choices(['area', 'line', 'variable']),
    )
    .addOption(formatOption())
    .addOption(svgOption('a memory map'))
    .option('--rehearse', 'run it on the model, and give what it needed instead of bounds');
  addRunOptions(command)
    .addOption(includeAnywhereOption())
    .addOption(salvageOption())
    .addOption(allOption())
    .addOption(watchOption())
    .action(async (path: string, options: Options) => {
      if (options.watch) await follow([path], () => answer(path, options));
      else await answer(path, options);
    });
}

async function answer(path: string, options: Options): Promise<void> {
  const program = withNextStep(await loadProgram(path, options));
  const { source, diagnostics } = program;
  tellDiagnostics(source, diagnostics, options.all);
  // Being too large for the RAM is the answer here, not an error that hides it.
  if (!isRead(program)) {
    if (options.format === 'json') print(jsonOf(asJson(program)));
    tell(`${source.name}: the budget needs a listing without errors`);
    process.exitCode = NO;
    return;
  }
  const bounds = budgetFor(program);
  const measured =
    options.rehearse || hasRunOptions(options)
      ? measureRun(path, program, bounds, options)
      : undefined;
  const budget = measured === undefined ? bounds : measuredBudget(bounds, measured);
  if (options.svg !== undefined) writeBytes(options.svg, budgetPicture(budget, titleOf(program)));
  if (options.format === 'json') {
    if (options.svg !== '-') print(jsonOf(asJson(program, budget)));
  } else if (options.svg !== '-')
    print(budgetTable(budget, program.listing, options.by, options.all ? Infinity : MOST_SHOWN));
  const { kind } = budget.verdict;
  if (kind !== 'runs') {
    tellVerdict(program, budget, { open: openStep(program, budget, measured) });
  }
  process.exitCode = kind === 'does not load' || kind === 'does not run' ? NO : DONE;
}

/** The form of `--format json`; a listing with errors has no budget. */
const asJson = ({ source, diagnostics }: Program, budget?: Budget) => ({
  file: source.name,
  ...(budget === undefined ? {} : budgetJson(budget)),
  ...verdictMember(budget?.verdict),
  diagnostics: placeDiagnostics(source, diagnostics),
});

/** What settles a verdict that the listing, or a rehearsal, leaves open. */
function openStep(program: Program, budget: Budget, measured?: Measured): string {
  const { basis, spare } = budget.verdict;
  if (basis.on === 'rehearsal' && !basis.whole && measured !== undefined) {
    const ended = `it ended in line ${measured.line}: ${measured.why}`;
    const help = measured.full ? roomStep(program, budget) : measured.help;
    return help === undefined ? ended : `${ended}; ${help}`;
  }
  if (basis.on === 'rehearsal') {
    return `with ${count(-spare.worst, 'byte')} less it runs for certain: ${roomStep(program, budget)}`;
  }
  return `\`listwright fit ${program.source.name} --rehearse\` measures a run; --input and --keys say what a person gives`;
}

/** What a run needs; undefined for a program that does not even load. */
function measureRun(
  path: string,
  program: Program,
  bounds: Budget,
  options: Options,
): Measured | undefined {
  const { source, listing } = program;
  if (bounds.verdict.kind === 'does not load') {
    tell(`${source.name}: note: it does not load, so there is nothing to rehearse`);
    return undefined;
  }
  const measured = measuredOf(runShown(path, options, program));
  if (measured.unrun.length > 0) {
    const all = listing.lines.map(({ number }) => number);
    tell(
      `${source.name}: note: never run, and not measured: ${lineRanges(measured.unrun, all, options.all ? undefined : MOST_SHOWN)}`,
    );
  }
  return measured;
}

function titleOf(program: Program): string {
  return charactersText(program.name, false) || 'PROGRAM';
}
