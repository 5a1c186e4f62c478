/** A real Chromium for the page's tests: the system's where there is one, else the one of a package. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { LAUNCHER } from '../support/run-cli.js';

const SYSTEM = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

export interface Bench {
  readonly browser: Browser;
  /** Where the page is served. */
  readonly address: string;
}

/** A browser and a served page for the tests of a file; both end with them. */
export function useBench(...args: string[]): () => Bench {
  let browser: Browser;
  let server: ChildProcess;
  let bench: Bench;
  beforeAll(async () => {
    server = spawn(process.execPath, [LAUNCHER, 'page', '--port', '0']);
    const address = addressOf(server);
    browser = await chromium.launch({
      executablePath: await browserPath(),
      args: ['--no-sandbox', '--autoplay-policy=no-user-gesture-required', ...args],
    });
    bench = { browser, address: await address };
  }, START);
  afterAll(async () => {
    server.kill();
    await browser.close();
  }, START);
  return () => bench;
}

/** Milliseconds that a browser may take to start on a busy machine. */
const START = 60_000;

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

async function browserPath(): Promise<string> {
  const system = SYSTEM.find((path) => existsSync(path));
  if (system !== undefined && process.env.PACKAGE_BROWSER === undefined) return system;
  // The package brings the libraries that a bare system lacks where it takes this for its own place.
  process.env.AWS_EXECUTION_ENV ??= `AWS_Lambda_nodejs${process.versions.node.split('.')[0]}.x`;
  const { default: packaged } = await import('@sparticuz/chromium');
  return packaged.executablePath();
}

export interface OpenedPage {
  readonly page: Page;
  /** What went wrong in it, by its own words. */
  readonly faults: readonly string[];
  /** Addresses that were asked for. */
  readonly asked: readonly string[];
}

export async function openPage(
  from: Browser | BrowserContext,
  address: string,
  prepare: (page: Page) => Promise<unknown> = async () => undefined,
): Promise<OpenedPage> {
  const page = await from.newPage();
  const faults: string[] = [];
  const asked: string[] = [];
  page.on('pageerror', ({ message }) => faults.push(message));
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(message.text());
  });
  page.on('request', (request) => asked.push(request.url()));
  page.setDefaultTimeout(15_000);
  await prepare(page);
  await page.goto(address);
  await page.locator('.cm-content').waitFor();
  return { page, faults, asked };
}

/** Puts a text in the place of the listing. */
export async function write(page: Page, text: string): Promise<void> {
  await page.locator('.cm-content').click();
  await page.keyboard.press('Control+a');
  await page.keyboard.insertText(text);
}

/** Waits until an element's text holds these words. */
export async function shows(page: Page, selector: string, words: string | RegExp): Promise<void> {
  await page.locator(selector).filter({ hasText: words }).first().waitFor({ state: 'attached' });
}
