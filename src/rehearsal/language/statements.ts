/**
 * Statements, made once into functions that do them.
 * Source: the manual, chapters 3 to 26 and Appendix C; the looping line (the one after FOR), the
 * search for NEXT, the order of DIM: the published ROM disassembly; all from memory.
 */
import type {
  DimStatement,
  Expression,
  ForStatement,
  IfStatement,
  InputStatement,
  LetStatement,
  NextStatement,
  PrintItem,
  PrintStatement,
  Statement,
  Subscripted,
  Variable,
} from '../../../grammar/tree.js';
import { stackedValues, stackedValuesShown } from '../../analysis/calculator-stack.js';
import { add } from '../../machine/arithmetic/operations.js';
import { STACKED_SIZE, VALUES_OF_LOOP } from '../../machine/calculator-stack.js';
import { SPACE } from '../../machine/characters.js';
import { writeNumber } from '../../machine/numbers.js';
import { DIGITS_PRINTED, LINE_PASSED, timeOfSum } from '../../machine/timing.js';
import { LARGEST_DIMENSION } from '../../machine/variables.js';
import { halt, report } from '../halt.js';
import type { Compiled, Model } from '../state/model.js';
import { type Device, putCodes, putNumber } from '../state/output.js';
import { commandsOf, type Parts } from './commands.js';
import { statementCost, thenCost } from './costs.js';
import {
  type Evaluator,
  type NumberCode,
  type Operand,
  readOperand,
  type StringCode,
} from './evaluator.js';
import { inputNumber, inputString } from './input.js';
import { byteOf, difference, settled, wordOf } from './results.js';

export type Action = () => void;

export class StatementMaker implements Parts {
  private calculator = 0;
  private readonly commands: ReturnType<typeof commandsOf>;

  constructor(
    private readonly model: Model,
    private readonly evaluator: Evaluator,
  ) {
    this.commands = commandsOf(model, this);
  }

  make(statement: Statement): Compiled {
    this.calculator = 0;
    const run = this.action(statement);
    return { run, calculator: this.calculator, cost: statementCost(statement) };
  }

  private action(statement: Statement): Action {
    switch (statement.kind) {
      case 'LET':
        return this.let(statement);
      case 'INPUT':
        return this.input(statement);
      case 'DIM':
        return this.dim(statement);
      case 'FOR':
        return this.for(statement);
      case 'NEXT':
        return this.nextOf(statement);
      case 'IF':
        return this.if(statement);
      case 'PRINT':
        return this.print(statement, this.model.screen);
      case 'LPRINT':
        return this.lprint(statement);
      case 'REM':
        return () => {};
      case 'unchecked':
        return () => {
          throw halt(
            'unchecked',
            'this line holds bytes that are no statement, and is not run here',
            'write it as a statement, or try it on the machine itself',
          );
        };
      default:
        return this.commands[statement.kind](statement.args);
    }
  }

  /** An expression's number, its need of stack noted; `below` values lie under it already. */
  number(expression: Expression, below = 0): NumberCode {
    this.need(below + stackedValues(expression));
    return this.evaluator.number(expression);
  }

  private operand(expression: Expression): Operand {
    this.need(stackedValues(expression));
    return this.evaluator.operand(expression);
  }

  string(expression: Expression): StringCode {
    this.need(stackedValues(expression));
    return this.evaluator.string(expression);
  }

  private need(values: number): void {
    this.calculator = Math.max(this.calculator, values * STACKED_SIZE);
  }

  // ───────────────────────────────── LET and INPUT ─────────────────────────────────

  private let({ target, value }: LetStatement): Action {
    if (target.type === 'number') {
      if (target.kind === 'variable') return this.letNumber(target, this.operand(value));
      const number = this.number(value);
      const { bytes } = this.model.memory;
      const address = this.elementAddress(target);
      return () => {
        const at = address();
        writeNumber(number(), bytes, at);
      };
    }
    const string = this.string(value);
    const assign = this.assignString(target);
    return () => assign(string);
  }

  private letNumber({ name }: Variable, value: Operand): Action {
    const { variables } = this.model;
    const slot = variables.number(name);
    return () => variables.write(slot, readOperand(variables, value));
  }

  private elementAddress(target: Subscripted): NumberCode {
    this.need(stackedValues(target));
    return this.evaluator.elements.elementAddress(target);
  }

