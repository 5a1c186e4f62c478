/**
 * The syntax tree of a listing. Positions are offsets into the listing's text, in UTF-16 units:
 * `start` is the first, `end` one past the last.
 */
import type { AreaPointer } from '../src/machine/image-layout.js';
import type { SavedVariable } from '../src/machine/variables.js';

export interface Span {
  readonly start: number;
  readonly end: number;
}

/** What is wrong with a statement, and where. */
export interface Problem extends Span {
  readonly rule: string;
  readonly message: string;
  readonly why?: string;
  readonly help?: string;
  /** The statements to write in place of this one, where it is known what was meant. */
  readonly instead?: readonly string[];
}

export type ValueType = 'number' | 'string';

// ───────────────────────────────── expressions ─────────────────────────────────

/** `12.5`, `1E5`, `100[=82 40 00 00 00]`, `100[=]`. */
export interface NumberLiteral extends Span {
  readonly kind: 'number';
  readonly type: 'number';
  /** The characters as the program stores and shows them, without layout and spaces. */
  readonly text: string;
  /** Spaces that are stored among the characters and behind them, where there are any. */
  readonly spaces?: number;
  /** What the machine computes with: the stored five bytes, as a double, exactly. */
  readonly value: number;
  /** Does the listing itself say what is stored, with `[=…]`? `nothing` is `[=]`. */
  readonly stored: 'digits' | 'given' | 'nothing';
}

/** `"OAK"`: the character codes between the quotes. */
export interface StringLiteral extends Span {
  readonly kind: 'string';
  readonly type: 'string';
  readonly codes: Uint8Array;
  /** How many codes these are. */
  readonly size: number;
}

/** `SCORE`, `A`, `N$`: the name in capitals. */
export interface Variable extends Span {
  readonly kind: 'variable';
  readonly type: ValueType;
  readonly name: string;
}

/** `2 TO 5`, ` TO 5`, `2 TO `, ` TO `: inside the brackets of a slice. */
export interface Range extends Span {
  readonly kind: 'range';
  readonly from?: Expression;
  readonly to?: Expression;
}

/**
 * `A(2,3)`, `N$(4)`, `C$(2,1 TO 3)`, `"OAK"(2 TO )`, `(A$+B$)(1)`, `A$(2 TO 5)(1)`, `A$()`.
 * With a variable as its base this is an array element, a slice of a string, or both.
 */
export interface Subscripted extends Span {
  readonly kind: 'subscripted';
  readonly type: ValueType;
  readonly base: Expression;
  readonly subscripts: readonly (Expression | Range)[];
}

/** `(A+B)`: kept, so that the tree can be printed again and brackets can be judged. */
export interface Brackets extends Span {
  readonly kind: 'brackets';
  readonly type: ValueType;
  readonly inner: Expression;
}

export interface Unary extends Span {
  readonly kind: 'unary';
  readonly type: 'number';
  readonly operator: '-' | 'NOT';
  readonly operand: Expression;
}

export type BinaryOperator =
  | '+'
  | '-'
  | '*'
  | '/'
  | '**'
  | '='
  | '<'
  | '>'
  | '<='
  | '>='
  | '<>'
  | 'AND'
  | 'OR';

/** `+`, comparisons and AND also work on strings; `A$ AND n` is a string. */
export interface Binary extends Span {
  readonly kind: 'binary';
  readonly type: ValueType;
  readonly operator: BinaryOperator;
  readonly left: Expression;
  readonly right: Expression;
}

export type FunctionName =
  | 'CODE'
  | 'VAL'
  | 'LEN'
  | 'SIN'
  | 'COS'
  | 'TAN'
  | 'ASN'
  | 'ACS'
  | 'ATN'
  | 'LN'
  | 'EXP'
  | 'INT'
  | 'SQR'
  | 'SGN'
  | 'ABS'
  | 'PEEK'
  | 'USR'
  | 'STR$'
  | 'CHR$';

export interface Call extends Span {
  readonly kind: 'call';
  readonly type: ValueType;
  readonly function: FunctionName;
  readonly argument: Expression;
}

export interface Constant extends Span {
  readonly kind: 'constant';
  readonly type: ValueType;
  readonly name: 'RND' | 'PI' | 'INKEY$';
}

export type Expression =
  | NumberLiteral
  | StringLiteral
  | Variable
  | Subscripted
  | Brackets
  | Unary
  | Binary
  | Call
  | Constant;

// ───────────────────────────────── statements ─────────────────────────────────

export interface LetStatement extends Span {
  readonly kind: 'LET';
  readonly target: Variable | Subscripted;
  readonly value: Expression;
}

export interface InputStatement extends Span {
  readonly kind: 'INPUT';
  readonly target: Variable | Subscripted;
}

export interface DimStatement extends Span {
  readonly kind: 'DIM';
  readonly target: Variable;
  readonly sizes: readonly Expression[];
}

export interface ForStatement extends Span {
  readonly kind: 'FOR';
  readonly variable: Variable;
  readonly from: Expression;
  readonly to: Expression;
  readonly step?: Expression;
}

export interface NextStatement extends Span {
  readonly kind: 'NEXT';
  readonly variable: Variable;
}

export interface IfStatement extends Span {
  readonly kind: 'IF';
  readonly condition: Expression;
  readonly then: Statement;
}

