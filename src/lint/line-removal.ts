/** Lines that can be taken out of a program without anything noticing. */
import type { Expression } from '../../grammar/tree.js';
import type { Program } from '../analysis/program.js';
import type { Step } from '../analysis/steps.js';
import { lineToComment } from '../listing/edits.js';
import { isDigitCode } from '../machine/characters.js';
import type { Fix, LintContext } from './rule.js';

const targetsOf = new WeakMap<Program, Set<number>>();

/** Does a jump, or `.start`, name this line, or may a computed jump come to it? */
export function isJumpTarget(program: Program, step: Step): boolean {
  let targets = targetsOf.get(program);
  if (targets === undefined) {
    targets = new Set(program.flow.jumps.flatMap((jump) => jump.targets));
    for (const item of program.listing.items) {
      if (item.kind === 'start') targets.add(program.flow.indexOf(item.line));
    }
    targetsOf.set(program, targets);
  }
  return program.flow.open || targets.has(step.index);
}

/** The fix that takes a line out, where no jump leads to it and nothing looks at its bytes. */
export function takeOut(context: LintContext, step: Step, what: string): Fix | undefined {
  const { text, program } = context;
  if (!context.mayChange(step) || isJumpTarget(program, step)) return undefined;
  // A program must keep a line, and the last of a listing may be what a run goes on to.
  if (program.steps.length < 2) return undefined;
  if (text.slice(step.line.start, step.line.end).includes('\n')) return undefined;
  return { what, edits: [lineToComment(text, step.line)] };
}

/** Is working this out without any effect, and without any report, whatever the run? */
export function isInert(node: Expression): boolean {
  switch (node.kind) {
    case 'number':
    case 'string':
      return true;
    case 'constant':
      return node.name === 'PI';
    case 'brackets':
      return isInert(node.inner);
    case 'unary':
      return isInert(node.operand);
    case 'call':
      return isInertCall(node);
    default:
      return false;
  }
}

function isInertCall({ function: name, argument }: Expression & { kind: 'call' }): boolean {
  if (name === 'VAL') return argument.kind === 'string' && isDigits(argument.codes);
  return ['CODE', 'LEN', 'SGN', 'ABS', 'INT'].includes(name) && isInert(argument);
}

const isDigits = (codes: Uint8Array): boolean =>
  codes.length > 0 && codes.length < 10 && codes.every(isDigitCode);
