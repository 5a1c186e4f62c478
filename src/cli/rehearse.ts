/** `rehearse INPUT`: runs it on the model of the machine. */
import type { Command } from 'commander';
import { makingOf } from '../listing/directives.js';
import { charactersText, statementText } from '../listing/print.js';
import { type Verdict, verdictJson, verdictText } from '../memory/verdict.js';
import type { Rehearsal } from '../rehearsal/rehearsal.js';
import { ledgerChart } from '../rehearsal/telling/ledger-chart.js';
import { measuredOf } from '../rehearsal/telling/measured.js';
import { measuredBudget } from '../rehearsal/telling/measured-budget.js';
import { screenPicture } from '../rehearsal/telling/picture.js';
import { type ProfiledLine, profileChart, profileText } from '../rehearsal/telling/profile.js';
import {
  endText,
  framedScreen,
  framedStrip,
  lineRanges,
  outcomeOf,
  peakText,
  rehearsalJson,
} from '../rehearsal/telling/show.js';
import { type CommandOptions, loadProgram, type Program } from './common/input.js';
import { CANNOT_ASK, CannotAsk, DONE, NO, print, tell, writeBytes } from './common/io.js';
import {
  allOption,
  formatOption,
  includeAnywhereOption,
  ramOption,
  salvageOption,
  svgOption,
} from './common/options.js';
import { budgetIfRead, roomStep, tellVerdict, verdictMember, withNextStep } from './common/room.js';
import { addRunOptions, inverterFor, type RunWords, runShown } from './common/run-options.js';
import {
  count,
  duration,
  jsonOf,
  MOST_SHOWN,
  placeDiagnostics,
  shortList,
  tellDiagnostics,
} from './common/show.js';

interface Options extends RunWords, CommandOptions {
  trace?: boolean;
  profile?: boolean;
  svg?: string;
  ledger?: string;
}

export function register(program: Command): void {
  const command = program
    .command('rehearse')
    .description('run a program on a model of the machine, with a ledger of the room left')
    .argument('<input>', 'a listing, an image or a recording, or - for standard input')
    .addOption(ramOption());
  addRunOptions(command)
    .option('--trace', 'tell each line as it is run, and the value that it leaves')
    .option('--profile', 'tell where the time goes, by line; then --svg writes it as a chart')
    .addOption(formatOption())
    .addOption(svgOption('the final screen, or of --profile'))
    .option('--ledger <file>', 'write a chart of the room left; - for standard output')
    .addOption(includeAnywhereOption())
    .addOption(salvageOption())
    .addOption(allOption())
    .action(rehearseCommand);
}

/** A run, and the verdict on what it needed. */
interface Rehearsed {
  readonly rehearsal: Rehearsal;
  readonly verdict: Verdict;
  readonly profile?: Rehearsal['profile'];
}

async function rehearseCommand(path: string, options: Options): Promise<void> {
  const toOutput = [options.svg, options.ledger].filter((place) => place === '-').length;
  if (toOutput > 1) {
    throw new CannotAsk('--svg and --ledger cannot both go to standard output', 'name a file');
  }
  const program = withNextStep(await loadProgram(path, options));
  tellDiagnostics(program.source, program.diagnostics, options.all);
  for (const remark of program.remarks) tell(`${program.source.name}: note: ${remark}`);
  const bounds = budgetIfRead(program);
  if (bounds === undefined || !tellVerdict(program, bounds, { open: false })) {
    const wanted = bounds === undefined ? 'without errors' : 'that loads';
    tell(`${program.source.name}: only a program ${wanted} can be rehearsed`);
    if (options.format === 'json') print(jsonOf(asJson(program, bounds?.verdict)));
    process.exitCode = NO;
    return;
  }
  const rehearsal = runShown(path, options, program, options.trace ? traceLine : undefined);
  const measured = measuredOf(rehearsal);
  const needed = measuredBudget(bounds, measured);
  const { verdict } = needed;
  writePictures(rehearsal, program, options);
  if (options.format === 'json') {
    const profile = options.profile ? rehearsal.profile : undefined;
    const run = { rehearsal, verdict, profile };
    if (toOutput === 0) print(jsonOf(asJson(program, bounds.verdict, run)));
  } else showRehearsal(rehearsal, verdict, program, options, toOutput > 0 ? tell : print);
  // What the bounds said already is not said again.
  if (measured.full && bounds.verdict.kind !== 'does not run') {
    tellVerdict(program, needed, { open: roomStep(program, needed) });
  }
  process.exitCode = statusOf(rehearsal);
}

