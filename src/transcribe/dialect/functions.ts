/** `DEF FN`: the function's expression stands in place of each call. */
import { matchesOutside } from '../page/text-spans.js';
import { argumentsAt, isFleeting, splitCommas } from './parts.js';

interface Defined {
  readonly parameters: readonly string[];
  readonly expression: string;
}

export type Functions = ReadonlyMap<string, Defined>;

const DEF = /^DEF\s*FN\s*([A-Z]\w*\$?)\s*(?:\(([^()]*)\))?\s*=\s*(.+)$/i;
const CALL = /\bFN\s*([A-Z]\w*\$?)\s*(\(?)/gi;
/** Calls within calls are put in place no deeper and no longer than this. */
const DEEPEST = 20;
const LONGEST = 500;

/** Is this statement a definition? */
export const isDefinition = (text: string): boolean => /^DEF\s*FN/i.test(text);

/** The functions that these statements define, by name; those that are defined twice are none. */
export function functionsOf(statements: readonly string[]): Functions {
  const functions = new Map<string, Defined>();
  const twice = new Set<string>();
  for (const statement of statements) {
    const match = DEF.exec(statement);
    if (match === null) continue;
    const name = match[1].toUpperCase();
    if (functions.has(name)) twice.add(name);
    const parameters = match[2] === undefined ? [] : splitCommas(match[2]);
    functions.set(name, {
      parameters: parameters.map((parameter) => parameter.toUpperCase()),
      expression: match[3].trim(),
    });
  }
  for (const name of twice) functions.delete(name);
  return functions;
}

/** Does it call any function? */
export const hasCall = (text: string): boolean => matchesOutside(text, CALL).length > 0;

/** The statement with every call put in place; undefined where one cannot be. */
export function withoutCalls(text: string, functions: Functions): string | undefined {
  let read = text;
  for (let depth = 0; depth < DEEPEST && read.length <= LONGEST; depth++) {
    const call = matchesOutside(read, CALL).at(-1);
    if (call === undefined) return read;
    const defined = functions.get(call[1].toUpperCase());
    if (defined === undefined) return undefined;
    let end = call.index + call[0].length;
    let values: string[] = [];
    if (call[2] === '(' && defined.parameters.length > 0) {
      const found = argumentsAt(read, end);
      if (found.end < 0) return undefined;
      values = found.parts;
      end = found.end;
    } else if (call[2] === '(') end--;
    const inPlace = put(defined, values);
    if (inPlace === undefined) return undefined;
    read = `${read.slice(0, call.index)}(${inPlace})${read.slice(end)}`;
  }
  return undefined;
}

function put({ parameters, expression }: Defined, values: readonly string[]): string | undefined {
  if (parameters.length !== values.length) return undefined;
  let text = expression;
  const names = matchesOutside(expression, /[A-Z]\w*\$?/gi);
  for (const { 0: name, index } of names.reverse()) {
    const at = parameters.indexOf(name.toUpperCase());
    if (at < 0) continue;
    const value = values[at];
    const uses = names.filter(({ 0: other }) => other.toUpperCase() === parameters[at]).length;
    if (uses > 1 && isFleeting(value)) return undefined;
    const shown = /^(?:[A-Z]\w*\$?|\d+\.?\d*|"[^"]*")$/i.test(value) ? value : `(${value})`;
    text = text.slice(0, index) + shown + text.slice(index + name.length);
  }
  return text;
}
