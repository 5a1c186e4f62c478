/**
 * What an expression gives on the machine, bit for bit, beside what is meant: the same in numbers
 * without end. Only where the listing tells every value that it is made from.
 */
import type { Expression } from '../../grammar/tree.js';
import { partsOf, withoutBrackets } from '../../grammar/visit.js';
import { single } from '../analysis/expression-ranges.js';
import type { NamedVariable } from '../analysis/names.js';
import type { Program } from '../analysis/program.js';
import * as functions from '../machine/arithmetic/functions.js';
import { add, divide, multiply, subtract } from '../machine/arithmetic/operations.js';
import { exponentByte } from '../machine/double.js';

/** A value as the machine has it, and as it is meant. */
export interface Reckoned {
  readonly machine: number;
  readonly meant: number;
}

/** Of which program, and by how many units of its last bit every result of a series is moved. */
export interface Asked {
  readonly program: Program;
  readonly doubt: number;
}

/** Values of variables, by name. */
export type Values = ReadonlyMap<string, Reckoned>;

/** What variables have at once: one set of values for each pass of the loop that changes them. */
export type Passes = readonly Values[];

/** So many passes of a loop are gone through, and no more. */
const MOST_PASSES = 1000;
/** How far, as a part of them, two values that are meant may differ by a double's own rounding. */
const ROUNDING = 1e-11;
/** Units of the last bit by which a series may come out otherwise on the machine (functions.ts). */
export const SERIES_DOUBT = 4;

/** Are two values meant to be the same? */
export function meantAlike(a: number, b: number): boolean {
  return Math.abs(a - b) <= ROUNDING * Math.max(Math.abs(a), Math.abs(b), 1);
}

/** The whole number that is meant by INT. */
export function meantWhole(value: number): number {
  const nearest = Math.round(value);
  return meantAlike(value, nearest) ? nearest : Math.floor(value);
}

/**
 * The values that the variables of these expressions have together; undefined where the listing does
 * not tell one of them, or where two loops change them.
 */
export function passesOf(nodes: readonly Expression[], of: Asked): Passes | undefined {
  const fixed = new Map<string, Reckoned>();
  let loop: { name: string; values: readonly Reckoned[] } | undefined;
  for (const name of new Set(nodes.flatMap(namesIn))) {
    const values = valuesOf(name, of, []);
    if (values === undefined) return undefined;
    if (values.length === 1) fixed.set(name, values[0]);
    else if (loop === undefined) loop = { name, values };
    else return undefined;
  }
  if (loop === undefined) return [fixed];
  const { name, values } = loop;
  return values.map((value) => new Map([...fixed, [name, value]]));
}

/** The variables that an expression is made from. What an element holds the run alone tells. */
function namesIn(node: Expression): string[] {
  if (node.kind === 'variable') return [node.name];
  return node.kind === 'subscripted' ? [] : partsOf(node).flatMap(namesIn);
}

/** The values of a number's variable, in the order in which it has them. */
function valuesOf(
  name: string,
  of: Asked,
  asked: readonly string[],
): readonly Reckoned[] | undefined {
  const { program } = of;
  const variable = program.names.all.get(name);
  if (variable === undefined || asked.includes(name)) return undefined;
  const saved = program.saved.some((each) => each.name === name);
  const value = (node: Expression): Reckoned | undefined => constantOf(node, of, [...asked, name]);
  const [first, second] = variable.settings;
  if (saved || first === undefined) return undefined;
  const { statement } = first.step;
  if (second === undefined && statement?.kind === 'LET' && first.kind === 'LET') {
    const found = value(statement.value);
    return found && [found];
  }
  return isOneLoop(variable) && statement?.kind === 'FOR'
    ? passesOfLoop(value(statement.from), value(statement.to), stepOf(statement.step, value))
    : undefined;
}

function isOneLoop({ settings }: NamedVariable): boolean {
  return settings.length === 2 && settings[0].kind === 'FOR' && settings[1].kind === 'NEXT';
}

const ONE: Reckoned = { machine: 1, meant: 1 };
const stepOf = (
  node: Expression | undefined,
  value: (node: Expression) => Reckoned | undefined,
): Reckoned | undefined => (node === undefined ? ONE : value(node));

function constantOf(node: Expression, of: Asked, asked: readonly string[]): Reckoned | undefined {
  const values = new Map<string, Reckoned>();
  for (const name of new Set(namesIn(node))) {
    const found = valuesOf(name, of, asked);
    if (found?.length !== 1) return undefined;
    values.set(name, found[0]);
  }
  return reckon(node, values, of);
}

