/** Directives: what is wrong with one is said at its place. */
import { describe, expect, it } from 'vitest';
import { buildImage } from '../../src/image/build.js';
import { type Diagnostic, Places } from '../../src/listing/diagnostics.js';
import { directiveText } from '../../src/listing/directive-text.js';
import { readListing } from '../../src/listing/read.js';

/** `line:column "what stands there" message` of each diagnostic of reading and building. */
function wrong(text: string): string[] {
  const { listing, diagnostics } = readListing(text);
  const all: Diagnostic[] = [...diagnostics];
  if (all.length === 0) all.push(...buildImage(listing).diagnostics);
  const places = new Places(text);
  return all.map(({ start, end, message }) => {
    const { line, column } = places.at(start);
    return `${line}:${column} "${text.slice(start, end)}" ${message}`;
  });
}

const PROGRAM = '10 PRINT 1\n';
/** What is wrong with the directive in the second line of a listing. */
const second = (directive: string): string[] => wrong(`${PROGRAM}${directive}\n`);

describe('a value that does not fit', () => {
  it.each([
    ['.name OAK', '2:6 " OAK" a string in quotes belongs here'],
    ['.name "OAK', '2:7 ""OAK" this string is not closed by a quote'],
    ['.name ""', '2:6 " """ the name is empty'],
    ['.name "[~OAK]"', '2:6 " "[~OAK]"" a name on tape holds no inverse video and no keywords'],
    ['.name "OAK" ELM', '2:13 "ELM" nothing more belongs here'],
    ['.name "O{K"', '2:9 "{" the machine has no character "{" (U+007B)'],
    ['.ram', '2:5 "\n" a size such as 1K or 16K belongs here'],
    ['.ram 1M', '2:6 "1M" 1M is not a size of RAM: write 1K, 2K, 16K …'],
    ['.ram 64K', '2:6 "64K" 64K is not a size that the machine takes: 1K to 48K'],
    ['.ram 512', '2:6 "512" 512 is not a size that the machine takes: 1K to 48K'],
    ['.tv 55', '2:5 "55" 55 is not a rate of frames'],
    ['.start 0', '2:8 "0" 0 cannot be a line number'],
    ['.start 10000', '2:8 "10000" 10000 cannot be a line number'],
    ['.start A', '2:7 " A" a line number belongs here'],
    ['.start 20', '2:1 ".start 20" there is no line 20 to start from, nor one after it'],
    ['.lines sorted', '2:7 " sorted" as-written belongs here'],
    ['.var 1 = 2', '2:5 " 1 = 2" the name of a variable belongs here'],
    ['.var A', '2:7 "\n" = belongs here'],
    ['.var A = B', '2:9 " B" a number belongs here'],
    ['.var A = 1E39', '2:10 "1E39" 1E39 is too large for the machine'],
    ['.var A = 1[=81 00]', '2:10 "1[=81 00]" [=81 00] does not give five bytes'],
    ['.var A = 1 2', '2:12 "2" nothing more belongs here'],
    ['.var AB$ = "X"', '2:6 "AB$" the name of a string is one letter and $'],
    ['.var A$ = 5', '2:10 " 5" a string in quotes belongs here'],
    ['.var A$ = "[sp][sp][sp]', '2:11 ""[sp][sp][sp]" this string is not closed by a quote'],
    ['.var AB(2) = 1,2', '2:6 "AB" the name of an array is one letter'],
    ['.var A(2) = 1', '2:12 " 1" A(2) holds 2 numbers, not 1'],
    ['.var A(2) = 1,2,3', '2:12 " 1,2,3" A(2) holds 2 numbers, not 3'],
    ['.var A(0) = 1', '2:10 " = 1" a dimension of 0 holds nothing'],
    ['.var A(2', '2:9 "\n" ) belongs here'],
    ['.var A(200,200) = 1', '2:18 " 1" this array is larger than any memory'],
    ['.var A(70000) = 1', '2:8 "70000" 70000 is larger than 65535'],
    ['.var C$(2,2) = "OAK"', '2:15 " "OAK"" C$(2,2) holds 4 characters, not 3'],
    ['.var SUM for 1 to 2 at 5', '2:6 "SUM" the name of the variable of a loop is one letter'],
    ['.var K for 1 at 5', '2:13 " at 5" to belongs here'],
    ['.var K for 1 to 2', '2:18 "\n" at and the line of the loop belongs here'],
    ['.var K for 1 to 2 at 70000', '2:22 "70000" 70000 is larger than 65535'],
    ['.system SPEED = 1', '2:9 "SPEED" no system variable is called SPEED'],
    ['.system RAMTOP = 1', '2:9 "RAMTOP" RAMTOP is not saved on tape'],
    ['.system DF_SZ 1', '2:14 " 1" = belongs here'],
    ['.system DF_SZ = 256', '2:17 "256" 256 is larger than 255'],
    ['.system SEED = 65536', '2:16 "65536" 65536 is larger than 65535'],
    ['.system SEED = [01]', '2:20 "\n" SEED has 2 bytes, not 1'],
    ['.system MEMBOT = 5', '2:17 " 5" MEMBOT is given by its 30 bytes, as [00 …]'],
    ['.system DF_SZ = VARS', '2:21 "\n" DF_SZ has one byte, and an address has two'],
    ['.system VARS = 5', '2:1 ".system VARS = 5" VARS cannot be set'],
    ['.raw 4', '2:5 " 4" bytes of two hex digits belong here'],
    ['.raw 40 01 XX', '2:5 " 40 01 XX" bytes of two hex digits belong here'],
    ['.end', '2:1 ".end" this .end closes no .display'],
    ['.colour 5', '2:1 ".colour 5" there is no directive .colour'],
  ])('%s', (directive, expected) => {
    expect(second(directive)).toEqual([expected]);
  });

  it.each([
    ['.ram 3M', 'write .ram 16K, or the size that is fitted'],
    ['.name OAK', 'write .name "LANTERN"'],
    ['.start 0', 'write a number from 1 to 9999'],
    ['.var Q', 'write .var Q = 3.5'],
    ['.var n$', 'write .var N$ = "OAK"'],
    ['.var A(', 'write .var A(3) = 1,2,3'],
    ['.var C$(2', 'write .var C$(2,4) = "NORTEAST"'],
    ['.var K for 1 to', 'write .var K for 1 to 9 step 2 at 40'],
    ['.var 1 = 2', 'write .var A = 3.5'],
    ['.system DF_SZ = 256', 'write a number up to 255'],
    ['.system DFSZ = 1', 'did you mean DF_SZ?'],
    ['.system COLOUR = 1', 'use a name from the manual, chapter 28, such as DF_SZ or SEED'],
    ['.system SEED = [01]', 'write 2 bytes of two hex digits, as in [00 00]'],
    ['.system MEMBOT = 5', 'write 30 bytes of two hex digits, as in [00 00 …]'],
  ])('%s: do: %s', (directive, help) => {
    expect(readListing(directive).diagnostics.map((diagnostic) => diagnostic.help)).toEqual([help]);
  });

  it('a row of the display that is too long, and rows that are too many', () => {
    const long = 'X'.repeat(33);
    expect(wrong(`${PROGRAM}.display\nOAK\n${long}\n.end\n`)).toEqual([
      `4:1 "${long}" this row has 33 characters`,
    ]);
    expect(wrong(`${PROGRAM}.display\n${'A\n'.repeat(25)}.end\n`)).toEqual([
      '27:1 "A" there are more rows than the display has',
    ]);
    expect(wrong(`${PROGRAM}.display\nOAK\n`)).toEqual([
      '2:1 ".display" .end is missing after the rows of the display',
    ]);
    expect(wrong(`${PROGRAM}.display\nO{K\n.end\n`)).toEqual([
      '3:2 "{" the machine has no character "{" (U+007B)',
    ]);
  });
});

