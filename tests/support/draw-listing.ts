/**
 * Correct listings drawn at random from the grammar: every statement and every kind of expression,
 * types respected, strings with graphics, inverse video, keyword codes and bytes, every form of
 * number, in any layout. The property tests of all rooms draw from here.
 */
import fc from 'fast-check';
import { keyword } from '../../grammar/keywords.js';

export interface DrawOptions {
  /** Fewest and most program lines; 1 to 12 unless given. */
  readonly lines?: readonly [number, number];
  /** `any`: either case, spaces anywhere they may stand, GO TO. `even`: capitals, few spaces. */
  readonly layout?: 'any' | 'even';
  /** May the listing hold comments, blank lines and directives? Yes unless given. */
  readonly directives?: boolean;
  /** May strings, REM and numbers hold what no key gives: bytes and given values? Yes unless given. */
  readonly bytes?: boolean;
  /** Does every name get a value in the first lines, as in a program that runs? No unless given. */
  readonly assigned?: boolean;
}

/** A piece of a statement: text, or a name or line that the listing's own pool decides. */
type Piece = string | { readonly pool: keyof Pool; readonly index: number };

interface Pool {
  readonly numbers: readonly string[];
  readonly letters: readonly string[];
  readonly strings: readonly string[];
  readonly lines: readonly string[];
}

interface Drawn {
  readonly pieces: readonly Piece[];
  /** How tightly its last operator binds; 13 for what needs no brackets anywhere. */
  readonly priority: number;
}

const WHOLE = 13;
const CALL = 11;

const whole = (...pieces: Piece[]): Drawn => ({ pieces, priority: WHOLE });
const bracketed = (drawn: Drawn): Drawn => whole('(', ...drawn.pieces, ')');
/** The expression where only what binds at least as tightly may stand. */
const atLeast = (drawn: Drawn, priority: number): readonly Piece[] =>
  (drawn.priority >= priority ? drawn : bracketed(drawn)).pieces;

const fromPool = (pool: keyof Pool): fc.Arbitrary<Piece> =>
  fc.nat(99).map((index) => ({ pool, index }));
const number = fromPool('numbers');
const letter = fromPool('letters');
const string = fromPool('strings');

// ───────────────────────────────── characters and numbers ─────────────────────────────────

const hexPair = (byte: number): string => byte.toString(16).toUpperCase().padStart(2, '0');

const WORDS =
  'SCORE READY LAMP ROW 1 OF 2,GAP: WHAT NOW? GAME OVER,PRESS 5 OR 8,RAM OK,£2.50'.split(/,/);
const GRAPHICS = [...'▘▝▀▖▌▞▛█▟▙▄▜▐▚▗▒\u{1FB8F}\u{1FB8E}\u{1FB90}\u{1FB91}\u{1FB92}'];
const SIGNS = [...' £$:?()><=+-*/;,.0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ'];
const SIGN = fc.constantFrom(...SIGNS);
const KEYWORD = fc.constantFrom(
  ...'PRINT GOTO THEN RND INKEY$ PI AT TAB CODE CHR$ NOT ** <= <> STEP LPRINT COPY REM'.split(' '),
);

/** Pieces of the text of a string or a REM. Code 11 ends a string: it is not among its bytes. */
function textPieces(bytes: boolean, inString: boolean): fc.Arbitrary<string> {
  const ways: fc.Arbitrary<string>[] = [
    fc.constantFrom(...WORDS),
    fc.string({ unit: SIGN, minLength: 1, maxLength: 8 }),
    fc.constantFrom(...GRAPHICS),
    fc.constantFrom('[ul+lr]', '[grey-top]', '[lr]', '[pound]', '[sp]', inString ? '""' : '"'),
    fc.string({ unit: SIGN, minLength: 1, maxLength: 5 }).map((text) => `[~${text}]`),
    KEYWORD.map((word) => `[${word}]`),
  ];
  if (bytes) {
    const byte = fc
      .integer({ min: 0, max: 255 })
      .map((code) => hexPair(inString && code === 11 ? 67 : code));
    ways.push(fc.array(byte, { minLength: 1, maxLength: 4 }).map((list) => `[${list.join(' ')}]`));
  }
  return fc.oneof({ weight: 5, arbitrary: ways[0] }, ...ways.slice(1));
}

const textOf = (bytes: boolean, inString: boolean, maxLength: number): fc.Arbitrary<string> =>
  fc.array(textPieces(bytes, inString), { maxLength }).map((pieces) => pieces.join(''));

