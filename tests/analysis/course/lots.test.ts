/** All that RND can draw, told apart: held against rehearsals with one SEED, and against all 65,536. */
import { describe, expect, it } from 'vitest';
import { courseOf } from '../../../src/analysis/course/course.js';
import { fullestOf } from '../../../src/analysis/course/fullest.js';
import type { Course } from '../../../src/analysis/course/known.js';
import { Drawing } from '../../../src/analysis/course/lots/drawing.js';
import { Effort } from '../../../src/analysis/course/lots/lots.js';
import { analyse } from '../../../src/analysis/program.js';
import { readListing } from '../../../src/listing/read.js';
import { nextSeed, SEEDS } from '../../../src/machine/arithmetic/random.js';
import {
  clearDisplaySize,
  EDIT_LINE_SIZE,
  KEPT_FREE,
  MACHINE_STACK_HIGH,
  RAM_START,
  REPORT_SIZE,
} from '../../../src/machine/memory-map.js';
import { budgetOf } from '../../../src/memory/budget.js';
import { rehearse } from '../../../src/rehearsal/run.js';
import { measuredOf } from '../../../src/rehearsal/telling/measured.js';
import { drawProgram } from '../../support/draw-program.js';

const RAM = 3300;
const listingOf = (text: string) => readListing(text.replaceAll('|', '\n')).listing;

/** Follows a program with its lots told apart at every line; undefined where that gives up. */
function followed(text: string, effort?: Effort): Course | undefined {
  const { flow, names } = analyse(listingOf(text));
  const everywhere = flow.steps.map(() => true);
  const course = courseOf(flow, 1, { lots: new Drawing(flow, names, everywhere, { effort }) });
  return 'sizes' in course ? course : undefined;
}

/** An array, so that the memory is fullest at the end. */
const LARGE = '|9000 DIM Z(99)';

/** Bytes on the display, beyond a clear one, when a program ends. */
function displayOf(text: string): number {
  const { areas } = fullestOf(followed(text + LARGE)!.together);
  return areas.display - REPORT_SIZE;
}

/** The same in a rehearsal. */
function rehearsed(text: string): number {
  const { peak } = measuredOf(rehearse(listingOf(text + LARGE), { ram: RAM }));
  return peak.areas.display - clearDisplaySize(RAM);
}

describe('of one SEED', () => {
  const PROGRAMS = {
    'stars that are printed': '10 FOR I=1 TO 9|20 PRINT AT INT (RND*22),INT (RND*32);"*"|30 NEXT I',
    'stars that are plotted': '10 FOR I=1 TO 9|20 PLOT RND*63,RND*43|30 NEXT I',
    'a road that scrolls':
      '10 LET X=9|20 FOR I=1 TO 30|30 SCROLL|40 LET X=X+INT (RND*3)-1|50 IF X<0 THEN LET X=0|' +
      '60 IF X>20 THEN LET X=20|70 PRINT TAB X;"*";TAB X+5;"*"|80 NEXT I',
    'bars as long as RND says':
      '10 FOR I=1 TO 8|20 LET R=INT (RND*20)|30 FOR J=1 TO R|40 PRINT "*";|50 NEXT J|60 PRINT R|70 NEXT I',
    'towers, counted down':
      '10 FOR I=0 TO 8|20 FOR J=21 TO 21-INT (RND*8) STEP -1|30 PRINT AT J,I;"*"|40 NEXT J|50 NEXT I',
    'a subroutine that RND chooses':
      '10 FOR I=1 TO 8|20 GOSUB 100+10*INT (RND*3)|30 NEXT I|40 GOTO 9000|100 PRINT "OAK"|105 RETURN|' +
      '110 PRINT "LANTERN"|115 RETURN|120 PRINT "A",I|125 RETURN',
    'a jump that RND chooses': '10 GOTO 20+10*INT (RND*2)|20 PRINT "OAK"|30 PRINT "ASH"',
    'texts that are there or not':
      '10 FOR I=1 TO 20|20 PRINT ("*" AND RND<.5)+"-";STR$ INT (RND*12);|30 NEXT I',
    'a text that grows':
      '10 LET A$=""|20 FOR I=1 TO 9|30 LET A$=A$+("OAK" AND RND>.4)|40 NEXT I|50 PRINT A$;LEN A$',
    'a part of a text': '10 LET A$="LANTERN"|20 PRINT A$(INT (RND*3)+1 TO 4+INT (RND*4))',
    'a number that is halved until it is found':
      '10 LET S=INT (RND*100)+1|20 LET L=1|30 LET H=100|40 LET G=INT ((L+H)/2)|50 PRINT G;" ";|' +
      '60 IF G=S THEN GOTO 100|70 IF G<S THEN LET L=G+1|80 IF G>S THEN LET H=G-1|90 GOTO 40|100 PRINT "OK"',
    'fractions in full': '10 FOR I=1 TO 9|20 PRINT RND,RND/3,NOT INT (RND*2);|30 NEXT I',
    'lines that are there or not': '10 FOR I=1 TO 20|20 IF RND<.7 THEN PRINT I|30 NEXT I',
  };
  for (const [name, text] of Object.entries(PROGRAMS)) {
    it(`follow ${name}`, () => {
      for (const seed of [777, 40503]) {
        const program = `1 RAND ${seed}|${text}`;
        expect(displayOf(program)).toBe(rehearsed(program));
      }
    });
  }

  it('take no less than a rehearsal of any drawn program', () => {
    const count = process.env.FUZZ ? 3000 : 8;
    let compared = 0;
    for (let at = 0; at < count; at++) {
      const { text, inputs } = drawProgram(7_700_000 + at);
      if (!/\bRND\b/.test(text) || inputs.length > 0) continue;
      const seed = (at * 40503) & 0xffff || 1;
      const program = `1 RAND ${seed}\n${text}`;
      const listing = listingOf(program);
      const course = followed(program);
      if (course === undefined) continue;
      const { programEnd } = budgetOf(listing, { ram: RAM });
      const most =
        programEnd -
        RAM_START +
        clearDisplaySize(RAM) +
        1 +
        EDIT_LINE_SIZE +
        KEPT_FREE +
        MACHINE_STACK_HIGH +
        fullestOf(course.together).bytes;
      const run = rehearse(listing, { ram: RAM, statements: 20_000 });
      if (run.end.kind === 'report' && run.end.code === '4') continue;
      compared++;
      expect(measuredOf(run).peak.bytes, program).toBeLessThanOrEqual(most);
    }
    expect(compared).toBeGreaterThan(0);
  });
});

