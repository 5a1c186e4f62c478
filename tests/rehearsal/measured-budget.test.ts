import { expect, it } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { budgetOf } from '../../src/memory/budget.js';
import { measure } from '../../src/rehearsal/telling/measured.js';
import { measuredBudget } from '../../src/rehearsal/telling/measured-budget.js';

it('replaces bounds that the run decides by what the run needed', () => {
  // The string grows to 20 characters as long as no key is down, which no look at the listing tells.
  const { listing } = readListing(
    '10 LET A$=""\n20 LET A$=A$+"X"\n30 IF LEN A$<20 OR PEEK 16421<255 THEN GOTO 20\n40 STOP\n',
  );
  const bounds = budgetOf(listing, { ram: 1024 });
  const measured = measuredBudget(bounds, measure(listing, { ram: 1024 }));
  const of = (budget: typeof bounds, name: string) =>
    budget.areas.find(({ area }) => area === name)!;
  expect(of(bounds, 'variables').high).toBeGreaterThan(23);
  // The machine stores the new string (3 + 20) before it gives up the old one (3 + 19).
  expect(of(measured, 'variables')).toMatchObject({ low: 45, high: 45 });
  expect(measured.runs.verdict).toBe('fits');
  expect(measured.runs.low).toBeGreaterThanOrEqual(bounds.runs.low);
  expect(measured.loads).toEqual(bounds.loads);
});

it('counts the byte that ends the variables once', () => {
  const { listing } = readListing('10 LET A=1\n');
  const measured = measuredBudget(
    budgetOf(listing, { ram: 1024 }),
    measure(listing, { ram: 1024 }),
  );
  const bytes = (name: string) => measured.areas.find(({ area }) => area === name)!.low;
  expect([bytes('variables'), bytes('end byte')]).toEqual([6, 1]);
});

it('has one figure of a run that needed less than loading did', () => {
  // Nobody answers: the string that would have been larger than all that loading takes never comes.
  const { listing } = readListing('10 PRINT "NAME"\n20 INPUT A$\n30 PRINT A$\n');
  const bounds = budgetOf(listing, { ram: 1024 });
  const measured = measuredBudget(bounds, measure(listing, { ram: 1024 }));
  expect(measured.loads).toEqual(bounds.loads);
  expect(measured.runs.high).toBe(bounds.loads.high);
  expect(measured.verdict.spare.worst).toBe(measured.runs.spare);
});