/** Every form of a literal that the machine can hold. */
function numberLiteral(bytes: boolean): fc.Arbitrary<string> {
  const digits = fc.oneof(
    { weight: 4, arbitrary: fc.nat(9).map(String) },
    { weight: 4, arbitrary: fc.nat(255).map(String) },
    { weight: 2, arbitrary: fc.nat(65535).map(String) },
  );
  const forms: fc.WeightedArbitrary<string>[] = [
    { weight: 12, arbitrary: digits },
    { weight: 1, arbitrary: fc.tuple(digits, digits).map(([a, b]) => `${a}.${b}`) },
    { weight: 1, arbitrary: digits.map((text) => `.${text}`) },
    { weight: 1, arbitrary: digits.map((text) => `${text}.`) },
    {
      weight: 1,
      arbitrary: fc
        .tuple(digits, fc.constantFrom('', '+', '-'), fc.nat(29))
        .map(([a, sign, power]) => `${a}E${sign}${power}`),
    },
  ];
  if (bytes) {
    const five = fc.array(fc.nat(255), { minLength: 5, maxLength: 5 });
    forms.push(
      {
        weight: 1,
        arbitrary: fc
          .tuple(digits, five)
          .map(([text, list]) => `${text}[=${list.map(hexPair).join(' ')}]`),
      },
      { weight: 1, arbitrary: digits.map((text) => `${text}[=]`) },
    );
  }
  return fc.oneof(...forms);
}

// ───────────────────────────────── expressions and statements ─────────────────────────────────

const NUMBER_FUNCTIONS = 'SIN COS TAN ASN ACS ATN LN EXP INT SQR SGN ABS PEEK USR'.split(' ');
const ARITHMETIC: readonly (readonly [string, number])[] = [
  ['**', 10],
  ['*', 8],
  ['/', 8],
  ['+', 6],
  ['-', 6],
  ['AND', 3],
  ['OR', 2],
];
const COMPARISONS = ['=', '<', '>', '<=', '>=', '<>'];

function binary(left: Drawn, operator: string, right: Drawn, priority: number): Drawn {
  const pieces = [...atLeast(left, priority), operator, ...atLeast(right, priority + 1)];
  return { pieces, priority };
}

const commas = (list: readonly Drawn[]): Piece[] =>
  list.flatMap(({ pieces }, index) => (index === 0 ? pieces : [',', ...pieces]));

type Kinds = {
  number: Drawn;
  string: Drawn;
  statement: readonly Piece[];
};

