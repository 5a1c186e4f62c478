/** The page for everybody: whatever they see, hear and touch, with a network or none, and safe. */
import { readFileSync } from 'node:fs';
import { request } from 'node:http';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { keySheet } from '../../src/keys/sheet.js';
import { readListing } from '../../src/listing/read.js';
import { ROOT } from '../support/run-cli.js';
import { openPage, shows, useBench, write } from './browser.js';

const bench = useBench();
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What opens a dialog, and which. */
const DIALOGS = [
  ['#play', 'caution'],
  ['#share', 'link'],
  ['#draft-delete', 'erase'],
];

/** What a person meets with: an error, a running machine, a key to press. */
async function inUse(page: Page): Promise<void> {
  await write(page, '10 PRINT "HELLO"\n20 GOTO 20\n');
  await shows(page, '#verdict', 'runs');
  await page.locator('#run').click();
  await shows(page, '#screen-text', 'HELLO');
  await page.locator('#typing-start').click();
  await shows(page, '#typing-key', 'gives 1');
}

async function violations(page: Page, within = 'html'): Promise<string[]> {
  if (await page.evaluate(() => !('axe' in globalThis))) await page.evaluate(AXE);
  // From its top: what is scrolled halfway under the bar that stays would count as too small. What the
  // editor brings into sight may scroll the page once more, a frame later.
  await page.waitForFunction(() => {
    const isStill = scrollY === 0;
    scrollTo({ top: 0, behavior: 'instant' });
    return isStill;
  });
  return page.evaluate(async (selector) => {
    const { axe } = globalThis as unknown as {
      axe: { run(within: string, options: object): Promise<Found> };
    };
    interface Found {
      violations: { id: string; nodes: { html: string }[] }[];
    }
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
    const { violations: found } = await axe.run(selector, { runOnly: tags });
    return found.flatMap(({ id, nodes }) =>
      nodes.map(({ html }) => `${id}: ${html.slice(0, 120)}`),
    );
  }, within);
}

/** Keys whose names stick out of them. */
function tooNarrow(page: Page): Promise<(string | null)[]> {
  return page.evaluate(() => {
    const isWider = (key: Element): boolean => {
      const { left, right } = (key.querySelector('.cap') ?? key).getBoundingClientRect();
      return [...key.querySelectorAll('b, i, small, text')].some((word) => {
        const range = document.createRange();
        range.selectNodeContents(word);
        const boxes = [...range.getClientRects()].filter(({ width }) => width > 0);
        return boxes.some((box) => box.left < left - 0.5 || box.right > right + 0.5);
      });
    };
    const keys = [...document.querySelectorAll('.keys button, .typing-board .key')];
    return keys.filter(isWider).map((key) => key.getAttribute('data-key'));
  });
}

