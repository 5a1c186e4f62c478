/**
 * Numbers as PRINT, STR$ and LPRINT show them.
 * Source: the manual, chapters 5 and 27 (eight digits; E form from 1E13 up and below 1E-5), from
 * memory; the sign after E and the point without a 0 before it: from memory of the published ROM
 * disassembly.
 */

/** Significant digits that are shown. */
const DIGITS = 8;
/** Powers of ten from which, and below which, E form is used. */
const E_FORM_FROM = 13;
const E_FORM_BELOW = -5;

export function numberText(value: number): string {
  if (value === 0) return '0';
  const [mantissa, power] = Math.abs(value)
    .toExponential(DIGITS - 1)
    .split('e');
  const sign = value < 0 ? '-' : '';
  const digits = mantissa.replace('.', '').replace(/0+$/, '');
  return sign + place(digits, Number(power));
}

/** Digits with their point; the first stands for so many tens. */
function place(digits: string, power: number): string {
  if (power >= E_FORM_FROM || power < E_FORM_BELOW) {
    const fraction = digits.length > 1 ? `.${digits.slice(1)}` : '';
    return `${digits[0]}${fraction}E${power < 0 ? '-' : '+'}${Math.abs(power)}`;
  }
  if (power < 0) return `.${'0'.repeat(-power - 1)}${digits}`;
  const whole = digits.slice(0, power + 1).padEnd(power + 1, '0');
  const fraction = digits.slice(power + 1);
  return fraction === '' ? whole : `${whole}.${fraction}`;
}