function kindsOf(bytes: boolean) {
  const literal = numberLiteral(bytes).map((text) => whole(text));
  const stringLiteral = textOf(bytes, true, 4).map((text) => whole(`"${text}"`));
  const limits = { maxDepth: 3, depthSize: 'small' as const, withCrossShrink: true };
  return fc.letrec<Kinds>((tie) => {
    const n = tie('number');
    const s = tie('string');
    const slice = fc
      .tuple(fc.option(n, { nil: whole() }), fc.option(n, { nil: whole() }))
      .map(([from, to]) => whole(...from.pieces, 'TO', ...to.pieces));
    const stringSubscripts = fc
      .tuple(fc.array(n, { maxLength: 2 }), fc.option(slice, { nil: undefined }))
      .map(([list, last]) => ['(', ...commas(last === undefined ? list : [...list, last]), ')']);
    const element = fc
      .tuple(letter, fc.array(n, { minLength: 1, maxLength: 3 }))
      .map(([name, list]) => whole(name, '(', ...commas(list), ')'));
    const part = fc
      .tuple(
        fc.oneof(
          string.map((name) => whole(name)),
          stringLiteral,
          s.map(bracketed),
        ),
        stringSubscripts,
      )
      .map(([base, subscripts]) => whole(...base.pieces, ...subscripts));
    const numberKinds = fc.oneof(
      limits,
      { weight: 4, arbitrary: literal },
      { weight: 4, arbitrary: number.map((name) => whole(name)) },
      { weight: 1, arbitrary: fc.constantFrom('RND', 'PI').map((word) => whole(word)) },
      { weight: 1, arbitrary: element },
      {
        weight: 3,
        arbitrary: fc
          .tuple(n, fc.constantFrom(...ARITHMETIC), n)
          .map(([a, [sign, priority], b]) => binary(a, sign, b, priority)),
      },
      {
        weight: 1,
        arbitrary: fc
          .tuple(n, fc.constantFrom(...COMPARISONS), n)
          .map(([a, sign, b]) => binary(a, sign, b, 5)),
      },
      {
        weight: 1,
        arbitrary: fc
          .tuple(s, fc.constantFrom(...COMPARISONS), s)
          .map(([a, sign, b]) => binary(a, sign, b, 5)),
      },
      {
        weight: 1,
        arbitrary: fc
          .tuple(fc.constantFrom(...NUMBER_FUNCTIONS), n)
          .map(([word, a]) => ({ pieces: [word, ...atLeast(a, CALL)], priority: CALL })),
      },
      {
        weight: 1,
        arbitrary: fc
          .tuple(fc.constantFrom('CODE', 'VAL', 'LEN'), s)
          .map(([word, a]) => ({ pieces: [word, ...atLeast(a, CALL)], priority: CALL })),
      },
      { weight: 1, arbitrary: n.map((a) => ({ pieces: ['-', ...atLeast(a, 9)], priority: 9 })) },
      { weight: 1, arbitrary: n.map((a) => ({ pieces: ['NOT', ...atLeast(a, 4)], priority: 4 })) },
      { weight: 1, arbitrary: n.map(bracketed) },
    );
    const stringKinds = fc.oneof(
      limits,
      { weight: 4, arbitrary: stringLiteral },
      { weight: 4, arbitrary: string.map((name) => whole(name)) },
      { weight: 1, arbitrary: fc.constant(whole('INKEY$')) },
      { weight: 2, arbitrary: part },
      { weight: 1, arbitrary: fc.tuple(s, s).map(([a, b]) => binary(a, '+', b, 6)) },
      { weight: 1, arbitrary: fc.tuple(s, n).map(([a, b]) => binary(a, 'AND', b, 3)) },
      {
        weight: 1,
        arbitrary: fc
          .tuple(fc.constantFrom('STR$', 'CHR$'), n)
          .map(([word, a]) => ({ pieces: [word, ...atLeast(a, CALL)], priority: CALL })),
      },
      { weight: 1, arbitrary: s.map(bracketed) },
    );
    return {
      number: numberKinds,
      string: stringKinds,
      statement: statements(n, s, tie('statement'), stringSubscripts, element, bytes),
    };
  });
}

const BARE = 'STOP SLOW FAST NEW SCROLL CONT CLS CLEAR RETURN COPY'.split(' ');

