/** The machine's reports. Source: the manual, Appendix B, from memory. Printed as `code/line`. */
export const REPORTS = {
  '0': 'done',
  '1': 'NEXT without FOR',
  '2': 'variable not found',
  '3': 'subscript out of range',
  '4': 'no room in memory',
  '5': 'no room on the screen',
  '6': 'arithmetic overflow',
  '7': 'RETURN without GOSUB',
  '8': 'INPUT as a direct command',
  '9': 'STOP',
  A: 'bad argument',
  B: 'integer out of range',
  C: 'text of VAL is not a number',
  D: 'BREAK',
  F: 'no name to SAVE',
} as const;

export type ReportCode = keyof typeof REPORTS;
