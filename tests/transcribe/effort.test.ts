import { describe, expect, it, vi } from 'vitest';
import * as parsing from '../../src/transcribe/readings/parsing.js';
import { transcribe } from '../../src/transcribe/transcribe.js';

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
    const line = `10 ${piece.repeat(6000 / piece.length)}\n`;
    const { characters, notes } = measured(line);
    expect(characters).toBeGreaterThan(0);
    expect(characters).toBeLessThan(4_000_000);
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

it('says what was left undone', () => {
  const { remarks } = transcribe(`10 ${'IFA1=lO'.repeat(3400)}\n`);
  expect(remarks.at(-1)).toMatch(/more to try than can be tried/);
});