describe('of all', () => {
  /** The most that a function of what RND gives comes to, over every SEED. */
  function mostOfAll(of: (random: () => number) => number): number {
    let most = 0;
    for (let first = 0; first < SEEDS; first++) {
      let seed = first;
      const random = (): number => {
        seed = nextSeed(seed);
        return seed / SEEDS;
      };
      most = Math.max(most, of(random));
    }
    return most;
  }

  it('take the fullest display and no more', () => {
    const text = '10 FOR I=0 TO 7|20 PRINT AT I,INT (RND*20);"X"|30 NEXT I';
    const most = mostOfAll((random) => {
      let sum = 0;
      for (let row = 0; row <= 7; row++) sum += Math.floor(random() * 20) + 1;
      return sum;
    });
    expect(most).toBeLessThan(8 * 20);
    expect(displayOf(text)).toBe(most);
  });

  it('know how often something happens', () => {
    const text = '10 FOR I=1 TO 20|20 IF RND<.25 THEN PRINT "OAK";|30 NEXT I';
    const most = mostOfAll((random) => {
      let times = 0;
      for (let pass = 0; pass < 20; pass++) if (random() < 0.25) times++;
      return times;
    });
    expect(most).toBeLessThan(20);
    expect(displayOf(text)).toBe(3 * most);
  });

  it('are the same again behind INPUT, where RND may be typed', () => {
    const stars = (first: number) =>
      `FOR I=${first} TO ${first + 3}|PRINT AT I,INT (RND*20);"X"|NEXT I`;
    const numbered = (text: string) =>
      text
        .split('|')
        .map((line, at) => `${at + 1} ${line}`)
        .join('|');
    const apart = displayOf(numbered(`${stars(0)}|LET A=1|${stars(4)}`));
    const asked = displayOf(numbered(`${stars(0)}|INPUT A|${stars(4)}`));
    expect(asked).toBe(2 * displayOf(numbered(stars(0))));
    expect(apart).toBeLessThan(asked);
  });

  it('say where they were let go', () => {
    const text =
      '10 LET A=0|20 LET A=A+INT (RND*3)|30 PRINT AT INT (RND*22),INT (RND*32);A|40 GOTO 20';
    expect(followed(text, new Effort(400_000))?.undone).toMatchObject({
      why: expect.stringMatching(
        /^what RND draws was followed for all its values together from here on/,
      ),
      line: { number: expect.any(Number) },
    });
  });
});