/** As NEXT counts: the value with which the loop ends is one of them. */
function passesOfLoop(
  from: Reckoned | undefined,
  to: Reckoned | undefined,
  step: Reckoned | undefined,
): readonly Reckoned[] | undefined {
  if (from === undefined || to === undefined || step === undefined) return undefined;
  const values: Reckoned[] = [from];
  const isUp = step.machine >= 0;
  for (let { machine, meant } = from; isUp ? machine <= to.machine : machine >= to.machine; ) {
    if (values.length > MOST_PASSES) return undefined;
    machine = add(machine, step.machine);
    meant += step.meant;
    values.push({ machine, meant });
  }
  return values;
}

const SERIES: Readonly<
  Record<string, readonly [machine: (x: number) => number, meant: (x: number) => number]>
> = {
  SIN: [functions.sine, Math.sin],
  COS: [functions.cosine, Math.cos],
  TAN: [functions.tangent, Math.tan],
  ATN: [functions.arcTangent, Math.atan],
  EXP: [functions.exponential, Math.exp],
};
/**
 * Whose roots the listing of the ROM gives; others may differ in their last bits. Of powers it says
 * that 3**2 is not 9.
 */
const KNOWN_SQUARES = new Set([0, 1, 4, 9, 16, 25, 64, 361]);

/** A literal's digits as they are meant. To the machine a point alone is 0, and `1E` is 1. */
const meantBy = (text: string): number =>
  Number(text.replace(/^\.(?=E|$)/i, '0').replace(/E[+-]?$/i, ''));

/**
 * An expression's value; undefined for what the run alone tells, for strings, and for what stops the
 * machine.
 */
export function reckon(node: Expression, values: Values, asked: Asked): Reckoned | undefined {
  const { program, doubt } = asked;
  const of = (part: Expression): Reckoned | undefined => reckon(part, values, asked);
  const moved = (machine: number, meant: number): Reckoned | undefined =>
    settled(machine + doubt * lastBit(machine), meant);
  switch (node.kind) {
    case 'number':
      return node.stored === 'digits'
        ? settled(node.value, meantBy(node.text))
        : settled(node.value, node.value);
    case 'brackets':
      return of(node.inner);
    case 'variable':
      return values.get(node.name);
    case 'constant':
      return node.name === 'PI' ? { machine: functions.PI, meant: Math.PI } : undefined;
    case 'unary': {
      const operand = of(node.operand);
      if (operand === undefined || node.operator === 'NOT') return undefined;
      return { machine: 0 - operand.machine, meant: -operand.meant };
    }
    case 'call': {
      const argument = node.argument.type === 'number' ? of(node.argument) : undefined;
      if (argument === undefined) return knownNumber(node, program);
      const { machine, meant } = argument;
      if (node.function === 'INT') return settled(Math.floor(machine), meantWhole(meant));
      if (node.function === 'ABS') return settled(Math.abs(machine), Math.abs(meant));
      if (node.function === 'SQR') {
        if (machine < 0) return undefined;
        const root = functions.squareRoot(machine);
        return KNOWN_SQUARES.has(machine)
          ? settled(root, Math.sqrt(meant))
          : moved(root, Math.sqrt(meant));
      }
      const series = SERIES[node.function];
      return series && moved(series[0](machine), series[1](meant));
    }
    case 'binary': {
      const [left, right] = [of(node.left), of(node.right)];
      if (left === undefined || right === undefined) return undefined;
      switch (node.operator) {
        case '+':
          return settled(add(left.machine, right.machine), left.meant + right.meant);
        case '-':
          return settled(subtract(left.machine, right.machine), left.meant - right.meant);
        case '*':
          return settled(multiply(left.machine, right.machine), left.meant * right.meant);
        case '/':
          return settled(divide(left.machine, right.machine), left.meant / right.meant);
        case '**':
          if (left.machine < 0) return undefined;
          if (left.machine === 3 && right.machine === 2) return settled(functions.power(3, 2), 9);
          return moved(functions.power(left.machine, right.machine), left.meant ** right.meant);
        default:
          return undefined;
      }
    }
    default:
      return undefined;
  }
}

/** What the last of a number's 32 bits counts. */
const lastBit = (value: number): number =>
  value === 0 ? 0 : 2 ** (exponentByte(value) - 128 - 32);

/** LEN, CODE and VAL of what the listing shows: whole numbers, which are what is meant. */
function knownNumber(node: Expression, program: Program): Reckoned | undefined {
  const value = single(program.ranges.number(withoutBrackets(node)));
  return value !== undefined && Number.isInteger(value) ? settled(value, value) : undefined;
}

function settled(machine: number, meant: number): Reckoned | undefined {
  return Number.isFinite(machine) && Number.isFinite(meant) ? { machine, meant } : undefined;
}
