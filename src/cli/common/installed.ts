/** Programs that are installed on this system. Nothing goes through a shell. */
import { type ChildProcess, type SpawnOptions, spawn } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import { cleanAtEnd } from './ending.js';

/** Where a command stands on the search path. */
export function findCommand(command: string): string | undefined {
  const name = process.platform === 'win32' ? `${command}.exe` : command;
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    if (folder === '') continue;
    const path = join(folder, name);
    try {
      accessSync(path, constants.X_OK);
      return path;
    } catch {
      // Not in this folder; the next may have it.
    }
  }
  return undefined;
}

export interface Started {
  readonly child: ChildProcess;
  /** How it ended, and what it said of errors, or why it could not be started. */
  readonly end: Promise<{ readonly status: number | NodeJS.Signals | 'error'; words: string }>;
}

/** More of what a program says of its errors is not kept. */
const MOST_WORDS = 2000;

/** Starts a program, which is ended with this one. */
export function start(
  path: string,
  words: readonly string[],
  stdout: 'pipe' | 'ignore',
  options: SpawnOptions = {},
): Started {
  const stdio: SpawnOptions['stdio'] = ['ignore', stdout, 'pipe'];
  const child = spawn(path, words, { shell: false, stdio, ...options });
  const settled = cleanAtEnd(() => child.kill());
  let said = '';
  child.stderr?.on('data', (piece: Buffer) => {
    if (said.length < MOST_WORDS) said += piece.toString();
  });
  const end: Started['end'] = new Promise((resolve) => {
    child.on('error', ({ message }) => resolve({ status: 'error', words: message }));
    child.on('close', (status, signal) => resolve({ status: status ?? signal!, words: said }));
  });
  end.then(settled);
  return { child, end };
}

/** A file's name as it is typed in a command. */
export function typedName(path: string): string {
  return /^[\w./+:@%-]+$/.test(path) && !path.startsWith('-')
    ? path
    : `'${path.replaceAll("'", "'\\''")}'`;
}
