/**
 * What an end in the middle must not leave behind: unfinished files, a player that goes on.
 * Without anything of the kind a signal ends the program at once, also in the middle of a long
 * computation; with it, the signal waits for the event loop, which is never far while files stand
 * open.
 */

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

const cleanings = new Set<() => void>();
let isArmed = false;

/**
 * Has `clean` run if the program is ended from now on. Gives what takes that back, once the thing
 * is whole.
 */
export function cleanAtEnd(clean: () => void): () => void {
  cleanings.add(clean);
  if (!isArmed) for (const signal of SIGNALS) process.on(signal, endBySignal);
  isArmed = true;
  return () => {
    cleanings.delete(clean);
    // A signal that came meanwhile is seen by the event loop before this.
    if (cleanings.size === 0) setImmediate(disarm);
  };
}

function disarm(): void {
  if (cleanings.size > 0 || !isArmed) return;
  for (const signal of SIGNALS) process.off(signal, endBySignal);
  isArmed = false;
}

let soften: (() => void) | undefined;

/**
 * Has the next Ctrl-C run `stop` instead of ending the program; one after that ends it as ever. Gives
 * what takes that back.
 */
export function endSoftly(stop: () => void): () => void {
  soften = stop;
  const settled = cleanAtEnd(() => {});
  return () => {
    soften = undefined;
    settled();
  };
}

/** Cleans up and lets the signal do what it does to a program that does not mind it. */
function endBySignal(signal: NodeJS.Signals): void {
  if (signal === 'SIGINT' && soften !== undefined) {
    const stop = soften;
    soften = undefined;
    stop();
    return;
  }
  cleanAll();
  for (const one of SIGNALS) process.off(one, endBySignal);
  process.kill(process.pid, signal);
}

/** Ends the program at once, with nothing half done left behind. */
export function leave(status: number): never {
  cleanAll();
  process.exit(status);
}

function cleanAll(): void {
  for (const clean of cleanings) clean();
  cleanings.clear();
}

/** Lets the event loop turn, so that a signal is seen. Between pieces of work that leaves files open. */
export function turn(): Promise<void> {
  return new Promise((resolve) => {
    setImmediate(resolve);
  });
}
