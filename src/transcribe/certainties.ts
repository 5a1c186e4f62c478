/**
 * How sure each change is, from 0 to 1, all in one place: from `sure` up it is made, below that it
 * is asked. They are measured by `npm run bench:transcribe` where a page can be damaged on purpose,
 * and common practice of reading listings where it cannot.
 */
export const CERTAINTY = {
  /** From here up a change is made, unless the caller says otherwise. */
  sure: 0.9,
  /** Nothing speaks for any reading: a question. */
  open: 0,

  // The page.
  /** Rows that reach its edge are joined to one line. */
  joinedRows: 0.97,
  /** Spaces of a string at the edge of a row: they leave no ink. */
  spacesAtEdge: 0.6,
  /** A line number of which a digit was printed as a letter. */
  lineNumber: 0.95,
  /** Two lines in one row. */
  twoLinesInRow: 0.95,
  ruling: 0.98,
  caption: 0.96,
  pageNumber: 0.95,
  sentence: 0.95,
  runningHeader: 0.94,
  /** A row without a number that continues nothing. */
  strayRow: 0.9,
  /** The same where it looks like code: it may be a line whose number was lost. */
  strayCode: 0.5,

  // Signs.
  quote: 0.99,
  /** Two single quotes for a quote. */
  doubledQuote: 0.97,
  sign: 0.98,
  /** `< >` and `=<` where no statement has them. */
  comparison: 0.97,
  signInText: 0.95,
  /** A graphic described in square or curly brackets, or in round or pointed ones. */
  description: 0.95,
  descriptionInText: 0.9,
  /** Digits among letters, in a word that the program has elsewhere, or letters in a VAL. */
  knownWord: 0.95,
  /** The same where nothing bears it out. */
  mixedWord: 0.6,

  // Readings of a statement: the odds say how sure, and this is taken off for every change.
  doubtOfChange: 0.015,
  /** A statement on a page without a misprint is asked about, never changed. */
  unprovoked: 0.6,
  /** A statement that is less likely than this as it stands is asked about. */
  unlikely: 0.2,

  // Words of other dialects.
  /** Another sign for the same thing. */
  sameSign: 0.97,
  /** Another word for the same thing, or a word left out. */
  sameWord: 0.95,
  /** The same for all that a listing can show: remarks, slices, constants. */
  sameEffect: 0.93,
  /** The same where the program is as it seems: READ, ON, DEF FN, GET. */
  sameInProgram: 0.92,
  /** Several statements a line: jumps may be put in. */
  jumps: 0.9,
  /** Machines differ in more than the word. */
  natural: 0.85,
  differs: 0.8,
  screen: 0.75,
  /** A way to say it, that may do something else here. */
  offer: 0.6,
  /** Something of it is no statement, or has no room. */
  incomplete: 0.5,
} as const;
