import { describe, expect, test } from 'vitest';
import { drawnRows, rowsOfRehearsal } from '../../src/draw/characters.js';
import { readListing } from '../../src/listing/read.js';
import { rehearse } from '../../src/rehearsal/run.js';
import { rehearsalJson } from '../../src/rehearsal/telling/show.js';

describe('rows of characters', () => {
  test('in the notation of listings', () => {
    const { cells, diagnostics } = drawnRows('▛▀\nA[~B]C\n');
    expect(diagnostics).toEqual([]);
    expect(cells!.map((row) => [...row])).toEqual([
      [7, 3, 0],
      [38, 167, 40],
    ]);
  });

  test('# is a block, which the machine does not have', () => {
    const { blocks } = drawnRows('#..#\n.##\n');
    expect(blocks).toMatchObject({ width: 4, height: 2 });
    expect([...blocks!.dark]).toEqual([1, 0, 0, 1, 0, 1, 1, 0]);
  });

  test.each([
    ['what is not on the machine', 'AB\nC!D\n', 4, 'no character'],
    ['a row that is too long', `A\n${'B'.repeat(33)}\n`, 2, '33 characters'],
    ['too many rows', 'A\n'.repeat(25), 48, 'more rows'],
    ['too many blocks', `#\n${'#'.repeat(65)}\n`, 2, '65 blocks'],
    ['a row that ends a display', 'A\n.end\nB\n', 2, 'end the display'],
  ])('%s has its place', (_, text, start, message) => {
    const { cells, blocks, diagnostics } = drawnRows(text);
    expect(cells ?? blocks).toBeUndefined();
    expect(diagnostics).toHaveLength(1);
    expect(diagnostics[0].message).toContain(message);
    expect(diagnostics[0].start).toBe(start);
  });
});

test('the screen that a rehearsal gave', () => {
  const { listing } = readListing('10 PRINT AT 2,3;"LOFT ▞ [~Q]"\n');
  const rehearsal = rehearse(listing);
  const text = rowsOfRehearsal(JSON.stringify(rehearsalJson(rehearsal)));
  const { cells } = drawnRows(text!);
  expect([...cells![2]].slice(0, 11)).toEqual([...rehearsal.screen[2]].slice(0, 11));
  expect(rowsOfRehearsal('{"screen": 3}')).toBeUndefined();
  expect(rowsOfRehearsal('{')).toBeUndefined();
  expect(rowsOfRehearsal('AB')).toBeUndefined();
});
