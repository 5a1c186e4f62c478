/**
 * How long the ROM takes, in T-states of the processor at 3.25 MHz.
 *
 * Reasoned, by counting the instructions of the routines (G. Wearmouth, "An Assembly Listing of the
 * Operating System", 2004): the loops of addition, multiplication and division by the bits that they
 * work on, a step of a series, what it takes to pass over a variable or a line, to move memory, to
 * print, and the share of a frame that SLOW leaves.
 *
 * Fitted, together, to the eight benchmarks that were printed for the machine (tests/bench/benchmarks.ts;
 * values from memory): STATEMENT, VARIABLE, LITERAL and OPERATOR. Each of them stands in all or most of
 * the eight.
 */

// ───────────────────────────────── lines and expressions ─────────────────────────────────

/** Fetching a line, looking at BREAK, finding the command's routine, and checking its end. */
export const STATEMENT = 2700;
/** A variable's value: its name read, the variables looked through (none before it), five bytes moved. */
export const VARIABLE = 1600;
/** A literal: its digits passed over, its five bytes moved. */
export const LITERAL = 1150;
/** An operator or a function: priorities compared, put on the machine stack and taken from it. */
export const OPERATOR = 1100;
/** A step of the calculator: its literal fetched and looked up. */
const STEP = 280;
/** A step that moves five bytes: room is asked for first. */
const MOVE = 600;
/** LET: the variable found once more, five bytes moved. */
export const ASSIGNMENT = 1600;
/** A character passed over in a string or a name. */
export const CHARACTER_READ = 60;
export const BRACKET = 500;
/** A subscript: rounded to a whole number, tried against the dimension, multiplied. */
export const SUBSCRIPT = 1500;
/** THEN: the rest of the line is begun as a statement is. */
export const THEN = 500;
/** A whole number taken from the calculator, for a line or an address. */
export const WHOLE_NUMBER = 600;
/** Passing over a variable, or a line, on the way to another. */
export const VARIABLE_PASSED = 300;
export const LINE_PASSED = 260;

// ───────────────────────────────── numbers ─────────────────────────────────

const ADDITION = 1050;
/** A place that the smaller operand is shifted, and one that the result is shifted back. */
const SHIFT = 61;
const NORMALISE = 98;
/** Turning a negative operand or result round. */
const NEGATION = 270;
const MULTIPLICATION = 4200;
/** A bit of the multiplier that is set. */
const BIT_SET = 29;
const DIVISION = 6500;
const BITS = 32;

/** Sums and differences of numbers that are not whole are taken to use all of their mantissas. */
const SHIFTS_OF_FRACTIONS = 2 * SHIFT + NORMALISE;

/** A sum or a difference of two numbers: by the signs, and by how long the mantissas are. */
export function timeOfSum(a: number, b: number, sum: number): number {
  let time = ADDITION;
  if (a < 0) time += NEGATION;
  if (b < 0) time += NEGATION;
  if (sum < 0) time += NEGATION;
  if ((a | 0) !== a || (b | 0) !== b) return time + SHIFTS_OF_FRACTIONS;
  if (a === 0 || b === 0) return time + BITS * SHIFT;
  // Whole numbers of 32 bits are as long as the zeros before them leave.
  const before = Math.clz32(Math.abs(a));
  const beforeOther = Math.clz32(Math.abs(b));
  const back = Math.clz32(Math.abs(sum)) - Math.min(before, beforeOther);
  return time + SHIFT * Math.abs(before - beforeOther) + NORMALISE * Math.max(back, 0);
}

/** A product: by the bits of the multiplier. */
export function timeOfProduct(multiplier: number): number {
  if ((multiplier | 0) !== multiplier) return MULTIPLICATION + (BITS / 2) * BIT_SET;
  let bits = 0;
  for (let rest = multiplier; rest !== 0; rest &= rest - 1) bits++;
  return multiplier === 0 ? ADDITION : MULTIPLICATION + bits * BIT_SET;
}

export const timeOfQuotient = (dividend: number): number => (dividend === 0 ? ADDITION : DIVISION);

/** A product and a sum of numbers whose mantissas are full, as they are in series. */
const FULL_PRODUCT = timeOfProduct(0.5);
const FULL_SUM = ADDITION + 1.5 * NEGATION + 6 * SHIFT + 1.5 * NORMALISE;