/** `,` moves to column 0 or 16; `;` moves nowhere. */
export interface Separator extends Span {
  readonly kind: 'separator';
  readonly text: ',' | ';';
}

export interface AtItem extends Span {
  readonly kind: 'AT';
  readonly row: Expression;
  readonly column: Expression;
}

export interface TabItem extends Span {
  readonly kind: 'TAB';
  readonly column: Expression;
}

export type PrintItem = Separator | AtItem | TabItem | Expression;

export interface PrintStatement extends Span {
  readonly kind: 'PRINT' | 'LPRINT';
  readonly items: readonly PrintItem[];
}

export interface RemStatement extends Span {
  readonly kind: 'REM';
  /** Every code after REM, to the end of the line. */
  readonly codes: Uint8Array;
}

/** Commands that take nothing, or only expressions. */
export type SimpleKeyword =
  | 'GOTO'
  | 'GOSUB'
  | 'RUN'
  | 'LIST'
  | 'LLIST'
  | 'RAND'
  | 'PAUSE'
  | 'POKE'
  | 'PLOT'
  | 'UNPLOT'
  | 'SAVE'
  | 'LOAD'
  | 'STOP'
  | 'CONT'
  | 'NEW'
  | 'CLS'
  | 'CLEAR'
  | 'SCROLL'
  | 'RETURN'
  | 'COPY'
  | 'SLOW'
  | 'FAST';

export interface SimpleStatement extends Span {
  readonly kind: SimpleKeyword;
  /** RUN, LIST, LLIST and RAND have none or one. */
  readonly args: readonly Expression[];
}

/**
 * A line that holds bytes outside strings and REM, such as `10 [F5]PRINT 5`: it is stored as it
 * stands and not checked. It is how text shows a line that the machine itself would not accept.
 */
export interface UncheckedStatement extends Span {
  readonly kind: 'unchecked';
}

export type Statement =
  | LetStatement
  | InputStatement
  | DimStatement
  | ForStatement
  | NextStatement
  | IfStatement
  | PrintStatement
  | RemStatement
  | SimpleStatement
  | UncheckedStatement;

// ───────────────────────────────── the listing ─────────────────────────────────

export interface Line extends Span {
  readonly kind: 'line';
  readonly number: number;
  /** What the machine stores as the line's text: every code, without the last NEWLINE. */
  readonly codes: Uint8Array;
  /** How many codes these are. */
  readonly size: number;
  /** How many of those bytes are hidden: a marker and five bytes for each number literal. */
  readonly hidden: number;
  /** Absent where the line has an error. */
  readonly statement?: Statement;
}

/** `' text`: the editor's own comment. */
export interface Comment extends Span {
  readonly kind: 'comment';
  /** After the `'`. */
  readonly text: string;
}

export interface NameDirective extends Span {
  readonly kind: 'name';
  readonly codes: Uint8Array;
}

export interface RamDirective extends Span {
  readonly kind: 'ram';
  /** Bytes. */
  readonly size: number;
}

export interface TvDirective extends Span {
  readonly kind: 'tv';
  readonly framesPerSecond: number;
}

export interface StartDirective extends Span {
  readonly kind: 'start';
  readonly line: number;
}

/** `.lines as-written`: lines keep the order and the numbers (0 to 65535) that they stand with. */
export interface LinesDirective extends Span {
  readonly kind: 'lines';
}

/** `.numbers nearest`: literals store the nearest number, not the one that typing them stores. */
export interface NumbersDirective extends Span {
  readonly kind: 'numbers';
}

/** A variable that is saved with the program. */
export interface VarDirective extends Span {
  readonly kind: 'var';
  readonly variable: SavedVariable;
}

/** A system variable that differs from what a plain build would store. */
export interface SystemDirective extends Span {
  readonly kind: 'system';
  readonly name: string;
  /** As many bytes as it has, low byte first; or an address counted from an area's first. */
  readonly value: Uint8Array | { readonly base: AreaPointer; readonly offset: number };
}

export interface DisplayDirective extends Span {
  readonly kind: 'display';
  /** The codes of each row from the top, at most 24 of at most 32; rows not given are empty. */
  readonly rows: readonly Uint8Array[];
}

export type RawArea = 'program' | 'display' | 'variables' | 'after';

/** Bytes that nothing else in the notation can express, at this place. */
export interface RawDirective extends Span {
  readonly kind: 'raw';
  /**
   * `program`: bytes at this place among the lines. `display`: the whole display. `variables`: all
   * that follows the .var variables, with no end byte added. `after`: past the image's own end.
   */
  readonly area: RawArea;
  readonly bytes: Uint8Array;
}

export type Directive =
  | NameDirective
  | RamDirective
  | TvDirective
  | StartDirective
  | LinesDirective
  | NumbersDirective
  | VarDirective
  | SystemDirective
  | DisplayDirective
  | RawDirective;

export type Item = Line | Comment | Directive;

export interface Listing {
  /** Everything, in the order of the text. */
  readonly items: readonly Item[];
  /** The program lines in the order in which the machine stores them. */
  readonly lines: readonly Line[];
  /** Was all of it read without an error? Of another, what there is in the tree is not all. */
  readonly isWhole: boolean;
}
