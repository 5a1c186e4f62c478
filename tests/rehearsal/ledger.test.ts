import { describe, expect, test } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { ledgerChart, namedPeaks } from '../../src/rehearsal/telling/ledger-chart.js';
import { measure } from '../../src/rehearsal/telling/measured.js';
import { play } from './play.js';

describe('the ledger', () => {
  test('has an entry for every statement of a short program', () => {
    const { ledger } = play(['LET A=1', 'LET B=2', 'DIM C(5)', 'CLEAR']);
    expect(ledger.map(({ line }) => line)).toEqual([10, 20, 30, 40]);
    const spares = ledger.map(({ spare }) => spare);
    expect(spares[1]).toBe(spares[0] - 6);
    expect(spares[2]).toBe(spares[1] - 31 + 5);
    expect(spares[3]).toBe(spares[2]);
    expect(ledger[2].sizes).toMatchObject({ variables: 6 + 6 + 31 + 1, workspace: 0 });
  });

  test('stays short, and keeps the fullest moment, however long the program runs', () => {
    const { ledger, peak, statements } = play([
      'FOR N=1 TO 20000',
      'LET A$="X"',
      'IF N=7777 THEN LET A$="LONGER THAN ALL THE OTHERS"',
      'NEXT N',
    ]);
    expect(statements).toBe(60001);
    expect(ledger.length).toBeLessThanOrEqual(1024);
    expect(ledger.at(-1)!.statements).toBe(statements);
    const least = Math.min(...ledger.map(({ spare }) => spare));
    expect(least).toBe(peak.spare);
    expect(ledger.find(({ spare }) => spare === least)!.line).toBe(40);
    expect(peak.variables.map(({ name }) => name)).toContain('A$');
    const ends = ledger.map((entry) => entry.statements);
    expect([...ends].sort((a, b) => a - b)).toEqual(ends);
  });

  test('sees what is asked for and not granted', () => {
    const { peak } = play(['DIM A(1000)']);
    expect(peak.spare).toBeLessThan(0);
    expect(peak.bytes).toBe(1024 - peak.spare);
  });
});

describe('its chart', () => {
  const { ledger } = play(['DIM A(20)', 'CLEAR', 'PRINT "X"', 'GOSUB 60', 'STOP', 'RETURN']);

  test('stacks the areas that are there and names peaks by their lines', () => {
    const svg = ledgerChart(ledger, 1024, 'A <chart> & more');
    expect(svg).toContain('A &lt;chart&gt; &amp; more');
    for (const area of ['program', 'display', 'variables', 'GOSUB stack', 'kept by the ROM']) {
      expect(svg).toContain(`>${area}<`);
    }
    expect(svg).toMatch(/>line 10: \d+ left</);
    expect(svg).not.toContain('NaN');
  });

  test('names the fullest peak first, and none near another', () => {
    const peaks = namedPeaks(ledger, (a, b) => Math.abs(a.statements - b.statements) < 2);
    expect(peaks[0].line).toBe(10);
    expect(peaks.length).toBeGreaterThan(0);
    expect(namedPeaks(ledger, () => true)).toHaveLength(1);
  });

  test('of a program without lines has nothing to stack and is still a picture', () => {
    expect(ledgerChart(play("' nothing").ledger, 1024, 'NOTHING')).toMatch(
      /^<svg[\s\S]*<\/svg>\n$/,
    );
  });
});

describe('what was measured', () => {
  test('is given by area and by variable', () => {
    const { listing } = readListing(
      '10 LET A$="OAK TREE"\n20 LET A$="X"\n30 GOSUB 60\n40 PRINT "HELLO"\n50 STOP\n60 RETURN',
    );
    const measured = measure(listing);
    expect(measured.outcome).toBe('stopped');
    expect(measured.unrun).toEqual([]);
    expect(measured.variables.get('A$')).toEqual({ name: 'A$', kind: 'string', bytes: 11 });
    expect(measured.largest).toMatchObject({
      display: 30,
      'GOSUB stack': 2,
      'system variables': 125,
    });
    expect(measured.largest.variables).toBe(11 + 4 + 1);
    const { areas, spare } = measured.peak;
    expect(Object.values(areas).reduce((sum, bytes) => sum + bytes)).toBe(1024 - spare);
  });
});