/** Every statement of the machine. */
function statements(
  n: fc.Arbitrary<Drawn>,
  s: fc.Arbitrary<Drawn>,
  inner: fc.Arbitrary<readonly Piece[]>,
  stringSubscripts: fc.Arbitrary<Piece[]>,
  element: fc.Arbitrary<Drawn>,
  bytes: boolean,
): fc.Arbitrary<readonly Piece[]> {
  const numberTarget = fc.oneof(
    number.map((name) => [name]),
    element.map(({ pieces }) => pieces),
  );
  const stringTarget = fc
    .tuple(string, fc.option(stringSubscripts, { nil: [] as Piece[] }))
    .map(([name, subscripts]) => [name, ...subscripts]);
  const item = fc.oneof(
    { weight: 3, arbitrary: s.map(({ pieces }) => pieces) },
    { weight: 3, arbitrary: n.map(({ pieces }) => pieces) },
    {
      weight: 1,
      arbitrary: fc.tuple(n, n).map(([a, b]): Piece[] => ['AT', ...a.pieces, ',', ...b.pieces]),
    },
    { weight: 1, arbitrary: n.map((a): Piece[] => ['TAB', ...a.pieces]) },
    { weight: 1, arbitrary: fc.constant<readonly Piece[]>([]) },
  );
  const line = fc.oneof(
    { weight: 5, arbitrary: fromPool('lines').map((piece): readonly Piece[] => [piece]) },
    { weight: 1, arbitrary: n.map(({ pieces }) => pieces) },
  );
  const rem = textOf(bytes, false, 5).map(
    (text) => `REM${/^\s*$/.test(text) ? '' : ' '}${text.replace(/\s+$/, '')}`,
  );
  return fc.oneof(
    { maxDepth: 3, depthSize: 'small' },
    {
      weight: 3,
      arbitrary: fc
        .tuple(numberTarget, n)
        .map(([target, a]) => ['LET', ...target, '=', ...a.pieces]),
    },
    {
      weight: 2,
      arbitrary: fc
        .tuple(stringTarget, s)
        .map(([target, a]) => ['LET', ...target, '=', ...a.pieces]),
    },
    {
      weight: 4,
      arbitrary: fc
        .tuple(
          fc.constantFrom('PRINT', 'PRINT', 'LPRINT'),
          fc.array(item, { maxLength: 4 }),
          fc.array(fc.constantFrom(';', ','), { minLength: 5, maxLength: 5 }),
        )
        .map(([word, items, signs]) => printed(word, items, signs)),
    },
    {
      weight: 3,
      arbitrary: fc
        .tuple(fc.constantFrom('GOTO', 'GOSUB'), line)
        .map(([word, pieces]) => [word, ...pieces]),
    },
    {
      weight: 1,
      arbitrary: fc
        .tuple(fc.constantFrom('RUN', 'LIST', 'LLIST'), fc.option(line, { nil: [] as Piece[] }))
        .map(([word, pieces]) => [word, ...pieces]),
    },
    {
      weight: 1,
      arbitrary: fc.option(n, { nil: whole() }).map(({ pieces }) => ['RAND', ...pieces]),
    },
    { weight: 1, arbitrary: n.map(({ pieces }) => ['PAUSE', ...pieces]) },
    {
      weight: 2,
      arbitrary: fc
        .tuple(fc.constantFrom('PLOT', 'UNPLOT', 'POKE'), n, n)
        .map(([word, a, b]) => [word, ...a.pieces, ',', ...b.pieces]),
    },
    {
      weight: 1,
      arbitrary: fc
        .tuple(fc.constantFrom('SAVE', 'LOAD'), s)
        .map(([word, a]) => [word, ...a.pieces]),
    },
    { weight: 2, arbitrary: fc.constantFrom(...BARE).map((word) => [word]) },
    {
      weight: 1,
      arbitrary: fc.oneof(numberTarget, stringTarget).map((target) => ['INPUT', ...target]),
    },
    {
      weight: 1,
      arbitrary: fc
        .tuple(fc.oneof(letter, string), fc.array(n, { minLength: 1, maxLength: 3 }))
        .map(([name, sizes]) => ['DIM', name, '(', ...commas(sizes), ')']),
    },
    {
      weight: 2,
      arbitrary: fc
        .tuple(letter, n, n, fc.option(n, { nil: undefined }))
        .map(([name, from, to, step]) => [
          'FOR',
          name,
          '=',
          ...from.pieces,
          'TO',
          ...to.pieces,
          ...(step === undefined ? [] : ['STEP', ...step.pieces]),
        ]),
    },
    { weight: 2, arbitrary: letter.map((name) => ['NEXT', name]) },
    { weight: 2, arbitrary: rem.map((text) => [text]) },
    {
      weight: 3,
      arbitrary: fc
        .tuple(n, inner)
        .map(([condition, then]) => ['IF', ...condition.pieces, 'THEN', ...then]),
    },
  );
}

function printed(
  word: string,
  items: readonly (readonly Piece[])[],
  signs: readonly string[],
): Piece[] {
  return [
    word,
    ...items.flatMap((pieces, index) => (index === 0 ? pieces : [signs[index], ...pieces])),
  ];
}

// ───────────────────────────────── pieces to text ─────────────────────────────────

const name = fc
  .string({
    unit: fc.constantFrom(...'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789'),
    minLength: 1,
    maxLength: 7,
  })
  .map((text) => text.replace(/^\d+/, ''))
  // GO before TO or SUB would be a command in two words.
  .filter((text) => text !== '' && text !== 'GO' && keyword(text) === undefined);
const oneLetter = fc.constantFrom(...'ABCDEFGHIJKLMNOPQRSTUVWXYZ');
const names = fc.record({
  numbers: fc.array(fc.oneof(oneLetter, name), { minLength: 1, maxLength: 5 }),
  letters: fc.array(oneLetter, { minLength: 1, maxLength: 3 }),
  strings: fc.array(
    oneLetter.map((text) => `${text}$`),
    { minLength: 1, maxLength: 3 },
  ),
});

interface Layout {
  readonly spaces: readonly number[];
  readonly small: readonly boolean[];
}

const EVEN: Layout = { spaces: [0], small: [false] };
const anyLayout: fc.Arbitrary<Layout> = fc.record({
  spaces: fc.array(fc.constantFrom(0, 0, 0, 1, 1, 2, 5), { minLength: 1, maxLength: 9 }),
  small: fc.array(fc.boolean(), { minLength: 1, maxLength: 7 }),
});

