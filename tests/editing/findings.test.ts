/** What an editor is told unasked: findings with their fixes, hints, the verdict; and tidy forms. */
import { describe, expect, it } from 'vitest';
import { budget } from '../../src/editing/questions/budget.js';
import { findings } from '../../src/editing/questions/findings.js';
import { FIX_ALL, fixes, MAKE_FIT, resolveFix } from '../../src/editing/questions/fixes.js';
import { format, formatRange, renumberAll } from '../../src/editing/questions/format.js';
import { hints } from '../../src/editing/questions/hints.js';
import { Snapshot } from '../../src/editing/snapshot.js';
import { readListing } from '../../src/listing/read.js';
import { budgetOf } from '../../src/memory/budget.js';
import { edited, URI } from './at.js';

const everything = { start: { line: 0, character: 0 }, end: { line: 9999, character: 0 } };

describe('findings', () => {
  it('are the errors, with place, rule and what to do', () => {
    const [found] = findings(new Snapshot('10 CLS\n20 PRNT 1'));
    expect(found).toMatchObject({
      range: { start: { line: 1, character: 3 }, end: { line: 1, character: 7 } },
      severity: 1,
      code: 'no-such-command',
      source: 'listwright',
    });
    expect(found.message).toContain('did you mean PRINT?');
  });

  it('leave savings to the fixes while there is room to spare', () => {
    expect(findings(new Snapshot('10 LET A=100\n20 PRINT A;A'))).toEqual([]);
    const full = findings(new Snapshot('10 LET A=100\n20 PRINT A\n30 DIM B(130)'));
    expect(full.map(({ code, severity }) => [code, severity])).toContainEqual(['number-form', 4]);
  });

  it('are what the linter finds, linked to the page of rules', () => {
    const found = findings(new Snapshot('10 PRINT Z\n20 GOTO 99\n30 CLS'), {
      rulesPage: 'rules.md',
    });
    const shown = found.map(({ code, severity, codeDescription }) => [
      code,
      severity,
      codeDescription?.href,
    ]);
    expect(shown).toContainEqual(['missing-line', 2, 'rules.md#missing-line']);
    expect(shown).toContainEqual(['unset-variable', 1, 'rules.md#unset-variable']);
  });
});

describe('fixes', () => {
  const titled = (snapshot: Snapshot, title: RegExp, only?: string[]) =>
    fixes(snapshot, URI, everything, only).find((action) => title.test(action.title));

  it('put a saving right where it stands', () => {
    const snapshot = new Snapshot('10 LET A=100\n20 PRINT A;A');
    const action = titled(snapshot, /^100.*saves/i)!;
    expect(edited(snapshot, action.edit!.changes![URI])).not.toContain('A=100\n');
  });

  it.each([
    ['10 PRNT "A"', '10 PRINT "A"'],
    ['10 A=1', '10 LET A=1'],
    ['10 IF A THNE STOP', '10 IF A THEN STOP'],
    ['10 A(1)=1', '10 LET A(1)=1'],
    ['10 INPUT A,B\n20 STOP', '10 INPUT A\n11 INPUT B\n20 STOP'],
  ])('repair %j where the line then reads', (broken, wanted) => {
    const snapshot = new Snapshot(broken);
    const [action] = fixes(snapshot, URI, everything);
    expect(edited(snapshot, action.edit!.changes![URI])).toBe(wanted);
  });

  it('offer no repair that leaves the line wrong', () => {
    expect(fixes(new Snapshot('10 PRNT ('), URI, everything)).toEqual([]);
    expect(fixes(new Snapshot('10 INPUT A,B\n11 STOP'), URI, everything)).toEqual([]);
  });

  it('leave room for the reason of what is allowed', () => {
    const snapshot = new Snapshot("' Lamp\n10 LET A=100\n20 PRINT A");
    const action = titled(snapshot, /^Allow number-form here/)!;
    expect(edited(snapshot, action.edit!.changes![URI])).toBe(
      "' Lamp\n' lint: allow number-form — \n10 LET A=100\n20 PRINT A",
    );
  });

  it('apply all safe savings, or the fewest that make it fit', () => {
    // The first count of lines at which it no longer fits.
    const listing = (count: number): Snapshot => {
      const lines = Array.from({ length: count }, (_, at) => `${at + 1} LET T=${at + 100}\n`);
      return new Snapshot(`${lines.join('')}9999 PRINT T\n`);
    };
    let snapshot = listing(30);
    for (let count = 31; snapshot.lint?.budget.verdict.kind === 'runs'; count++) {
      snapshot = listing(count);
    }
    const all = resolveFix(snapshot, titled(snapshot, /all safe savings/, [FIX_ALL])!)!;
    const fit = resolveFix(snapshot, titled(snapshot, /fewest/, [MAKE_FIT])!)!;
    const [whole, least] = [all, fit].map(({ edit }) => edited(snapshot, edit!.changes![URI]));
    expect(whole).not.toContain('=100\n');
    expect(least).not.toBe(whole);
    expect(new Snapshot(least).lint?.budget.verdict.kind).toBe('runs');
    expect(fixes(snapshot, URI, everything, ['refactor'])).toEqual([]);
  });
});

