// Valid: DIM A$(5) before anything is put into A$.
// Not valid: LET A$="OAK" and then DIM A$(5), which throws OAK away.

import { reachingNames } from '../reaching-names.js';
import type { Rule } from '../rule.js';

export const dimDiscardsString: Rule = {
  name: 'dim-discards-string',
  kind: 'mistake',
  severity: 'warning',
  summary: 'DIM that throws away a plain string of the same name',
  page: 'A string and an array of strings share their name: `DIM` deletes whichever is there and begins with spaces.',
  check({ program }, report) {
    let reaches: ReturnType<typeof reachingNames> | undefined;
    for (const { name, settings } of program.names.all.values()) {
      const dims = settings.filter(({ kind }) => kind === 'DIM');
      const firstDim = Math.min(...dims.map(({ step }) => step.index));
      const plain = settings.find(
        ({ kind, target, step }) =>
          kind !== 'DIM' && target.kind === 'variable' && step.index < firstDim,
      );
      if (dims.length === 0 || plain === undefined) continue;
      reaches ??= reachingNames(program);
      for (const { step, target } of dims) {
        if (reaches(step, name) === false) continue;
        report(target, {
          message: `this DIM throws away the string ${name} that line ${plain.step.line.number} sets`,
          why: 'a string and an array of strings share their name, and DIM begins afresh',
          help: 'use another letter for one of them',
        });
      }
    }
  },
};
