/** Verdicts that the bounds leave open, settled by a short rehearsal. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analyse } from '../../src/analysis/program.js';
import { readListing } from '../../src/listing/read.js';
import { budgetOf } from '../../src/memory/budget.js';
import { verdictText } from '../../src/memory/verdict.js';
import { rehearse } from '../../src/rehearsal/run.js';
import { differenceOf, settledVerdict } from '../../src/rehearsal/telling/settle.js';

const programOf = (text: string) => analyse(readListing(text.replaceAll('|', '\n')).listing);
const settled = (text: string, ram = 1024) => {
  const { listing } = readListing(text.replaceAll('|', '\n'));
  return settledVerdict(listing, budgetOf(listing, { ram }));
};

describe('a program', () => {
  it.each([
    '10 LET A$=""|20 LET A$=A$+"X"|30 IF LEN A$<20 THEN GOTO 20',
    '10 PRINT VAL "5"',
    '10 STOP|20 INPUT A',
    '10 PAUSE 50',
  ])('runs alike each time: %s', (text) => {
    expect(differenceOf(programOf(text))).toBe('none');
  });
  it.each([
    '10 INPUT A',
    '10 IF INKEY$="" THEN GOTO 10',
    '10 PRINT VAL "[RND]"',
    '10 LET A$="1"|20 PRINT VAL A$',
    '10 PRINT PEEK 16436',
    '10 LET A=USR 16514',
    '10 SAVE "A"',
  ])('may run otherwise the next time: %s', (text) => {
    expect(differenceOf(programOf(text))).toBe('anything');
  });
  it.each(['10 PRINT RND', '10 RAND'])('differs by the lots that it draws: %s', (text) => {
    expect(differenceOf(programOf(text))).toBe('lots');
  });
});

describe('a verdict', () => {
  /** How often it goes round hangs on a function that no bound follows. */
  const grow = (turns: number) =>
    `10 LET A$=""|15 LET N=0|20 LET A$=A$+"LANTERN LOFT LANTERN LOFT LANTERN LOFT"|25 LET N=N+1|30 IF TAN (N/${turns})<.9 THEN GOTO 20|40 STOP`;

  it('names a seed with which a rehearsal runs out of room', () => {
    const text = `10 REM ${'Z'.repeat(405)}|20 FOR I=1 TO 24|30 PRINT AT INT (RND*22),INT (RND*32);"*"|40 NEXT I`;
    const verdict = settled(text);
    const seed = 'fillingSeed' in verdict.basis ? verdict.basis.fillingSeed : undefined;
    expect(verdictText(verdict)).toMatch(`; with ${seed} in SEED it runs out of room`);
    const { listing } = readListing(text.replaceAll('|', '\n'));
    expect(rehearse(listing, { ram: 1024, seed }).end).toMatchObject({ code: '4' });
  });

  it('is settled by a rehearsal to the end', () => {
    expect(settled(grow(4))).toMatchObject({
      kind: 'runs',
      basis: { on: 'rehearsal', whole: true, line: 40, alike: true },
    });
  });
  it('is settled by report 4', () => {
    expect(settled(grow(200))).toMatchObject({
      kind: 'does not run',
      basis: { on: 'rehearsal', whole: false, line: 20 },
    });
  });
  it('stays open where the end is not seen, or a person is needed', () => {
    const loop = '10 LET A$="A"|20 LET A$=A$+"X"|25 IF LEN A$>30 THEN LET A$="B"|40 GOTO 20';
    expect(settled(loop)).toMatchObject({ kind: 'may run', basis: { on: 'bounds' } });
    const asks = '10 LET A$=""|20 INPUT B$|30 LET A$=A$+B$|40 IF B$<>"" THEN GOTO 20';
    expect(settled(asks)).toMatchObject({ kind: 'may run', basis: { on: 'bounds' } });
  });
  const lots =
    '10 LET A$=""|20 LET A$=A$+CHR$ (38+INT (RND*26))|30 IF TAN (LEN A$/40)<.7 THEN GOTO 20|40 IF RND<.5 THEN LET A$=A$+"OAK"|50 PRINT A$';
  it('is settled by many rehearsals where lots are drawn', () => {
    expect(settled(lots)).toMatchObject({
      kind: 'runs',
      basis: { on: 'rehearsal', whole: true, seeds: 64, alike: false },
    });
    expect(verdictText(settled(lots))).toMatch(/to spare, as rehearsed with 64 seeds of RND$/);
  });
  it('stays open where lots may well need more, or leave a line that was never run', () => {
    const rest = `5 REM ${'X'.repeat(1024 - 11 - settled(lots).needed.high)}|`;
    expect(settled(rest + lots)).toMatchObject({ kind: 'may run', basis: { on: 'bounds' } });
    const seldom = `${lots}|60 IF RND*RND*RND<.0001 THEN DIM B(90)`;
    expect(settled(seldom)).toMatchObject({ kind: 'may run', basis: { on: 'bounds' } });
  });
  it('rests on the bounds where they are enough', () => {
    expect(settled('10 PRINT "OAK"')).toMatchObject({ kind: 'runs', basis: { on: 'bounds' } });
  });
});

/** Programs whose bounds are open and whose runs end: strings that grow, arrays as long as these. */
const growing = fc
  .record({
    piece: fc.constantFrom('X', 'OAK', 'LANTERN LOFT '),
    times: fc.integer({ min: 1, max: 60 }),
    array: fc.boolean(),
    shown: fc.boolean(),
    rest: fc.integer({ min: 0, max: 300 }),
  })
  .map(({ piece, times, array, shown, rest }) =>
    [
      '10 LET A$=""',
      '20 LET N=0',
      `30 LET A$=A$+"${piece}"`,
      shown ? '40 PRINT A$' : '40 CLS',
      '50 LET N=N+1',
      `60 IF TAN (N/${times})<.9 THEN GOTO 30`,
      array ? '70 DIM B(LEN A$)' : '70 LET B=LEN A$',
      `80 REM ${'X'.repeat(rest)}`,
      '90 STOP',
    ].join('|'),
  );

it('says of programs that grow what a run of them shows', () => {
  const kinds = new Map<string, number>();
  fc.assert(
    fc.property(growing, (text) => {
      const verdict = settled(text);
      const { listing } = readListing(text.replaceAll('|', '\n'));
      const { end, peak } = rehearse(listing, { ram: 1024 });
      const kind = `${verdict.kind} by ${verdict.basis.on}`;
      kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
      if (verdict.kind === 'runs') expect(end.code, text).not.toBe('4');
      if (verdict.kind === 'does not run') expect(end.code, text).toBe('4');
      if (verdict.basis.on === 'rehearsal') expect(verdict.spare.worst).toBe(peak.spare);
      // Only what the machine stack takes is not known by a run.
      if (verdict.kind === 'may run' && end.code === '4') expect(peak.spare).toBeGreaterThan(-12);
    }),
    { numRuns: process.env.FUZZ ? 20_000 : 100, seed: 3 },
  );
  expect(kinds.get('runs by rehearsal')).toBeGreaterThan(10);
  expect(kinds.get('does not run by rehearsal')).toBeGreaterThan(10);
});
