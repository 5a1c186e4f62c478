/** The job on the page: write, mend, see the verdict, run, press keys, read the screen. */

import { deflateRawSync } from 'node:zlib';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { MOST_CHARACTERS } from '../../src/machine/program-limits.js';
import { type OpenedPage, openPage, shows, useBench, write } from './browser.js';

const bench = useBench();
let opened: OpenedPage;
let page: Page;

beforeAll(async () => {
  opened = await openPage(bench().browser, bench().address);
  page = opened.page;
}, 60_000);

const screen = (): Promise<string | null> => page.locator('#screen-text').textContent();

describe('the listing', () => {
  test('an error is told at its place, its fix applied, and the verdict changes', async () => {
    await write(page, '10 PRNT "LOFT"\n');
    await shows(page, '#findings', 'no statement begins with PRNT');
    expect(await page.locator('#verdict').textContent()).toContain('errors');
    await page.locator('#findings button.fix').first().click();
    await shows(page, '#verdict', /runs in 1K, \d+ bytes to spare/);
    expect(await page.locator('.cm-content').textContent()).toContain('10 PRINT "LOFT"');
    expect(await page.locator('#findings-none').textContent()).toBe('No mistakes found.');
  });

  test('a larger program makes the map fuller, and more RAM makes room', async () => {
    await write(page, '10 DIM A(300)\n20 LET A(1)=1\n30 PRINT A(1)\n');
    await shows(page, '#verdict', /does not run in 1K/);
    await page.locator('#ram').selectOption('16K');
    await shows(page, '#verdict', /runs in 16K/);
    await page.locator('#ram').selectOption('');
    await shows(page, '#verdict', /does not run in 1K/);
  });

  test('a listing never becomes markup', async () => {
    await write(page, '.name "<IMG SRC=X>"\n10 REM <B>X</B><IMG SRC=X>\n20 PRIN <B>\n');
    await shows(page, '#findings', '3:4');
    expect(await page.locator('main img, main b:not(.keys b), header b').count()).toBe(0);
    expect(opened.faults).toEqual([]);
  });

  test('drafts are several, and outlive a reload', async () => {
    await write(page, '.name "ONE"\n10 REM 1\n');
    await page.locator('#draft-new').click();
    await write(page, '.name "TWO"\n10 REM 2\n');
    await shows(page, '#draft option', 'TWO');
    await page.waitForFunction(() => JSON.stringify({ ...localStorage }).includes('REM 2'));
    await page.reload();
    await shows(page, '.cm-content', 'REM 2');
    await page.locator('#draft').selectOption({ label: 'ONE' });
    await shows(page, '.cm-content', 'REM 1');
  });

  test('a draft has a past of its own: no undo leads into another', async () => {
    await write(page, '.name "FIRST"\n10 REM 1\n');
    await page.locator('#draft-new').click();
    await page.keyboard.type('10 REM 2');
    for (let times = 0; times < 12; times++) await page.keyboard.press('Control+z');
    expect(await page.locator('.cm-content').textContent()).not.toContain('FIRST');
    await page.locator('#draft').selectOption({ label: 'FIRST' });
    await shows(page, '.cm-content', 'REM 1');
  });

  test('two windows that write on one draft at once keep what each wrote', async () => {
    const context = await bench().browser.newContext();
    const one = (await openPage(context, bench().address)).page;
    await write(one, '10 PRINT 1\n');
    await one.waitForFunction(() => JSON.stringify({ ...localStorage }).includes('PRINT 1'));
    const two = (await openPage(context, bench().address)).page;
    await shows(two, '.cm-content', 'PRINT 1');
    const type = (words: string): void => {
      document.querySelector<HTMLElement>('.cm-content')!.focus();
      document.execCommand('insertText', false, words);
    };
    await Promise.all([one.evaluate(type, '5 REM ONE'), two.evaluate(type, '6 REM TWO')]);
    for (const words of ['REM ONE', 'REM TWO']) {
      await one.waitForFunction(
        (part) => JSON.stringify({ ...localStorage }).includes(part),
        words,
      );
    }
    await context.close();
  });

  test('where the browser keeps nothing, drafts live as long as the page, and leaving it asks', async () => {
    const context = await bench().browser.newContext();
    const { page: full } = await openPage(context, bench().address, (fresh) =>
      fresh.addInitScript(() => {
        Storage.prototype.setItem = () => {
          throw new DOMException('full', 'QuotaExceededError');
        };
      }),
    );
    await write(full, '.name "FIRST"\n');
    await shows(full, '#listing-note', 'keeps no drafts');
    await full.locator('#draft-new').click();
    await full.keyboard.type('.name "SECOND"');
    await full.locator('#draft').selectOption({ label: 'FIRST' });
    await shows(full, '.cm-content', 'FIRST');
    const asked = full.waitForEvent('dialog');
    await full.close({ runBeforeUnload: true });
    const dialog = await asked;
    expect(dialog.type()).toBe('beforeunload');
    await dialog.accept();
    await context.close();
  });

  test('a link that holds no listing says so, and leaves the drafts alone', async () => {
    const { page: other } = await openPage(bench().browser, `${bench().address}#listing=abc`);
    await shows(other, '#listing-note', 'holds no listing');
    expect(other.url()).toBe(bench().address);
    // Some kilobytes of a link, and more of a text than any program is.
    const packed = deflateRawSync(Buffer.alloc(5 * MOST_CHARACTERS, ' '));
    await other.evaluate((text) => {
      location.hash = `listing=${text}`;
    }, packed.toString('base64url'));
    await shows(other, '#listing-note', 'longer than that of any program');
    expect(await other.locator('#draft option').count()).toBe(1);
    await other.close();
  });

  test('what is pasted is refused where it is more than any program can be', async () => {
    await write(page, '10 REM HERE\n');
    await page.evaluate((length) => {
      const clipboardData = new DataTransfer();
      clipboardData.setData('text/plain', '1'.repeat(length));
      const paste = new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true });
      document.querySelector('.cm-content')!.dispatchEvent(paste);
    }, MOST_CHARACTERS);
    await shows(page, '#listing-note', 'longer than that of any program');
    expect(await page.locator('.cm-content').textContent()).toBe('10 REM HERE');
  });

  test('a link holds the listing, and nothing of it is sent', async () => {
    await write(page, '.name "SHARED"\n10 PRINT "▛▜ £"\n');
    await page.locator('#share').click();
    await page.locator('#link[open]').waitFor();
    const link = await page.locator('#link-text').inputValue();
    // In a browser that lets no page copy, it is marked for a person to do so.
    const marked = await page.evaluate(async () => {
      navigator.clipboard.writeText = () => Promise.reject(new DOMException('', 'NotAllowedError'));
      document.execCommand = () => false;
      document.getElementById('link-copy')!.click();
      await new Promise((resolve) => setTimeout(resolve));
      Reflect.deleteProperty(document, 'execCommand');
      const { value, selectionStart, selectionEnd } = document.getElementById(
        'link-text',
      ) as HTMLInputElement;
      return value.slice(selectionStart!, selectionEnd!);
    });
    await shows(page, '#link-note', 'does not let the page copy');
    expect(marked).toBe(link);
    await page.locator('#link-close').click();
    expect(link).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/#listing=[\w-]+$/);
    const other = await openPage(await bench().browser.newContext(), link);
    await shows(other.page, '.cm-content', '10 PRINT "▛▜ £"');
    expect(other.page.url()).toBe(bench().address);
    expect(other.asked.every((url) => !url.includes('listing='))).toBe(true);
    await other.page.context().close();
  });

  test('samples are opened by their names', async () => {
    await page.locator('#sample').focus();
    await page.locator('#sample option[value="bars"]').waitFor({ state: 'attached' });
    await page.locator('#sample').selectOption('bars');
    await shows(page, '.cm-content', 'BARS');
    await shows(page, '#verdict', /runs in 1K, \d+ bytes to spare/);
  });
});

