/** FOR and NEXT as other dialects write them. */
import type { Recogniser, Remedy } from './mistyped.js';
import { reads } from './mistyped.js';

/** `FOR(I=1 TO 10)`, `FOR A$=1 TO 10`, `FOR 1 TO 10`, `FOR I=1 STEP 2 TO 10`, `FOR I=1..10`. */
export const forShapes: Recogniser = (line, at) => {
  if (line.word(0) !== 'FOR') return;
  if (at === 1 && line.word(1) === 'LET') {
    return { message: 'FOR takes no LET', lines: [line.without(1)] };
  }
  const open = line.words.indexOf('(');
  if (at === 1 && open === 1 && line.closing(1) > 0) {
    const lines = [`FOR ${line.text(2, line.closing(1))} ${line.text(line.closing(1) + 1)}`.trim()];
    return { message: 'FOR takes no brackets', lines };
  }
  if (at === 1 && /^[A-Z]\$$/.test(line.word(1)) && line.isText(3) && line.isText(5)) {
    const ends = `CODE ${line.text(3, 4)} ${line.text(4, 5)} CODE ${line.text(5, 6)}`;
    const lines = [`FOR ${line.word(1)[0]}=${ends} ${line.text(6)}`.trim()];
    const mind = `CHR$ ${line.word(1)[0]} is the character`;
    return { message: 'FOR counts with a number', lines, mind };
  }
  if (at === 1 && /^[A-Z]\$$/.test(line.word(1))) {
    const message = 'FOR counts with a number, whose name is one letter';
    return { message, lines: [line.put(1, 2, line.word(1)[0])] };
  }
  if (at === 1 && line.isNumber(1)) {
    const message = 'FOR names the variable that counts';
    return { message, lines: [line.put(1, 1, 'I=')], mind: 'I stands for yours' };
  }
  const [step, to] = [line.words.indexOf('STEP'), line.words.indexOf('TO')];
  if (step > 0 && to > step) {
    const lines = [`${line.text(0, step)} ${line.text(to)} ${line.text(step, to)}`];
    return { message: 'STEP stands behind the last value of FOR', lines };
  }
  const parted = line.pointsAsTo(at);
  if (parted !== undefined) return { message: 'TO is missing in this FOR', lines: [parted] };
  if (at === line.length && to < 0 && line.word(at - 2) === '-') {
    return { message: 'TO is missing in this FOR', lines: [line.put(at - 2, at - 1, ' TO ')] };
  }
  if (line.word(at) === '=' && line.word(at - 1) === 'STEP') {
    return { message: 'no = stands behind STEP', lines: [line.put(at, at + 1, ' ')] };
  }
  return;
};

/** A sign or a word of FOR that is missing, or another in its place. */
export const forParts: Recogniser = (line, at) => {
  if (line.word(line.commandOf(at)) !== 'FOR') return;
  const found = line.word(at);
  const hasTo = line.words.slice(0, at).includes('TO');
  const put = (to: number, words: string): string =>
    line.put(at, to, ` ${words} `).replace(/ {2,}/g, ' ').trim();
  if (!line.words.slice(0, at).includes('=')) {
    if (found === '(' && line.closing(at) > 0 && line.word(line.closing(at) + 1) === '=') {
      const lines = [line.put(at, line.closing(at) + 1, '')];
      return { message: 'FOR counts with a name of one letter, and no element', lines };
    }
    if (found === '(' || line.words.slice(at).includes('=')) return;
    const from = /^(?:IN|FROM|:|,)$/.test(found) ? at + 1 : at;
    const first = found === 'TO' ? '=1 ' : '=';
    const lines = [line.put(at, from, first).replace(/ *= */, '=')];
    return { message: '= is missing in this FOR', lines };
  }
  if (hasTo && (found === 'DO' || found === ':' || found === ';')) {
    const head = line.text(0, at);
    const behind = line.text(at + 1);
    const message = 'nothing stands behind the last value of FOR';
    return [
      { message, lines: [head, behind] },
      { message, lines: [head] },
    ].filter(
      ({ lines }) => lines.every(reads) && (behind === '' || found === 'DO' || lines.length > 1),
    );
  }
  if (found === 'DOWNTO') {
    const message = 'this machine counts down with STEP -1';
    return { message, lines: [`${put(at + 1, 'TO')} STEP -1`] };
  }
  if (!hasTo && found === 'STEP') return;
  if (!hasTo) {
    const lines = [put(at + 1, 'TO'), put(at, 'TO')].filter(reads).slice(0, 1);
    return lines.length === 0 ? undefined : { message: `TO is missing in this FOR`, lines };
  }
  if (found === ',' || found === 'BY' || found === ';') {
    const message = 'this machine writes STEP before the size of a step';
    return { message, lines: [put(at + 1, 'STEP')] };
  }
  return;
};

/** `NEXT A$`, `NEXT (I)`, `NEXT I STEP 2`, `NEXT I=5`. */
export const nextAlone: Recogniser = (line, at) => {
  const command = line.commandOf(at);
  if (line.word(command) !== 'NEXT' || line.word(at) === ',' || at >= line.length) return;
  if (line.isNumber(command + 1) && at === command + 1) {
    const mind = 'write it as in NEXT I, where I is the letter of the FOR';
    return { message: 'NEXT takes the letter of its FOR', lines: [], mind };
  }
  const name = line.word(line.word(command + 1) === '(' ? command + 2 : command + 1);
  const isBracketed = line.word(at) === '(' && line.word(at + 2) === ')' && at + 3 === line.length;
  if (!/^[A-Z]\$?$/.test(name) || (line.isName(at) && at > command + 1)) return;
  if (line.isName(at + 1) && !isBracketed) return;
  const remedy: Remedy = {
    message: 'NEXT takes the letter of its FOR, and nothing else',
    lines: [line.put(command + 1, line.length, ` ${name[0]}`).replace(/ {2,}/, ' ')],
  };
  return remedy;
};
