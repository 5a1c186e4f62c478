// Valid: LET I=1 before FOR I, or after its NEXT.
// Not valid: LET I=… between FOR I and NEXT I.
import type { Setting } from '../../analysis/names.js';
import type { Rule } from '../rule.js';

export const loopVariableSet: Rule = {
  name: 'loop-variable-set',
  kind: 'mistake',
  severity: 'warning',
  summary: 'the variable of a FOR loop set within it',
  page: 'The loop goes on from the new value: it ends sooner, later, or never. To end a loop early on purpose that is a known way; silence the rule there and say so.',
  check({ program }, report) {
    const { flow, names } = program;
    const assigned = new Map<string, Setting[]>();
    for (const { variable, start, last } of flow.loops) {
      if (last === undefined) continue;
      let settings = assigned.get(variable);
      if (settings === undefined) {
        settings = names.all.get(variable)?.settings.filter(isAssignment) ?? [];
        assigned.set(variable, settings);
      }
      for (const { step, target } of settings) {
        if (step.index <= start.index || step.index >= last.index) continue;
        report(target, {
          message: `this sets ${variable}, which counts the loop that line ${start.line.number} begins`,
          why: 'NEXT goes on from the new value',
          help: 'use another variable, or silence this rule if the loop is meant to end here',
        });
      }
    }
  },
};

const isAssignment = ({ kind }: Setting): boolean => kind === 'LET' || kind === 'INPUT';
