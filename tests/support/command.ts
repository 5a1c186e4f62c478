/** Runs one command of the tool in a process of its own, from its source. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { buildSync } from 'esbuild';

export interface CommandRun {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface CommandUnderTest {
  /** A folder of its own, where the command runs. */
  readonly folder: string;
  run(args: readonly string[], input?: string): CommandRun;
  remove(): void;
}

/** Bundles the command's module as the command line would load it. */
export function commandUnderTest(name: string): CommandUnderTest {
  const folder = mkdtempSync(join(tmpdir(), `${name}-`));
  const bundle = join(folder, 'command.cjs');
  buildSync({
    stdin: {
      contents: `
        import { Command } from 'commander';
        import { register } from './src/cli/${name}.ts';
        import { CannotAsk, tell } from './src/cli/io.ts';
        const program = new Command('listwright').exitOverride();
        register(program);
        for (const command of program.commands) command.exitOverride();
        program.parseAsync(process.argv.slice(2), { from: 'user' }).catch((error) => {
          if (error instanceof CannotAsk) tell(\`listwright: \${error.message}\`);
          else if (error.code === undefined) tell(String(error.stack));
          process.exitCode = error.exitCode === 0 ? 0 : 2;
        });`,
      resolveDir: resolve(import.meta.dirname, '../..'),
      loader: 'ts',
    },
    bundle: true,
    platform: 'node',
    format: 'cjs',
    outfile: bundle,
    logLevel: 'error',
  });
  return {
    folder,
    run(args, input) {
      const options = { cwd: folder, input, encoding: 'utf8' as const };
      const { status, stdout, stderr } = spawnSync(process.execPath, [bundle, ...args], options);
      return { status, stdout, stderr };
    },
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
