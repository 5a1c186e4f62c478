/**
 * What a person can have done from the editor. Each command gives data, which a client of our own
 * shows in a panel; for every other client the host keeps the result and the server says where.
 */
import { type Connection, MessageType } from 'vscode-languageserver';
import { COMMANDS } from '../editing/questions/budget.js';
import { renumberAll } from '../editing/questions/format.js';
import type { Snapshot } from '../editing/snapshot.js';
import { buildImage } from '../image/build.js';
import { charactersText } from '../listing/print.js';
import { tapeName } from '../listing/tape-name.js';
import { budgetPicture } from '../memory/picture.js';
import { budgetTable } from '../memory/table.js';
import type { Rehearsal } from '../rehearsal/rehearsal.js';
import { rehearse } from '../rehearsal/run.js';
import { ledgerChart } from '../rehearsal/telling/ledger-chart.js';
import { screenPicture } from '../rehearsal/telling/picture.js';
import { endText, framedScreen } from '../rehearsal/telling/show.js';
import { recordProgram } from '../tape/writing/record.js';
import type { Host } from './serve.js';

/** The most statements that a rehearsal from the editor runs: about a second. */
const STATEMENTS = 3_000_000;

export interface Picture {
  readonly title: string;
  readonly svg: string;
}

/** What a command gives: a message, text, pictures, or where the result was kept. */
export interface Outcome {
  readonly message: string;
  readonly text?: string;
  readonly pictures?: readonly Picture[];
  readonly kept?: string;
}

export interface Surroundings {
  readonly connection: Connection;
  readonly host: Host;
  /** Can the client show a document that it is given the address of? */
  readonly shows: boolean;
  /** Has the client panels of its own for what a command gives? */
  readonly panels: boolean;
}

export type CarryOut = typeof carryOut;

/** Carries out a command for a listing. Gives undefined for a command that is not known. */
export async function carryOut(
  command: string,
  uri: string,
  snapshot: Snapshot,
  around: Surroundings,
): Promise<Outcome | undefined> {
  const outcome = snapshot.broken
    ? { message: 'the listing has errors: mend them first' }
    : await outcomeOf(command, uri, snapshot, around);
  if (outcome !== undefined && !around.panels) await show(uri, outcome, around);
  return outcome;
}

async function outcomeOf(
  command: string,
  uri: string,
  snapshot: Snapshot,
  { connection, host }: Surroundings,
): Promise<Outcome | undefined> {
  const name = charactersText(tapeName(snapshot.listing, uri), false);
  switch (command) {
    case COMMANDS.rehearse:
    case COMMANDS.ledger:
      return rehearsed(snapshot, name, command === COMMANDS.ledger);
    case COMMANDS.memoryMap: {
      const { budget } = snapshot.lint!;
      return {
        message: `the memory of ${name}`,
        text: budgetTable(budget, snapshot.listing),
        pictures: [{ title: 'Memory map', svg: budgetPicture(budget, name) }],
      };
    }
    case COMMANDS.record:
      return record(uri, snapshot, host);
    case COMMANDS.renumber: {
      const { edits, diagnostics } = renumberAll(snapshot);
      if (edits.length === 0) {
        return { message: diagnostics[0]?.message ?? 'the numbers are 10, 20, 30 … already' };
      }
      const { applied } = await connection.workspace.applyEdit({ changes: { [uri]: edits } });
      return {
        message: applied ? 'renumbered: 10, 20, 30 …' : 'the editor did not take the new numbers',
      };
    }
  }
  return undefined;
}

function rehearsed({ listing, options }: Snapshot, name: string, withLedger: boolean): Outcome {
  let found: Rehearsal;
  try {
    found = rehearse(listing, { ram: options.ram, statements: STATEMENTS });
  } catch (error) {
    // A program that is larger than the RAM cannot be rehearsed: the library says so.
    if (error instanceof RangeError) return { message: error.message };
    throw error;
  }
  const screen = {
    title: `The screen of ${name}`,
    svg: screenPicture(found.screen, `The screen of ${name}`),
  };
  const ledger = {
    title: 'Ledger',
    svg: ledgerChart(found.ledger, found.ram, `The ledger of ${name}`),
  };
  return {
    message: endText(found),
    text: framedScreen(found.screen),
    pictures: withLedger ? [ledger] : [screen, ledger],
  };
}

function record(uri: string, { listing, options }: Snapshot, host: Host): Outcome {
  const { image, diagnostics } = buildImage(listing, { ram: options.ram });
  if (image === undefined) return { message: diagnostics[0].message };
  const recording = recordProgram({ name: tapeName(listing, uri), image });
  const kept = host.keep?.(uri, '.wav', recording);
  if (kept === undefined)
    return { message: 'save the listing first: its recording goes beside it' };
  return {
    message: `recorded to ${kept}. It is loud square-edged tones: start with the volume low, never with headphones on`,
    kept,
  };
}

/** For a client without panels: a message, and the pictures as files. */
async function show(
  uri: string,
  { message, pictures = [], text }: Outcome,
  { connection, host, shows }: Surroundings,
): Promise<void> {
  const places = pictures.flatMap(({ title, svg }) => {
    const place = host.keepPicture?.(uri, title, svg);
    return place === undefined ? [] : [place];
  });
  if (shows)
    for (const place of places)
      await connection.window.showDocument({ uri: place, external: true });
  const where = shows || places.length === 0 ? '' : ` (${places.join(', ')})`;
  await connection.sendNotification('window/showMessage', {
    type: MessageType.Info,
    message: message + where,
  });
  if (text !== undefined) connection.console.log(text);
}
