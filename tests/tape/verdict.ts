/** What a recovery made of a recording of a known program. */
import type { Recovery } from '../../src/tape/recovery.js';
import type { TapeProgram } from '../../src/tape/tape-bytes.js';

/**
 * whole: every byte right and none in doubt · right: every byte right, some marked in doubt ·
 * marked: some bytes wrong, every one of them marked · none: no program given · silent: a wrong
 * byte, or a program that was not there, without a mark.
 */
export type Verdict = 'whole' | 'right' | 'marked' | 'none' | 'silent';

export function verdictOn(recovery: Recovery, truth: TapeProgram): Verdict {
  if (recovery.programs.length === 0) return 'none';
  if (recovery.programs.length > 1) {
    return recovery.programs.every((program) => program.doubts.length > 0 || !program.whole)
      ? 'marked'
      : 'silent';
  }
  const [program] = recovery.programs;
  const marked = new Set(program.doubts.map((doubt) => `${doubt.part} ${doubt.offset}`));
  const sameSize =
    program.name.length === truth.name.length && program.image.length === truth.image.length;
  // Bytes out of step are all wrong; the tool says so by calling the image not whole.
  if (!sameSize) return program.whole && marked.size === 0 ? 'silent' : 'marked';
  let wrong = 0;
  for (const part of ['name', 'image'] as const) {
    for (let i = 0; i < truth[part].length; i++) {
      if (program[part][i] === truth[part][i]) continue;
      wrong++;
      if (!marked.has(`${part} ${i}`) && program.whole) return 'silent';
    }
  }
  if (wrong > 0) return 'marked';
  return marked.size > 0 || !program.whole ? 'right' : 'whole';
}
