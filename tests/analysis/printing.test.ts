/** Where PRINT goes on and how wide rows become, held against the rehearsal's screen. */
import { expect, it } from 'vitest';
import { courseOf } from '../../src/analysis/course/course.js';
import { fullestOf } from '../../src/analysis/course/fullest.js';
import { analyse } from '../../src/analysis/program.js';
import { readListing } from '../../src/listing/read.js';
import { clearDisplaySize, REPORT_SIZE } from '../../src/machine/memory-map.js';
import { rehearse } from '../../src/rehearsal/run.js';
import { measuredOf } from '../../src/rehearsal/telling/measured.js';

const RAM = 3300;

/** Bytes on the display beyond a clear one, by the bounds and in a rehearsal, when an array fills the rest. */
function both(text: string): [number, number] {
  const { listing } = readListing(`${text}|9000 DIM Z(99)`.replaceAll('|', '\n'));
  const course = courseOf(analyse(listing).flow, 1);
  if (!('sizes' in course)) throw new Error(course.undone.why);
  const { peak } = measuredOf(rehearse(listing, { ram: RAM }));
  return [
    fullestOf(course.together).areas.display - REPORT_SIZE,
    peak.areas.display - clearDisplaySize(RAM),
  ];
}

const text = (length: number): string => `"${'OAK'.repeat(11).slice(0, length)}"`;

it('follow a comma: to the middle, or to the end, from where a new row is one row down', () => {
  for (const length of [1, 14, 15, 16, 17, 30, 31, 32]) {
    for (const after of ['"X"', '"X",', ',"X"', ',,"X"', '']) {
      const [bound, found] = both(`10 PRINT ${text(length)},${after}|20 PRINT|30 PRINT "ASH"`);
      expect(bound, `${length}, then ${after}`).toBe(found);
    }
  }
});

it('follow TAB: further on in the row, or to the same column of the next', () => {
  for (const length of [1, 9, 10, 11, 31, 32]) {
    for (const column of [0, 9, 10, 31, 32, 42]) {
      for (const after of ['', '"X"', ';']) {
        const [bound, found] = both(
          `10 PRINT ${text(length)};TAB ${column};${after}|20 PRINT "ASH"`,
        );
        expect(bound, `${length}, TAB ${column}, ${after}`).toBe(found);
      }
    }
  }
});

it('follow a text over the ends of rows', () => {
  for (const length of [31, 32, 33]) {
    for (const after of ['|20 PRINT "ASH"', ';|20 PRINT "ASH"', ';""|20 PRINT "ASH"']) {
      const [bound, found] = both(`10 PRINT ${text(length)}${after}`);
      expect(bound, `${length}${after}`).toBe(found);
    }
  }
});
