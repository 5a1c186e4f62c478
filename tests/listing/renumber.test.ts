import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Expression, Listing, Statement } from '../../grammar/tree.js';
import { buildImage } from '../../src/image/build.js';
import { constantOf } from '../../src/listing/constants.js';
import { Places } from '../../src/listing/diagnostics.js';
import { readListing } from '../../src/listing/read.js';
import { type RenumberOptions, renumber } from '../../src/listing/renumber.js';
import { drawListing } from '../support/draw-listing.js';

function read(text: string) {
  const result = readListing(text);
  expect(result.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  return result;
}

const renumbered = (text: string, options: RenumberOptions = {}) => renumber(read(text), options);

/** The renumbered text of one without doubts. */
function clean(text: string, options: RenumberOptions = {}): string {
  const { text: result, diagnostics } = renumbered(text, options);
  expect(diagnostics).toEqual([]);
  read(result!);
  return result!;
}

describe('new numbers', () => {
  it('go from a start by a step', () => {
    expect(clean('1 CLS\n2 STOP\n7 RUN\n')).toBe('10 CLS\n20 STOP\n30 RUN\n');
    expect(clean('1 CLS\n2 STOP\n', { start: 100, step: 5 })).toBe('100 CLS\n105 STOP\n');
  });
  it('leave all else as it was written', () => {
    const text = '\' a comment\n\n  5   print  "a" ; b\t\n.ram 2K\n7 rem [ul] 5\n';
    expect(clean(text)).toBe(text.replace('  5  ', '  10  ').replace('7 rem', '20 rem'));
  });
  it('follow the order of the machine, not of the text', () => {
    expect(clean('30 GOTO 10\n10 CLS\n20 GOTO 30\n')).toBe('30 GOTO 10\n10 CLS\n20 GOTO 30\n');
    expect(clean('3 GOTO 1\n1 CLS\n2 GOTO 3\n')).toBe('30 GOTO 10\n10 CLS\n20 GOTO 30\n');
  });
  it('that go past 9999 are refused, at the first line that would', () => {
    const { text, diagnostics } = renumbered('1 CLS\n2 STOP\n3 RUN\n', { start: 9990 });
    expect(text).toBeUndefined();
    expect(diagnostics.map(({ start, message, help }) => [start, message, help])).toEqual([
      [6, 'line 2 would be 10000', 'take a smaller step or start: a step of 3332 fits'],
    ]);
  });
});

describe('what names a line follows', () => {
  const lines = ['5 CLS', '17 STOP', '23 STOP', '99 STOP'];
  /** The last line of that program with this statement in it. */
  const last = (statement: string) =>
    clean(`${[...lines, `200 ${statement}`].join('\n')}\n`)
      .split('\n')[4]
      .slice(3);
  it.each([
    ['GOTO 23', 'GOTO 30'],
    ['go to 23', 'go to 30'],
    ['GOSUB 17', 'GOSUB 20'],
    ['RUN 99', 'RUN 40'],
    ['RUN', 'RUN'],
    ['LIST 5', 'LIST 10'],
    ['LLIST 200', 'LLIST 50'],
    ['IF A THEN GOTO 23', 'IF A THEN GOTO 30'],
    ['IF A THEN IF B=23 THEN GOSUB 23', 'IF A THEN IF B=23 THEN GOSUB 30'],
    ['GOTO (23)', 'GOTO (30)'],
    ['GOTO VAL "23"', 'GOTO VAL "30"'],
    ['GOTO VAL ("23")', 'GOTO VAL ("30")'],
    ['GOTO 24', 'GOTO 40'],
    ['GOTO 1', 'GOTO 10'],
    ['GOTO 0', 'GOTO 10'],
    ['GOTO 22.5', 'GOTO 30'],
    ['GOTO 22.4', 'GOTO 30'],
    ['GOTO 201', 'GOTO 201'],
    ['GOTO 23[=]+0', undefined],
    ['GOTO 99[=85 38 00 00 00]', 'GOTO 99[=85 70 00 00 00]'],
    ['GOTO 99[=53 F3 FB 2C 04]', 'GOTO 99[=53 F3 FB 2C 04]'],
    ['GOTO -23', 'GOTO -23'],
    ['GOTO NOT PI', 'GOTO NOT PI'],
    ['GOTO CODE ":"', 'GOTO CODE ":"'],
    ['GOTO CODE "="', 'GOTO VAL "30"'],
    ['GOTO CODE "0"', 'GOTO VAL "40"'],
    ['GOTO SGN PI', 'GOTO SGN PI'],
    ['GOTO 90+9', 'GOTO 40'],
    ['GOTO(90+9)', 'GOTO 40'],
    ['GOTO(CODE "0")', 'GOTO VAL "40"'],
    ['GOTO 20+3', 'GOTO 20+3'],
    ['GOTO VAL "90"+VAL "9"', 'GOTO VAL "40"'],
    ['PRINT 23', 'PRINT 23'],
    ['PAUSE 23', 'PAUSE 23'],
    ['REM GOTO 23', 'REM GOTO 23'],
    ['PRINT "GOTO 23"', 'PRINT "GOTO 23"'],
  ])('%s', (statement, expected) => {
    if (expected === undefined) {
      const text = `5 CLS\n200 ${statement}\n`;
      expect(renumbered(text).diagnostics[0].rule).toBe('computed-target');
    } else expect(last(statement)).toBe(expected);
  });

  const directive = (text: string) =>
    clean(`5 CLS\n17 FOR K=1 TO 2\n23 STOP\n${text}\n`).split('\n')[3];
  it.each([
    ['.start 17', '.start 20'],
    ['.start 6', '.start 20'],
    ['.var K for 1 to 9 step 2 at 17', '.var K for 1 to 9 step 2 at 20'],
    ['.var K for 1 to 9 at 18', '.var K for 1 to 9 at 21'],
    ['.var K for 1 to 9 at 20', '.var K for 1 to 9 at 30'],
    ['.system E_PPC = 17', '.system E_PPC = 20'],
    ['.system S_TOP = 17', '.system S_TOP = 20'],
    ['.system OLDPPC = 23', '.system OLDPPC = 30'],
    ['.system E_PPC = 0', '.system E_PPC = 0'],
    ['.system SEED = 17', '.system SEED = 17'],
    ['.var A = 17', '.var A = 17'],
  ])('%s', (text, expected) => expect(directive(text)).toBe(expected));
});

describe('what cannot be followed', () => {
  const text = '5 CLS\n17 GOTO A*100\n23 [F5]GOTO 5\n';
  const told = (options: RenumberOptions) =>
    renumbered(text, options).diagnostics.map(({ severity, rule, start }) => {
      const { line, column } = new Places(text).at(start);
      return `${line}:${column} ${severity} ${rule}`;
    });
  it('stops it, and is pointed out at its place', () => {
    expect(told({})).toEqual(['2:9 error computed-target', '3:1 error not-renumbered']);
    expect(renumbered(text).text).toBeUndefined();
  });
  it('is left as it is with force', () => {
    expect(told({ force: true })).toEqual([
      '2:9 warning computed-target',
      '3:1 warning not-renumbered',
    ]);
    expect(renumbered(text, { force: true }).text).toBe('10 CLS\n20 GOTO A*100\n30 [F5]GOTO 5\n');
  });
  it('are bytes of the program that are no line', () => {
    const { diagnostics } = renumbered('5 CLS\n.raw 40 41\n');
    expect(diagnostics.map(({ rule, start }) => [rule, start])).toEqual([['not-renumbered', 6]]);
  });
});

describe('machine code behind a target that grows', () => {
  const text = '1 GOTO 2\n2 RAND USR 16545\n3 REM [2A 0C 40]\n';
  const told = (options: RenumberOptions) =>
    renumbered(text, options).diagnostics.map(({ severity, start, message }) => [
      severity,
      start,
      message,
    ]);
  it('stops it, at the line that points there', () => {
    const message = 'what stands at address 16545 moves to 16546';
    expect(told({})).toEqual([['error', 9, message]]);
    expect(told({ force: true })).toEqual([['warning', 9, message]]);
  });
  it('is no hindrance with as many digits, or where nothing points behind the target', () => {
    expect(told({ start: 2, step: 3 })).toEqual([]);
    expect(clean('1 REM [2A 0C 40]\n2 GOTO 3\n3 RAND USR 16514\n')).toMatch(/USR 16514/);
    expect(clean('1 GOTO 1\n2 PRINT PEEK 16436\n')).toMatch(/GOTO 10/);
  });
});

it('lines as they are written keep leading where they led', () => {
  const text = '.lines as-written\n20 CLS\n10 GOTO 15\n30 GOTO 20\n20 GOTO 30\n';
  expect(clean(text)).toBe('.lines as-written\n10 CLS\n20 GOTO 10\n30 GOTO 10\n40 GOTO 30\n');
});

/** Index of the line to which each constant target of a program leads, with its statement's line. */
function ways({ lines }: Listing): string[] {
  const found: string[] = [];
  const visit = (at: number, statement: Statement | undefined): void => {
    if (statement?.kind === 'IF') visit(at, statement.then);
    if (statement === undefined || !/^(GOTO|GOSUB|RUN|L?LIST)$/.test(statement.kind)) return;
    const [target] = (statement as unknown as { args: Expression[] }).args;
    const value = target === undefined ? undefined : constantOf(target);
    if (value === undefined || value < 0 || value > 65535) return;
    const index = lines.findIndex(({ number }) => number >= Math.round(value));
    found.push(`${at} ${statement.kind} ${index}`);
  };
  for (const [at, { statement }] of lines.entries()) visit(at, statement);
  return found;
}

/** Forms of a target, for a number. */
const FORMS = [
  (number: number) => String(number),
  (number: number) => `VAL "${number}"`,
  (number: number) => `${number}.4`,
  (number: number) => `(${number})`,
  (number: number) => `${number - 1}+1`,
  (number: number) => `CODE "${'ABCDEFGHIJ'[number % 10]}"`,
  () => 'NOT PI',
  () => 'INT PI',
  () => 'SGN PI',
];

const withTargets = fc
  .tuple(
    drawListing({ directives: false, lines: [1, 30] }),
    fc.array(fc.tuple(fc.nat(9999), fc.nat(9999), fc.nat(FORMS.length - 1), fc.nat(4)), {
      maxLength: 12,
    }),
  )
  .map(([text, targets]) => {
    const taken = new Set(text.match(/^\d+/gm)?.map(Number));
    const most = Math.max(...taken) + 30;
    const more = targets.flatMap(([number, target, form, word]) => {
      const line = 1 + (number % most);
      if (taken.has(line)) return [];
      taken.add(line);
      const words = ['GOTO', 'GOSUB', 'RUN', 'LIST', 'IF A THEN GOTO'];
      return [`${line} ${words[word]} ${FORMS[form](1 + (target % most))}\n`];
    });
    return text + more.join('');
  });

it('every target leads to the same line afterwards', () => {
  let followed = 0;
  fc.assert(
    fc.property(
      withTargets,
      fc.integer({ min: 1, max: 900 }),
      fc.integer({ min: 1, max: 40 }),
      (text, start, step) => {
        const before = read(text).listing;
        const result = renumber(read(text), { start, step, force: true }).text!;
        const after = read(result).listing;
        expect(after.lines.map(({ number }) => number)).toEqual(
          before.lines.map((_, index) => start + index * step),
        );
        expect(ways(after)).toEqual(ways(before));
        followed += ways(after).length;
        expect(buildImage(after).diagnostics.filter(({ rule }) => rule !== 'no-room')).toEqual([]);
      },
    ),
    { numRuns: process.env.FUZZ ? 50_000 : 150, seed: 8, endOnFailure: true },
  );
  expect(followed).toBeGreaterThan(500);
});
