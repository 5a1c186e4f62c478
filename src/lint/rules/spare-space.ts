// Valid: PRINT A;1 and a space in a string or a REM.
// Not valid: PRINT[sp]A, LET HIGH[sp]SCORE=0 and GOTO 1 0, which store spaces that mean nothing.

import { tokensOf } from '../../../grammar/lexer.js';
import { withoutSpaces } from '../../../grammar/spelling.js';
import { isStoredSpace } from '../../../grammar/tokenise.js';
import { Escape } from '../../../grammar/tokens.js';
import type { Span } from '../../../grammar/tree.js';
import { visit } from '../../../grammar/visit.js';
import type { Step } from '../../analysis/steps.js';
import { type Edit, putWords } from '../../listing/edits.js';
import { count } from '../../listing/print.js';
import { SPACE } from '../../machine/characters.js';
import { endOfPiece } from '../../machine/stored-codes.js';
import { hasSpaces } from '../name-uses.js';
import type { Rule } from '../rule.js';

export const spareSpace: Rule = {
  name: 'spare-space',
  kind: 'memory',
  severity: 'note',
  summary: 'spaces that are stored outside strings and REM',
  page: 'The machine shows a space around its keywords by itself. One that is typed there, or within a name or a number (`LET HIGH SCORE=0`, `GOTO 1 0`), is stored as well: a byte that means nothing. The fix leaves them out.',
  fixes: true,
  check({ program, text, fixIn }, report) {
    for (const step of program.steps) {
      const bytes = storedSpaces(step.line.codes);
      if (bytes === 0 || step.statement === undefined || step.statement.kind === 'unchecked')
        continue;
      const edits = editsOf(step, text);
      report(edits[0], {
        message:
          bytes === 1
            ? 'a space is stored here, which takes a byte'
            : `${count(bytes, 'space')} are stored in this line, which take ${count(bytes, 'byte')}`,
        why: 'outside strings and REM a stored space means nothing to the machine',
        bytes,
        fix: fixIn(step, {
          what: bytes === 1 ? 'without the space' : 'without the spaces',
          edits,
        }),
      });
    }
  },
};

function storedSpaces(codes: Uint8Array): number {
  let spaces = 0;
  for (let at = 0; at < codes.length; at = endOfPiece(codes, at)) {
    if (codes[at] === SPACE) spaces++;
  }
  return spaces;
}

/** The line's names and numbers without their spaces, and nothing in the place of every other. */
function editsOf({ line }: Step, text: string): Edit[] {
  const edits: Edit[] = [];
  visit(line.statement!, (node) => {
    if (node.kind === 'variable' && hasSpaces(node)) {
      edits.push({ start: node.start, end: node.end, text: node.name });
    } else if (node.kind === 'number' && node.spaces !== undefined) {
      const written = text.slice(node.start, node.end);
      const given = written.indexOf('[=');
      const end = given < 0 ? node.end : node.start + given;
      edits.push({ start: node.start, end, text: withoutSpaces(text.slice(node.start, end)) });
    }
  });
  const isTaken = ({ start }: Span): boolean =>
    edits.some((edit) => edit.start <= start && start < edit.end);
  for (const token of tokensOf(text.slice(line.start, line.end))) {
    if (token.tokenType !== Escape || !isStoredSpace(token)) continue;
    const span = { start: line.start + token.startOffset, end: line.start + token.end };
    if (!isTaken(span)) edits.push(putWords(text, span, ''));
  }
  return edits.sort((a, b) => a.start - b.start);
}
