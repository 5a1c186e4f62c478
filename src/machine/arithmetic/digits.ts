/**
 * A number in digits, as PRINT and STR$ show it.
 * Source: G. Wearmouth, "An Assembly Listing of the Operating System" (2004): PRINT-FP 15DB.
 */

import { exponentByte } from '../double.js';
import { LOG10_2 } from './coefficients.js';
import { timesTens } from './decimal.js';
import { add, multiply, subtract } from './operations.js';

/** Significant digits that are shown. */
const DIGITS = 8;
/** Powers of ten from which, and below which, E form is used. */
const E_FORM_FROM = 13;
const E_FORM_BELOW = -5;
/** Whole numbers below this are shown digit by digit as they are (tests hold the long way to it). */
const PLAIN_WHOLE = 1e8;

export function numberText(value: number): string {
  if ((value | 0) === value && value < PLAIN_WHOLE && value > -PLAIN_WHOLE) return String(value);
  const { digits, power } = digitsOf(Math.abs(value));
  return (value < 0 ? '-' : '') + place(digits, power);
}

/**
 * The digits that are shown, without zeros at the end, and the power of ten of the first. The ROM
 * takes the power from the exponent, which may be one too many or too few: INT (x×10^k+.5) has 8 to
 * 10 digits. The ninth is rounded half up; a tenth is not looked at.
 */
export function digitsOf(magnitude: number): { digits: string; power: number } {
  const tens = Math.floor(multiply(subtract(exponentByte(magnitude), 128.5), LOG10_2));
  const raised = timesTens(magnitude, Math.abs(DIGITS - tens), tens > DIGITS);
  const all = String(Math.floor(add(raised, 0.5)));
  let power = tens - DIGITS + all.length - 1;
  let shown = Number(all.slice(0, DIGITS));
  if (Number(all[DIGITS] ?? 0) >= 5) shown++;
  let digits = String(shown);
  power += digits.length - Math.min(all.length, DIGITS);
  digits = digits.replace(/0+$/, '');
  return { digits, power };
}

/** Digits with their point; the first stands for so many tens. */
function place(digits: string, power: number): string {
  if (power >= E_FORM_FROM || power < E_FORM_BELOW) {
    const fraction = digits.length > 1 ? `.${digits.slice(1)}` : '';
    return `${digits[0]}${fraction}E${power < 0 ? '-' : '+'}${Math.abs(power)}`;
  }
  // From .1 up a 0 stands before the point; below, nothing does.
  if (power === -1) return `0.${digits}`;
  if (power < 0) return `.${'0'.repeat(-power - 1)}${digits}`;
  const whole = digits.slice(0, power + 1).padEnd(power + 1, '0');
  const fraction = digits.slice(power + 1);
  return fraction === '' ? whole : `${whole}.${fraction}`;
}