describe('what contradicts another', () => {
  it.each([
    ['.name "A"', '.name "B"', '.name is given twice'],
    ['.ram 1K', '.ram 2K', '.ram is given twice'],
    ['.tv 50', '.tv 60', '.tv is given twice'],
    ['.start 10', '.start 10', '.start is given twice'],
    ['.lines as-written', '.lines as-written', '.lines is given twice'],
    ['.system DF_SZ = 0', '.system DF_SZ = 2', '.system DF_SZ is given twice'],
    ['.var A = 1', '.var A = 2', '.var A is given twice'],
    ['.var A = 1', '.var A for 1 to 2 at 10', '.var A is given twice'],
    ['.var A(1) = 1', '.var A(1) = 2', '.var A() is given twice'],
    ['.var A$ = "X"', '.var A$(1) = "X"', '.var A$ is given twice'],
    ['.start 10', '.system NXTLIN = 16509', '.start and .system NXTLIN say the same thing'],
    ['.system MARGIN = 31', '.tv 60', '.tv and .system MARGIN say the same thing'],
    ['.display\n.end', '.display\n.end', '.display is given twice'],
    ['.display\n.end', '.raw display 76', '.display and .raw display say the same thing'],
  ])('%s and %s', (one, other, message) => {
    const text = `${PROGRAM}${one}\n${other}\n`;
    const { diagnostics } = readListing(text);
    expect(diagnostics.map((diagnostic) => diagnostic.message)).toEqual([message]);
    expect(diagnostics[0].severity).toBe('error');
    // It is told where the later of the two stands.
    expect(text.slice(diagnostics[0].start, diagnostics[0].end)).toBe(other);
  });

  it.each([
    ['.var A = 1', '.var A(1) = 1'],
    ['.var A = 1', '.var A$ = "X"'],
    ['.var A = 1', '.var AB = 1'],
    ['.raw 40', '.raw 41'],
    ['.system S_TOP = 10', '.start 10'],
  ])('but not %s and %s', (one, other) => {
    expect(wrong(`${PROGRAM}${one}\n${other}\n`).filter((text) => !/length/.test(text))).toEqual(
      [],
    );
  });
});