  /** Gives a function that assigns a string: anew, or into the place of an array or a slice. */
  private assignString(target: Variable | Subscripted): (value: () => Uint8Array) => void {
    const { memory, variables } = this.model;
    if (target.kind === 'subscripted') {
      const place = this.string(target);
      return (value) => this.fillPlace(place(), value);
    }
    const slot = variables.string(target.name);
    const place = this.evaluator.string(target);
    return (value) => {
      if (variables.find(slot) && variables.isArray(slot)) {
        this.fillPlace(place(), value);
        return;
      }
      // The value may be a view of memory that is about to move.
      const codes = value().slice();
      memory.calculator = 0;
      variables.writeString(slot, codes);
    };
  }

  /** LET into a place of fixed length: its text is made anew in the workspace first (137A). */
  private fillPlace(place: Uint8Array, value: () => Uint8Array): void {
    const { memory } = this.model;
    const codes = value();
    if (place.length === 0) return;
    memory.calculator = 0;
    memory.askWorkspace(place.length);
    fill(place, codes, memory.bytes);
  }

  private input({ target }: InputStatement): Action {
    const { model } = this;
    if (target.type === 'string') {
      const assign = this.assignString(target);
      return () => inputString(model, this.evaluator, (codes) => assign(() => codes));
    }
    const { variables } = model;
    const { bytes } = model.memory;
    if (target.kind === 'variable') {
      const slot = variables.number(target.name);
      const store = (value: number): void => variables.write(slot, value);
      return () => inputNumber(model, this.evaluator, store);
    }
    const address = this.elementAddress(target);
    return () => {
      const at = address();
      inputNumber(model, this.evaluator, (value) => writeNumber(value, bytes, at));
    };
  }

  private dim({ target, sizes }: DimStatement): Action {
    const { model } = this;
    const { variables } = model;
    const isString = target.type === 'string';
    const slot = isString ? variables.string(target.name) : variables.array(target.name);
    const codes = sizes.map((size, index) => this.number(size, index));
    return () => {
      // The old array goes before the sizes are worked out (D-RUN 141C).
      variables.drop(slot);
      const dimensions = codes.map((code) => {
        const size = wordOf(code(), 'a size in DIM');
        if (size > 0 && size <= LARGEST_DIMENSION) return size;
        throw report(
          '3',
          `DIM ${target.name}: a size of ${size}`,
          `sizes go from 1 to ${LARGEST_DIMENSION}`,
        );
      });
      model.memory.calculator = 0;
      variables.makeArray(slot, isString, dimensions);
    };
  }

  // ───────────────────────────────── loops and jumps ─────────────────────────────────

  private for({ variable, from, to, step }: ForStatement): Action {
    const { model } = this;
    const { variables } = model;
    const slot = variables.number(variable.name);
    const first = this.number(from);
    const last = this.number(to, 1);
    const by = step === undefined ? () => 1 : this.number(step, 2);
    this.need(VALUES_OF_LOOP);
    return () => {
      const start = first();
      const limit = last();
      const stride = by();
      variables.write(slot, start);
      variables.makeLoop(slot, limit, stride, model.line + 1);
      if (isOver(start, limit, stride)) this.skipLoop(variable.name);
    };
  }

  /** A loop that is not run at all: on after the next line that is NEXT of this variable. */
  private skipLoop(name: string): void {
    const { model } = this;
    const { lines } = model;
    for (let index = model.next; index < lines.length; index++) {
      const statement = lines[index].source.statement;
      if (statement?.kind === 'NEXT' && statement.variable.name === name) {
        model.next = index + 1;
        return;
      }
    }
    model.next = lines.length;
  }

  private nextOf({ variable }: NextStatement): Action {
    const { model } = this;
    const { variables, clock } = model;
    const { name } = variable;
    const slot = variables.number(name);
    let loopingLine = -1;
    let loopingIndex = 0;
    this.need(VALUES_OF_LOOP);
    return () => {
      const before = variables.read(slot);
      if (!slot.isLoop) {
        throw report(
          '1',
          `NEXT ${name}: ${name} is a plain variable, not one that FOR made`,
          'see whether the program can come here without its FOR',
        );
      }
      const { limit, stride, line } = slot;
      const value = settled(add(before, stride));
      clock.spend(timeOfSum(before, stride, value) + timeOfSum(value, -stride, value));
      variables.put(slot, value);
      if (isOver(value, limit, stride)) return;
      if (line !== loopingLine) {
        loopingLine = line;
        loopingIndex = model.indexOf(line);
      }
      clock.spend(LINE_PASSED * (loopingIndex + 1));
      model.next = loopingIndex;
    };
  }

