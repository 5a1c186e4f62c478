/** What the page's tests share: a browser and a served page, and what a person does on it. */
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { type Bench, type StartedBench, startBench } from './chromium.js';

/** A browser and a served page for the tests of a file; both end with them. */
export function useBench(...args: string[]): () => Bench {
  let bench: StartedBench | undefined;
  beforeAll(async () => {
    bench = await startBench(...args);
  }, START);
  afterAll(() => bench?.end(), START);
  return () => bench!;
}

/** Milliseconds that a browser may take to be unpacked and to start on a busy machine. */
const START = 180_000;

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
  // Long enough for a busy machine.
  page.setDefaultTimeout(30_000);
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
