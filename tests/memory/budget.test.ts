/** The budget: what each area holds, its bounds, and the line that causes them. */
import { describe, expect, it } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import type { AreaName } from '../../src/machine/memory-map.js';
import { budgetJson, budgetOf } from '../../src/memory/budget.js';

function budget(text: string, ram = 1024) {
  const { listing, diagnostics } = readListing(text.replaceAll('|', '\n'));
  expect(diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  return budgetOf(listing, { ram });
}

const area = (text: string, name: AreaName, ram?: number) =>
  budget(text, ram).areas.find((one) => one.area === name)!;
const variable = (text: string, name: string) =>
  budget(text).variables.find((one) => one.name === name)!;

describe('areas', () => {
  it('add up to what the run needs', () => {
    const { areas, runs } = budget('10 INPUT A$|20 PRINT A$;SIN 5|30 GOSUB 10');
    expect(areas.reduce((sum, { low }) => sum + low, 0)).toBe(runs.low);
    expect(areas.reduce((sum, { high }) => sum + high, 0)).toBe(runs.high);
  });

  it('the program is the sum of its lines, and of bytes that no line can express', () => {
    const { areas, lines } = budget('10 LET A=5|20 PRINT A');
    expect(areas[1].low).toBe(lines.reduce((sum, { bytes }) => sum + bytes, 0));
    expect(area('10 CLS|.raw 40 01 05', 'program').low).toBe(6 + 3);
  });

  it('follow one another without a gap, and the stacks end at the top of the RAM', () => {
    const { areas, ram } = budget('10 LET A=5|20 GOSUB 20');
    const low = areas.filter(({ area }) => !/stack|ROM/.test(area));
    for (let at = 1; at < low.length; at++) {
      expect(low[at].start).toBe(low[at - 1].start + low[at - 1].low);
    }
    const nested = budget('10 GOSUB 20|20 RETURN').areas.at(-1)!;
    expect(nested.start + nested.high).toBe(16384 + ram);
  });
});

describe('variables', () => {
  it('of every run are certain, others may be there', () => {
    expect(variable('10 LET A=5', 'A')).toMatchObject({ low: 6, high: 6, line: 10 });
    expect(variable('10 IF RND>.5 THEN LET A=5', 'A')).toMatchObject({ low: 0, high: 6 });
    const skipped = '10 IF RND>.5 THEN GOTO 30|20 LET A=5|30 LET B=5';
    expect(variable(skipped, 'A').low).toBe(0);
    expect(variable(skipped, 'B').low).toBe(6);
  });

  it('a number that also counts a loop takes 18 bytes', () => {
    expect(variable('10 LET I=5|20 FOR I=1 TO 2|30 NEXT I', 'I')).toMatchObject({
      low: 18,
      high: 18,
    });
  });

  it('a string takes its longest known content, with the line that gives it', () => {
    const found = variable('10 LET A$="OAK"|20 IF RND>.5 THEN LET A$="CHESTNUT"', 'A$');
    expect(found).toMatchObject({ low: 6, high: 11, line: 20 });
  });

  it('follows strings through copies, slices and joins', () => {
    expect(variable('10 LET A$="OAK"|20 LET B$=A$+A$', 'B$')).toMatchObject({ low: 9, high: 9 });
    expect(variable('10 LET A$="OAKS"(2 TO 3)', 'A$')).toMatchObject({ low: 5, high: 5 });
    expect(variable('10 LET A$=CHR$ 5', 'A$')).toMatchObject({ low: 4, high: 4 });
    expect(variable('10 LET A$=STR$ RND', 'A$').high).toBe(3 + 13);
    expect(variable('10 LET A$="OAK" AND RND>.5', 'A$')).toMatchObject({ low: 3, high: 6 });
  });

  it('says why the size hangs on the run', () => {
    expect(variable('10 INPUT A$', 'A$')).toMatchObject({ low: 3, high: 35, line: 10 });
    expect(variable('10 INPUT A$', 'A$').why).toMatch(/INPUT/);
    const growing = variable('10 LET A$=""|20 LET A$=A$+"X"|30 GOTO 20', 'A$');
    expect(growing).toMatchObject({ low: 3, high: Infinity, line: 20 });
    expect(growing.why).toMatch(/bounds/);
    const computed = variable('10 INPUT N|20 DIM A(N)', 'A()');
    expect(computed).toMatchObject({ high: Infinity, line: 20 });
    expect(variable('10 LET N=4|20 DIM A(N)', 'A()')).toMatchObject({ low: 26, high: 26 });
  });

  it('saved with the program are kept where it runs itself, and perhaps cleared where not', () => {
    expect(variable('.var A = 5|10 CLS', 'A')).toMatchObject({ low: 0, high: 6 });
    expect(variable('.var A = 5|.start 10|10 CLS', 'A')).toMatchObject({ low: 6, high: 6 });
  });

  it('that CLEAR throws away are not certain', () => {
    expect(area('10 LET A=5|20 CLEAR', 'variables')).toMatchObject({ low: 0, high: 6 });
  });
});

describe('the display below 3¼K', () => {
  it('is bounded by where the prints stand', () => {
    expect(area('10 PRINT AT 3,4;"OAK"|20 PRINT AT 3,0;"A"', 'display')).toMatchObject({
      low: 25 + 7,
      high: 25 + 7 + 6,
    });
  });

  it('of a print in a loop is bounded by its width on every row', () => {
    const found = area('10 FOR I=1 TO 15|20 PRINT I|30 NEXT I', 'display');
    expect(found.high).toBe(25 + 22 * 2 + 6);
    expect(found.line).toBe(20);
  });

  it('can grow on any row above where SCROLL leads on', () => {
    expect(area('10 SCROLL|20 PRINT "OAK"|30 GOTO 10', 'display').high).toBe(25 + 22 * 3 + 6);
  });

  it('is not certain where it is cleared again', () => {
    expect(area('10 PRINT "OAK"|20 CLS', 'display').low).toBe(25);
  });

  it('grows by what is plotted', () => {
    expect(area('10 PLOT 9,43', 'display')).toMatchObject({ low: 25 + 5, high: 25 + 5 + 6 });
  });

  it('is full from 3¼K on, whatever is printed', () => {
    expect(area('10 LIST', 'display', 4096)).toMatchObject({ low: 793, high: 793 });
  });
});

describe('stacks and workspace', () => {
  it('GOSUBs count by how deep they stand in one another', () => {
    expect(area('10 CLS', 'GOSUB stack').high).toBe(0);
    expect(area('10 GOSUB 30|20 GOSUB 30|25 STOP|30 RETURN', 'GOSUB stack').high).toBe(2);
    const recursive = area('10 GOSUB 20|20 GOSUB 20|30 RETURN', 'GOSUB stack');
    expect(recursive).toMatchObject({ high: Infinity, line: 20 });
  });

  it('a subroutine that is left by GOTO and called again has no bound', () => {
    expect(area('10 GOSUB 30|20 STOP|30 GOTO 10', 'GOSUB stack').high).toBe(Infinity);
  });

  it('a GOSUB to a computed line counts as any', () => {
    expect(area('10 INPUT A|20 GOSUB A|30 STOP|40 RETURN', 'GOSUB stack').high).toBe(Infinity);
    expect(area('10 LET A=40|20 GOSUB A|30 STOP|40 RETURN', 'GOSUB stack').high).toBe(2);
  });

  it('the calculator stack counts the values of the deepest expression', () => {
    expect(area('10 LET A=1', 'calculator stack').high).toBe(5);
    expect(area('10 LET A=1+2*3', 'calculator stack').high).toBe(15);
    expect(area('10 FOR I=1 TO 2 STEP 3|20 NEXT I', 'calculator stack').high).toBe(15);
  });

  it('the workspace counts strings that are being made', () => {
    expect(area('10 PRINT "OAK"', 'workspace').high).toBe(0);
    // The joined text, then its copy as a variable.
    expect(area('10 LET A$="OAK"+"ELM"', 'workspace')).toMatchObject({ high: 6 + 3 + 6, line: 10 });
    expect(area('10 PRINT VAL "5"', 'workspace').high).toBe(2 + 6);
  });
});

describe('verdicts', () => {
  it('name what is over', () => {
    const { loads, runs } = budget(`10 REM ${'X'.repeat(2000)}`);
    expect(loads.verdict).toBe('does not fit');
    expect(runs.verdict).toBe('does not fit');
    expect(runs.spare).toBe(1024 - runs.low);
  });

  it('are tight where the bounds straddle the RAM', () => {
    const { runs, loads } = budget('10 LET A$=""|20 LET A$=A$+"X"|30 GOTO 20');
    expect(loads.verdict).toBe('fits');
    expect(runs.verdict).toBe('tight');
  });

  it('hold in a larger RAM if they hold in a smaller', () => {
    expect(budget('10 CLS', 2048).runs.verdict).toBe('fits');
  });
});

describe('as JSON', () => {
  it('has just the fields of its description, and numbers alone', () => {
    const json = budgetJson(budget('10 LET A$=""|20 LET A$=A$+"X"|30 GOTO 20'));
    expect(Object.keys(json)).toEqual([
      'ram',
      'image',
      'areas',
      'lines',
      'variables',
      'loads',
      'runs',
      'verdict',
    ]);
    expect(Object.keys(json.areas[0])).toEqual(['area', 'start', 'low', 'high']);
    expect(Object.keys(json.lines[0])).toEqual(['number', 'bytes', 'hidden']);
    expect(Object.keys(json.variables[0])).toEqual(['name', 'low', 'high', 'line']);
    expect(Object.keys(json.runs)).toEqual(['verdict', 'needed', 'spare']);
    expect(json.variables[0].high).toBe(1024);
    expect(json.runs.needed.high).toBe(null);
    expect(json.verdict).toEqual({
      is: 'may run',
      ram: 1024,
      needed: { low: json.runs.needed.low, high: null },
      spare: { worst: null, best: 1024 - json.runs.needed.low },
      basis: 'bounds',
      undone: {
        why: 'a loop was followed pass by pass no further than pass 301',
        line: 30,
      },
    });
  });
});

describe('the machine stack', () => {
  const high = (expression: string) =>
    area(`10 DIM A(3)|20 PRINT ${expression}`, 'machine stack').high;

  it('has a call within the call for each bracket, and for subscripts', () => {
    const bare = high('2');
    expect(high('(2)')).toBe(bare + 6);
    expect(high('((2))')).toBe(bare + 12);
    expect(high('A(2)')).toBe(bare + 6);
    expect(high('A((2))')).toBe(bare + 12);
  });

  it('has an operator or a function that waits for what follows it', () => {
    expect(high('1+2')).toBe(high('2') + 2);
    expect(high('SGN 2')).toBe(high('2') + 2);
    expect(high('1+(1+(2))')).toBe(high('2') + 2 * (2 + 6));
  });
});

describe('the display', () => {
  it('has a row more after a comma that stands behind 16 characters', () => {
    const display = area(`10 PRINT "${'O'.repeat(16)}","${'X'.repeat(30)}"`, 'display');
    // The NEWLINEs, the characters, and the space that the comma prints.
    expect(display.high).toBeGreaterThanOrEqual(25 + 16 + 1 + 30);
  });
});