describe('the tidy form', () => {
  const tidy = (text: string): string[] =>
    readListing(text).listing.items.flatMap((item) =>
      item.kind === 'line' || item.kind === 'comment' ? [] : directiveText(item).split('\n'),
    );

  it.each([
    ['.NAME   "oak"', '.name "OAK"'],
    ['.ram 16384', '.ram 16K'],
    ['.ram 1536', '.ram 1536'],
    ['.Tv 60', '.tv 60'],
    ['.var a=0.50', '.var A = 0.5'],
    ['.var a = -1e+3', '.var A = -1000'],
    ['.var k FOR 1 TO 9 STEP 1 AT 40', '.var K for 1 to 9 at 40'],
    ['.var a = 3[=82 40 00 00 00]', '.var A = 3'],
    ['.var b( 1, 2 )=1 , 2', '.var B(1,2) = 1,2'],
    ['.var a$ = "[ul+lr][pound]"', '.var A$ = "▚£"'],
    ['.system seed=[01 02]', '.system SEED = 513'],
    ['.system dest = vars + 3', '.system DEST = VARS+3'],
    ['.raw   40  01', '.raw 40 01'],
    ['.raw', '.raw'],
    ['.display\n.end', '.display\n.end'],
    ['.DISPLAY\n\noak\n\n .end', '.display\n\nOAK\n.end'],
  ])('of %s is %s', (text, expected) => {
    expect(tidy(`${text}\n`)).toEqual(expected.split('\n'));
    expect(tidy(`${expected}\n`)).toEqual(expected.split('\n'));
  });

  it('has more bytes than a row in several .raw, which are read as one', () => {
    const hex = Array.from({ length: 40 }, (_, at) => (at + 16).toString(16).toUpperCase());
    const rows = tidy(`.raw after ${hex.join(' ')}\n`);
    expect(rows.map((row) => row.split(' ').length - 2)).toEqual([16, 16, 8]);
    const bytes = (text: string) => [
      ...buildImage(readListing(`${PROGRAM}${text}\n`).listing).image!.slice(-40),
    ];
    expect(bytes(rows.join('\n'))).toEqual(hex.map((pair) => Number.parseInt(pair, 16)));
  });
});
