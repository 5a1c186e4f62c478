// Valid: a variable that a LET, INPUT, FOR, DIM or .var sets before it is read.
// Not valid: PRINT A where nothing has set A on any way there.
import { reachingNames } from '../reaching-names.js';
import type { Rule } from '../rule.js';

export const unsetVariable: Rule = {
  name: 'unset-variable',
  kind: 'mistake',
  severity: 'error',
  summary: 'a variable that is used before anything sets it',
  page: 'The machine has no value for a variable that was never set, and stops with report 2. An element needs its `DIM` first, and so does a slice that is set need its string. The finding is given where no way through the program sets the variable before.',
  fixes: false,
  check(context, report) {
    const { program } = context;
    const reaches = reachingNames(program);
    const told = new Set<string>();
    for (const variable of program.names.all.values()) {
      const needs = [
        ...variable.readings.map(({ node, step, inText, whole }) => ({
          node,
          step,
          inText,
          whole,
        })),
        ...variable.settings.flatMap(({ target, step }) =>
          target.kind === 'subscripted'
            ? [{ node: target, step, inText: false, whole: target }]
            : [],
        ),
      ].sort((a, b) => a.step.index - b.step.index);
      for (const { node, step, inText, whole } of needs) {
        if (told.has(variable.name) || reaches(step, variable.name) !== false) continue;
        told.add(variable.name);
        const place = inText ? step.line : node;
        const isArray =
          whole !== undefined && !variable.settings.some(({ kind }) => kind !== 'LET');
        const never = variable.settings.every(({ target }) => target.kind === 'subscripted');
        report({
          start: place.start,
          end: place.end,
          message: never
            ? `nothing ever sets ${shownName(variable.name)}`
            : `nothing has set ${shownName(variable.name)} before this line`,
          why: 'the machine stops here with report 2',
          help: isArray
            ? `DIM ${shownName(variable.name)} first`
            : 'set it first, or correct its name',
        });
      }
    }
  },
};

const shownName = (name: string): string => (name.endsWith('()') ? `the array ${name[0]}` : name);
