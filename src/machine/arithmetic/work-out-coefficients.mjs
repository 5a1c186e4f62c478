/**
 * Works out the coefficients of the functions' series and writes them to `coefficients.ts`:
 *
 *     node src/machine/arithmetic/work-out-coefficients.mjs
 *
 * Each function f(z) on -1 ≤ z ≤ 1 has a Chebyshev expansion a0 + 2·(a1·T1(z) + a2·T2(z) + …), where
 * ak is the mean of f(cos t)·cos(k·t) over half a turn. That mean is taken over 64 points, which
 * leaves out nothing that counts, in whole numbers that stand for 192 binary places.
 */
import { writeFileSync } from 'node:fs';

const PLACES = 192n;
const ONE = 1n << PLACES;
const POINTS = 64;

const times = (a, b) => (a * b) >> PLACES;
const over = (a, b) => (a << PLACES) / b;
/** The fraction a/b. */
const ratio = (a, b) => (BigInt(a) << PLACES) / BigInt(b);

/** Adds the terms of a power series until they count nothing. */
function sum(term, next) {
  let total = 0n;
  for (let k = 1n; term !== 0n && term !== -1n; k++) {
    total += term;
    term = next(term, k);
  }
  return total;
}

const sine = (x) => sum(x, (term, k) => -times(times(term, x), x) / (2n * k * (2n * k + 1n)));
const cosine = (x) => sum(ONE, (term, k) => -times(times(term, x), x) / ((2n * k - 1n) * 2n * k));
const exponential = (x) => sum(ONE, (term, k) => times(term, x) / k);

/** Of a small x: the sum of x^(2k+1)/(2k+1), with changing signs for the arc tangent. */
function oddPowers(x, sign) {
  let total = 0n;
  let power = x;
  for (let k = 1n; power !== 0n && power !== -1n; k += 2n) {
    total += power / k;
    power = sign * times(times(power, x), x);
  }
  return total;
}

const logarithm = (x) => 2n * oddPowers(over(x - ONE, x + ONE), 1n);
const smallArcTangent = (x) => oddPowers(x, -1n);

function root(x) {
  let guess = ONE;
  for (let last = 0n; guess !== last; ) {
    last = guess;
    guess = (guess + over(x, guess)) / 2n;
    if (guess - last === 1n) break;
  }
  return guess;
}

/** Halves the angle, so that the series converges. */
const arcTangent = (x) => 2n * smallArcTangent(over(x, ONE + root(ONE + times(x, x))));

const PI = 4n * (4n * smallArcTangent(ratio(1, 5)) - smallArcTangent(ratio(1, 239)));
const LN_2 = logarithm(2n * ONE);

/** The functions that the ROM expands, of z from -1 to 1, and how many terms it takes. */
const SERIES = {
  SINE: {
    of: 'sin(w·π/2)/w, z = 2w²-1',
    terms: 6,
    value(z) {
      const w = root((z + ONE) / 2n);
      return over(sine(times(w, PI / 2n)), w);
    },
  },
  EXPONENTIAL: {
    of: '2^w, z = 2w-1',
    terms: 8,
    value: (z) => exponential(times(LN_2, (z + ONE) / 2n)),
  },
  LOGARITHM: {
    of: 'ln(1+w)/w, z = 5w/2-1/2',
    terms: 12,
    value(z) {
      const w = ((z + ONE / 2n) * 2n) / 5n;
      return over(logarithm(ONE + w), w);
    },
  },
  ARC_TANGENT: {
    of: 'arctan(w)/w, z = 2w²-1',
    terms: 12,
    value(z) {
      const w = root((z + ONE) / 2n);
      return over(arcTangent(w), w);
    },
  },
};

function coefficients({ terms, value }) {
  const angles = Array.from(
    { length: POINTS },
    (_, at) => (PI * BigInt(2 * at + 1)) / BigInt(2 * POINTS),
  );
  const values = angles.map((angle) => value(cosine(angle)));
  return Array.from({ length: terms }, (_, k) => {
    const products = values.map((each, at) => times(each, cosine(angles[at] * BigInt(k))));
    return toNumber(products.reduce((total, each) => total + each, 0n) / BigInt(POINTS));
  });
}

/** The nearest number with 32 bits of mantissa. */
function toNumber(fixed) {
  const magnitude = fixed < 0n ? -fixed : fixed;
  const spare = BigInt(magnitude.toString(2).length - 32);
  const rounded = (magnitude + (1n << (spare - 1n))) >> spare;
  const value = Number(rounded) * 2 ** Number(spare - PLACES);
  return fixed < 0n ? -value : value;
}

const constants = [
  ['PI_OVER_2', 'π/2', PI / 2n],
  ['ONE_OVER_2_PI', '1/2π', over(ONE, 2n * PI)],
  ['ONE_OVER_LN_2', '1/ln 2', over(ONE, LN_2)],
  ['LN_2', 'ln 2', LN_2],
  ['LOG10_2', 'log 2 to the base 10', over(LN_2, logarithm(ratio(5, 4)) + 3n * LN_2)],
];

const text = [
  '/**',
  ' * Written by work-out-coefficients.mjs, which says how. Nearest numbers of 32 bits; the coefficients',
  ' * are in the order in which the calculator takes them: the highest first.',
  ' */',
  ...constants.map(
    ([name, of, value]) => `/** ${of} */\nexport const ${name} = ${toNumber(value)};`,
  ),
  ...Object.entries(SERIES).flatMap(([name, series]) => [
    '',
    `/** ${series.of} */`,
    `export const ${name} = [`,
    ...coefficients(series)
      .reverse()
      .map((value) => `  ${value},`),
    '];',
  ]),
  '',
].join('\n');

if (process.argv[2] === '--print') process.stdout.write(text);
else writeFileSync(new URL('coefficients.ts', import.meta.url), text);
