/** Sound from the line in of this computer, by a recorder that the system has. Nothing goes through a shell. */
import type { ChildProcess } from 'node:child_process';
import { findCommand, start } from '../common/installed.js';
import { CannotAsk } from '../common/io.js';
import { duration } from '../common/show.js';

/** Samples a second that recorders are asked for: one channel, 16 bits, the low byte first. */
export const RECORDING_RATE = 44100;

interface Recorder {
  readonly command: string;
  readonly arguments: readonly string[];
}

const RATE = String(RECORDING_RATE);
const FFMPEG_SOURCE = process.platform === 'darwin' ? ['avfoundation', ':0'] : ['alsa', 'default'];

const RECORDERS: readonly Recorder[] = [
  { command: 'parec', arguments: ['--raw', '--format=s16le', `--rate=${RATE}`, '--channels=1'] },
  {
    command: 'arecord',
    arguments: ['-q', '-t', 'raw', '-f', 'S16_LE', '-r', RATE, '-c', '1'],
  },
  {
    command: 'rec',
    arguments: ['-q', '-t', 'raw', '-e', 'signed', '-b', '16', '-L', '-r', RATE, '-c', '1', '-'],
  },
  {
    command: 'ffmpeg',
    arguments: [
      ...['-nostdin', '-v', 'error', '-f', FFMPEG_SOURCE[0], '-i', FFMPEG_SOURCE[1]],
      ...['-ac', '1', '-ar', RATE, '-c:a', 'pcm_s16le', '-f', 's16le', 'pipe:1'],
    ],
  },
];

/** Milliseconds after which a recorder that gives nothing is given up. */
const PATIENCE = 6000;

const HELP =
  'look whether the line in or the microphone is there, is the one that the system records from, and is used by nothing else; or record with another program and give `listwright recover` the file';

/** What ended the sound: it was asked to, or the recorder did so by itself. */
export interface RecorderEnd {
  /** What the recorder said where it failed. */
  readonly fault?: string;
}

/**
 * Gives what a recorder hears, until `take` wants no more or the recorder ends. Throws CannotAsk where
 * none can be run or none gives any sound.
 * @param take is given the bytes as they come, and says whether it wants more
 * @param asked ends it at once, also while no sound comes
 */
export async function hear(
  take: (bytes: Uint8Array) => boolean,
  asked: AbortSignal,
  patience = PATIENCE,
): Promise<RecorderEnd> {
  const failed: string[] = [];
  for (const recorder of RECORDERS) {
    const path = findCommand(recorder.command);
    if (path === undefined) continue;
    const { heard, fault } = await run(recorder, path, take, asked, patience);
    if (asked.aborted) return {};
    if (heard) return fault === undefined ? {} : { fault: `${recorder.command}: ${fault}` };
    failed.push(`${recorder.command}: ${fault ?? 'it gave no sound'}`);
  }
  if (failed.length > 0) throw new CannotAsk(`nothing was heard: ${failed.join('; ')}`, HELP);
  const names = RECORDERS.map(({ command }) => command).join(', ');
  throw new CannotAsk(
    `no recorder was found on this system (looked for ${names})`,
    'install one of them (arecord is in alsa-utils, rec in sox), or record with another program and give `listwright recover` the file',
  );
}

async function run(
  recorder: Recorder,
  path: string,
  take: (bytes: Uint8Array) => boolean,
  asked: AbortSignal,
  patience: number,
): Promise<{ heard: boolean; fault?: string }> {
  const { child, end } = start(path, recorder.arguments, 'pipe', {
    // Ctrl-C is for this program, which ends the recorder when it has what it needs.
    detached: process.platform !== 'win32',
  });
  let heard = false;
  const late = setTimeout(() => child.kill('SIGKILL'), patience);
  let odd: Buffer = Buffer.alloc(0);
  const pieces = child.stdout![Symbol.asyncIterator]();
  const stop = new Promise<undefined>((resolve) => {
    asked.addEventListener('abort', () => resolve(undefined));
  });
  try {
    for (;;) {
      const next = await Promise.race([pieces.next(), stop]);
      if (next === undefined) return forget(child, heard);
      if (next.done) break;
      const piece: Buffer = next.value;
      clearTimeout(late);
      heard = true;
      // A piece may end within a sample.
      const bytes = odd.length > 0 ? Buffer.concat([odd, piece]) : piece;
      const whole = bytes.length - (bytes.length % 2);
      odd = bytes.subarray(whole);
      if (!take(bytes.subarray(0, whole))) return forget(child, heard);
    }
  } finally {
    child.kill();
    clearTimeout(late);
  }
  const { status, words } = await end;
  if (status === 0) return { heard };
  if (!heard && status === 'SIGKILL') {
    return { heard, fault: `it gave no sound in ${duration(patience / 1000)}` };
  }
  return { heard, fault: words.trim().split('\n')[0] || `it ended with ${status}` };
}

/** A recorder that does not end yet when it is told to is not waited for. */
function forget(child: ChildProcess, heard: boolean): { heard: boolean } {
  child.unref();
  child.stdout?.destroy();
  child.stderr?.destroy();
  return { heard };
}