describe.each([
  ['wide, light', 1440, 'light'],
  ['narrow, dark', 360, 'dark'],
] as const)('%s', (_, width, colorScheme) => {
  test('axe finds nothing, and nothing is wider than the window', async () => {
    const context = await bench().browser.newContext({
      viewport: { width, height: 800 },
      colorScheme,
    });
    const { page, faults } = await openPage(context, bench().address);
    await inUse(page);
    // Longer than the editor is high: it scrolls.
    await write(page, '10 PRIN 1\n'.repeat(60));
    await shows(page, '#findings', 'PRIN');
    // What went wrong is told, in words that are read as well as the rest.
    await page.locator('#file').setInputFiles({
      name: 'junk.bin',
      mimeType: 'application/octet-stream',
      buffer: Buffer.of(0, 1, 2, 3),
    });
    await shows(page, '#socket-note', 'junk.bin is no listing');
    await page.evaluate(() => {
      location.hash = 'listing=abc';
      document.getElementById('fault')!.hidden = false;
      document.getElementById('fault')!.textContent = 'Something went wrong';
    });
    await shows(page, '#listing-note', 'holds no listing');
    expect(await violations(page)).toEqual([]);
    // Words to choose from, in a list that scrolls, over what stands below.
    await page.keyboard.press('Control+ ');
    await page.locator('.cm-tooltip-autocomplete li').first().waitFor();
    expect(await violations(page, '.cm-tooltip-autocomplete')).toEqual([]);
    // On paper all of it stands, though the editor holds only what is in sight.
    const paper = (await page.pdf({ format: 'A4' })).toString('latin1');
    expect(await page.locator('#paper div').count()).toBe(61);
    expect(paper.match(/\/Type \/Page$/gm)!.length).toBeLessThan(6);
    await write(page, '10 PRINT 1\n');
    await shows(page, '#verdict', 'runs');
    // In colours that the page has too.
    for (const [opens, dialog] of width < 500 ? DIALOGS : []) {
      await page.locator(opens).click();
      await page.locator(`#${dialog}[open]`).waitFor();
      expect(await violations(page, `#${dialog}`)).toEqual([]);
      await page.locator(`#${dialog}-close`).click();
    }
    if (width < 500) {
      await page.locator('#file').setInputFiles('samples/pages/lamp-lottery.txt');
      await page.locator('#scan[open]').waitFor();
      expect(await violations(page, '#scan')).toEqual([]);
      await page.locator('#scan-close').click();
    }
    const beyond = (): Promise<number> =>
      page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(await beyond()).toBeLessThanOrEqual(0);
    // As wide as a window of 1280 pixels that shows everything four times as large.
    await page.setViewportSize({ width: 320, height: 256 });
    expect(await beyond()).toBeLessThanOrEqual(0);
    // With letters as far apart as a person may set them.
    const content = '* { letter-spacing: 0.12em !important; word-spacing: 0.16em !important }';
    await page.addStyleTag({ content });
    expect(await beyond()).toBeLessThanOrEqual(0);
    expect(await tooNarrow(page)).toEqual([]);
    // The machine's graphics come from the page's own font, whatever the system has.
    const fonts = await page.evaluate(async () => {
      const found = await document.fonts.load('16px "Listwright graphics"', '▒');
      return found.map(({ status }) => status);
    });
    expect(fonts).toEqual(['loaded']);
    expect(faults).toEqual([]);
    await context.close();
  }, 120_000);
});