/** The form of `--format json`; what was not rehearsed has no report. */
function asJson({ source, diagnostics }: Program, verdict?: Verdict, run?: Rehearsed) {
  return {
    file: source.name,
    ...(run === undefined ? { report: null, outcome: null } : rehearsalJson(run.rehearsal)),
    ...verdictMember(verdict),
    ...(run === undefined ? {} : { rehearsed: verdictJson(run.verdict), profile: run.profile }),
    diagnostics: placeDiagnostics(source, diagnostics),
  };
}

function traceLine(line: number, value: string): void {
  tell(`${String(line).padStart(4)}  ${value}`.trimEnd());
}

/** Reports and endings that say "no": the program does something wrong, or cannot be followed. */
const NO_OUTCOMES = ['error', 'usr', 'unchecked', 'memory'];

function statusOf(rehearsal: Rehearsal): number {
  const outcome = outcomeOf(rehearsal);
  if (outcome === 'input') return CANNOT_ASK;
  return NO_OUTCOMES.includes(outcome) ? NO : DONE;
}

function writePictures(rehearsal: Rehearsal, program: Program, options: Options): void {
  const { svg, ledger, profile } = options;
  const name = charactersText(program.name, false);
  if (svg !== undefined) {
    const picture = profile
      ? profileChart(profiledLines(rehearsal, program), `Where the time of ${name} goes`)
      : screenPicture(rehearsal.screen, `The screen of ${name}`);
    writeBytes(svg, picture);
  }
  if (ledger === undefined) return;
  const title = `The room left while ${name} runs`;
  writeBytes(ledger, ledgerChart(rehearsal.ledger, rehearsal.ram, title));
}

/** The profile, with the statements of its lines. */
function profiledLines({ profile }: Rehearsal, { listing }: Program): ProfiledLine[] {
  const making = makingOf(listing.items);
  const texts = new Map(
    listing.lines.map(({ number, codes }) => [number, statementText(codes, making)]),
  );
  return profile.map((line) => ({ ...line, statement: texts.get(line.line) ?? '' }));
}

function showRehearsal(
  rehearsal: Rehearsal,
  verdict: Verdict,
  program: Program,
  options: Options,
  show: (text: string) => void,
): void {
  const invert = inverterFor(show === print ? process.stdout : process.stderr);
  const { printer, peak, ram, unrun, statements, frames } = rehearsal;
  show(framedScreen(rehearsal.screen, invert));
  if (printer.length > 0) show(`printed:\n${framedStrip(printer, invert)}`);
  show(endText(rehearsal));
  show(
    `${count(statements, 'statement')} run, in ${count(frames, 'frame')} by count (about ${duration(rehearsal.seconds)})`,
  );
  if (options.profile) {
    show(profileText(profiledLines(rehearsal, program), options.all ? Infinity : MOST_SHOWN));
  }
  show(peakText(peak, ram));
  show(verdictText(verdict));
  const all = program.listing.lines.map((line) => line.number);
  const never = lineRanges(unrun, all, options.all ? undefined : MOST_SHOWN);
  show(unrun.length === 0 ? 'every line was run' : `lines never run: ${never}`);
  const { name } = program.source;
  const remarks = rehearsal.remarks.map(
    ({ line, message }) => `${name}: warning: in line ${line}: ${message}`,
  );
  for (const row of shortList(remarks, options.all, `${name}: `)) tell(row);
}
