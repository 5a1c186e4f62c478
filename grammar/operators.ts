/**
 * The operators: how tightly each binds. Source: the manual, chapter 5 and Appendix C, from memory.
 * Subscripts and slices bind at 12, functions at 11.
 */
export const PRIORITY: Readonly<Record<string, number>> = {
  '**': 10,
  negate: 9,
  '*': 8,
  '/': 8,
  '+': 6,
  '-': 6,
  '=': 5,
  '<': 5,
  '>': 5,
  '<=': 5,
  '>=': 5,
  '<>': 5,
  NOT: 4,
  AND: 3,
  OR: 2,
};
export const FUNCTION_PRIORITY = 11;

/** `=`, `<`, `>`, `<=`, `>=`, `<>`: those that give 1 or 0. */
export const isComparison = (operator: string): boolean => PRIORITY[operator] === PRIORITY['='];
