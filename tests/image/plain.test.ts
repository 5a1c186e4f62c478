import { expect, it } from 'vitest';
import { plainListing } from '../../src/image/plain.js';
import { readListing } from '../../src/listing/read.js';

function plain(text: string) {
  const { listing, diagnostics } = readListing(text);
  expect(diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  return plainListing(listing);
}

it('has lines in the order of the machine, with numbers in four columns', () => {
  expect(plain('\' not this\n1000 STOP\n5 print "a b"\n')).toEqual({
    text: '   5 PRINT "A B"\n1000 STOP\n',
    leftOut: [],
  });
});

it.each([
  ['10 LET A=3[=82 00 00 00 00]', '  10 LET A=3', '1 stored value that its digits do not show'],
  ['10 LET A=1[=]+2[=]', '  10 LET A=1+2', '2 numbers that have no stored value'],
  ['10 [sp]LET[sp] A=B[sp]AND[sp]C', '  10 LET A=B AND C', '4 stored spaces'],
  ['10 REM [76 00 01]', '  10 REM (3 BYTES)', '3 bytes of machine code in line 10'],
  ['10 REM [76]', '  10 REM (1 BYTE)', '1 byte of machine code in line 10'],
  ['10 LET A=1[=]', '  10 LET A=1', '1 number that has no stored value'],
  ['10 [sp]LET A=1', '  10 LET A=1', '1 stored space'],
  [
    '10 LET A=3[=82 00 00 00 00]+4[=]+5[=82 00 00 00 00]',
    '  10 LET A=3+4+5',
    '2 stored values that their digits do not show',
    '1 number that has no stored value',
  ],
  [
    '10 REM [76]\n20 REM [76 00]',
    '  10 REM (1 BYTE)\n  20 REM (2 BYTES)',
    '3 bytes of machine code in lines 10, 20',
  ],
  ['10 RUN\n.raw 40', '  10 RUN', '1 byte that is nothing of this'],
  ['10 RUN\n.raw 40 41\n.raw after 01', '  10 RUN', '3 bytes that are nothing of this'],
  ['10 RUN\n.system DF_SZ = 0', '  10 RUN', '1 system variable'],
  ['10 RUN\n.var A = 1\n.var B = 2', '  10 RUN', '2 saved variables'],
  [
    '.numbers nearest\n10 RUN',
    '  10 RUN',
    'that its decimals are the nearest numbers, not those that typing gives',
  ],
  ['10 REM  A  B [sp]', '  10 REM  A  B [sp]', undefined],
  ['10 REM', '  10 REM', undefined],
  ['10 PRINT "[~A] [76] ▚"', '  10 PRINT "[~A] [76] ▚"', undefined],
  ['.start 10\n10 RUN', '  10 RUN', 'that it starts at line 10 once loaded'],
  ['10 RUN\n.var A = 1', '  10 RUN', '1 saved variable'],
  ['10 RUN\n.system DF_SZ = 0\n.system SEED = 1', '  10 RUN', '2 system variables'],
  ['10 RUN\n.display\nA\n.end', '  10 RUN', 'the saved display'],
  ['10 RUN\n.raw 40 41 42', '  10 RUN', '3 bytes that are nothing of this'],
  ['.lines as-written\n10 RUN', '  10 RUN', 'that its lines are stored just so'],
  ['.name "OAK"\n.ram 2K\n.tv 50\n10 RUN', '  10 RUN', undefined],
])('of %s is %s', (text, expected, ...losses) => {
  expect(plain(`${text}\n`)).toEqual({
    text: `${expected}\n`,
    leftOut: losses.filter((loss) => loss !== undefined),
  });
});
