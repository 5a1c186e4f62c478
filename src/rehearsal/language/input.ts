/** INPUT: a value from those given, or from a person, taken as the machine takes it. */

import { count } from '../../listing/print.js';
import { halt, report, Wait } from '../halt.js';
import type { Model } from '../state/model.js';
import type { Evaluator } from './evaluator.js';
import { parseTyped, typedCodes } from './typed.js';

/** The cursor and the NEWLINE in the line being typed, and the quotes about a string. */
const CURSOR_AND_END = 2;
const QUOTES = 2;

export function inputNumber(
  model: Model,
  evaluator: Evaluator,
  store: (value: number) => void,
): void {
  ask(model, 'number', (text) => takeNumber(text, model, evaluator), store);
}

export function inputString(
  model: Model,
  evaluator: Evaluator,
  store: (codes: Uint8Array) => void,
): void {
  ask(model, 'string', (text) => takeString(text, model, evaluator), store);
}

/** `take` gives the value of what was typed, or why the machine does not take it. */
function ask<Value extends number | Uint8Array>(
  model: Model,
  type: 'number' | 'string',
  take: (text: string) => Value | string,
  store: (value: Value) => void,
): void {
  const offer = (given: string): string | undefined => {
    const text = withinRoom(model, given, type);
    if (isStop(text, type)) {
      throw report('D', 'STOP was typed at INPUT');
    }
    askRoom(model, text, type);
    const taken = take(text);
    model.memory.workspace = 0;
    if (typeof taken === 'string') return taken;
    store(taken);
    return undefined;
  };
  const wait = (refused?: string): Wait =>
    new Wait(
      type,
      (text) => {
        const wrong = offer(text);
        if (wrong !== undefined) throw wait(wrong);
      },
      undefined,
      refused,
    );
  for (let wrong: string | undefined; ; ) {
    const next = nextText(model, type, wrong);
    if (next === undefined) throw wait(wrong);
    wrong = offer(next.text);
    if (wrong === undefined) return;
    // A person sees the machine's S cursor and types again; a list of values cannot.
    if (!next.asked) throw refused(model, next.text, wrong);
  }
}

/** The next value there is; undefined where a person is to type it while the run waits. */
function nextText(
  model: Model,
  type: 'number' | 'string',
  wrong: string | undefined,
): { text: string; asked: boolean } | undefined {
  const { inputs, isLive } = model.options;
  if (model.inputsUsed < inputs.length) return { text: inputs[model.inputsUsed++], asked: false };
  const text = model.askPerson(type, wrong);
  if (text !== undefined) return { text, asked: true };
  if (isLive) return undefined;
  const given =
    inputs.length === 0 ? 'none is given' : `only ${inputs.length} given, and all are used`;
  throw halt(
    'input',
    `INPUT waits for a ${type}, and ${given}`,
    'give one with --input VALUE, once for each INPUT, or with --inputs FILE',
  );
}

/** STOP is the keyword, and counts first alone: in a string's quotes it is text, unless written [STOP]. */
function isStop(text: string, type: 'number' | 'string'): boolean {
  return type === 'number' ? /^\s*stop\b/i.test(text) : /^\[stop\]$/i.test(text);
}

/** What there is room for: the machine does not take a key that it has no room for. */
function withinRoom(model: Model, text: string, type: 'number' | 'string'): string {
  const { memory } = model;
  memory.calculator = 0;
  const copies = memory.hasFullDisplay ? 1 : 2;
  const own = CURSOR_AND_END + (type === 'string' ? QUOTES : 0);
  const most = Math.max(0, Math.floor(memory.spare / copies) - own);
  const characters = [...text];
  if (characters.length <= most) return text;
  model.remark(
    'input-room',
    `INPUT has room for ${count(most, 'character')}: the keys after ${JSON.stringify(characters.slice(0, most).join(''))} were refused`,
  );
  return characters.slice(0, most).join('');
}

/** What is typed stands in the line being edited and at the bottom of the screen. */
function askRoom(model: Model, text: string, type: 'number' | 'string'): void {
  const { memory } = model;
  const shown = [...text].length + CURSOR_AND_END + (type === 'string' ? QUOTES : 0);
  memory.calculator = 0;
  memory.askWorkspace(shown);
  if (!memory.hasFullDisplay) memory.ask(shown, 'what is typed at INPUT', 'display');
}

/** The value of what was typed, or what is wrong with it. Throws the reports of its expression. */
function takeNumber(text: string, model: Model, evaluator: Evaluator): number | string {
  const typed = parseTyped(text);
  if (typed === undefined) return 'it is not a number, nor an expression';
  if (typed.expression.type !== 'number') return 'it is a string, and INPUT wants a number';
  model.memory.askWorkspace(typed.hidden);
  return evaluator.number(typed.expression)();
}

/** A quote that is typed within the quotes of INPUT ends them: the whole must then be an expression. */
function takeString(text: string, model: Model, evaluator: Evaluator): Uint8Array | string {
  if (!text.replaceAll('""', '').includes('"')) return typedCodes(text);
  const typed = parseTyped(`"${text}"`);
  if (typed?.expression.type !== 'string') return 'a quote in it leaves no string';
  model.memory.askWorkspace(typed.hidden);
  return evaluator.string(typed.expression)().slice();
}

function refused(model: Model, text: string, wrong: string) {
  return halt(
    'input',
    `INPUT would not take value ${model.inputsUsed}, ${JSON.stringify(text)}: ${wrong}; the machine would show its S cursor and wait`,
    'give another value',
  );
}
