import { describe, expect, it } from 'vitest';
import { tokensOf } from '../../grammar/lexer.js';
import {
  ByteBuffer,
  named,
  readCodes,
  readGivenBytes,
  readHexBytes,
  readLooseEscape,
  readRem,
} from '../../grammar/text.js';
import type { Problem } from '../../grammar/tree.js';
import { codeOfUnicode, codesOfText } from '../../src/machine/characters.js';

/** Codes and problems of a REM's text, or of a string's. */
function read(text: string, inString = false, include?: (path: string) => Uint8Array | string) {
  const out = new ByteBuffer(2);
  const problems: Problem[] = [];
  readCodes(`<${text}>`, 1, text.length + 1, inString, out, problems, include);
  return { codes: [...out.from(0)], problems };
}

describe('bytes in brackets', () => {
  it.each([
    ['', []],
    [' ', []],
    ['76', [0x76]],
    ['0f F0\n\t9a', [0x0f, 0xf0, 0x9a]],
    ['  AF 09 ', [0xaf, 9]],
    ['7', undefined],
    ['766', undefined],
    ['7600', undefined],
    ['76 0', undefined],
    ['7G', undefined],
    ['G7', undefined],
    ['x 76', undefined],
    ['76 x', undefined],
  ])('%j', (text, bytes) => {
    expect(readHexBytes(text)).toEqual(bytes);
  });

  it('of a literal are five or none', () => {
    expect(readGivenBytes('')).toEqual(Uint8Array.of());
    expect(readGivenBytes('82 40 00 00 00')).toEqual(Uint8Array.of(0x82, 0x40, 0, 0, 0));
    for (const wrong of ['82', '82 40 00 00', '82 40 00 00 00 00', 'foo']) {
      expect(readGivenBytes(wrong)).toBeUndefined();
    }
  });
});

describe('forms in brackets', () => {
  it.each<[string, number[]]>([
    ['[]', []],
    ['[ ]', []],
    ['[sp][ SP ][pound]', [0, 0, 12]],
    ['[PRINT][ rem ][""]', [0xf5, 234, 192]],
    ['[ul+lr][UL]', [134, 1]],
    ['[~A Z"]', [166, 128, 191, 139]],
    ['[~]', []],
    ['[76 00]', [0x76, 0]],
  ])('%s', (text, codes) => {
    for (const inString of [true, false])
      expect(read(text, inString)).toEqual({ codes, problems: [] });
    expect([...readLooseEscape(text.slice(0, text.indexOf(']') + 1))!]).toEqual(
      read(text.slice(0, text.indexOf(']') + 1)).codes,
    );
  });

  it.each([
    ['A[foo]', 1, 'no-such-form', '[foo] is not a form', 'write [~TEXT] for inverse video'],
    ['[~Aé]B', 0, 'no-such-character', 'no inverse of "é" (U+00E9)', 'write a byte as [XX]'],
    ['[~█]', 0, 'no-such-character', 'no inverse of "█" (U+2588)', 'write it outside the brackets'],
    ['[file "A"]', 0, 'include', 'A cannot be put in: no file can be read', 'write the bytes'],
    ['[file]', 0, 'no-such-form', '[file] is not a form', ''],
    ['[file "A" B]', 0, 'no-such-form', 'is not a form', ''],
    ['[a file "A"]', 0, 'no-such-form', 'is not a form', ''],
  ])('%s is wrong', (text, at, rule, message, help) => {
    const { problems } = read(text);
    expect(problems).toMatchObject([{ start: at + 1, end: text.indexOf(']') + 2, rule }]);
    expect(problems[0].message).toContain(message);
    expect(problems[0].help).toContain(help);
    expect(readLooseEscape(text.slice(at, text.indexOf(']') + 1))).toBeUndefined();
  });

  it('put the bytes of a file into a REM, and into nothing else', () => {
    const include = (path: string) =>
      path === 'OAK.BIN' ? Uint8Array.of(1, 2, 3) : 'there is none';
    for (const form of ['[file "OAK.BIN"]', '[ FILE   "OAK.BIN" ]']) {
      expect(read(`A${form}B`, false, include)).toEqual({ codes: [38, 1, 2, 3, 39], problems: [] });
    }
    expect(read('[file "ELM"]', false, include).problems[0].message).toBe(
      'ELM cannot be put in: there is none',
    );
    expect(read('[file "OAK.BIN"]', true, include).problems).toMatchObject([
      { rule: 'no-such-form' },
    ]);
  });
});

