// Valid: REM in a program that fits, machine code in a REM, a comment of the editor's.
// Not valid: REM with text in a program that is too large for the RAM.

import type { Step } from '../../analysis/steps.js';
import { lineToComment } from '../../listing/edits.js';
import { count } from '../../listing/print.js';
import { hasGlyph } from '../../machine/characters.js';
import { lineSize } from '../../machine/image-layout.js';
import { isJumpTarget } from '../line-removal.js';
import type { Fix, LintContext, Rule } from '../rule.js';

const REM_LENGTH = 'REM'.length;

export const remark: Rule = {
  name: 'remark',
  kind: 'memory',
  severity: 'note',
  summary: 'REM text in a program that is too large for the RAM',
  page: "A `REM` line takes 6 bytes and one for each character. The fix makes it a comment of the editor's (a line that begins with `'`): you still read it, and the machine does not store it. Where a jump leads to the line, the line stays and its text goes above it. `REM`s that hold codes which no text has are machine code, and are left alone.",
  fixes: true,
  check(context, report) {
    if (context.budget.verdict.kind === 'runs') return;
    for (const step of context.program.steps) {
      const { statement, line } = step;
      if (statement?.kind !== 'REM' || !isText(statement.codes)) continue;
      const target = isJumpTarget(context.program, step);
      const bytes = target ? statement.codes.length : lineSize(line);
      if (bytes === 0) continue;
      report(statement, {
        message: `this remark takes ${count(bytes, 'byte')}`,
        why: 'the program is too large for the RAM, and the machine does nothing with a REM',
        bytes,
        fix: step.conditions.length === 0 ? remarkFix(context, step, target) : undefined,
      });
    }
  },
};

/** Machine code has codes that no key of a text gives. */
function isText(codes: Uint8Array): boolean {
  return codes.every(hasGlyph);
}

function remarkFix({ text, fixIn }: LintContext, step: Step, target: boolean): Fix | undefined {
  const { line, statement } = step;
  const source = text.slice(line.start, line.end);
  if (source.includes('\n')) return undefined;
  if (!target) {
    const what = "REM becomes a comment of the editor's";
    return fixIn(step, { what, edits: [lineToComment(text, line)] });
  }
  const remEnd = statement!.start + REM_LENGTH;
  const words = text.slice(remEnd, line.end).trim();
  const edits = [
    { start: line.start, end: line.start, text: `' ${words}\n` },
    { start: remEnd, end: line.end, text: '' },
  ];
  return fixIn(step, { what: "the text of REM becomes a comment of the editor's", edits });
}
