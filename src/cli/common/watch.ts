/** `--watch`: the answer to a command, asked anew whenever one of its files changes. */
import { statSync, watch as watchFolder } from 'node:fs';
import { basename, dirname } from 'node:path';
import { Option } from 'commander';
import { CannotAsk, tell } from './io.js';

export const watchOption = (): Option =>
  new Option('--watch', 'follow the files: show the answer anew after each change, until Ctrl-C');

/** Milliseconds that a file must rest: an editor that saves writes it in several steps. */
const REST = 60;

/** Erase the display and go to its first place (ECMA-48, ED and CUP). */
const CLEAR = '\u001b[2J\u001b[3J\u001b[H';

/**
 * Shows the answer now and after each change of a file, on a fresh screen where there is one. What
 * cannot be asked at the moment is told, and asked again after the next change.
 */
export async function follow(
  paths: readonly string[],
  show: () => void | Promise<void>,
): Promise<void> {
  if (paths.includes('-')) {
    throw new CannotAsk(
      'standard input does not change: there is nothing to follow',
      'name a file',
    );
  }
  for (const path of paths) statPath(path);
  const again = async (): Promise<void> => {
    if (process.stdout.isTTY) process.stdout.write(CLEAR);
    try {
      await show();
    } catch (error) {
      if (!(error instanceof CannotAsk)) throw error;
      tell(error.message);
    }
    tell(
      `── ${new Date().toLocaleTimeString('en-GB')}, following ${paths.join(', ')}; Ctrl-C ends ──`,
    );
  };
  let timer: NodeJS.Timeout | undefined;
  // The folder and not the file: many editors put a new file in its place.
  const names = new Map<string, Set<string>>();
  for (const path of paths) {
    const folder = dirname(path);
    names.set(folder, (names.get(folder) ?? new Set()).add(basename(path)));
  }
  for (const [folder, wanted] of names) {
    watchFolder(folder, (_, name) => {
      if (name !== null && !wanted.has(name)) return;
      clearTimeout(timer);
      timer = setTimeout(again, REST);
    });
  }
  await again();
}

function statPath(path: string): void {
  try {
    statSync(path);
  } catch {
    throw new CannotAsk(`${path}: there is no such file`, 'check the name and the folder');
  }
}
