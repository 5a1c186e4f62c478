// Valid: LET A=5 where A is read in two places, or set in another, or may be read before it is set.
// Not valid: LET A=5 for the one place that reads A: the number itself can stand there.

import { withoutBrackets } from '../../../grammar/visit.js';
import type { Reading, Setting } from '../../analysis/names.js';
import { putWords } from '../../listing/edits.js';
import { count } from '../../listing/print.js';
import { lineSize } from '../../machine/image-layout.js';
import { numberVariableSize, stringVariableSize } from '../../machine/variables.js';
import { comesFirst } from '../comes-first.js';
import { takeOut } from '../line-removal.js';
import { literalBytes, shorterForm } from '../literal-forms.js';
import { hasSpaces } from '../name-uses.js';
import type { LintContext, Rule } from '../rule.js';

export const singleUse: Rule = {
  name: 'single-use',
  kind: 'memory',
  severity: 'note',
  summary: 'a variable that is set once to a constant, and read in one place',
  page: "The `LET` line takes 8 bytes and its constant, and the variable its own. With the constant in the place of the variable all of that is saved. The fix is offered where every way to that place goes through the `LET`, and makes the `LET` a comment of the editor's. The constant is then worked out each time the place is run: in a loop that must be fast, leave the variable.",
  fixes: true,
  check(context, report) {
    const { program } = context;
    if (program.names.unknownReads.length > 0 || clears(context)) return;
    const saved = new Set(program.saved.map(({ name }) => name));
    for (const { name, settings, readings } of program.names.all.values()) {
      if (settings.length !== 1 || readings.length !== 1 || saved.has(name)) continue;
      const found = replacement(context, settings[0], readings[0]);
      if (found === undefined) continue;
      const { step, target } = settings[0];
      const [{ node, step: reader }] = readings;
      const line = lineSize(step.line);
      const bytes = line + name.length - found.bytes;
      if (bytes <= 0) continue;
      const out = takeOut(context, step, `${found.text} in place of ${name}`);
      const isSafe = out !== undefined && context.mayChange(reader);
      report(target, {
        message: `${name} is read in line ${reader.line.number} alone, where ${found.text} could stand: that saves ${count(bytes, 'byte')}, and ${found.variable} more in the variables`,
        why: `the line takes ${line} bytes, and nothing else needs it`,
        bytes,
        fix: isSafe
          ? {
              what: out.what,
              edits: [...out.edits, putWords(context.text, node, found.text)],
              claims: [...out.edits, node],
            }
          : undefined,
      });
    }
  },
};

/** RUN and CLEAR take variables away behind the program's back. */
function clears({ program }: LintContext): boolean {
  return program.steps.some(({ statement }) =>
    ['RUN', 'CLEAR', 'CONT', 'LOAD', 'unchecked', undefined].includes(statement?.kind),
  );
}

/** What can stand where the variable is read, its bytes, and those of the variable. */
function replacement(context: LintContext, setting: Setting, reading: Reading) {
  const { program, text } = context;
  const { kind, step, target } = setting;
  if (kind !== 'LET' || step.statement?.kind !== 'LET' || target.kind !== 'variable')
    return undefined;
  if (reading.inText || reading.whole !== undefined || reading.step === step) return undefined;
  if (!comesFirst(program, step, reading.step)) return undefined;
  const value = withoutBrackets(step.statement.value);
  if (value.kind === 'string') {
    const size = value.codes.length;
    const words = text.slice(value.start, value.end);
    return { text: words, bytes: size + 2, variable: stringVariableSize(size) };
  }
  if (value.kind !== 'number' || value.stored !== 'digits') return undefined;
  const use = program.uses.find(({ node }) => node === reading.node);
  if (use === undefined || hasSpaces(reading.node)) return undefined;
  const form = shorterForm(use, value) ?? {
    text: value.text,
    bytes: literalBytes({ ...value, spaces: 0 }),
  };
  return { ...form, variable: numberVariableSize(target.name) };
}
