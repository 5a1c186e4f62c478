import { describe, expect, it } from 'vitest';
import { describe as described, MARK } from '../../src/transcribe/passes/signs.js';
import { transcribe } from '../../src/transcribe/transcribe.js';

describe('printed descriptions of graphics', () => {
  it.each([
    ['graphic 1', '▘'],
    ['GRAPHIC A', '▒'],
    ['graphics shift Q', '▟'],
    ['shift A in graphics', '▒'],
    ['shift 5 graphic', '▌'],
    ['inverse S', '[~S]'],
    ['inverse space', '█'],
    ['black square', '█'],
    ['8 spaces', '        '],
    ['3 graphic 4', '▖▖▖'],
    ['2 * inverse X', '[~X][~X]'],
    ['ul+lr', '▚'],
    ['quote', '""'],
    ['pound sign', '£'],
  ])('%s is %s', (printed, meant) => {
    expect(described(printed)).toBe(meant);
  });

  it.each(['smiling face', 'graphic P', 'spaces and more', '', 'graphic 99'])(
    '%s is not known',
    (printed) => {
      expect(described(printed)).toBeUndefined();
    },
  );
});

describe('signs in strings', () => {
  const first = (text: string) => transcribe(text, { comments: false }).text.trimEnd();

  it('are read where the print says what they are, and marked where it does not', () => {
    expect(first('10 PRINT "{graphic 1}–(8 spaces)"')).toBe('10 PRINT "▘-        "');
    expect(first('10 PRINT "{wobble}"')).toBe(`10 PRINT "${MARK}"`);
    expect(first('10 PRINT "A’B"')).toBe(`10 PRINT "A${MARK}B"`);
    const { notes } = transcribe('10 PRINT "{wobble}"');
    expect(notes).toMatchObject([{ kind: 'unreadable', made: false, from: '{wobble}', start: 10 }]);
  });

  it('keep what the notation itself writes, and round brackets that are text', () => {
    expect(first('10 PRINT "[~OAK](A)[ul]";2^3')).toBe('10 PRINT "[~OAK](A)[ul]";2**3');
  });
});

describe('signs outside strings', () => {
  const first = (text: string) => transcribe(text, { comments: false }).text.trimEnd();

  it.each([
    ["10 PRINT ''HELLO''", '10 PRINT "HELLO"'],
    ['10 PRINT ’’HELLO’’;‘‘YOU‘‘', '10 PRINT "HELLO";"YOU"'],
    ['10 IF X < > Y THEN STOP', '10 IF X <> Y THEN STOP'],
    ['10 IF X =< 0 THEN STOP', '10 IF X <= 0 THEN STOP'],
    ['10 IF X = > 0 OR X> <2 THEN STOP', '10 IF X >= 0 OR X<>2 THEN STOP'],
    ['10 IF X < = 0 OR X > = 2 THEN STOP', '10 IF X <= 0 OR X >= 2 THEN STOP'],
  ])('%s is %s', (printed, meant) => {
    expect(first(printed)).toBe(meant);
  });

  it('are left as text within strings', () => {
    expect(first('10 PRINT "A < > B =< C",X^2')).toBe('10 PRINT "A < > B =< C",X**2');
  });
});
