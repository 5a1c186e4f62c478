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

/** Places of a whole number of 32 bits; other numbers are taken to use all of their mantissa. */
const places = (value: number): number => BITS - Math.clz32(value < 0 ? -value : value);

/** A sum or a difference of two numbers. */
export function timeOfSum(a: number, b: number, sum: number): number {
  const negations = (a < 0 ? NEGATION : 0) + (b < 0 ? NEGATION : 0) + (sum < 0 ? NEGATION : 0);
  if ((a | 0) !== a || (b | 0) !== b) return ADDITION + negations + 2 * SHIFT + NORMALISE;
  if (a === 0 || b === 0) return ADDITION + negations + BITS * SHIFT;
  const shift = places(a) - places(b);
  const back = (shift > 0 ? places(a) : places(b)) - places(sum | 0);
  return (
    ADDITION + negations + SHIFT * (shift < 0 ? -shift : shift) + NORMALISE * Math.max(back, 0)
  );
}

/** A product: by the bits of the multiplier. */
export function timeOfProduct(multiplier: number): number {
  if ((multiplier | 0) !== multiplier) return MULTIPLICATION + (BITS / 2) * BIT_SET;
  let bits = 0;
  for (let rest = multiplier; rest !== 0; rest &= rest - 1) bits++;
  return multiplier === 0 ? ADDITION : MULTIPLICATION + bits * BIT_SET;
}

export const timeOfQuotient = (dividend: number): number => (dividend === 0 ? ADDITION : DIVISION);

/** A comparison: a subtraction, and a look at its sign. */
export const COMPARISON = 2 * STEP;

/** A product and a sum of numbers whose mantissas are full, as they are in series. */
const FULL_PRODUCT = MULTIPLICATION + (BITS / 2) * BIT_SET;
const FULL_SUM = ADDITION + 1.5 * NEGATION + 6 * SHIFT + 1.5 * NORMALISE;
/** A term of a series: one product, two sums; seven of its steps move a number. */
const TERM = FULL_PRODUCT + 2 * FULL_SUM + 7 * MOVE + 5 * STEP;

/** Terms, products and quotients, sums, and steps, of which half move a number. */
function series(terms: number, products: number, sums: number, steps: number): number {
  return terms * TERM + products * FULL_PRODUCT + sums * FULL_SUM + steps * ((STEP + MOVE) / 2);
}

const SINE = series(6, 3, 9, 24);
const LOGARITHM = series(12, 4, 8, 24);
const EXPONENTIAL = series(8, 1, 6, 14);
const ARC_TANGENT = series(12, 3, 4, 14);
const POWER = LOGARITHM + EXPONENTIAL + FULL_PRODUCT + 2 * MOVE + 2 * STEP;

/** What each function takes besides its argument. */
export const FUNCTION_TIMES: Readonly<Record<string, number>> = {
  SIN: SINE,
  COS: SINE,
  TAN: 2 * SINE + DIVISION,
  ATN: ARC_TANGENT,
  ASN: ARC_TANGENT + POWER + DIVISION + 4 * FULL_SUM,
  ACS: ARC_TANGENT + POWER + DIVISION + 5 * FULL_SUM,
  LN: LOGARITHM,
  EXP: EXPONENTIAL,
  SQR: POWER,
  '**': POWER,
  INT: 4 * STEP + 2 * MOVE,
  RND: 5 * STEP + 5 * MOVE + FULL_PRODUCT + DIVISION + 3 * FULL_SUM,
  PEEK: WHOLE_NUMBER,
  CHR$: WHOLE_NUMBER + 300,
  CODE: 500,
  LEN: 500,
  INKEY$: 1500,
  VAL: 3000,
};

/** NEXT besides its statement and finding its variable: a sum, a comparison, their moves. */
export const NEXT_STEPS = 7 * MOVE + 7 * STEP;
/** FOR besides its three numbers. */
export const FOR_STEPS = 5 * MOVE + 7 * STEP + 4 * 250 + 2000;

// ───────────────────────────────── display and memory ─────────────────────────────────

/** A character on the screen or to the printer's buffer. */
export const CHARACTER_PRINTED = 700;
/** A new line or another place: the display file is searched from its end. */
export const PLACE_FOUND = 1500;
export const DISPLAY_BYTE = 25;
/** A digit of a number that is printed: a division, a product, a sum, and their steps. */
export const DIGITS_PRINTED =
  10 * (DIVISION + FULL_PRODUCT + FULL_SUM + 5 * STEP + 5 * MOVE) + 30_000;
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