describe('by keyboard alone', () => {
  test('the whole job is done: written, mended, run, answered, played, and keys read', async () => {
    const { page, faults } = await openPage(bench().browser, bench().address);
    const { keyboard } = page;
    /** Goes on by the Tab key until the focus is on what is meant. */
    const tabTo = async (selector: string): Promise<void> => {
      for (let stops = 0; stops < 80; stops++) {
        await keyboard.press('Tab');
        if (await page.evaluate((one) => document.activeElement?.matches(one), selector)) return;
      }
      throw new Error(`the Tab key does not come to ${selector}`);
    };
    await tabTo('.skip');
    await keyboard.press('Enter');
    for (const stop of ['#draft', '#sample', '#ram', '.cm-content']) await tabTo(stop);
    await keyboard.type('10 INPT A');
    await shows(page, '#findings .fix', 'Write INPUT');
    for (const stop of ['#tidy', '.fix']) await tabTo(stop);
    await keyboard.press('Enter');
    await shows(page, '#verdict', 'runs');
    expect(await page.locator('.cm-content').textContent()).toBe('10 INPUT A');
    for (const stop of ['#glass', '#run']) await tabTo(stop);
    await keyboard.press('Enter');
    await shows(page, '#report', 'Line 10 waits for a number');
    await keyboard.type('7');
    // The drawn keys are one stop; arrows go about in them.
    await tabTo('.keys button');
    await keyboard.press('ArrowRight');
    await keyboard.press('ArrowDown');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('data-key'))).toBe('W');
    for (const arrow of ['ArrowDown', 'ArrowLeft', 'ArrowLeft']) await keyboard.press(arrow);
    await page.locator('[data-key="P"]:focus').waitFor();
    await keyboard.press('ArrowDown');
    await keyboard.press('Enter');
    await shows(page, '#report', 'report 0/10');
    await tabTo('#play');
    await keyboard.press('Enter');
    await page.locator('#caution[open]').waitFor();
    await tabTo('#caution-yes');
    await keyboard.press('Enter');
    await shows(page, '#time-left', 'left');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('play');
    await keyboard.press('Enter');
    await shows(page, '#time-left', 'Stopped');
    await tabTo('#typing-start');
    await keyboard.press('Enter');
    await page.locator('#typing-next:focus').waitFor();
    await keyboard.press('Enter');
    await shows(page, '#typing-place', 'key 2 of');
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('without a network', () => {
  test('it can be installed, and opens again, writes, and runs', async () => {
    const context = await bench().browser.newContext();
    const { page } = await openPage(context, bench().address);
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    const session = await context.newCDPSession(page);
    const { installabilityErrors } = await session.send('Page.getInstallabilityErrors');
    // The tests' own window is one without traces, in which nothing is installed.
    const wrong = installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito');
    expect(wrong).toEqual([]);
    expect((await session.send('Page.getAppManifest')).errors).toEqual([]);
    await context.setOffline(true);
    await page.reload();
    await inUse(page);
    await context.close();
  });

  test('it opens from a file system, writes, runs, plays, and keeps drafts', async () => {
    const address = pathToFileURL(join(ROOT, 'dist', 'page', 'index.html')).href;
    const { page, asked, faults } = await openPage(bench().browser, address);
    await inUse(page);
    await page.locator('#play').click();
    await page.locator('#caution-yes').click();
    await shows(page, '#time-left', 'left');
    await page.locator('#play').click();
    await page.waitForFunction(() => JSON.stringify({ ...localStorage }).includes('HELLO'));
    await page.reload();
    await shows(page, '.cm-content', 'HELLO');
    expect(asked.filter((url) => !/^(file|blob|data):/.test(url))).toEqual([]);
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('safe', () => {
  test('its policy lets no inline script and no other host in', () => {
    const html = readFileSync(join(ROOT, 'dist', 'page', 'index.html'), 'utf8');
    const policy = /Content-Security-Policy" content="([^"]+)"/.exec(html)![1];
    expect(policy).toContain('default-src &#39;none&#39;');
    expect(policy).toContain('script-src &#39;self&#39;;');
    expect(policy).not.toContain('http');
    expect(html.match(/<script src="\w+\.js"( defer)?><\/script>/g)).toHaveLength(2);
    expect(html.match(/<script/g)).toHaveLength(2);
    expect(html).not.toMatch(/ on[a-z]+=/);
  });

  test.each([
    ['/../package.json', '127.0.0.1', 404],
    ['/%2e%2e/package.json', '127.0.0.1', 404],
    ['/..%2fcli.cjs', '127.0.0.1', 404],
    ['//etc/passwd', '127.0.0.1', 404],
    ['/', 'evil.example', 403],
    ['/page.js?x', '127.0.0.1', 200],
  ])('the server answers %s asked of %s with %i', async (path, host, status) => {
    const { port } = new URL(bench().address);
    const answered = await new Promise((resolve, reject) => {
      const asked = request({ port, path, headers: { host } }, (answer) => {
        answer.resume();
        resolve(answer.statusCode);
      });
      asked.once('error', reject);
      asked.end();
    });
    expect(answered).toBe(status);
  });
});

describe('the sheet of keys', () => {
  test('prints 22 lines on two pages of paper, with no key marked', async () => {
    const lines = Array.from({ length: 22 }, (_, at) =>
      at % 2 === 0
        ? `${10 + at} IF INKEY$<>"" AND A>NOT PI THEN GOTO VAL "90"`
        : `${10 + at} PRINT AT VAL "3",VAL "4";A$`,
    );
    const { listing } = readListing(`${lines.join('\n')}\n`);
    const page = await bench().browser.newPage();
    await page.setContent(keySheet(listing, { name: 'a.bas' }));
    const fills = () =>
      page.evaluate(() =>
        [...document.querySelectorAll('.key .cap')].map((cap) => getComputedStyle(cap).fill),
      );
    expect(new Set(await fills()).size).toBe(2);
    await page.emulateMedia({ media: 'print' });
    expect(new Set(await fills()).size).toBe(1);
    expect(
      await page.locator('.press.here').evaluate((key) => getComputedStyle(key).outlineStyle),
    ).toBe('none');
    const paper = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
    expect(paper.match(/\/Type \/Page$/gm)).toHaveLength(2);
    await page.close();
  }, 60_000);
});
