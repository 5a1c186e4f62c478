/**
 * The calculator stack: how many values the ROM's routines hold on it at once. A value, a number or
 * a string's address and length, takes five bytes.
 * Source: G. Wearmouth, "An Assembly Listing of the Operating System" (2004), chapter "Floating-Point
 * Calculator": counted along the routines there, from memory. SIN 1D49 has its number, and above it
 * the three that a series works with; LN 1CA9 and ATN 1D76 one more; SQR 1DDB and ** go by LN, with
 * the power below it; ASN 1DC4 has its number below SQR.
 */
import { NUMBER_SIZE } from './numbers.js';

/** Bytes of a value. */
export const STACKED_SIZE = NUMBER_SIZE;

/** Values that these functions hold at most, the one that they are given among them; others, one. */
const HELD_BY_FUNCTION: Readonly<Record<string, number>> = {
  INT: 2,
  EXP: 3,
  RND: 3,
  SIN: 4,
  COS: 4,
  TAN: 5,
  LN: 5,
  ATN: 5,
  SQR: 6,
  ASN: 7,
  ACS: 7,
};

export const valuesOfFunction = (name: string): number => HELD_BY_FUNCTION[name] ?? 1;

/** Values that ** holds at most, its two operands among them; other operators, two. */
export const VALUES_OF_POWER = 6;
/** Values that writing a number out in digits holds at most, the number among them (an estimate). */
export const VALUES_OF_DIGITS = 5;
/** FOR, and NEXT while it counts, hold value, limit and step, written or not. */
export const VALUES_OF_LOOP = 3;
