/**
 * The client of the language server in an editor of the kind that installs extensions: it starts
 * the server that stands beside it, and shows what its commands give in a panel.
 */
import { join } from 'node:path';
import {
  commands,
  type ExtensionContext,
  env,
  ProgressLocation,
  Uri,
  ViewColumn,
  type WebviewPanel,
  window,
  workspace,
} from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import type { Outcome } from '../language-server/commands.js';
import { panelPage } from './panel.js';

const LANGUAGE = 'listing';

/** The commands that a person can choose, and the server's own that each asks. */
const COMMANDS: Readonly<Record<string, string>> = {
  'listwright.showRehearsal': 'listwright.rehearse',
  'listwright.showMemoryMap': 'listwright.memoryMap',
  'listwright.showLedger': 'listwright.ledger',
  'listwright.makeRecording': 'listwright.record',
  'listwright.newNumbers': 'listwright.renumber',
};

let client: LanguageClient | undefined;
let panel: WebviewPanel | undefined;

export async function activate(context: ExtensionContext): Promise<void> {
  // First, so that they answer however long the server takes to start.
  for (const [command, asked] of Object.entries(COMMANDS)) {
    context.subscriptions.push(commands.registerCommand(command, () => ask(asked)));
  }
  const module = join(context.extensionPath, 'server.cjs');
  client = new LanguageClient(
    'listwright',
    'Listwright',
    { module, transport: TransportKind.stdio },
    {
      documentSelector: [{ language: LANGUAGE }],
      initializationOptions: { panels: true, ...workspace.getConfiguration('listwright') },
      middleware: {
        // A lens asks a command of the server's: its outcome is shown as if it had been chosen.
        executeCommand: async (command, words, next) => show(command, await next(command, words)),
      },
    },
  );
  context.subscriptions.push({ dispose: () => panel?.dispose() });
  await client.start();
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}

async function ask(command: string): Promise<void> {
  const document = window.activeTextEditor?.document;
  if (document?.languageId !== LANGUAGE) {
    void window.showInformationMessage('Open a listing first: a file that ends in .bas.');
    return;
  }
  await window.withProgress({ location: ProgressLocation.Window, title: 'Listwright' }, () =>
    Promise.resolve(commands.executeCommand(command, document.uri.toString())),
  );
}

/** Shows an outcome: pictures and text in a panel beside the listing, else a message. */
async function show(command: string, outcome: Outcome | null): Promise<Outcome | null> {
  if (outcome === null) return null;
  if (outcome.pictures === undefined) {
    const choices = outcome.kept === undefined ? [] : ['Show the file'];
    const chosen = await window.showInformationMessage(outcome.message, ...choices);
    if (chosen !== undefined) await env.openExternal(Uri.file(join(outcome.kept!, '..')));
    return outcome;
  }
  panel ??= newPanel();
  panel.title = command === 'listwright.rehearse' ? 'Rehearsal' : outcome.pictures[0].title;
  panel.webview.html = panelPage(outcome);
  panel.reveal(ViewColumn.Beside, true);
  return outcome;
}

function newPanel(): WebviewPanel {
  const made = window.createWebviewPanel(
    'listwright',
    'Listwright',
    { viewColumn: ViewColumn.Beside, preserveFocus: true },
    { enableScripts: false, localResourceRoots: [] },
  );
  made.onDidDispose(() => {
    panel = undefined;
  });
  return made;
}
