/** The commands that take numbers and give the program nothing back: LIST, RAND, POKE, PLOT, SAVE, LOAD. */
import type { Expression } from '../../../grammar/tree.js';
import { RAM_START } from '../../machine/memory-map.js';
import { halt, report } from '../halt.js';
import { listProgram } from '../state/list.js';
import { PLACES } from '../state/memory.js';
import type { Model } from '../state/model.js';
import type { Device } from '../state/output.js';
import type { NumberCode, StringCode } from './evaluator.js';
import { byteOf, wordOf } from './results.js';
import type { Action } from './statements.js';

/** LIST leaves out the two highest bits of a line number (ROM). */
const LIST_MASK = 0x3fff;

/** Makes the parts of a statement, and notes what they need of the calculator stack. */
export interface Parts {
  /** `below` values lie under it already. */
  number(expression: Expression, below?: number): NumberCode;
  string(expression: Expression): StringCode;
}

export class Commands {
  constructor(
    private readonly model: Model,
    private readonly parts: Parts,
  ) {}

  list(args: readonly Expression[], device: Device): Action {
    const number = args.length > 0 ? this.parts.number(args[0]) : () => 0;
    return () => {
      const first = wordOf(number(), 'the line') & LIST_MASK;
      this.model.memory.calculator = 0;
      listProgram(this.model.memory, device, first);
    };
  }

  rand(args: readonly Expression[]): Action {
    const { model } = this;
    const number = args.length > 0 ? this.parts.number(args[0]) : () => 0;
    return () => {
      const seed = wordOf(number(), 'RAND');
      const time = model.options.seed ?? model.frames;
      model.memory.setWord(PLACES.seed, seed === 0 ? time : seed);
    };
  }

  poke(args: readonly Expression[]): Action {
    const { model } = this;
    const { memory } = model;
    const address = this.parts.number(args[0]);
    const value = this.parts.number(args[1], 1);
    return () => {
      const at = wordOf(address(), 'the address of POKE');
      const number = value();
      const size = byteOf(number, 'the value of POKE', -255);
      if (at < RAM_START || at >= memory.ramEnd) {
        model.remark('poke-nothing', `POKE ${at} changes nothing: there is no RAM at ${at}`);
        return;
      }
      this.remarkOnPoke(at);
      memory.poke(at, number < 0 ? -size : size);
    };
  }

  /** Says so where a changed byte has an effect on the machine that it has not here. */
  private remarkOnPoke(at: number): void {
    const { model } = this;
    const { memory, lines } = model;
    if (at >= memory.stackFloor && at < memory.stackTop) {
      model.remark(
        'poke-stack',
        `POKE ${at} changes the machine stack, which may crash the machine`,
      );
      return;
    }
    if (at >= memory.dFile || at < (lines[0]?.address ?? memory.dFile)) return;
    const line = lines.findLast((each) => each.address <= at);
    if (line?.source.statement?.kind === 'REM') return;
    model.remark(
      'poke-program',
      `POKE ${at} changes line ${line?.number ?? 0} of the program: it is run as it was`,
    );
  }

  plot(args: readonly Expression[], light: boolean): Action {
    const { memory, screen } = this.model;
    const x = this.parts.number(args[0]);
    const y = this.parts.number(args[1], 1);
    const name = light ? 'PLOT' : 'UNPLOT';
    return () => {
      const across = byteOf(x(), `${name}'s x`);
      const up = byteOf(y(), `${name}'s y`);
      memory.calculator = 0;
      screen.plot(across, up, light);
    };
  }

  tape(kind: 'SAVE' | 'LOAD', args: readonly Expression[]): Action {
    const name = args.length > 0 ? this.parts.string(args[0]) : () => new Uint8Array(0);
    return () => {
      if (kind === 'SAVE' && name().length === 0) {
        throw report(
          'F',
          'SAVE has no name for the program',
          'give it one of at least one character',
        );
      }
      throw halt(
        'tape',
        kind === 'SAVE'
          ? 'SAVE: on the machine, the tape would be recorded here, and the program go on after it'
          : 'LOAD: on the machine, another program would take the place of this one here',
      );
    };
  }
}
