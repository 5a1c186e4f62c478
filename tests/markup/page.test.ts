/** Pages hold for any text, and their policy names the script that stands in them. */
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { keySheet } from '../../src/keys/sheet.js';
import { readListing } from '../../src/listing/read.js';
import { reportPage } from '../../src/transcribe/report.js';
import { transcribe } from '../../src/transcribe/transcribe.js';

const HOSTILE = '</title><script>alert(1)</script>"\'\u202e\u001b';
const PRINT = `10 REM ${HOSTILE}\n20 PR1NT "${HOSTILE}\n' ${HOSTILE}\n`;

const sheet = (): string => {
  const { listing } = readListing('10 PRINT "<B>&"\n20 GOTO 10\n');
  return keySheet(listing, { name: HOSTILE });
};

describe.each([
  ['the keys to press', sheet],
  [
    'the report on a transcription',
    () => [...reportPage(transcribe(PRINT), { name: HOSTILE, source: PRINT })].join(''),
  ],
])('%s', (_, page) => {
  it('runs its own script and no other', () => {
    const html = page();
    const scripts = [...html.matchAll(/<script[^>]*>([\s\S]*?)<\/script>/g)].map(
      ([, text]) => text,
    );
    expect(scripts).toHaveLength(1);
    const hash = createHash('sha256').update(scripts[0]).digest('base64');
    const policy = /<meta http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(html)![1];
    expect(policy).toContain(`script-src 'sha256-${hash}'`);
    expect(policy).toContain("default-src 'none'");
    expect(html.indexOf('Content-Security-Policy')).toBeLessThan(html.indexOf('<style>'));
  });
  it('shows what steers a terminal or turns the order of reading as codes', () => {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what it is about
    expect(page()).not.toMatch(/[\0-\x08\x0b-\x1f\u202a-\u202e]/);
  });
});
