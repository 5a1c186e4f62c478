import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  MessageChannel,
  type MessagePort,
  receiveMessageOnPort,
  Worker,
} from 'node:worker_threads';
import { afterAll } from 'vitest';

export const ROOT = fileURLToPath(new URL('../..', import.meta.url));
export const LAUNCHER = join(ROOT, 'bin', 'listwright.js');

export interface CliResult {
  readonly status: number | null;
  readonly stdout: Buffer;
  readonly stderr: string;
}

export interface CliOptions {
  readonly input?: string | Uint8Array;
  readonly cwd?: string;
  readonly env?: Record<string, string>;
}

/**
 * Runs the built command line (`npm run build` first, as `npm test` does) in a thread that is kept
 * warm: hundreds of starts of a process would take minutes. `tests/cli/process.test.ts` holds the two
 * to each other. What is about signals, pipes or terminals takes `spawnCli`.
 */
export function runCli(args: readonly string[], options: CliOptions = {}): CliResult {
  const { worker, port, done } = warmThread();
  const folder = process.cwd();
  Atomics.store(done, 0, 0);
  // Threads have their process's folder.
  if (options.cwd !== undefined) process.chdir(options.cwd);
  try {
    port.postMessage({
      words: [...args],
      input: Buffer.from(options.input ?? ''),
      env: { ...process.env, ...options.env },
    });
    let how = Atomics.wait(done, 0, 0, LONGEST);
    // The last answer may have been seen before its thread woke whoever waited for it: that wakes now.
    while (how === 'ok' && Atomics.load(done, 0) === 0) how = Atomics.wait(done, 0, 0, LONGEST);
    const answer = receiveMessageOnPort(port)?.message;
    if (answer === undefined) {
      worker.terminate();
      thread = undefined;
      throw new Error(
        `listwright ${args.join(' ')}: ${how === 'timed-out' ? 'still runs' : 'left its process'}`,
      );
    }
    const { status, stdout, stderr } = answer;
    return { status, stdout: Buffer.from(stdout), stderr: Buffer.from(stderr).toString() };
  } finally {
    process.chdir(folder);
  }
}

/** Milliseconds that a command may take. */
const LONGEST = 120_000;

let thread: { worker: Worker; port: MessagePort; done: Int32Array } | undefined;

function warmThread() {
  if (thread !== undefined) return thread;
  const done = new Int32Array(new SharedArrayBuffer(4));
  const { port1, port2 } = new MessageChannel();
  const worker = new Worker(join(ROOT, 'tests', 'support', 'cli-thread.mjs'), {
    workerData: { port: port2, done },
    transferList: [port2],
    execArgv: [],
  });
  worker.unref();
  port1.unref();
  thread = { worker, port: port1, done };
  return thread;
}

/** Runs the built command line as a user does: in a process of its own. */
export function spawnCli(args: readonly string[], options: CliOptions = {}): CliResult {
  const { status, stdout, stderr } = spawnSync(process.execPath, [LAUNCHER, ...args], {
    input: options.input ?? '',
    cwd: options.cwd,
    env: { ...process.env, ...options.env },
    maxBuffer: 1 << 28,
  });
  return { status, stdout, stderr: stderr.toString() };
}

export interface ManyResult {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
  /** Processor time that it took, in seconds. */
  readonly seconds: number;
  /** The most memory that the process had up to its end, in bytes. */
  readonly memory: number;
}

/** Runs the built command line once for each list of words, all in one process, of a user's. */
export function runMany(
  asked: readonly (readonly string[])[],
  cwd: string,
  user: { readonly uid?: number; readonly gid?: number } = {},
): ManyResult[] {
  const { stdout, stderr } = spawnSync(
    process.execPath,
    [join(ROOT, 'tests', 'support', 'many-cli.mjs')],
    { input: JSON.stringify(asked), cwd, maxBuffer: 1 << 28, ...user },
  );
  if (stderr.length > 0) throw new Error(stderr.toString());
  return JSON.parse(stdout.toString());
}

/** A folder of the test file's own, removed at its end. */
export function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'listwright-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
