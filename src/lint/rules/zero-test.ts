// Valid: IF A THEN, IF NOT A THEN, IF LEN A$ THEN, and comparisons with anything but nothing.
// Not valid: IF A<>0 THEN, IF A=0 THEN, IF A$="" THEN, which store what IF asks anyway.

import type { Expression } from '../../../grammar/tree.js';
import { putWords } from '../../listing/edits.js';
import { literalBytes } from '../literal-forms.js';
import type { Rule } from '../rule.js';

export const zeroTest: Rule = {
  name: 'zero-test',
  kind: 'memory',
  severity: 'note',
  summary: 'IF that compares with 0 or the empty string, which it need not',
  page: '`IF` goes on where its number is not 0, so `IF A<>0 THEN` is `IF A THEN`, in 8 bytes less; `IF A=0 THEN` is `IF NOT A THEN`. An empty string has the length 0: `IF A$<>"" THEN` is `IF LEN A$ THEN`.',
  fixes: true,
  check(context, report) {
    for (const step of context.program.steps) {
      for (const condition of step.conditions) {
        const short = shortTest(context.text, condition);
        if (short === undefined) continue;
        const { words, bytes, cut } = short;
        const { left } = condition as Expression & { kind: 'binary' };
        const edits = [cut];
        if (words !== '') {
          edits.unshift(putWords(context.text, { start: left.start, end: left.start }, words));
        }
        report(condition, {
          message: `this test is the same without ${context.text.slice(left.end, condition.end).trim()}${words === '' ? '' : `, with ${words}`}`,
          why: 'IF asks by itself whether a number is 0',
          bytes,
          fix: context.fixIn(step, {
            what: 'the comparison with nothing left out',
            edits,
            claims: [condition],
          }),
        });
      }
    }
  },
};

/** What stands in front instead, what is cut out, and the bytes that it saves. */
function shortTest(text: string, condition: Expression) {
  if (condition.kind !== 'binary') return undefined;
  const { operator, left, right } = condition;
  if (operator !== '=' && operator !== '<>') return undefined;
  const nothing = bytesOfNothing(right);
  if (nothing === undefined) return undefined;
  // LEN binds tightly: it takes a single string.
  const isText = left.type === 'string';
  if (isText && !SINGLE.has(left.kind)) return undefined;
  const words = [operator === '=' ? 'NOT' : '', isText ? 'LEN' : ''].filter(Boolean).join(' ');
  const added = (operator === '=' ? 1 : 0) + (isText ? 1 : 0);
  const cut = putWords(text, { start: left.end, end: condition.end }, '');
  return { words, cut, bytes: 1 + nothing - added };
}

const SINGLE = new Set<Expression['kind']>(['variable', 'subscripted', 'constant', 'call']);

/** Bytes of an expression that is 0 or the empty string; undefined for any other. */
function bytesOfNothing(node: Expression): number | undefined {
  if (node.kind === 'number' && node.stored === 'digits' && node.value === 0)
    return literalBytes(node);
  if (node.kind === 'string' && node.codes.length === 0) return 2;
  const isNot = node.kind === 'unary' && node.operator === 'NOT';
  return isNot && node.operand.kind === 'constant' && node.operand.name === 'PI' ? 2 : undefined;
}
