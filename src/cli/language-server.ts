/** `language-server`: what an editor asks, over standard input and output. */
import type { Command } from 'commander';
import { ramOption } from './common/options.js';

export function register(program: Command): void {
  program
    .command('language-server')
    .description('answer what an editor asks, over standard input and output')
    .option('--stdio', 'over standard input and output: there is no other way, and editors say it')
    .addOption(ramOption('the editor’s own setting listwright.ram goes before it'))
    .action(async ({ ram }: { ram?: number }) => {
      // A bundle of its own: what it takes to load it, no other command's start should pay.
      const { serveStandardIO } = await import('./language-server-io.js');
      serveStandardIO({ ram });
    });
}
