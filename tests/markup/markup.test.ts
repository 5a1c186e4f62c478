/** Markup holds for any text: nothing that is shown can end an element or begin another. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { element, escapeMarkup, policyMeta } from '../../src/markup/markup.js';
import { svgFile, text } from '../../src/markup/svg.js';
import { visible } from '../../src/markup/visible.js';

const RUNS = process.env.FUZZ ? 20_000 : 300;
const SEED = 19;
const NAMES: Record<string, string> = {
  '&amp;': '&',
  '&lt;': '<',
  '&gt;': '>',
  '&quot;': '"',
  '&#39;': "'",
};
const read = (markup: string): string => markup.replace(/&[^;]+;/g, (name) => NAMES[name]);

describe('text in markup', () => {
  it('is read back as it was, and holds no sign of markup, for any characters that may stand', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (words) => {
        const markup = escapeMarkup(words);
        expect(markup).not.toMatch(/[<>"']|&(?!amp;|lt;|gt;|quot;|#39;)/);
        expect(read(markup)).toBe(visible(words));
      }),
      { numRuns: RUNS, seed: SEED },
    );
  });
  it('shows what no page may hold, and what turns its order, as codes', () => {
    expect(escapeMarkup('A\u001b[31mB\0\u202e<')).toBe('A[U+001B][31mB[U+0000][U+202E]&lt;');
    expect(escapeMarkup('\ud800C\udc00')).toBe('[U+D800]C[U+DC00]');
    expect(escapeMarkup('▚ 𝕏\tA\nB')).toBe('▚ 𝕏\tA\nB');
  });
});

describe('an element', () => {
  it('escapes its attributes, rounds its numbers and leaves out what is not there', () => {
    expect(element('rect', { x: 1 / 3, class: undefined, id: '"><script>' })).toBe(
      '<rect x="0.33" id="&quot;&gt;&lt;script&gt;"/>',
    );
    expect(element('g', {}, text(1, 2, '<A>'))).toBe('<g><text x="1" y="2">&lt;A&gt;</text></g>');
  });
});

describe('the policy', () => {
  it('lets nothing be fetched, and no script run but those that are named', () => {
    expect(policyMeta()).toContain("default-src 'none'");
    expect(policyMeta()).not.toContain('script-src');
    expect(policyMeta(['sha256-AA='])).toContain("script-src 'sha256-AA='");
  });
  it('stands in the head of every picture', () => {
    const picture = svgFile({ width: 10, height: 10, title: '</title><script>' }, []);
    expect(picture).toContain(`<head xmlns="http://www.w3.org/1999/xhtml">${policyMeta()}</head>`);
    expect(picture).not.toContain('<script>');
  });
});
