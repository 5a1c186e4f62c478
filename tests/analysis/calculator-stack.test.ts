/** The need of calculator stack: counted along the ROM's routines, and the same in budget and rehearsal. */
import { expect, test } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { budgetOf } from '../../src/memory/budget.js';
import { measure } from '../../src/rehearsal/telling/measured.js';

test.each([
  ['LET X=1', 1],
  ['LET X=1+2*3', 3],
  ['LET X=INT 1.5', 2],
  ['LET X=SIN 1', 4],
  ['LET X=LN 2', 5],
  // The functions follow one another: the second works where the first has left its value.
  ['LET X=SIN COS 1', 4],
  ['LET X=1+SIN 1', 5],
  // SQR is LN with the power .5 below it, and ASN has its number below a SQR.
  ['LET X=SQR 2', 6],
  ['LET X=ASN .5', 7],
  ['LET X=2**3', 6],
  ['LET X=1+2**3', 7],
  ['LET X=RND', 3],
  ['LET A$=STR$ 7', 5],
  ['PRINT 1', 5],
  ['PRINT "A"', 1],
  ['PLOT 1,2', 2],
  ['FOR I=1 TO 2', 3],
])('%s holds %i values', (statement, values) => {
  const { listing } = readListing(`.ram 16K\n10 ${statement}\n`);
  const area = budgetOf(listing).areas.find((one) => one.area === 'calculator stack');
  expect(area?.high).toBe(5 * values);
  expect(measure(listing).largest['calculator stack']).toBe(5 * values);
});
