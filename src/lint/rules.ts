/** The registry of rules: a rule is one file in rules/ and one line here. */
import type { Severity } from '../listing/diagnostics.js';
import type { Rule } from './rule.js';
import { andOrNumber } from './rules/and-or-number.js';
import { argumentRange } from './rules/argument-range.js';
import { arrayExtent } from './rules/array-size.js';
import { chainedEquals } from './rules/chained-equals.js';
import { comparedTwice } from './rules/compared-twice.js';
import { copiedVariable } from './rules/copied-variable.js';
import { dimDiscardsString } from './rules/dim-discards-string.js';
import { divisionByZero } from './rules/division-by-zero.js';
import { emptyLoop } from './rules/empty-loop.js';
import { forWithoutNext } from './rules/for-without-next.js';
import { joinedPrint } from './rules/joined-print.js';
import { jumpIntoLoop } from './rules/jump-into-loop.js';
import { jumpOutOfLoop } from './rules/jump-out-of-loop.js';
import { longName } from './rules/long-name.js';
import { loopVariable } from './rules/loop-variable.js';
import { loopVariableSet } from './rules/loop-variable-set.js';
import { machineCodePlace } from './rules/machine-code-place.js';
import { missingLine } from './rules/missing-line.js';
import { nextWithoutFor } from './rules/next-without-for.js';
import { noRoom } from './rules/no-room.js';
import { numberEquality } from './rules/number-equality.js';
import { numberForm } from './rules/number-form.js';
import { oneCaller } from './rules/one-caller.js';
import { pastTheDisplay } from './rules/past-the-display.js';
import { pausePoke } from './rules/pause-poke.js';
import { remark } from './rules/remark.js';
import { repeatedNumber } from './rules/repeated-number.js';
import { returnWithoutGosub } from './rules/return-without-gosub.js';
import { saveLast } from './rules/save-last.js';
import { singleUse } from './rules/single-use.js';
import { spareBrackets } from './rules/spare-brackets.js';
import { spareDigits } from './rules/spare-digits.js';
import { spareGoto } from './rules/spare-goto.js';
import { spareSpace } from './rules/spare-space.js';
import { spareStep } from './rules/spare-step.js';
import { spreadDisplay } from './rules/spread-display.js';
import { stringDoubling } from './rules/string-doubling.js';
import { subscriptRange } from './rules/subscript-range.js';
import { unreachableLine } from './rules/unreachable-line.js';
import { unsetVariable } from './rules/unset-variable.js';
import { unusedVariable } from './rules/unused-variable.js';
import { zeroTest } from './rules/zero-test.js';

export const RULES: readonly Rule[] = [
  noRoom,
  missingLine,
  nextWithoutFor,
  forWithoutNext,
  emptyLoop,
  jumpIntoLoop,
  jumpOutOfLoop,
  returnWithoutGosub,
  unsetVariable,
  subscriptRange,
  argumentRange,
  pastTheDisplay,
  divisionByZero,
  numberEquality,
  andOrNumber,
  chainedEquals,
  comparedTwice,
  dimDiscardsString,
  loopVariableSet,
  saveLast,
  pausePoke,
  machineCodePlace,
  numberForm,
  repeatedNumber,
  longName,
  remark,
  arrayExtent,
  spreadDisplay,
  stringDoubling,
  oneCaller,
  unreachableLine,
  unusedVariable,
  copiedVariable,
  loopVariable,
  spareSpace,
  spareDigits,
  spareBrackets,
  spareStep,
  spareGoto,
  zeroTest,
  singleUse,
  joinedPrint,
];

const MEMORY_RULES: ReadonlySet<string> = new Set(
  RULES.filter(({ kind }) => kind === 'memory').map(({ name }) => name),
);

/** Can a finding wait while there is room? What is more than a note may stop the program. */
export const isSaving = ({ rule, severity }: { rule: string; severity: Severity }): boolean =>
  severity === 'note' && MEMORY_RULES.has(rule);
