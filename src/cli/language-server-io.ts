/** The language server on this computer: standard input and output, and files beside listings. */
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { carryOut } from '../language-server/commands.js';
import { serve } from '../language-server/serve.js';
import { readIncluded } from './common/input.js';
import { besides, writeBytes } from './common/io.js';

declare const LISTWRIGHT_VERSION: string;

const isFile = (uri: string): boolean => uri.startsWith('file:');
const pathOf = (uri: string): string => fileURLToPath(uri);

/** Where pictures are kept for editors without panels: made when the first is. */
let pictures: string | undefined;

/** Serves until the client ends the connection. */
export function serveStandardIO({ ram }: { readonly ram?: number }): void {
  const connection = createConnection(ProposedFeatures.all, process.stdin, process.stdout);
  // Whatever is printed by mistake must not fall among the messages.
  console.log = console.info = (...words) => connection.console.log(words.join(' '));
  console.warn = (...words) => connection.console.warn(words.join(' '));
  console.error = (...words) => connection.console.error(words.join(' '));
  process.on('uncaughtException', (error) => connection.console.error(`a fault: ${error.stack}`));
  process.on('unhandledRejection', (error) => connection.console.error(`a fault: ${error}`));
  serve(connection, {
    carryOut,
    ram,
    version: LISTWRIGHT_VERSION,
    include: (uri) => (isFile(uri) ? (file) => readIncluded(pathOf(uri), file, {}) : undefined),
    keep: (uri, extension, bytes) => {
      if (!isFile(uri)) return undefined;
      const path = besides(pathOf(uri), extension);
      writeBytes(path, bytes);
      return path;
    },
    keepPicture: (_uri, title, svg) => {
      pictures ??= mkdtempSync(join(tmpdir(), 'listwright-'));
      const path = join(pictures, `${title.toLowerCase().replace(/[^a-z0-9]+/g, '-')}.svg`);
      writeBytes(path, svg);
      return pathToFileURL(path).href;
    },
  });
}
