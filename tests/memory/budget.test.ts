/** The budget: what each area holds, its bounds, and the line that causes them. */
import { describe, expect, it } from 'vitest';
import { buildImage } from '../../src/image/build.js';
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

describe('of a program that has some of everything', () => {
  const text =
    '10 INPUT A$|20 PRINT AT 0,0;"OAK"|30 IF RND>.5 THEN LET N=5|40 GOSUB 60|50 STOP|' +
    '60 LET B$=A$+"X"|70 RETURN';

  it('each area has its bounds, the line that makes it so large, and why', () => {
    const told = budget(text).areas.map(({ start, ...area }) => Object.values(area));
    expect(told).toEqual([
      ['system variables', 125, 125],
      ['program', 104, 104],
      // The NEWLINEs and OAK; the line typed at INPUT.
      ['display', 28, 25 + 3 + 35, 10, 'how much of each row is printed depends on the run'],
      ['variables', 3 + 4, 35 + 6 + 36, 10, 'A$: INPUT: taken to be at most 32 characters'],
      ['end byte', 1, 1],
      ['edit line', 2, 2],
      // The joined text, and its copy with a head of three bytes.
      ['workspace', 0, 33 + 36, 60, 'a new string is made before the old one is given up'],
      ['calculator stack', 0, 3 * 5, 30, 'the deepest expression'],
      ['kept free by the ROM', 37, 37],
      [
        'machine stack',
        18,
        29 + 2,
        30,
        'its own share is known only between 18 and 29; expressions within expressions need more',
      ],
      ['GOSUB stack', 0, 2, 40, 'GOSUB stands within GOSUB, 1 deep at most'],
    ]);
  });

  it('each variable has its bounds, its line, and why they differ', () => {
    expect(budget(text).variables.map((variable) => Object.values(variable))).toEqual([
      ['A$', 3, 35, 10, 'INPUT: taken to be at most 32 characters'],
      ['N', 0, 6, 30, 'not every run comes to it'],
      ['B$', 4, 36, 60, 'its length depends on the run'],
    ]);
  });

  it('what is the most of several is told by the line that has it', () => {
    const why = (program: string, name: AreaName) => {
      const { line, why } = area(program, name);
      return [line, why];
    };
    expect(why('10 LET B$="0123456789012345678901234567890123456789"|20 INPUT A$', 'variables'))
      // B$ is as large, and always so.
      .toEqual([20, 'A$: INPUT: taken to be at most 32 characters']);
    expect(why('10 LET A=5|20 CLEAR', 'variables')).toEqual([
      undefined,
      'the program clears its variables',
    ]);
    expect(why('10 PRINT "OAK"', 'display')).toEqual([
      undefined,
      'the report at the end takes up to 6 bytes',
    ]);
    expect(why('10 INPUT A', 'workspace')).toEqual([
      10,
      'what is typed at INPUT stands here: taken to be a number of at most 14 characters',
    ]);
    expect(why('10 INPUT A$', 'workspace')).toEqual([
      10,
      'what is typed at INPUT stands here: taken to be at most 32 characters',
    ]);
    expect(why('10 DIM A$(9)|20 LET A$(2 TO 5)="X"', 'workspace')).toEqual([
      20,
      'what is put into a part of a string is made anew first, as long as the part',
    ]);
    expect(why('10 PRINT VAL "5"', 'workspace')).toEqual([
      10,
      'texts are worked on here until the statement ends',
    ]);
    expect(why('10 GOSUB 20|20 GOSUB 20|30 RETURN', 'GOSUB stack')).toEqual([
      20,
      'this GOSUB can come to itself again before any RETURN',
    ]);
    expect(why('10 PRINT 5', 'machine stack')[0]).toBeUndefined();
  });
});

describe('where the bounds of the areas leave the verdict open', () => {
  const FULLEST = 'what stands here at the fullest moment of all ways through the program';
  const AT_30 = '; the fullest moment is at line 30';
  /** The budget in so many bytes of RAM more than the least that is needed. */
  const tight = (text: string, more = 0) => budget(text, budget(text).runs.low + more);
  const open = (text: string, more?: number) =>
    tight(text, more)
      .areas.filter(({ low, high }) => low !== high)
      .map(({ start, ...area }) => Object.values(area));

  const cleared = '10 FOR I=0 TO 9|20 PRINT AT I,31;"X"|30 NEXT I|40 CLS|50 DIM A(60)';
  const grown = '10 LET A$=STR$ 5|20 LET B$="*"|30 LET B$=(B$+"*")|40 IF LEN B$<25 THEN GOTO 30';

  it('areas are as at the fullest moment of all courses', () => {
    expect(open(cleared)).toEqual([
      [
        'display',
        25,
        25 + 10 * 32,
        20,
        `how much of each row is printed depends on the run${AT_30}`,
      ],
      ['calculator stack', 0, 3 * 5, 30, FULLEST],
      ['machine stack', 18, 29, 30, FULLEST],
    ]);
    // At that moment there is the loop's variable alone; the array is certain all the same.
    const { areas, runs } = tight(cleared);
    expect(areas[3]).toMatchObject({ low: 18 + 306, high: 18 + 306, why: undefined });
    expect(runs.high).toBe(areas.reduce((sum, { high }) => sum + high, 0) - 306);
    expect(open(grown)).toEqual([
      // A$, and B$ of 24 characters; then the joined text and the new B$.
      ['variables', 4 + 4, 4 + 3 + 24, 30, FULLEST],
      ['workspace', 0, 25 + 3 + 25, 30, FULLEST],
      ['machine stack', 18, 29, 30, FULLEST],
    ]);
  });

  it('variables are as large as they become on any course', () => {
    expect(tight(cleared).variables).toEqual([
      { name: 'I', low: 18, high: 18, line: 10 },
      { name: 'A()', low: 306, high: 306, line: 50 },
    ]);
    expect(tight(grown).variables.map((variable) => Object.values(variable))).toEqual([
      ['A$', 4, 4, 10, undefined],
      ['B$', 4, 3 + 25, 30, 'its size depends on the run'],
    ]);
  });

  it('and nowhere else', () => {
    const why = 'how much of each row is printed depends on the run';
    // With a byte less it does not fit at the least; with the most it fits.
    expect(open(cleared, -1)[0][4]).toBe(why);
    const { runs } = budget(cleared);
    expect(open(cleared, runs.high - runs.low)[0][4]).not.toBe(FULLEST);
    // The courses bring nothing: what is open here is the machine stack's own share.
    expect(open('10 CLS').map((area) => area[4])).not.toContain(FULLEST);
  });
});

