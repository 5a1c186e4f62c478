import { describe, expect, it, vi } from 'vitest';
import { repairStanding } from '../../src/transcribe/passes/repair.js';
import * as parsing from '../../src/transcribe/readings/parsing.js';
import { transcribe } from '../../src/transcribe/transcribe.js';
import { Work } from '../../src/transcribe/work.js';

/** What is made of a text, and how many characters were parsed for it. */
function measured(text: string) {
  let characters = 0;
  const { parseText } = parsing;
  const spy = vi.spyOn(parsing, 'parseText').mockImplementation((part) => {
    characters += part.length;
    return parseText(part);
  });
  const result = transcribe(text);
  spy.mockRestore();
  return { ...result, characters };
}

const KINDS: [string, string][] = [
  ['operators', '+-*/'],
  ['commas', ','],
  ['brackets', '('],
  ['minus signs', '-'],
  ['keywords', 'PRINT '],
  ['strings without an end', '"A'],
  ['a name', 'A'],
  ['marks that cannot be read', 'é'],
  ['look-alikes', 'IFA1=lO'],
];

describe('a line that is no statement', () => {
  it.each(KINDS)('of %s is given up within an effort that follows from its size', (_, piece) => {
    const line = `10 ${piece.repeat(3000 / piece.length)}\n`;
    const { characters, notes } = measured(line);
    expect(characters).toBeGreaterThan(0);
    expect(characters).toBeLessThan(2_000_000);
    expect(notes.some(({ made }) => !made)).toBe(true);
  });

  it.each(KINDS)('of nearly a million characters, %s, is asked about unread', (_, piece) => {
    const line = `10 ${piece.repeat(900_000 / piece.length)}\n`;
    const { notes, text } = transcribe(`${line}20 PR1NT 1\n`);
    const [asked] = notes.filter(({ made }) => !made);
    expect(asked.why).toContain('more characters than the largest RAM has bytes');
    expect(text.endsWith('20 PRINT 1\n')).toBe(true);
    expect(measured(line).characters).toBeLessThan(1000);
  });
});

describe('a page of nonsense', () => {
  const SIGNS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 ,;:()+-*/=<>"$.O0I1lS5';
  const nonsense = (lines: number): string =>
    Array.from({ length: lines }, (_, line) => {
      const signs = Array.from({ length: 30 }, (_, at) => SIGNS[((line + 7) * (at + 3) ** 2) % 59]);
      return `${line + 1} ${signs.join('')}\n`;
    }).join('');

  it('takes an effort in proportion to its lines', () => {
    const [few, many] = [20, 40].map((lines) => measured(nonsense(lines)).characters);
    expect(many / few).toBeGreaterThan(1);
    expect(many / few).toBeLessThan(2.5);
  });

  it('leaves lines as they stand, and knows which, where nothing more may be tried', () => {
    const work = new Work('10 PR1NT 1\n20 PRINT 2\n', 0.9, () => {});
    work.effort.take(Number.POSITIVE_INFINITY);
    repairStanding(work);
    expect(work.asPrinted).toEqual([10, 20]);
    expect(work.lines.map(({ body }) => body.text)).toEqual(['PR1NT 1', 'PRINT 2']);
  });
});

it('says what was left undone', () => {
  const { remarks } = transcribe(`10 ${'IFA1=lO'.repeat(3400)}\n`);
  expect(remarks.at(-1)).toMatch(/more to try than can be tried/);
});
