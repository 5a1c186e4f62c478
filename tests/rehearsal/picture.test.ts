import { describe, expect, test } from 'vitest';
import { codesOf } from '../../src/rehearsal/state/output.js';
import { screenPicture } from '../../src/rehearsal/telling/picture.js';

describe('the picture of a screen', () => {
  test('lights the dots of its cells, and no others', () => {
    const svg = screenPicture([Uint8Array.of(0, 128)], 'TITLE');
    const path = / d="([^"]*)"/.exec(svg)![1];
    expect(path).toBe(Array.from({ length: 8 }, (_, row) => `M8 ${row}h8v1h-8z`).join(''));
  });

  test('holds its text for readers that read, with signs made safe', () => {
    const svg = screenPicture([codesOf('A<B')], 'LAMP & OAK');
    expect(svg).toContain('<desc>A&lt;B</desc>');
    expect(svg).toContain('<title>LAMP &amp; OAK</title>');
  });
});
