/** Hands a sound file to a player that the system has. Nothing goes through a shell. */
import { findCommand, start } from '../common/installed.js';
import { CannotAsk } from '../common/io.js';
import { duration } from '../common/show.js';

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
/** Seconds after which a player is given up that should have ended. */
const PATIENCE = 10;

const HELP =
  'look whether a loudspeaker or the socket is connected and switched on, and nothing else plays; or write the recording with -o and play it with any player';

/**
 * Plays a file to its end. Throws CannotAsk if no player can, or none has played all of it.
 * @param seconds how long it plays
 * @param tick is called now and then with the seconds played
 * @param patience seconds to wait for a player that should have ended
 */
export async function play(
  file: string,
  seconds: number,
  tick: (played: number) => void,
  patience = PATIENCE,
): Promise<void> {
  const failed: string[] = [];
  for (const player of PLAYERS) {
    const path = findCommand(player.command);
    if (path === undefined) continue;
    const begun = Date.now();
    const played = (): number => (Date.now() - begun) / 1000;
    const most = seconds + patience;
    const fault = await run(player, path, file, most, () => tick(Math.min(seconds, played())));
    if (fault === undefined && played() >= PLAYED * seconds) return;
    const soon = `it ended after ${duration(played())}, and the sound lasts ${duration(seconds)}`;
    failed.push(`${player.command}: ${fault ?? soon}`);
    // Part of it was heard: a second try would not be what was asked for.
    if (played() > Math.min(2, PLAYED * seconds)) break;
  }
  if (failed.length > 0) {
    throw new CannotAsk(`the sound was not played: ${failed.join('; ')}`, HELP);
  }
  const names = PLAYERS.map((player) => player.command).join(', ');
  throw new CannotAsk(
    `no player was found on this system (looked for ${names})`,
    'install one of them, or write the recording with -o and play it with any player',
  );
}

/** Runs a player; gives what went wrong, if anything. */
async function run(
  player: Player,
  path: string,
  file: string,
  most: number,
  tick: () => void,
): Promise<string | undefined> {
  const env = { ...process.env, ...player.environment?.(file) };
  const { child, end } = start(path, player.arguments(file), 'ignore', { env });
  const timer = setInterval(tick, 200);
  const late = setTimeout(() => child.kill('SIGKILL'), 1000 * most);
  const { status, words } = await end;
  clearInterval(timer);
  clearTimeout(late);
  if (status === 0) return undefined;
  if (child.killed) return `it had not ended after ${duration(most)}`;
  if (status !== 'error' && typeof status === 'string') return 'it was stopped';
  return words.trim().split('\n')[0] || `it ended with status ${status}`;
}
