import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readListing } from '../../src/listing/read.js';
import { sourceOf } from '../../src/transcribe/listing.js';
import { questionsOf } from '../../src/transcribe/questions.js';
import { transcribe } from '../../src/transcribe/transcribe.js';
import { drawListing } from '../support/draw-listing.js';
import { damage } from './damage.js';
import { addScore, emptyScore } from './score.js';

const samples = readdirSync('samples').filter((name) => name.endsWith('.bas'));
const sample = (name: string) => readFileSync(`samples/${name}`, 'utf8');

/** The lines of a transcription, without the comments. */
const listed = (text: string, sure = 0.9) =>
  transcribe(text, { sure, comments: false }).text.trimEnd().split('\n');
const asked = (text: string) => questionsOf(transcribe(text).notes);

/** A program around a line, so that its names and targets are known. */
const around = (line: string) =>
  `10 LET SCORE=0\n20 LET N=3\n30 DIM A(5,5)\n40 FOR I=1 TO 9\n50 PRINT SCORE;N;I\n60 NEXT I\n${line}\n80 GOTO 10\n90 LET SCORE=SCORE+N\n`;
const read = (line: string) => listed(around(line))[6];

describe('a clean listing', () => {
  it.each(samples)('%s comes through byte for byte, and nothing is asked', (name) => {
    const result = transcribe(sample(name));
    expect(result.text).toBe(sample(name));
    expect(result.clean).toBe(true);
    expect(result.notes).toEqual([]);
  });

  it('is any listing without errors, in any layout', () => {
    fc.assert(
      fc.property(drawListing(), (text) => {
        expect(transcribe(text).text).toBe(text);
      }),
      { numRuns: process.env.FUZZ ? 10_000 : 40, seed: 7 },
    );
  });
});

describe('characters that look alike', () => {
  it.each([
    ['70 PR1NT AT 1,2;N', '70 PRINT AT 1,2;N'],
    ['70 G0TO 8O', '70 GOTO 80'],
    ['70 IF lNKEY$="" THEN GOTO 10', '70 IF INKEY$="" THEN GOTO 10'],
    ['70 IF N=3 THFN GOTO 10', '70 IF N=3 THEN GOTO 10'],
    ['70 LET SC0RE=5CORE+1', '70 LET SCORE=SCORE+1'],
    ['70 LET N=1O', '70 LET N=10'],
    ['70 PRINT AT 3.I;N', '70 PRINT AT 3,I;N'],
    ['70 LET N=N×2÷3–1', '70 LET N=N*2/3-1'],
    ['70 IF N≤3 OR N≥5 OR N≠1 THEN STOP', '70 IF N<=3 OR N>=5 OR N<>1 THEN STOP'],
    ['70 PRINT “LAMP”', '70 PRINT "LAMP"'],
    ['70 PRINTN', '70 PRINT N'],
    ['70 IFN=3THENGOTO10', '70 IF N=3 THEN GOTO 10'],
    ['7O LET N=1', '70 LET N=1'],
  ])('%s is %s', (printed, meant) => {
    const codes = (text: string) => [...readListing(`${text}\n`).listing.lines[0].codes];
    expect(codes(read(printed))).toEqual(codes(meant));
  });

  it('are asked about where both readings make sense', () => {
    const [question] = asked(around('70 LET N=N+l')).filter(({ lines }) => lines.includes(70));
    expect(question.candidates).toContain('LET N=N+1');
    expect(question.candidates).toContain('LET N=N+I');
    expect(read('70 LET N=N+l')).toBe('70 LET N=N+l');
  });

  it('are not changed where nothing else is misprinted, but asked about where they are unlikely', () => {
    const text = around('70 PRINT SC0RE');
    expect(listed(text)[6]).toBe('70 PRINT SC0RE');
    expect(asked(text).map(({ candidates }) => candidates[0])).toEqual(['PRINT SCORE']);
  });

  it('are asked about throughout once a page has confused them, the same doubt once', () => {
    const questions = asked(around('70 PR1NT N*I'));
    const pair = questions.find(({ candidates }) => candidates.join('/') === 'I/1');
    expect(pair?.lines).toContain(70);
  });

  it('are never changed in strings without a note', () => {
    const text = around('70 PRINT "SC0RE "')
      .replace('50 PRINT', '50 PRINT "SCORE",')
      .replace('80 GOTO', '80 G0TO');
    const { notes } = transcribe(text);
    const note = notes.find(({ kind }) => kind === 'text');
    expect(note).toMatchObject({ from: 'SC0RE', to: 'SCORE', made: true, line: 70 });
    expect(text.slice(note!.start, note!.end)).toBe('SC0RE');
  });
});

