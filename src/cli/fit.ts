/** `fit INPUT`: the budget, and a verdict for the RAM. */
import type { Command } from 'commander';
import { NO_ROOM } from '../image/build.js';
import { hasErrors } from '../listing/diagnostics.js';
import { charactersText } from '../listing/print.js';
import { type Budget, budgetJson } from '../memory/budget.js';
import { budgetPicture } from '../memory/picture.js';
import { budgetTable, type TableOrder } from '../memory/table.js';
import { measure } from '../rehearsal/measured.js';
import { measuredBudget } from '../rehearsal/measured-budget.js';
import { loadProgram, type Program } from './input.js';
import { DONE, NO, print, tell, writeBytes } from './io.js';
import {
  allOption,
  formatOption,
  includeAnywhereOption,
  ramOption,
  salvageOption,
  svgOption,
} from './options.js';
import { withProgress } from './progress.js';
import { budgetFor, tellVerdict } from './room.js';
import { jsonOf, MOST_SHOWN, tellDiagnostics } from './show.js';
import { follow, watchOption } from './watch.js';

interface Options {
  all?: boolean;
  ram?: number;
  by?: TableOrder;
  format: 'text' | 'json';
  svg?: string;
  rehearse?: boolean;
  includeAnywhere?: boolean;
  salvage?: boolean;
  watch?: boolean;
}

export function register(program: Command): void {
  program
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
    .option('--rehearse', 'run it on the model, and give what it needed instead of bounds')
    .addOption(svgOption('a memory map'))
    .addOption(includeAnywhereOption())
    .addOption(salvageOption())
    .addOption(allOption())
    .addOption(watchOption())
    .action((path: string, options: Options) => {
      if (options.watch) follow([path], () => answer(path, options));
      else answer(path, options);
    });
}

function answer(path: string, options: Options): void {
  const program = loadProgram(path, options);
  const { source, diagnostics } = program;
  tellDiagnostics(source, diagnostics, options.all);
  // Being too large for the RAM is the answer here, not an error that hides it.
  if (hasErrors(diagnostics.filter(({ rule }) => rule !== NO_ROOM))) {
    tell(`${source.name}: the budget needs a listing without errors`);
    process.exitCode = NO;
    return;
  }
  const bounds = budgetFor(program);
  const budget = options.rehearse ? rehearsed(program, bounds) : bounds;
  if (options.svg !== undefined) writeBytes(options.svg, budgetPicture(budget, titleOf(program)));
  if (options.format === 'json') {
    if (options.svg !== '-') print(jsonOf(budgetJson(budget)));
  } else if (options.svg !== '-')
    print(budgetTable(budget, program.listing, options.by, options.all ? Infinity : MOST_SHOWN));
  const { kind } = budget.verdict;
  if (kind !== 'runs') tellVerdict(program, budget.verdict, { open: openStep(program, options) });
  process.exitCode = kind === 'does not load' || kind === 'does not run' ? NO : DONE;
}

/** What settles a verdict that the listing leaves open. */
function openStep({ source }: Program, options: Options): string {
  if (options.rehearse) return `\`listwright rehearse ${source.name}\` shows how it ended`;
  return `\`listwright fit ${source.name} --rehearse\` runs it, and measures what it needs`;
}

/** The bounds replaced by what a rehearsal measured, unless the program does not even load. */
function rehearsed(program: Program, bounds: Budget): Budget {
  const { source, listing, ram } = program;
  if (bounds.verdict.kind === 'does not load') {
    tell(`${source.name}: note: it does not load, so there is nothing to rehearse`);
    return bounds;
  }
  const measured = withProgress(`rehearsing ${source.name}`, (progress) =>
    measure(listing, { ram, image: program.image, progress }),
  );
  if (!measured.whole) {
    tell(
      `${source.name}: warning: the rehearsal ended early (${measured.verdict}): what comes after may need more`,
    );
  }
  if (measured.unrun.length > 0) {
    const lines = measured.unrun.slice(0, 8).join(', ');
    tell(
      `${source.name}: note: never run, and not measured: line ${lines}${measured.unrun.length > 8 ? ' …' : ''}`,
    );
  }
  return measuredBudget(bounds, measured);
}

function titleOf(program: Program): string {
  return charactersText(program.name, false) || 'PROGRAM';
}