/** What the calculator works through: how many operations, moves of a number, and other steps. */
interface Work {
  readonly products?: number;
  readonly quotients?: number;
  readonly sums?: number;
  readonly moves?: number;
  readonly steps?: number;
}

function timeOf({ products = 0, quotients = 0, sums = 0, moves = 0, steps = 0 }: Work): number {
  const operations = products * FULL_PRODUCT + quotients * DIVISION + sums * FULL_SUM;
  return operations + moves * MOVE + steps * STEP;
}

/** A comparison: a look at the sign of what the subtraction gave. */
export const COMPARISON = timeOf({ steps: 2 });

/** A term of a series. */
const TERM = timeOf({ products: 1, sums: 2, moves: 7, steps: 5 });

const SINE = 6 * TERM + timeOf({ products: 3, sums: 9, moves: 12, steps: 12 });
const LOGARITHM = 12 * TERM + timeOf({ products: 4, sums: 8, moves: 12, steps: 12 });
const EXPONENTIAL = 8 * TERM + timeOf({ products: 1, sums: 6, moves: 7, steps: 7 });
const ARC_TANGENT = 12 * TERM + timeOf({ products: 3, sums: 4, moves: 7, steps: 7 });
const POWER = LOGARITHM + EXPONENTIAL + timeOf({ products: 1, moves: 2, steps: 2 });
const ARC_SINE = ARC_TANGENT + POWER + timeOf({ quotients: 1, sums: 4 });

/** What each function takes besides its argument. */
export const FUNCTION_TIMES: Readonly<Record<string, number>> = {
  SIN: SINE,
  COS: SINE,
  TAN: SINE + SINE + DIVISION,
  ATN: ARC_TANGENT,
  ASN: ARC_SINE,
  ACS: ARC_SINE + FULL_SUM,
  LN: LOGARITHM,
  EXP: EXPONENTIAL,
  SQR: POWER,
  '**': POWER,
  INT: timeOf({ moves: 2, steps: 4 }),
  RND: timeOf({ products: 1, quotients: 1, sums: 3, moves: 5, steps: 5 }),
  PEEK: WHOLE_NUMBER,
  CHR$: 900,
  CODE: 500,
  LEN: 500,
  INKEY$: 1500,
  VAL: 3000,
};

/** NEXT besides its statement and finding its variable: a sum, a comparison, their moves. */
export const NEXT_STEPS = timeOf({ moves: 7, steps: 7 });
/** FOR besides its three numbers: their moves, and finding or making its variable. */
export const FOR_STEPS = timeOf({ moves: 5, steps: 7 }) + 3000;

// ───────────────────────────────── display and memory ─────────────────────────────────

/** A character on the screen or to the printer's buffer. */
export const CHARACTER_PRINTED = 700;
/** A new line or another place: the display file is searched from its end. */
export const PLACE_FOUND = 1500;
export const DISPLAY_BYTE = 25;
/** A digit of a number that is printed: a division, a product, a sum, and their steps. */
export const DIGITS_PRINTED =
  10 * timeOf({ products: 1, quotients: 1, sums: 1, moves: 5, steps: 5 }) + 30_000;
/** Moving memory: all pointers looked at, then each byte. */
export const ROOM_MADE = 1500;
export const BYTE_MOVED = 21;
/** A dot: rows and columns worked out, a place found, the quarter put in. */
export const DOT = 2500;

// ───────────────────────────────── frames ─────────────────────────────────

const LINE_OF_PICTURE = 207;
const PICTURE_LINES = 192;
/** Lines above and below the two margins. */
const MORE_LINES = 8;
/** What is left of a line in the margin once its interrupt is served, in T-states. */
const LEFT_OF_LINE = LINE_OF_PICTURE - 57;
/** Looking at the keyboard and sending the signals of a new picture, once a frame. */
const ONCE_A_FRAME = 1300;

/** A frame by MARGIN (55 at 50 frames a second, 31 at 60): its length, and what SLOW leaves of it. */
export function frameTimes(margin: number): { frame: number; left: number } {
  const blank = 2 * margin + MORE_LINES;
  return {
    frame: (PICTURE_LINES + blank) * LINE_OF_PICTURE,
    left: Math.max(LEFT_OF_LINE, blank * LEFT_OF_LINE - ONCE_A_FRAME),
  };
}
