/** A real Chromium: that of a package where it runs, else the system's; and the page, served. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type LaunchOptions } from 'playwright-core';
import { LAUNCHER } from '../support/run-cli.js';

const SYSTEM = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

export interface Bench {
  readonly browser: Browser;
  /** Where the page is served. */
  readonly address: string;
}

export interface StartedBench extends Bench {
  /** Ends both. */
  end(): Promise<void>;
}

export async function startBench(...args: string[]): Promise<StartedBench> {
  const server = spawn(process.execPath, [LAUNCHER, 'page', '--port', '0']);
  try {
    const address = await addressOf(server);
    const browser = await chromium.launch({
      ...(await launchOptions()),
      args: ['--no-sandbox', '--autoplay-policy=no-user-gesture-required', ...args],
    });
    const end = async () => {
      server.kill();
      await browser.close();
    };
    return { browser, address, end };
  } catch (error) {
    server.kill();
    throw error;
  }
}

function addressOf({ stdout, stderr }: ChildProcess): Promise<string> {
  let said = '';
  stderr!.on('data', (bytes) => {
    said += bytes;
  });
  return new Promise((resolve, reject) => {
    stdout!.once('data', (bytes) => resolve(String(bytes).trim()));
    stdout!.once('close', () => reject(new Error(`the page is not served: ${said}`)));
  });
}

/**
 * What starts the browser: the package's, with the libraries it brings. It is the same everywhere,
 * and takes less than half of the work, since it has no windows; where it does not run, or with
 * `SYSTEM_BROWSER=1`, the system's.
 */
async function launchOptions(): Promise<LaunchOptions> {
  const runs = process.platform === 'linux' && process.arch === 'x64';
  if (!runs || process.env.SYSTEM_BROWSER !== undefined) {
    return { executablePath: SYSTEM.find((path) => existsSync(path)) };
  }
  const folder = await unpackedBrowser();
  return {
    executablePath: join(folder, 'chromium'),
    env: {
      ...(process.env as Record<string, string>),
      FONTCONFIG_PATH: join(folder, 'fonts'),
      LD_LIBRARY_PATH: join(folder, 'al2023', 'lib'),
    },
  };
}

/**
 * The folder with the package's browser, unpacked once. The package unpacks into the folder for
 * temporary files: here one of our own, which takes its name only when it is whole, since test
 * files run at the same time.
 */
async function unpackedBrowser(): Promise<string> {
  const entry = createRequire(import.meta.url).resolve('@sparticuz/chromium');
  const { version } = JSON.parse(readFileSync(join(entry, '../../../package.json'), 'utf8'));
  const folder = join(tmpdir(), `listwright-browser-${version}`);
  if (existsSync(folder)) return folder;
  const before = process.env.TMPDIR;
  const own = mkdtempSync(`${folder}-`);
  process.env.TMPDIR = own;
  // It brings what a bare system lacks where it takes this for its own place.
  process.env.AWS_EXECUTION_ENV ??= 'AWS_Lambda_nodejs22.x';
  try {
    const { default: packaged } = await import('@sparticuz/chromium');
    await packaged.executablePath();
  } finally {
    if (before === undefined) delete process.env.TMPDIR;
    else process.env.TMPDIR = before;
  }
  // Its own list of fonts looks for them in one fixed place.
  const fonts = ['/usr/share/fonts', join(folder, 'fonts')].map((path) => `<dir>${path}</dir>`);
  writeFileSync(join(own, 'fonts', 'fonts.conf'), `<fontconfig>${fonts.join('')}</fontconfig>\n`);
  try {
    renameSync(own, folder);
  } catch (error) {
    // Another test file was sooner.
    if (!existsSync(folder)) throw error;
    rmSync(own, { recursive: true });
  }
  return folder;
}
