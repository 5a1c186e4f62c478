/** INPUT as other dialects write it. */
import type { Recogniser } from './mistyped.js';

/** `INPUT "NAME";A$`, `INPUT LINE A$`, `INPUT AT 1,2;A`. */
export const prompt: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  if (line.word(0) === 'LINE' && line.word(1) === 'INPUT') {
    return { message: 'this machine has no LINE INPUT', lines: [line.text(1)] };
  }
  if (line.word(command) !== 'INPUT') return undefined;
  const first = line.word(command + 1);
  if (first === 'LINE' || first === 'PROMPT')
    return {
      message: `this machine has no INPUT ${first}`,
      span: line.span(command + 1),
      lines: [line.without(command + 1)],
    };
  if (!line.isText(command + 1) && first !== 'AT' && first !== 'TAB') return undefined;
  const message = 'INPUT shows no text of its own on this machine';
  const span = line.span(command + 1);
  const name = line.words.findLastIndex((word) => word === ';' || word === ',') + 1;
  if (name === 0 || name >= line.length) {
    const lines = line.lines(command, [`PRINT ${line.text(command + 1)};`, 'INPUT A$']);
    return lines && { message, span, lines, mind: 'INPUT needs a variable: A$ stands for yours' };
  }
  // Texts and names may follow one another; behind AT and TAB alone, the last item is the name.
  const hasText = line.words.some((_, index) => index > command && line.isText(index));
  const [from, to] = hasText ? [command + 1, line.length] : [name, line.length];
  const items = line
    .parts(from, to, [',', ';'])
    .flatMap((item, index, all) =>
      isPlace(item) ? [`${item},${all[index + 1]}`] : isPlace(all[index - 1] ?? '') ? [] : [item],
    );
  const shown = hasText ? [] : [`PRINT ${line.text(command + 1, name - 1)};`];
  const each = items.map((item) =>
    /^(?:"|(?:AT|TAB)\b)/i.test(item) ? `PRINT ${item};` : `INPUT ${item}`,
  );
  const lines = line.lines(command, [...shown, ...each]);
  return lines && { message, span, lines };
};

const isPlace = (item: string): boolean => /^AT\b/i.test(item);

/** `INPUT (A)`, `INPUT A=5`, `INPUT A+1`, `INPUT A$ B$`, `INPUT 5`. */
export const inputAlone: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  if (line.word(command) !== 'INPUT' || at >= line.length) return undefined;
  const message = 'INPUT reads one variable';
  const first = command + 1;
  if (line.word(first) === '(' && line.closing(first) === line.length - 1) {
    const inside = line.parts(first + 1, line.length - 1);
    const lines = line.lines(
      command,
      inside.map((each) => `INPUT ${each}`),
    );
    return lines && { message: `${message}, without brackets`, lines };
  }
  if (at === first && line.word(first) === '$' && /^[A-Z]$/.test(line.word(first + 1))) {
    const lines = [line.put(first, first + 2, `${line.text(first + 1, first + 2)}$`)];
    return { message: 'the $ stands behind the letter of a string', lines };
  }
  if (line.isName(first) && at === first + 1 && line.word(at) === 'AND' && line.isName(at + 1)) {
    const lines = line.lines(command, [line.text(command, at), `INPUT ${line.text(at + 1)}`]);
    return lines && { message, lines };
  }
  if (at === first && !line.isText(at) && !isPlace(line.word(at)))
    return { message, lines: [], mind: 'write it as in INPUT A, or A$ for text' };
  if (!line.isName(first) || at !== first + 1) return undefined;
  if (line.isName(at)) {
    const lines = line.lines(command, [line.text(command, at), `INPUT ${line.text(at)}`]);
    return lines && { message, lines };
  }
  if (!/^(?:=|[-+*/]|<>|[<>]|<=|>=)$/.test(line.word(at))) return undefined;
  return { message: `${message}, and nothing else`, lines: [line.text(0, at)] };
};
