/**
 * The commands that take nothing, or only expressions: their actions.
 * Source: the manual, chapters 3 to 26 and Appendix C; the published ROM disassembly; from memory.
 */
import type { Expression, SimpleKeyword } from '../../../grammar/tree.js';
import { LINES_END, RAM_START } from '../../machine/memory-map.js';
import { halt, report } from '../halt.js';
import { listProgram } from '../state/list.js';
import { AT } from '../state/memory.js';
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

type Make = (args: readonly Expression[]) => Action;

/** What makes the action of each command for a model. */
export function commandsOf(model: Model, parts: Parts): Readonly<Record<SimpleKeyword, Make>> {
  const { memory, screen, printer } = model;

  /** A number, or 0 where none is given. */
  const numberOr0 = ([expression]: readonly Expression[]): NumberCode =>
    expression === undefined ? () => 0 : parts.number(expression);

  /** A line number, as an index into the program. */
  const target = (expression: Expression): NumberCode => {
    const number = parts.number(expression);
    return () => {
      const line = wordOf(number(), 'the line');
      if (line < LINES_END) return model.lineFound(line);
      throw report('B', `there can be no line ${line}`, 'line numbers go up to 9999');
    };
  };

  const list =
    (device: Device): Make =>
    (args) => {
      const number = numberOr0(args);
      return () => {
        const first = wordOf(number(), 'the line') & LIST_MASK;
        memory.calculator = 0;
        listProgram(memory, device, first);
      };
    };

  const plot =
    (name: 'PLOT' | 'UNPLOT'): Make =>
    (args) => {
      const x = parts.number(args[0]);
      const y = parts.number(args[1], 1);
      return () => {
        const across = byteOf(x(), `${name}'s x`);
        const up = byteOf(y(), `${name}'s y`);
        memory.calculator = 0;
        screen.plot(across, up, name === 'PLOT');
      };
    };

  return {
    GOTO: ([line]) => {
      const index = target(line);
      return () => {
        model.next = index();
      };
    },
    GOSUB: ([line]) => {
      const index = target(line);
      return () => {
        const next = index();
        memory.calculator = 0;
        memory.pushReturn(model.line + 1);
        model.next = next;
      };
    },
    RETURN: () => () => {
      model.next = model.lineFound(memory.popReturn());
    },
    RUN: ([line]) => {
      const index = line === undefined ? () => 0 : target(line);
      return () => {
        model.next = index();
        memory.clearVariables();
      };
    },
    CLEAR: () => () => memory.clearVariables(),
    CONT: () => () => {
      model.next = model.indexOf(memory.word(AT.OLDPPC));
    },
    STOP: () => () => {
      throw report('9', 'the program came to STOP');
    },
    NEW: () => () => {
      throw halt('new', 'NEW: the program has wiped itself and everything else');
    },
    CLS: () => () => screen.clear(),
    SCROLL: () => () => screen.scroll(),
    SLOW: () => () => model.setPace(true),
    FAST: () => () => model.setPace(false),
    COPY: () => () => printer.copy(),
    LIST: list(screen),
    LLIST: list(printer),
    PAUSE: ([frames]) => {
      const length = parts.number(frames);
      return () => model.pause(wordOf(length(), 'PAUSE'));
    },
    RAND: (args) => {
      const number = numberOr0(args);
      return () => {
        const seed = wordOf(number(), 'RAND');
        const time = model.options.seed ?? model.frames;
        memory.setWord(AT.SEED, seed === 0 ? time : seed);
      };
    },
    POKE: (args) => {
      const address = parts.number(args[0]);
      const value = parts.number(args[1], 1);
      return () => {
        const at = wordOf(address(), 'the address of POKE');
        const number = value();
        const size = byteOf(number, 'the value of POKE', -255);
        if (at < RAM_START || at >= memory.ramEnd) {
          model.remark('poke-nothing', `POKE ${at} changes nothing: there is no RAM at ${at}`);
          return;
        }
        remarkOnPoke(model, at);
        memory.poke(at, number < 0 ? -size : size);
      };
    },
    PLOT: plot('PLOT'),
    UNPLOT: plot('UNPLOT'),
    SAVE: ([text]) => {
      const name = parts.string(text);
      return () => {
        if (name().length === 0) {
          const help = 'give it one of at least one character';
          throw report('F', 'SAVE has no name for the program', help);
        }
        throw halt(
          'tape',
          'SAVE: on the machine, the tape would be recorded here, and the program go on after it',
        );
      };
    },
    LOAD: ([text]) => {
      parts.string(text);
      return () => {
        throw halt(
          'tape',
          'LOAD: on the machine, another program would take the place of this one here',
        );
      };
    },
  };
}

/** Says so where a changed byte has an effect on the machine that it has not here. */
function remarkOnPoke(model: Model, at: number): void {
  const { memory, lines } = model;
  if (at >= memory.stackFloor && at < memory.stackTop) {
    const said = `POKE ${at} changes the machine stack, which may crash the machine`;
    model.remark('poke-stack', said);
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