const isWordLike = (character: string | undefined): boolean => /[A-Z0-9.$]/i.test(character ?? '');

/** Lays pieces out; two that would run into one word are kept apart. */
function layOut(pieces: readonly Piece[], pool: Pool, layout: Layout): string {
  let text = '';
  pieces.forEach((piece, index) => {
    const plain =
      typeof piece === 'string' ? piece : pool[piece.pool][piece.index % pool[piece.pool].length];
    const small = layout.small[index % layout.small.length];
    const spread = small && /^GO(TO|SUB)$/.test(plain) ? plain.replace('GO', 'GO ') : plain;
    const word = small ? spread.toLowerCase() : spread;
    const touches = isWordLike(text.at(-1)) && isWordLike(word[0]);
    const spaces = Math.max(layout.spaces[index % layout.spaces.length], touches ? 1 : 0);
    text += (index === 0 ? '' : ' '.repeat(spaces)) + word;
  });
  return text;
}

const kinds = new Map<boolean, ReturnType<typeof kindsOf>>();
function kindsFor(options: DrawOptions): ReturnType<typeof kindsOf> {
  const bytes = options.bytes ?? true;
  const made = kinds.get(bytes) ?? kindsOf(bytes);
  kinds.set(bytes, made);
  return made;
}

const layoutFor = (options: DrawOptions): fc.Arbitrary<Layout> =>
  options.layout === 'even' ? fc.constant(EVEN) : anyLayout;

/** One correct statement, without a line number. */
export function drawStatement(options: DrawOptions = {}): fc.Arbitrary<string> {
  return fc
    .tuple(kindsFor(options).statement, names, layoutFor(options))
    .map(([pieces, pool, layout]) => layOut(pieces, { ...pool, lines: ['10', '20'] }, layout));
}

const OTHER_LINES = fc.oneof(
  fc.constantFrom('', "' a comment of the editor", '.ram 16K', '.tv 60', '.name "LANTERN"'),
  fc.constantFrom(
    '.var A = -1.5',
    '.var N$ = "OAK"',
    '.var B(2,2) = 1,2,3,4',
    '.var C$(2,3) = "ONETWO"',
  ),
);

/**
 * The text of a correct listing: lines in order, with targets that mostly exist, names from a small
 * pool, and comments and directives between the lines.
 */
export function drawListing(options: DrawOptions = {}): fc.Arbitrary<string> {
  const [minLength, maxLength] = options.lines ?? [1, 12];
  const other =
    options.directives === false
      ? fc.constant(undefined)
      : fc.option(OTHER_LINES, { nil: undefined, freq: 6 });
  const line = fc.record({
    pieces: kindsFor(options).statement,
    step: fc.constantFrom(10, 10, 10, 5, 1, 100),
    layout: layoutFor(options),
    other,
  });
  return fc
    .tuple(names, fc.array(line, { minLength, maxLength, size: 'max' }))
    .map(([pool, lines]) => {
      let last = 0;
      const numbers = lines.map(({ step }) => {
        last += last + step > 9999 ? 1 : step;
        return String(last);
      });
      const whole = { ...pool, lines: numbers };
      const front = options.assigned ? assignments(pool, numbers) : '';
      const once = new Set<string>();
      const body = lines
        .map(({ pieces, layout, other: before }, index) => {
          // A directive that says something of the whole program stands once.
          const fresh = before !== undefined && (!before.startsWith('.') || !once.has(before));
          if (fresh) once.add(before);
          const text = `${numbers[index]} ${layOut(pieces, whole, layout)}\n`;
          return fresh ? `${before}\n${text}` : text;
        })
        .join('');
      return front + body;
    });
}

/** Lines that give every name of the pool a value; the numbers of the others move up behind them. */
function assignments(pool: Omit<Pool, 'lines'>, numbers: string[]): string {
  const statements = new Set([
    ...pool.numbers.map((one) => `LET ${one}=0`),
    ...pool.letters.flatMap((one) => [
      `DIM ${one}(9)`,
      `DIM ${one}(9,9)`,
      `DIM ${one}(9,9,9)`,
      `FOR ${one}=1 TO 9`,
      `NEXT ${one}`,
    ]),
    ...pool.strings.map((one) => `LET ${one}=""`),
  ]);
  numbers.forEach((number, index) => {
    numbers[index] = String(Number(number) + statements.size * 10);
  });
  return [...statements].map((statement, index) => `${(index + 1) * 10} ${statement}\n`).join('');
}
