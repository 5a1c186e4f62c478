/** Hands a sound file to a player that the system has. Nothing goes through a shell. */
import { type ChildProcess, spawn } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import { CannotAsk } from './io.js';

interface Player {
  readonly command: string;
  readonly arguments: (file: string) => string[];
  readonly environment?: (file: string) => Record<string, string>;
}

const PLAYERS: readonly Player[] = [
  { command: 'pw-play', arguments: (file) => [file] },
  { command: 'aplay', arguments: (file) => ['-q', file] },
  { command: 'afplay', arguments: (file) => [file] },
  {
    command: 'ffplay',
    arguments: (file) => ['-nodisp', '-autoexit', '-loglevel', 'error', file],
  },
  {
    command: 'powershell',
    // The script is constant; the file's name reaches it as a variable, never as program text.
    arguments: () => [
      '-NoProfile',
      '-Command',
      '(New-Object System.Media.SoundPlayer $env:LISTWRIGHT_SOUND).PlaySync()',
    ],
    environment: (file) => ({ LISTWRIGHT_SOUND: file }),
  },
];

/** A player that ends sooner than this part of the sound has not played it. */
const PLAYED = 0.9;

/**
 * Plays a file to its end. Throws CannotAsk if no player can.
 * @param seconds how long it plays
 * @param tick is called now and then with the seconds played
 */
export async function play(
  file: string,
  seconds: number,
  tick: (played: number) => void,
): Promise<void> {
  const found = PLAYERS.map((player) => ({ player, path: find(player.command) })).filter(
    (candidate): candidate is { player: Player; path: string } => candidate.path !== undefined,
  );
  const failed: string[] = [];
  for (const { player, path } of found) {
    const begun = Date.now();
    const fault = await run(player, path, file, () => tick((Date.now() - begun) / 1000));
    if (fault === undefined) return;
    failed.push(`${player.command}: ${fault}`);
    // Part of it was heard: a second try would not be what was asked for.
    if (Date.now() - begun > 1000 * Math.min(2, PLAYED * seconds)) break;
  }
  const help = 'write the recording with -o and play it with any player';
  if (failed.length > 0)
    throw new CannotAsk(`the sound was not played: ${failed.join('; ')}`, help);
  const names = PLAYERS.map((player) => player.command).join(', ');
  throw new CannotAsk(`no player was found on this system (looked for ${names})`, help);
}

/** Where a command stands on the search path. */
function find(command: string): string | undefined {
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

/** Runs a player; gives what went wrong, if anything. */
function run(
  player: Player,
  path: string,
  file: string,
  tick: () => void,
): Promise<string | undefined> {
  return new Promise((resolve) => {
    const child: ChildProcess = spawn(path, player.arguments(file), {
      shell: false,
      stdio: ['ignore', 'ignore', 'pipe'],
      env: { ...process.env, ...player.environment?.(file) },
    });
    let words = '';
    child.stderr?.on('data', (piece: Buffer) => {
      if (words.length < 500) words += piece.toString();
    });
    const timer = setInterval(tick, 200);
    const stop = () => child.kill();
    process.once('SIGINT', stop);
    process.once('SIGTERM', stop);
    const end = (fault: string | undefined) => {
      clearInterval(timer);
      process.off('SIGINT', stop);
      process.off('SIGTERM', stop);
      resolve(fault);
    };
    child.on('error', (error) => end(error.message));
    child.on('close', (status, signal) => {
      if (status === 0) end(undefined);
      else if (signal) end('it was stopped');
      else end(words.trim().split('\n')[0] || `it ended with status ${status}`);
    });
  });
}