describe('of an image as it is', () => {
  const saved = (text: string) => buildImage(readListing(text).listing, { ram: 1024 }).image!;

  it('the display is what it holds, not what a build for that RAM would', () => {
    const { listing } = readListing('10 CLS');
    const image = saved('10 CLS');
    const found = budgetOf(listing, { ram: 16384, image });
    expect(found.image).toBe(image.length);
    expect(budgetOf(listing, { ram: 16384 }).image).toBe(image.length - 25 + 793);
  });

  it('a display that is saved stands there still when the program runs itself', () => {
    const display = '.display|OAK|.end|10 PRINT "X"';
    expect(area(display, 'display').high).toBe(25 + 1 + 6);
    expect(area(`.start 10|${display}`, 'display').high).toBe(25 + 1 + 6 + 3);
    expect(area('.start 10|10 CLS', 'edit line').high).toBe(1);
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
    const saved = budget('.var A = 5|10 CLS').variables;
    const why = 'saved with the program: RUN clears it, GOTO keeps it';
    expect(saved).toEqual([{ name: 'A', low: 0, high: 6, why }]);
    const [kept, ...others] = budget('.var A = 5|.start 10|10 LET A=A+1').variables;
    expect([kept.low, kept.high, others]).toEqual([6, 6, []]);
    expect(variable('.var A = 5|.start 10|10 CLS', 'A')).toMatchObject({ low: 6, high: 6 });
  });

  it('that CLEAR throws away are not certain', () => {
    expect(area('10 LET A=5|20 CLEAR', 'variables')).toMatchObject({ low: 0, high: 6 });
    expect(area('10 LET A=5|20 RUN', 'variables')).toMatchObject({ low: 0, high: 6 });
    // Bytes that are no statement may do so; a line that no run comes to does not.
    expect(area('10 LET A=5|20 [01 02]', 'variables')).toMatchObject({ low: 0, high: 6 });
    expect(area('10 LET A=5|20 STOP|30 CLEAR', 'variables')).toMatchObject({ low: 6, high: 6 });
  });

  it('are told by the first line that makes them largest', () => {
    const wide = variable('10 LET A$="OAK"|20 LET A$="ELM"|30 IF RND<.5 THEN LET A$="A"', 'A$');
    expect(wide).toMatchObject({ low: 4, high: 6, line: 10 });
    const why = 'it is set to strings of different lengths';
    expect(variable('10 LET A$="OAK"|20 LET A$="ELMS"', 'A$')).toMatchObject({ line: 20, why });
    // No run comes to the second; an element or a part makes nothing, nor does NEXT.
    expect(variable('10 LET A$="X"|20 STOP|30 LET A$="OAK"', 'A$')).toMatchObject({ high: 4 });
    expect(variable('10 DIM A(3)|20 LET A(2)=5', 'A()')).toMatchObject({ low: 21, line: 10 });
    expect(budget('10 NEXT I').variables).toEqual([]);
    const sure = variable('10 LET I=5|20 IF RND<.5 THEN FOR I=1 TO 2', 'I');
    expect(sure).toMatchObject({ low: 6, high: 18, line: 20 });
  });

  it('whose size only the run tells say so', () => {
    expect(variable('10 DIM A(RND*9+1)', 'A()').why).toBe(
      'only the run tells how large DIM makes it',
    );
    expect(variable('10 DIM A(9)', 'A()').why).toBeUndefined();
    expect(variable('10 LET A$=""|20 LET A$=A$+"X"|30 GOTO 20', 'A$').why).toBe(
      'nothing in the listing bounds how long it grows',
    );
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

  it('say why a program does not load, and nothing of what else a build tells', () => {
    expect(budget(`10 REM ${'X'.repeat(2000)}`).tooLarge).toMatchObject({ rule: 'no-room' });
    expect(budget('10 CLS').tooLarge).toBeUndefined();
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
