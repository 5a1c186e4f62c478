import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
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

/** Runs the built command line (`npm run build` first, as `npm test` does). */
export function runCli(args: readonly string[], options: CliOptions = {}): CliResult {
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
