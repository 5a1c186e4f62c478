// Valid: a variable that a LET, INPUT, FOR, DIM or .var sets before it is read.
// Not valid: PRINT A where nothing has set A on any way there.

import type { NamedVariable } from '../../analysis/names.js';
import type { Step } from '../../analysis/steps.js';
import { wordDistance } from '../../listing/explain.js';
import { insteadOf } from '../../listing/other-dialects.js';
import { reachingNames } from '../reaching-names.js';
import type { Rule } from '../rule.js';

export const unsetVariable: Rule = {
  name: 'unset-variable',
  kind: 'mistake',
  severity: 'error',
  summary: 'a variable that is used before anything sets it',
  page: 'The machine has no value for a variable that was never set, and stops with report 2. An element needs its `DIM` first, and so does a slice that is set need its string. The finding is given where no way through the program sets the variable before.',
  check(context, report) {
    const { program } = context;
    const reaches = reachingNames(program);
    for (const variable of program.names.all.values()) {
      const first = firstUnset(variable, reaches);
      if (first === undefined) continue;
      const place = first.inText ? first.step.line : first.node;
      const shown = shownName(variable.name);
      const never = variable.settings.every(({ target }) => target.kind === 'subscripted');
      const isElement = first.isElement && !variable.settings.some(({ kind }) => kind === 'DIM');
      report(place, {
        message: never ? `nothing ever sets ${shown}` : `nothing has set ${shown} before this line`,
        why: 'the machine stops here with report 2',
        help: isElement
          ? `DIM ${shown.at(-1) === '$' ? shown : variable.name[0]} first`
          : isLineOf(first, variable.name)
            ? 'write the number of the line; a name here is a variable, which holds one'
            : adviceFor(variable, program.names.all.values()),
      });
    }
  },
};

interface Need {
  readonly node: { readonly start: number; readonly end: number };
  readonly step: Step;
  readonly inText: boolean;
  readonly isElement: boolean;
}

/** The first use in the order of the lines that no setting can have come to before. */
function firstUnset(
  { name, readings, settings }: NamedVariable,
  reaches: (step: Step, name: string) => boolean | undefined,
): Need | undefined {
  let first: Need | undefined;
  const consider = (step: Step, need: () => Need): void => {
    if (first !== undefined && first.step.index <= step.index) return;
    if (reaches(step, name) === false) first = need();
  };
  for (const { node, step, inText, whole } of readings) {
    consider(step, () => ({ node, step, inText, isElement: whole !== undefined }));
  }
  for (const { target, step } of settings) {
    if (target.kind !== 'subscripted') continue;
    consider(step, () => ({ node: target, step, inText: false, isElement: true }));
  }
  return first;
}

/** Does the name stand alone where GOTO or GOSUB has its line? */
function isLineOf({ step: { statement }, inText }: Need, name: string): boolean {
  if (inText || (statement?.kind !== 'GOTO' && statement?.kind !== 'GOSUB')) return false;
  const [line] = statement.args;
  return line.kind === 'variable' && line.name === name && name.length > 1;
}

const shownName = (name: string): string => (name.endsWith('()') ? `the array ${name[0]}` : name);

/** A name that the program sets and that differs by a slip may be the one that was meant. */
function adviceFor({ name }: NamedVariable, all: Iterable<NamedVariable>): string {
  const other = 'set it first, or correct its name';
  if (/[$(]/.test(name) || name.length < 3) return other;
  const dialect = insteadOf(name);
  if (dialect !== undefined) return dialect;
  const most = name.length < 5 ? 1 : 2;
  let nearest: { name: string; distance: number } | undefined;
  for (const { name: known, settings } of all) {
    if (known.length < 3 || /[$(]/.test(known) || settings.every(({ kind }) => kind === 'NEXT'))
      continue;
    const distance = wordDistance(name, known, most);
    if (distance > 0 && distance <= (nearest?.distance ?? most + 1) - 1)
      nearest = { name: known, distance };
  }
  return nearest === undefined ? other : `did you mean ${nearest.name}? else set it first`;
}