it('hints at the bytes of each line and at the name of an address', () => {
  const found = hints(new Snapshot('10 PRINT PEEK 16388\n20 POKE 16418,0'), everything);
  expect(
    found.map(({ label, position }) => `${position.line}:${position.character} ${label}`),
  ).toEqual(['0:19 18 B', '1:15 25 B', '0:19 RAMTOP', '1:13 DF_SZ']);
});

describe('a verdict that the plain bounds leave open', () => {
  const text = '10 FOR N=1 TO 15\n20 PRINT N\n30 NEXT N\n';
  // A byte less than the plain bounds ask for at most.
  const ram = budgetOf(readListing(text).listing, { ram: 1024 }).runs.high - 1;

  it('is left open at first, and settled once that is asked for', () => {
    const snapshot = new Snapshot(text, { ram });
    expect(snapshot.lintByNow?.budget.verdict.kind).toBe('may run');
    expect(snapshot.isSettled).toBe(false);
    const settled = snapshot.lint;
    expect(settled?.budget.verdict.kind).toBe('runs');
    expect([snapshot.isSettled, snapshot.lintByNow]).toEqual([true, settled]);
  });

  it('needs no second look where they settle it', () => {
    const snapshot = new Snapshot('10 PRINT 1');
    expect(snapshot.lintByNow?.budget.verdict.kind).toBe('runs');
    expect(snapshot.isSettled).toBe(true);
    expect(snapshot.lint).toBe(snapshot.lintByNow);
  });
});

describe('the budget', () => {
  it('stands over the first line with its commands', () => {
    const [verdict, ...commands] = budget(new Snapshot("' Lamp\n10 PRINT 1"), URI);
    expect(verdict.command?.title).toMatch(/to spare/);
    expect(commands.map(({ command }) => command?.command)).toEqual([
      'listwright.rehearse',
      'listwright.record',
      'listwright.memoryMap',
    ]);
  });

  it('waits while there are errors, and says nothing of an empty listing', () => {
    expect(budget(new Snapshot('10 PRNT'), URI)[0].command?.title).toMatch(/waits/);
    expect(budget(new Snapshot(''), URI)).toEqual([]);
  });
});

describe('tidy forms', () => {
  it('change the lines that are not tidy alone', () => {
    const snapshot = new Snapshot('10 CLS\n20 print  a\n30 CLS\n');
    const edits = format(snapshot);
    expect(edits.map(({ range }) => range.start.line)).toEqual([1]);
    expect(edited(snapshot, edits)).toBe('10 CLS\n20 PRINT A\n30 CLS\n');
    expect(format(new Snapshot('10 PRNT'))).toEqual([]);
  });

  it('change the lines of a range alone', () => {
    const snapshot = new Snapshot('10 print 1\n20 print 2\n30 prnt');
    const range = { start: { line: 1, character: 0 }, end: { line: 2, character: 0 } };
    expect(edited(snapshot, formatRange(snapshot, range))).toBe('10 print 1\n20 PRINT 2\n30 prnt');
  });

  it('give new numbers, or say why not', () => {
    const snapshot = new Snapshot('5 CLS\n7 GOTO 5');
    expect(edited(snapshot, renumberAll(snapshot).edits)).toBe('10 CLS\n20 GOTO 10');
    const computed = renumberAll(new Snapshot('5 GOTO N'));
    expect([computed.edits, computed.diagnostics[0].rule]).toEqual([[], 'computed-target']);
  });
});