describe('characters', () => {
  it('are stored by their codes; in a string a pair of quotes is one', () => {
    expect(read('aZ 09£▚\u{1FB8F}"').codes).toEqual([38, 63, 0, 28, 37, 12, 134, 9, 11]);
    expect(read('A""B""', true).codes).toEqual([38, 192, 39, 192]);
    expect(read('A""B').codes).toEqual([38, 11, 11, 39]);
  });

  it.each([
    ['\u{1F600}', 'the machine has no character "\u{1F600}" (U+1F600)'],
    ['é', 'the machine has no character "é" (U+00E9)'],
    ['\t', 'the machine has no character U+0009'],
    ['[', 'this "[" is not closed by a "]"'],
    [']', 'the machine has no character "]" (U+005D)'],
  ])('%j is none of the machine', (character, message) => {
    const { codes, problems } = read(`A${character}B`);
    expect(codes).toEqual([38, 39]);
    expect(problems).toMatchObject([
      { start: 2, end: 2 + character.length, rule: 'no-such-character', message },
    ]);
    expect(problems[0].why).toContain('its characters are');
  });

  it.each([..."“”„’‘'–—×÷!#&%@_["])('%s has something to be written in its place', (character) => {
    const { help } = read(character).problems[0];
    expect(help).not.toContain('byte');
    const [, instead] = /^(?:use|write|close it with) (?:an? [a-z ]+ )?(\S+)/.exec(help!) ?? [];
    if (instead === undefined) expect(help).toMatch(/^leave it out, or (use a comma|write NO\.)$/);
    else if (instead !== '],') expect(() => codesOfText(instead.replace(/,$/, ''))).not.toThrow();
  });

  it('are shown as themselves where they can be seen, and by their number', () => {
    expect(['!', '~', 'é', '\u{d7ff}', '\u{e000}'].map(named)).toEqual([
      '"!" (U+0021)',
      '"~" (U+007E)',
      '"é" (U+00E9)',
      '"\u{d7ff}" (U+D7FF)',
      '"\u{e000}" (U+E000)',
    ]);
    expect([' ', '\n', '\x7f', '\u{d800}', '\u{dfff}'].map(named)).toEqual([
      'U+0020',
      'U+000A',
      'U+007F',
      'U+D800',
      'U+DFFF',
    ]);
  });
});

describe('REM', () => {
  it.each([
    ['REM', ''],
    ['REM ', ''],
    ['REM  A', ' A'],
    ['REM"A', '"A'],
    ['REM A ', 'A '],
    ['rem A\r', 'A'],
  ])('%j has one space of layout, and no end of line', (text, stored) => {
    const [, token] = tokensOf(`1 ${text}`);
    const out = new ByteBuffer();
    readRem(token, out, []);
    expect([...out.from(0)]).toEqual([...codesOfText(stored)]);
  });
});

describe('a buffer of bytes', () => {
  it('grows as it must, and keeps what it has', () => {
    for (const size of [0, 1, 2, 32]) {
      const buffer = new ByteBuffer(size);
      const all: number[] = [];
      for (let round = 0; round < 6; round++) {
        const more = Array.from({ length: 7 * round }, (_, at) => (round + at) & 255);
        buffer.push(round);
        buffer.pushAll(more);
        all.push(round, ...more);
        expect([...buffer.from(0)]).toEqual(all);
        expect(buffer.length).toBe(all.length);
      }
      expect([...buffer.from(3)]).toEqual(all.slice(3));
    }
  });

  it('takes letters one by one, and a stored space for its form', () => {
    const buffer = new ByteBuffer();
    buffer.pushLetters('xA1[ sp ]b$x', 1, 11);
    expect([...buffer.from(0)]).toEqual([38, 29, 0, 39, codeOfUnicode('$')]);
  });
});
