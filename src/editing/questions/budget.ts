/** The verdict for the RAM, over the first line, with what can be done next as commands. */
import type { CodeLens, Command } from 'vscode-languageserver-types';
import { verdictText } from '../../memory/verdict.js';
import type { Snapshot } from '../snapshot.js';

/** Commands that the server carries out; each takes the listing's address. */
export const COMMANDS = {
  rehearse: 'listwright.rehearse',
  record: 'listwright.record',
  memoryMap: 'listwright.memoryMap',
  ledger: 'listwright.ledger',
  renumber: 'listwright.renumber',
} as const;

/** The verdict and the commands as lenses on the first line; none for an empty listing. */
export function budget(snapshot: Snapshot, uri: string): CodeLens[] {
  const { listing, positions } = snapshot;
  if (listing.lines.length === 0) return [];
  const range = positions.rangeOf({ start: listing.items[0].start, end: listing.items[0].start });
  const lens = (title: string, command: string): CodeLens => ({
    range,
    command: { title, command, arguments: [uri] } satisfies Command,
  });
  const verdict = verdictOf(snapshot);
  return [
    lens(verdict, COMMANDS.memoryMap),
    lens('Rehearse', COMMANDS.rehearse),
    lens('Record', COMMANDS.record),
    lens('Memory map', COMMANDS.memoryMap),
  ];
}

/** The verdict in words, of a listing without errors. */
function verdictOf({ broken, lintByNow: lint }: Snapshot): string {
  if (broken || lint === undefined) return 'the verdict waits until the errors are mended';
  return verdictText(lint.budget.verdict);
}
