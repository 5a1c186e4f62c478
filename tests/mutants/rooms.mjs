/**
 * The rooms whose source is changed, and the tests that hold each: those that mirror it, those of its
 * direct users where they are quick, and the published checks of what it does. All run in the process;
 * those that start commands are left out (`not`), as is source that a script makes (`but`).
 * `settings` make tests smaller.
 */
export const ROOMS = {
  'src/machine': {
    but: ['src/machine/arithmetic/coefficients.ts'],
    tests: [
      'tests/machine',
      'tests/image/build.test.ts',
      'tests/image/oddities.test.ts',
      'tests/published/arithmetic.test.ts',
      'tests/published/characters.test.ts',
      'tests/published/functions.test.ts',
      'tests/published/numbers.test.ts',
      'tests/published/program-layout.test.ts',
      'tests/published/variables.test.ts',
    ],
    not: ['tests/machine/arithmetic/coefficients.test.ts'],
  },
  'src/image': {
    tests: ['tests/image', 'tests/published/program-layout.test.ts'],
  },
  'src/memory': {
    settings: { VERDICTS: '2' },
    tests: ['tests/memory', 'tests/published/budget.test.ts'],
  },
  grammar: {
    but: ['grammar/derived/**'],
    tests: [
      'tests/grammar/detokenise.test.ts',
      'tests/grammar/lexer.test.ts',
      'tests/grammar/parser.test.ts',
      'tests/grammar/parsing',
      'tests/grammar/spelling.test.ts',
      'tests/grammar/text.test.ts',
      'tests/grammar/visit.test.ts',
      'tests/listing/as-typed.test.ts',
      'tests/listing/properties.test.ts',
      'tests/listing/read.test.ts',
      'tests/image/oddities.test.ts',
      'tests/image/plain.test.ts',
      'tests/image/tokenise.test.ts',
    ],
  },
  'grammar/derived': {
    tests: ['tests/grammar/derived'],
  },
  'src/lint': {
    settings: { FIXES: '10' },
    tests: ['tests/lint', 'tests/published/sarif.test.ts'],
  },
};