describe('the page', () => {
  it('is joined where it wraps, also within words, numbers and strings', () => {
    const page = [
      'THE BENCH BOOK   12',
      '',
      '10 PRINT AT 3,4;"ALL LAM',
      'PS LIT";TAB 20;"YES"',
      '20 IF INKEY$="" THEN GOT',
      'O 20',
      '- 12 -',
      '',
      'THE BENCH BOOK   13',
      '30 PRINT "SPACES AT THE',
      'EDGE OF A ROW"',
      '-----',
      '40 IF PEEK 16437=255 OR 2',
      '0=N THEN GOTO 1000',
      '50 IF N=3 THEN GOTO 10',
      '',
      'Page 13',
    ];
    expect(
      listed(
        page
          .map((row) => row.replace('40 IF', '40 IF'))
          .join('\n')
          .replace('OR 2\n0', 'OR\n20'),
      ),
    ).toEqual([
      '10 PRINT AT 3,4;"ALL LAMPS LIT";TAB 20;"YES"',
      '20 IF INKEY$="" THEN GOTO 20',
      '30 PRINT "SPACES AT THE EDGE OF A ROW"',
      '40 IF PEEK 16437=255 OR 20=N THEN GOTO 1000',
      '50 IF N=3 THEN GOTO 10',
    ]);
  });

  it('takes a row of digits for the end of a number where the row before is full', () => {
    const page =
      '10 PRINT "ABCDEFGHIJK";10\n\n20 PRINT "ABCDEFGHI";1000\n30 IF INKEY$="" THEN GOTO 1\n0\n\n7\n\n40 STOP\n';
    expect(listed(page).slice(2)).toEqual(['30 IF INKEY$="" THEN GOTO 10', '40 STOP']);
  });

  it('is parted where two lines stand in one row', () => {
    expect(listed('10 CLS 20 PRINT "A" 30 GOTO 10\n40 STOP\n')).toEqual([
      '10 CLS',
      '20 PRINT "A"',
      '30 GOTO 10',
      '40 STOP',
    ]);
  });

  it('keeps what may be a line whose number was lost, as a comment, and asks', () => {
    const text = '10 CLS\nPRINT "A";B\n30 STOP\n';
    expect(transcribe(text).text).toContain(`' ? not read: PRINT "A";B`);
    expect(asked(text)).toHaveLength(1);
  });

  it('says where the numbering has gaps and repeats', () => {
    const rows = [10, 20, 30, 40, 60, 70, 70, 80].map((number) => `${number} CLS`).join('\n');
    expect(transcribe(`${rows}\n`).remarks).toEqual([
      'there are two lines 70',
      'the lines go up in steps of 10, but from 40 to 60: a line may be missing',
    ]);
  });

  it('gives back the places of the source for every character of the listing', () => {
    const source = 'THE BENCH\n\n10 PR1NT “OAK”\n20 CLS\n';
    const { text, spans } = transcribe(source, { comments: false });
    const from = (part: string, more = 0) => sourceOf(spans, text.indexOf(part) + more)!;
    expect(source[from('OAK')]).toBe('O');
    expect(source.slice(from('20 CLS')).startsWith('20 CLS')).toBe(true);
    expect(source[from('10 PRINT', 5)]).toBe('1');
    expect(spans.length).toBeLessThan(8);
  });
});

describe('certainty', () => {
  it('decides what is made: nothing changes below --sure', () => {
    const text = around('70 PR1NT N');
    expect(listed(text, 0.9)[6]).toBe('70 PRINT N');
    expect(listed(text, 0.999)[6]).toBe('70 PR1NT N');
    const { notes } = transcribe(text, { sure: 0.999 });
    expect(notes.find(({ line }) => line === 70)).toMatchObject({ made: false, to: 'PRINT N' });
  });

  it('shows characters that would steer a terminal as their codes in comments', () => {
    const { text } = transcribe('10 PRINT "A\u001b[31mB\u202eC"\n20 PRNT \u0007\n');
    const comments = text.split('\n').filter((row) => row.startsWith("'"));
    expect(comments.join()).toContain('[U+001B]');
    expect(comments.join()).toContain('[U+0007]');
    for (const row of comments) expect(row).not.toMatch(/[\p{Cc}\u202e]/u);
  });

  it('stands in the comment before each line that was changed', () => {
    expect(transcribe(around('70 PR1NT N')).text).toContain(
      "' 70: PR1NT read as PRINT (0.98)\n70 ",
    );
  });

  it('is none of what cannot be read, which is asked once, with what to do', () => {
    expect(asked('10 INPUT X\n20 ON X GOTO 100,\n100 STOP\n').map(({ why }) => why)).toEqual([
      expect.stringMatching(
        /^this machine has no ON; compute the line, as in GOTO 100\*N(; not all|$)/,
      ),
    ]);
  });
});

describe('damaged listings', () => {
  it('come back, and nothing is wrong in silence outside strings and REM', () => {
    const drawn = fc.sample(
      drawListing({
        lines: [20, 40],
        layout: 'even',
        directives: false,
        bytes: false,
        assigned: true,
      }),
      { numRuns: process.env.FUZZ ? 100 : 5, seed: 11 },
    );
    const score = emptyScore();
    const wrong = drawn.flatMap((listing, index) =>
      addScore(
        score,
        listing,
        transcribe(
          damage(listing, index, { confuse: 0.005, loseSpaces: 0.01, wrap: 32, pages: true }),
        ),
      ).filter(({ kind }) => kind === 'silent'),
    );
    expect(wrong).toEqual([]);
    expect(score.exact / score.lines).toBeGreaterThan(0.98);
  });
});

describe('any text at all', () => {
  it('is read without a fault, and its spans lie in order within both texts', () => {
    const odd = fc.constantFrom(
      ...'10 20 PRINT " “ ” l O 0 1 . , : ( ) [ ] { } ﷐ \n \r \f \u0000 é ▘ REM IF THEN $ \' .display .end'.split(
        ' ',
      ),
      ' ',
      '\n',
    );
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 200 }),
      fc.array(odd, { maxLength: 60 }).map((parts) => parts.join('')),
    );
    fc.assert(
      fc.property(text, (source) => {
        const result = transcribe(source);
        let done = 0;
        for (const { start, end, from, to } of result.spans) {
          expect(start).toBeGreaterThanOrEqual(done);
          expect(end).toBeGreaterThan(start);
          expect(to).toBeGreaterThan(from);
          expect(to).toBeLessThanOrEqual(source.length);
          done = end;
        }
        expect(done).toBeLessThanOrEqual(result.text.length);
      }),
      { numRuns: process.env.FUZZ ? 20_000 : 120, seed: 3 },
    );
  });
});
