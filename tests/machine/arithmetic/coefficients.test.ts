import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const room = new URL('../../../src/machine/arithmetic/', import.meta.url);

/** Without the layout, which is the formatter's. */
const plain = (text: string): string => text.replace(/,?\s+/g, '');

test('the coefficients are those that the script works out', () => {
  const script = fileURLToPath(new URL('work-out-coefficients.mjs', room));
  const written = readFileSync(new URL('coefficients.ts', room), 'utf8');
  const printed = execFileSync(process.execPath, [script, '--print'], { encoding: 'utf8' });
  expect(plain(printed)).toBe(plain(written));
});