describe('the machine', () => {
  test('runs, takes keys at INPUT and INKEY$, and its screen reads as text', async () => {
    const lines = [
      '10 PRINT "NAME?"',
      '20 INPUT N$',
      '30 PRINT "GOOD EVENING ";N$',
      '40 IF INKEY$<>"K" THEN GOTO 40',
      '50 PRINT "K IT IS"',
      '55 IF INKEY$<>"" THEN GOTO 55',
      '60 PAUSE 40000',
      '70 PRINT "BYE"',
      '80 GOTO 80',
    ];
    await write(page, lines.join('\n'));
    await shows(page, '#verdict', /run/);
    await page.locator('#screen-details summary').click();
    await page.locator('#run').click();
    await shows(page, '#report', 'Line 20 waits for a string');
    await page.keyboard.type('ada');
    await page.keyboard.press('Enter');
    await shows(page, '#screen-text', 'GOOD EVENING ADA');
    await page.keyboard.down('k');
    await shows(page, '#screen-text', 'K IT IS');
    await page.keyboard.up('k');
    await shows(page, '#report', 'PAUSE in line 60');
    await page.locator('[data-key="J"]').click({ delay: 120 });
    await shows(page, '#screen-text', 'BYE');
    await page.locator('#break').click();
    await shows(page, '#report', 'report D/80');
    expect(await screen()).toContain('D/80');
  });

  test('steps, marks the line that comes next, and runs to the cursor', async () => {
    await write(page, '10 LET A=1\n20 LET A=A+1\n30 PRINT A\n40 PAUSE 150\n50 GOTO 20\n');
    await page.locator('#step').click();
    await shows(page, '#report', 'Paused before line 20');
    await shows(page, '.line-running', '20 LET A=A+1');
    // The cursor stands behind the last line: it goes up to line 50.
    await page.locator('.cm-content').click();
    await page.keyboard.press('Control+End');
    await page.keyboard.press('ArrowUp');
    await page.locator('#here').click();
    await shows(page, '#report', 'Paused before line 50');
    expect(await screen()).toMatch(/^2/);
    // It goes on, is paused within the PAUSE, and is one step from its end.
    await page.locator('#pause').click();
    await shows(page, '#report', /^PAUSE in line 40/);
    await page.locator('#pause').click();
    await shows(page, '#report', 'Paused. PAUSE in line 40');
    await page.locator('#step').click();
    await shows(page, '#report', 'Paused before line 50');
  });

  test('the drawn keyboard holds SHIFT, and knows two keys at once as none', async () => {
    await write(page, '10 LET A$=INKEY$\n20 IF A$<>"" THEN PRINT AT 0,0;A$\n30 GOTO 10\n');
    await page.locator('#run').click();
    await page.locator('[data-key="SHIFT"]').click();
    expect(await page.locator('[data-key="SHIFT"]').getAttribute('aria-pressed')).toBe('true');
    await page.locator('[data-key="J"]').click({ delay: 300 });
    await shows(page, '#screen-text', /^-/);
    await page.locator('[data-key="Q"]').click({ delay: 300 });
    await shows(page, '#screen-text', /^Q/);
    await page.locator('[data-key="SPACE"]').click({ delay: 200 });
    await shows(page, '#report', /report D/);
  });

  test('takes several fingers: SHIFT held by one, keys by another', async () => {
    await write(page, '10 LET A$=INKEY$\n20 IF A$<>"" THEN PRINT A$;\n30 GOTO 10\n');
    await page.locator('#run').click();
    await page.evaluate(() =>
      document.getElementById('keys')!.scrollIntoView({ block: 'center', behavior: 'instant' }),
    );
    const session = await page.context().newCDPSession(page);
    const middleOf = async (key: string, id: number) => {
      const box = (await page.locator(`.keys [data-key="${key}"]`).boundingBox())!;
      return { x: box.x + box.width / 2, y: box.y + box.height / 2, id };
    };
    const touch = (
      type: 'touchStart' | 'touchEnd',
      touchPoints: { x: number; y: number; id: number }[],
    ) => session.send('Input.dispatchTouchEvent', { type, touchPoints });
    const down = (): Promise<(string | null)[]> =>
      page
        .locator('.keys .down')
        .evaluateAll((keys) => keys.map((key) => key.getAttribute('data-key')));
    const shift = await middleOf('SHIFT', 1);
    const j = await middleOf('J', 2);
    await touch('touchStart', [shift]);
    await touch('touchStart', [shift, j]);
    await shows(page, '#screen-text', /^-/);
    expect((await down()).sort()).toEqual(['J', 'SHIFT']);
    // The second finger goes up, the first holds on.
    await touch('touchEnd', [j]);
    expect(await down()).toEqual(['SHIFT']);
    const k = await middleOf('K', 3);
    await touch('touchStart', [shift, k]);
    await shows(page, '#screen-text', /^-+\+/);
    await touch('touchEnd', [shift, k]);
    expect(await down()).toEqual([]);
    await page.locator('#break').click();
  });

  test('asks no more of the page than its own files, and nothing went wrong', () => {
    expect(
      opened.asked.filter((url) => !url.startsWith(bench().address) && !url.startsWith('blob:')),
    ).toEqual([]);
    expect(opened.faults).toEqual([]);
  });
});
