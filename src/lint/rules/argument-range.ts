// Valid: PLOT 63,43, PLOT -1,0 (the sign is dropped), PRINT AT 21,31;, POKE 16437,255, CHR$ 255, SQR 2.
// Not valid: PLOT 64,0, PRINT AT 0,32;, POKE 70000,1, CHR$ 256, SQR -1, LN 0.
import type { Expression } from '../../../grammar/tree.js';
import type { NumberRange } from '../../analysis/expression-ranges.js';
import { numberText } from '../../machine/arithmetic/digits.js';
import { wholeOf } from '../../machine/arithmetic/operations.js';
import { LINES_END, PLOT_COLUMNS, PLOT_ROWS } from '../../machine/memory-map.js';
import type { ReportCode } from '../../machine/reports.js';
import { LARGEST_DIMENSION } from '../../machine/variables.js';
import type { LintContext, Report, Rule } from '../rule.js';

interface Bounds {
  readonly low: number;
  readonly high: number;
  readonly report: ReportCode;
  /** Is the bound itself out? */
  readonly open?: boolean;
  /** Is the sign dropped? `low` stands for 0 then. */
  readonly unsigned?: boolean;
}

/** A number whose sign the ROM drops, as PLOT and AT do (W, 0BAF and 08F5). */
const unsigned = (high: number): Bounds => ({ low: -high, high, report: 'B', unsigned: true });

const bytes = { low: 0, high: 255, report: 'B' } as const;
const address = { low: 0, high: 65535, report: 'B' } as const;
const line = { low: 0, high: LINES_END - 1, report: 'B' } as const;

const BLOCK = [unsigned(PLOT_COLUMNS - 1), unsigned(PLOT_ROWS - 1)];

/** Source: the manual, chapters 5, 17 to 19, 26 and Appendix B, from memory. */
const COMMANDS: Readonly<Record<string, readonly Bounds[]>> = {
  PLOT: BLOCK,
  UNPLOT: BLOCK,
  POKE: [address, { low: -255, high: 255, report: 'B' }],
  PAUSE: [address],
  RAND: [address],
  GOTO: [line],
  GOSUB: [line],
  RUN: [line],
};

const FUNCTIONS: Readonly<Record<string, Bounds>> = {
  CHR$: bytes,
  PEEK: address,
  USR: address,
  SQR: { low: 0, high: Infinity, report: 'A' },
  LN: { low: 0, high: Infinity, report: 'A', open: true },
  ASN: { low: -1, high: 1, report: 'A' },
  ACS: { low: -1, high: 1, report: 'A' },
};

export const argumentRange: Rule = {
  name: 'argument-range',
  kind: 'mistake',
  severity: 'error',
  summary: 'a number that a command or function does not take (report B or A)',
  page: '`PLOT` takes 0 to 63 and 0 to 43, `AT` rows to 21 and columns to 31, `TAB` and `CHR$` 0 to 255, `POKE` −255 to 255, `PAUSE` 0 to 65535; the machine stops with report B. `PLOT`, `UNPLOT` and `AT` drop a sign. `SQR` takes nothing below 0, `LN` only what is above, `ASN` and `ACS` −1 to 1; it stops with report A.',
  check(context, report) {
    for (const { statement } of context.program.steps) {
      if (statement === undefined) continue;
      if (statement.kind === 'PRINT' || statement.kind === 'LPRINT') {
        for (const item of statement.items) {
          // Rows 22 and 23 give report 5, and have a rule of their own.
          if (item.kind === 'AT') {
            judge('AT', item.row, unsigned(23), context, report, 21);
            judge('AT', item.column, unsigned(31), context, report);
          } else if (item.kind === 'TAB') judge('TAB', item.column, bytes, context, report);
        }
      } else if ('args' in statement) {
        COMMANDS[statement.kind]?.forEach((bounds, at) => {
          const argument = statement.args[at];
          if (argument !== undefined) judge(statement.kind, argument, bounds, context, report);
        });
      } else if (statement.kind === 'DIM') {
        for (const size of statement.sizes) {
          judge('DIM', size, { low: 1, high: LARGEST_DIMENSION, report: '3' }, context, report);
        }
      }
    }
    for (const { node } of context.program.uses) {
      if (node.kind === 'call' && Object.hasOwn(FUNCTIONS, node.function)) {
        judge(node.function, node.argument, FUNCTIONS[node.function], context, report);
      } else if (node.kind === 'binary' && node.operator === '**') {
        judge('**', node.left, { low: 0, high: Infinity, report: 'A' }, context, report);
      }
    }
  },
};

function judge(
  what: string,
  node: Expression,
  bounds: Bounds,
  { program }: LintContext,
  report: Report,
  shownHigh = bounds.high,
): void {
  const found = program.ranges.number(node);
  const value = outside(found, bounds);
  if (value === undefined) return;
  // A negative size of DIM is no integer for the machine; 0 is one, and too small.
  const isNegativeSize = bounds.report === '3' && value < 0;
  const upTo = shownHigh === Infinity ? 'up' : `to ${shownHigh}`;
  const low = bounds.unsigned ? 0 : bounds.low;
  const from = bounds.open ? `only what is above ${low}` : `${low} ${upTo}`;
  report(node, {
    message: `${what} does not take ${numberText(value)}: it takes ${from}`,
    why: `the machine stops here with report ${isNegativeSize ? 'B' : bounds.report}`,
    help: 'give a number in that range',
  });
}

/** A value of the range, where all of them lie outside. The machine rounds to whole numbers first. */
function outside({ low, high }: NumberRange, bounds: Bounds): number | undefined {
  const rounds = bounds.report !== 'A';
  const least = rounds ? wholeOf(low) : low;
  // Any sign but a dropped one, or that of a POKE's value, is refused: -.3 too.
  const most = rounds && bounds.low !== 0 ? wholeOf(high) : high;
  if (least > bounds.high) return low;
  if (bounds.open ? most <= bounds.low : most < bounds.low) return high;
  return undefined;
}
