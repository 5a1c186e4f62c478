/**
 * The eight benchmarks by which machines were compared, with the seconds that were printed for this
 * one in FAST (from memory): 1,000 passes each, 100 of the last.
 */
import { readListing } from '../../src/listing/read.js';
import { rehearse } from '../../src/rehearsal/run.js';

export interface Benchmark {
  readonly name: string;
  readonly seconds: number;
  readonly lines: readonly string[];
}

const counted = (passes: number, ...within: readonly string[]): string[] => [
  '40 LET K=0',
  '50 LET K=K+1',
  ...within,
  `60 IF K<${passes} THEN GOTO 50`,
];
const BY_VARIABLE = '51 LET A=K/K*K+K-K';
const BY_LITERALS = '51 LET A=K/2*3+4-5';
const RETURN = ['80 STOP', '82 RETURN'];

export const BENCHMARKS: readonly Benchmark[] = [
  { name: 'FOR, NEXT', seconds: 4.5, lines: ['40 FOR K=1 TO 1000', '50 NEXT K'] },
  { name: 'LET K=K+1, IF, GOTO', seconds: 6.9, lines: counted(1000) },
  { name: '… LET A=K/K*K+K-K', seconds: 16.4, lines: counted(1000, BY_VARIABLE) },
  { name: '… LET A=K/2*3+4-5', seconds: 15.8, lines: counted(1000, BY_LITERALS) },
  {
    name: '… GOSUB, RETURN',
    seconds: 18.6,
    lines: [...counted(1000, BY_LITERALS, '52 GOSUB 82'), ...RETURN],
  },
  {
    name: '… FOR L=1 TO 5, NEXT L',
    seconds: 49.7,
    lines: [
      '35 DIM M(5)',
      ...counted(1000, BY_LITERALS, '52 GOSUB 82', '53 FOR L=1 TO 5', '54 NEXT L'),
      ...RETURN,
    ],
  },
  {
    name: '… LET M(L)=A',
    seconds: 68.5,
    lines: [
      '35 DIM M(5)',
      ...counted(1000, BY_LITERALS, '52 GOSUB 82', '53 FOR L=1 TO 5', '54 LET M(L)=A', '55 NEXT L'),
      ...RETURN,
    ],
  },
  {
    name: 'LET A=K**2, LN K, SIN K',
    seconds: 22.9,
    lines: counted(100, '53 LET A=K**2', '54 LET B=LN K', '55 LET C=SIN K'),
  },
];

/** The machine's time between the two signs that each prints, by the model. */
export function benchmarkSeconds(lines: readonly string[]): number {
  const text = ['10 FAST', '30 PRINT "S"', ...lines, '70 PRINT "E"'].join('\n');
  const ordered = text
    .split('\n')
    .sort((a, b) => Number.parseInt(a, 10) - Number.parseInt(b, 10))
    .join('\n');
  return rehearse(readListing(ordered).listing).seconds;
}
