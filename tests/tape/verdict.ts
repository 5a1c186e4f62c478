/** What a recovery made of a recording of a known program. */
import { HEADER_SIZE, offsetOf } from '../../src/machine/image-layout.js';
import type { RecoveredProgram, Recovery } from '../../src/tape/reading/recovery.js';
import type { TapeProgram } from '../../src/tape/writing/tape-bytes.js';

/**
 * whole: every byte right and none in doubt · right: every byte right, some marked in doubt ·
 * marked: some bytes wrong, every one of them marked · none: no program given · silent: a wrong
 * byte, or a program that was not there, without a mark.
 */
export type Verdict = 'whole' | 'right' | 'marked' | 'none' | 'silent';

export function verdictOn(recovery: Recovery, truth: TapeProgram): Verdict {
  if (recovery.programs.length === 0) return 'none';
  if (recovery.programs.length > 1) {
    return recovery.programs.every((program) => program.doubts.length > 0) ? 'marked' : 'silent';
  }
  const [program] = recovery.programs;
  const verdict = compare(program, truth, 0);
  if (verdict === 'silent' && isMovedBetweenDoubts(program, truth)) return 'marked';
  if (verdict !== 'silent' || !isHeadInDoubt(program)) return verdict;
  // With a head put before it, a program may have lost its first lines: its end is in place then, or
  // lost as well. With one that was counted anew it may have some bytes too many there. What is not
  // marked in doubt tells how many.
  const lost = truth.image.length - program.image.length;
  const tried = Array.from(
    { length: Math.max(0, lost) + 2 * MOST_MORE },
    (_, i) => i + 1 - MOST_MORE,
  );
  for (const bytes of [lost, ...tried]) {
    const other = compare(program, truth, bytes);
    if (other !== 'silent') return other;
  }
  return 'silent';
}

/**
 * Is every byte that is not marked right, but for its place? Where bits were lost or doubled a line, all
 * in doubt, may have a byte too many, and one further on a byte too few: what lies between them is as it
 * was, and has moved. Behind a new head the first lines may be lost, or be bytes that were no part of one.
 */
function isMovedBetweenDoubts(program: RecoveredProgram, truth: TapeProgram): boolean {
  if (compare({ ...program, image: truth.image }, truth, 0) === 'silent') return false;
  const { image, doubts } = program;
  const inImage = doubts.filter(({ part }) => part === 'image');
  const reasons = new Map(inImage.map(({ offset, reason }) => [offset, reason]));
  const reasonAt = (at: number) => reasons.get(at);
  const upTo = (most: number) =>
    Array.from({ length: 2 * most + 1 }, (_, i) => (i & 1 ? (i + 1) >> 1 : -(i >> 1)));
  const moves = upTo(MOST_MORE);
  const all = upTo(truth.image.length);
  let moved = 0;
  for (let at = 0; at < image.length; ) {
    let mayMove = false;
    let isNew = false;
    while (at < image.length && reasonAt(at) !== undefined) {
      isNew ||= reasonAt(at) === 'rebuilt';
      mayMove = reasonAt(at++) === 'recounted';
    }
    let to = at;
    while (to < image.length && reasonAt(to) === undefined) to++;
    if (to === at) break;
    const isAt = (move: number) =>
      image.subarray(at, to).every((byte, i) => byte === truth.image[at + i + move]) &&
      (to < image.length || to + move === truth.image.length);
    const tried = isNew ? all : mayMove ? moves : [0];
    const move = tried.map((one) => moved + one).find(isAt);
    if (move === undefined) return false;
    [moved, at] = [move, to];
  }
  return true;
}

/** Bytes that a head may have too many. */
const MOST_MORE = 8;

/** Is all of the head in doubt, so that nothing says where what follows it begins? */
function isHeadInDoubt(program: RecoveredProgram): boolean {
  const isMarked = markedIn(program);
  return Array.from({ length: HEADER_SIZE }, (_, i) => i).every((i) => isMarked('image', i));
}

/** The verdict, if the image lacks so many bytes at its beginning. */
function compare(program: RecoveredProgram, truth: TapeProgram, lostBytes: number): Verdict {
  const isMarked = markedIn(program);
  let wrong = 0;
  for (const part of ['name', 'image'] as const) {
    const lost = part === 'image' ? lostBytes : 0;
    const end = Math.max(truth[part].length - lost, program[part].length);
    for (let i = Math.max(0, -lost); i < end; i++) {
      if (program[part][i] === truth[part][i + lost]) continue;
      wrong++;
      if (!isMarked(part, i)) return 'silent';
    }
  }
  if (wrong > 0) return 'marked';
  return program.doubts.length > 0 || !program.whole ? 'right' : 'whole';
}

/** Is this byte in doubt? */
function markedIn(program: RecoveredProgram): (part: 'name' | 'image', offset: number) => boolean {
  const marked = new Set(program.doubts.map((doubt) => `${doubt.part} ${doubt.offset}`));
  const at = (part: string, offset: number) => marked.has(`${part} ${offset}`);
  const length = offsetOf('E_LINE');
  return (part, offset) => {
    if (at(part, offset)) return true;
    // A name may be longer or shorter than it was read, if any of it is in doubt; and the image, if
    // the pointer that says how long it is is in doubt.
    if (part === 'name') return program.name.some((_, i) => at('name', i));
    return offset >= program.image.length && (at('image', length) || at('image', length + 1));
  };
}