  private if(statement: IfStatement): Action {
    const { condition, then } = statement;
    const { variables, taken, memory, clock } = this.model;
    const test = this.operand(condition);
    const ofCondition = this.calculator;
    this.calculator = 0;
    const action = this.action(then);
    // What stands behind THEN is worked out, and takes its room, only where the condition holds.
    const ofThen = this.calculator;
    this.calculator = ofCondition;
    const cost = thenCost(then);
    let known = false;
    return () => {
      if (readOperand(variables, test) === 0) return;
      if (!known) {
        taken.add(statement);
        memory.deepestThen = Math.max(memory.deepestThen, ofThen);
        known = true;
      }
      clock.spend(cost);
      if (ofThen > ofCondition) memory.askCalculator(ofThen);
      else memory.calculator = ofThen;
      action();
    };
  }

  // ───────────────────────────────── PRINT ─────────────────────────────────

  private print({ items }: PrintStatement, device: Device): Action {
    const actions = items.map((item, at) => this.printed(item, device, at === 0));
    if (items.at(-1)?.kind !== 'separator') actions.push(() => device.newline());
    return () => {
      for (const action of actions) action();
    };
  }

  private lprint(statement: PrintStatement): Action {
    const { model } = this;
    const print = this.print(statement, model.printer);
    return () => {
      model.toPrinter = true;
      print();
      model.toPrinter = false;
    };
  }

  /** An item, worked out on the display that those before it have made. */
  private printed(item: PrintItem, device: Device, isFirst: boolean): Action {
    const { memory } = this.model;
    const ofOthers = this.calculator;
    this.calculator = 0;
    const action = this.printItem(item, device);
    const own = this.calculator;
    this.calculator = Math.max(ofOthers, own);
    if (isFirst || own === 0) return action;
    return () => {
      memory.askCalculator(own);
      action();
    };
  }

  private printItem(item: PrintItem, device: Device): Action {
    const { memory } = this.model;
    // What was computed has left the calculator stack when the printing begins.
    const show = (codes: Uint8Array): void => {
      memory.calculator = 0;
      putCodes(device, codes);
    };
    switch (item.kind) {
      case 'separator':
        return item.text === ',' ? () => device.comma() : () => {};
      case 'AT': {
        const row = this.number(item.row);
        const column = this.number(item.column, 1);
        return () => {
          const down = byteOf(row(), "AT's row");
          const across = byteOf(column(), "AT's column");
          memory.calculator = 0;
          device.at(down, across);
        };
      }
      case 'TAB': {
        const column = this.number(item.column);
        return () => {
          const wanted = wordOf(column(), 'TAB');
          memory.calculator = 0;
          device.tab(byteOf(wanted, 'TAB') & 31);
        };
      }
      default: {
        if (item.type === 'number') {
          const value = this.number(item);
          this.need(stackedValuesShown(item));
          return () => {
            const number = value();
            memory.calculator = 0;
            memory.clock.spend(DIGITS_PRINTED);
            putNumber(device, number);
          };
        }
        const text = this.string(item);
        // Any but one that stands in the program may be a view of memory that printing moves.
        return item.kind === 'string' ? () => show(text()) : () => show(text().slice());
      }
    }
  }
}

/** Has a loop gone past its limit (NEXT-LOOP 0E5A)? */
function isOver(value: number, limit: number, stride: number): boolean {
  return (stride < 0 ? difference(limit, value) : difference(value, limit)) > 0;
}

/** Puts a string into a place of fixed length: cut, or filled up with spaces. */
function fill(place: Uint8Array, value: Uint8Array, memory: Uint8Array): void {
  // A slice of itself may overlap; an empty place has no address.
  if (place.length === 0) return;
  const at = place.byteOffset;
  const codes = value.slice(0, place.length);
  memory.set(codes, at);
  memory.fill(SPACE, at + codes.length, at + place.length);
}
