/** `transcribe TEXT`: a printed or scanned listing to a clean one. */

import type { Command } from 'commander';
import { Places, type Source } from '../listing/diagnostics.js';
import { ramText } from '../machine/ram-size.js';
import { CERTAINTY } from '../transcribe/certainties.js';
import { type Question, questionsOf, reasonOf, shortened } from '../transcribe/questions.js';
import { reportPage } from '../transcribe/report.js';
import { type Transcription, transcribe } from '../transcribe/transcribe.js';
import { type CommandOptions, loadText } from './common/input.js';
import { NO, nameOf, print, printListing, tell, writeBytes, writePieces } from './common/io.js';
import {
  allOption,
  formatOption,
  numberOption,
  outputOption,
  ramOption,
} from './common/options.js';
import { withProgress } from './common/progress.js';
import { roomFor } from './common/room.js';
import { count, jsonOf, paintFor, shortList, tellDiagnostics } from './common/show.js';

interface Options extends CommandOptions {
  sure: number;
  output: string;
  report?: string;
  comments: boolean;
}

export function register(program: Command): void {
  program
    .command('transcribe')
    .description('make a clean listing of a printed, scanned or pasted one, every change shown')
    .argument('<text>', 'the text as it was scanned or typed, or - for standard input')
    .addOption(outputOption('where the listing goes').default('-'))
    .addOption(
      numberOption(
        '--sure <certainty>',
        'make changes from this certainty up',
        { from: 0, to: 1 },
        CERTAINTY.sure,
      ),
    )
    .addOption(ramOption('written as .ram, and the listing held against it'))
    .option('--report <file>', 'write a page with the print and the listing side by side')
    .option('--no-comments', "do not write the changes into the listing as the editor's comments")
    .addOption(formatOption())
    .addOption(allOption())
    .action(run);
}

function run(path: string, options: Options): void {
  const source = { name: nameOf(path), text: loadText(path) };
  const result = withProgress(`${source.name}:`, (progress) =>
    transcribe(source.text, { ...options, progress }),
  );
  const questions = questionsOf(result.notes);
  if (options.report !== undefined) {
    writePieces(options.report, reportPage(result, { name: source.name, source: source.text }));
  }
  const isShown = options.output === '-';
  if (!isShown) writeBytes(options.output, result.text);
  if (options.format === 'json') print(jsonOf(asJson(source, result, options)));
  else if (isShown) printListing(result.text);
  tellOutcome(source, result, questions, options.all);
  if (!fits(result, options) || questions.length > 0) process.exitCode = NO;
}

/** Tells that the listing is too large for the RAM that was asked for. Places are those in the listing. */
function fits({ text }: Transcription, { ram, output }: Options): boolean {
  if (ram === undefined) return true;
  const name = output === '-' ? '<standard output>' : output;
  const { missing, built } = roomFor(output, text, { ram });
  if (missing !== undefined) tellDiagnostics({ name, text }, [missing]);
  else if (!built) tell(`${name}: whether it fits ${ramText(ram)} is known once it has no errors`);
  return built;
}

/**
 * Notes and questions with line and column, and the places of the result in the source. The listing
 * stands in it where no file takes it.
 */
function asJson(source: Source, result: Transcription, { output }: Options): object {
  const places = new Places(source.text);
  const notes = result.notes.map(({ line, ...note }) => ({
    ...note,
    program: line,
    ...places.at(note.start),
  }));
  const isShown = output === '-';
  const written = isShown ? null : output;
  return { file: source.name, written, ...result, text: isShown ? result.text : undefined, notes };
}

function tellOutcome(
  source: Source,
  result: Transcription,
  questions: readonly Question[],
  all?: boolean,
): void {
  const places = new Places(source.text);
  const paint = paintFor(process.stderr);
  const asked = questions.map((question) => {
    const { line, column } = places.at(question.places[0].start);
    return `${paint(`${source.name}:${line}:${column}:`, 'place')} ${paint('question:', 'warning')} ${saidQuestion(question)}\n  why: ${reasonOf(question)}`;
  });
  for (const row of shortList(asked, all, `${source.name}: `)) tell(row);
  for (const remark of result.remarks) tell(`${source.name}: note: ${remark}`);
  const made = result.notes.filter((note) => note.made).length;
  if (result.clean && made === 0 && questions.length === 0)
    tell(`${source.name}: a clean listing already; nothing was changed`);
  else
    tell(
      `${source.name}: ${count(made, 'change')} made, ${count(questions.length, 'question')} left`,
    );
}

function saidQuestion({ lines, from, candidates, places }: Question): string {
  const shown = shortened(from);
  const where =
    lines.length === 0 ? '' : `line${lines.length > 1 ? 's' : ''} ${lines.join(', ')}: `;
  if (candidates.length === 0) return `${where}${shown}: what is this?`;
  const choice = candidates.map(shortened);
  if (places.length > 1) return `${where}${choice.join(' or ')}?`;
  return `${where}${shown}: is it ${choice.join('  or  ')}?`;
}
