/** The bench in a browser: where the page's parts are put together. */
import { $ } from './dom.js';
import { KeyboardTest } from './keyboard-test.js';
import { Desk } from './listing/desk.js';
import { Machine } from './machine/machine.js';
import { Files } from './socket/files.js';
import { Listener } from './socket/listen.js';
import { Player } from './socket/play.js';
import { ScanDialog } from './socket/scan.js';
import { Tape } from './socket/tape.js';
import { TEXTS } from './texts.js';
import { isFromFiles } from './workers/address.js';

function tellFault(error: unknown): void {
  const fault = $('fault');
  fault.hidden = false;
  fault.textContent = TEXTS.fault(error instanceof Error ? error.message : String(error));
}

async function start(): Promise<void> {
  for (const dialog of document.querySelectorAll('dialog')) {
    $(`${dialog.id}-close`).onclick = () => dialog.close();
  }
  const tape = new Tape();
  let machine: Machine | undefined;
  let files: Files | undefined;
  const desk = await Desk.open({
    changed: () => machine?.listingChanged(),
    files: (given) => void files?.take(given),
    samples: () => tape.ask('samples', undefined),
  });
  const open = (text: string, doubtfulRows?: readonly number[]): void =>
    desk.openAsDraft(text, doubtfulRows);
  machine = new Machine(desk);
  const heard = new Files(tape, new ScanDialog(tape, open), open);
  files = heard;
  new Listener(tape, (programs) => heard.list(programs));
  new Player(tape, desk);
  new KeyboardTest(tape, desk);
  // Keeping the page takes processor time that its first use needs more.
  await desk.firstRead;
  if (!isFromFiles && 'serviceWorker' in navigator) {
    // Without it the page works all the same, as long as there is a network.
    navigator.serviceWorker.register('service-worker.js').catch(() => undefined);
  }
}

addEventListener('error', ({ error, message }) => tellFault(error ?? message));
addEventListener('unhandledrejection', ({ reason }) => tellFault(reason));
void start();
