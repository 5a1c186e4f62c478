import { describe, expect, it } from 'vitest';
import { transcribe } from '../../../src/transcribe/transcribe.js';

const listed = (text: string) => transcribe(text, { comments: false }).text.trimEnd().split('\n');

describe('a letter that the program sets and uses', () => {
  it('is no misread digit, whatever else of its line is misprinted', () => {
    const page = '10 LET B=S1N(5)\n20 LET Z=B+8*O.5\n30 PRINT CHR$ B\n';
    const result = transcribe(page, { comments: false });
    expect(result.text).toBe('10 LET B=SIN(5)\n20 LET Z=B+8*0.5\n30 PRINT CHR$ B\n');
    expect(result.notes.filter(({ made }) => made).map(({ to }) => to)).toEqual(['SIN', '0.5']);
  });

  it('is kept too where its own LET is misprinted', () => {
    expect(listed('10 LFT B=2\n20 LET Z=B+PEFK 30\n30 PR1NT B\n')).toEqual([
      '10 LET B=2',
      '20 LET Z=B+PEEK 30',
      '30 PRINT B',
    ]);
  });
});

describe('one ambiguous letter', () => {
  const page =
    '10 FOR I=1 TO 6\n20 INPUT G\n30 NEXT I\n90 IF G<l OR G>6 THFN G0TO 2O\n100 PRINT G;I\n';

  it('does not keep the rest of its line from being repaired', () => {
    expect(listed(page)[3]).toBe('90 IF G<l OR G>6 THEN GOTO 20');
    const { notes } = transcribe(page);
    const of90 = notes.filter(({ line }) => line === 90);
    expect(of90.map(({ made }) => made).sort()).toEqual([false, true]);
    expect(of90.find(({ made }) => made)!.certainty).toBeGreaterThanOrEqual(0.9);
    expect(of90.find(({ made }) => !made)!.candidates).toEqual(
      expect.arrayContaining(['IF G<1 OR G>6 THEN GOTO 20', 'IF G<I OR G>6 THEN GOTO 20']),
    );
  });

  it('stands as a question in the listing, with the reading preferred and why', () => {
    const comment = transcribe(page)
      .text.split('\n')
      .find((row) => row.startsWith("' 90?"));
    expect(comment).toMatch(/^' 90\? .*: IF .* THEN GOTO 20 rather than IF .* THEN GOTO 20: .{10}/);
  });
});

describe('every question', () => {
  it('stands as a comment before its line, look-alikes too', () => {
    const page =
      '10 LET SCORE=0\n20 LET N=3\n30 FOR I=1 TO 9\n40 PR1NT SCORE;N*I\n50 NEXT I\n60 PRINT "{wobble}"\n';
    const { text, notes } = transcribe(page);
    const asked = notes.filter(({ made }) => !made);
    expect(asked.length).toBeGreaterThan(1);
    for (const { line, from } of asked) expect(text).toContain(`\n' ${line}? ${from}: `);
    expect(text).toMatch(/' 40\? I: I rather than 1: the print has I/);
  });
});
