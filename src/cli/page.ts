/** `page`: the bench in a browser, served on this computer to this computer alone. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { extname, join } from 'node:path';
import type { Command } from 'commander';
import { CannotAsk, print, tell } from './common/io.js';
import { numberOption } from './common/options.js';

const HOST = '127.0.0.1';
/** Fixed, since a browser keeps drafts by address and port. */
const PORT = 4816;
const PORTS = { from: 0, to: 65535, whole: true };

const TYPES: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.txt': 'text/plain; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
};

export function register(program: Command): void {
  program
    .command('page')
    .description('serve the bench in a browser, on this computer to this computer alone')
    .addOption(numberOption('--port <port>', 'the port; 0 for any that is free', PORTS, PORT))
    .action(serve);
}

async function serve({ port }: { port: number }): Promise<void> {
  const folder = join(__dirname, 'page');
  if (!existsSync(join(folder, 'index.html'))) {
    throw new CannotAsk('the page is not built yet', 'npm run page');
  }
  const server = createServer(answerFrom(folder));
  await listening(server, port);
  const address = server.address();
  const found = typeof address === 'object' && address !== null ? address.port : port;
  print(`http://${HOST}:${found}/\n`);
  tell('the page is served to this computer alone; Control and C end it');
}

function listening(server: Server, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const words =
        error.code === 'EADDRINUSE' ? 'another program has it' : (error.code ?? error.message);
      reject(
        new CannotAsk(`port ${port} cannot be had: ${words}`, 'give another with --port, or 0'),
      );
    });
    server.listen(port, HOST, resolve);
  });
}

type Answer = (request: IncomingMessage, response: ServerResponse) => void;

/** Answers with the files that stand in the folder now, and with nothing else. */
function answerFrom(folder: string): Answer {
  const names = new Set(readdirSync(folder));
  return (request, response) => {
    const { method, headers } = request;
    // A page from elsewhere may have given its own name this address.
    if (!/^(127\.0\.0\.1|localhost)(:\d+)?$/.test(headers.host ?? '')) {
      return refuse(response, 403, 'this server answers to 127.0.0.1 only');
    }
    if (method !== 'GET' && method !== 'HEAD') return refuse(response, 405, 'only GET is answered');
    const path = (request.url ?? '/').replace(/[?#].*/s, '');
    const name = path === '/' ? 'index.html' : path.slice(1);
    if (!names.has(name)) return refuse(response, 404, 'there is no such file');
    const bytes = readFileSync(join(folder, name));
    response.writeHead(200, {
      'content-type': TYPES[extname(name)] ?? 'application/octet-stream',
      'content-length': bytes.length,
      'cache-control': 'no-cache',
      'content-security-policy': "frame-ancestors 'none'",
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-resource-policy': 'same-origin',
    });
    response.end(method === 'HEAD' ? undefined : bytes);
  };
}

function refuse(response: ServerResponse, status: number, words: string): void {
  response.writeHead(status, { 'content-type': 'text/plain; charset=utf-8' });
  response.end(`${words}\n`);
}
